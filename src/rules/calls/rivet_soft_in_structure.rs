//! # rivet-soft-in-structure
//!
//! ## What it checks
//! No rivet of alloy A (1100) is used where `structure` is primary or secondary.
//!
//! ## Why it matters
//! Soft rivets drive so easily that the slip is not felt; they hold a fraction of the load.
//!
//! ## Source
//! - `AC-7-1` AC 43.13-1B, par. 7-1 and 7-2: 1100 for nonstructural parts of 1100, 3003 and 5052 (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470A4-5"      # AD was meant
//! structure = "primary"
//! ```
//!
//! ## How to put it right
//! Call the alloy of the drawing, mostly AD; its head has a dimple, that of A is plain.
//!
//! ## When to allow it
//! When the part is a fairing or a tank baffle that the spec counts as structure for another reason.

use crate::job::{Joint, Structure};
use crate::report::Severity;
use crate::rules::facts::{NO_STRUCTURE, solid};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(alloy) = solid(joint).and_then(|rivet| rivet.alloy).filter(|alloy| !alloy.structural) else { return };
    let Some(structure) = joint.structure else { return sink.cannot(NO_STRUCTURE) };
    if structure.value == Structure::Nothing {
        return;
    }
    let (call, word) = (&joint.call, structure.value.word());
    let message =
        format!("{call} is of {}, which is for {}; this joint is {word} structure", alloy.alloy, alloy.use_for);
    let finding = sink
        .at_most_error(&alloy.basis(), joint.spec.fastener.span, message)
        .label(structure.span, format!("{word} structure"));
    let help = "the same rivet in 2117-T4 has the alloy letters AD";
    sink.push(finding.help(help));
}
