//! # blind-rivet-in-primary-structure
//!
//! ## What it checks
//! No commercial pull-type rivet is called where `structure` is primary. A kit fastener is silent: its entry in `build.toml`
//! names the plans that call for it.
//!
//! ## Why it matters
//! Commercial pull rivets vary in how they fill the hole, and their mandrel can fall out and take the strength with it.
//!
//! ## Source
//! - `AC-4-24` AC 43.13-1B, par. 4-57f(8), (9) and 4-57g: not for certificated structure (must); grade A.
//!
//! ## Example that fires
//! ```toml
//! fastener = "IFI114-42"
//! structure = "primary"
//! ```
//!
//! ## How to put it right
//! Call the fastener of the drawing. If the drawing does call a commercial rivet, enter it as a kit fastener with the
//! drawing as its `source`.
//!
//! ## When to allow it
//! When the designer calls for it: an amateur-built aircraft follows its plans.

use crate::hardware::BlindRivet;
use crate::job::{Joint, Structure};
use crate::report::Severity;
use crate::rules::facts::{NO_STRUCTURE, blind};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    if !blind(joint).is_some_and(BlindRivet::is_commercial) {
        return;
    }
    let Some(structure) = joint.structure else { return sink.cannot(NO_STRUCTURE) };
    if structure.value != Structure::Primary {
        return;
    }
    let message = format!("{} is a commercial pull-type rivet, and this joint is primary structure", joint.call);
    let finding = sink.warning(joint.spec.fastener.span, message).label(structure.span, "primary structure");
    sink.push(
        finding.help("where the plans call for it, enter it under `[[fastener]]` with the drawing as its source"),
    );
}
