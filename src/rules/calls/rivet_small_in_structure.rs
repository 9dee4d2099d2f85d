//! # rivet-small-in-structure
//!
//! ## What it checks
//! No rivet under 3/32 in is used where `structure` is primary or secondary.
//!
//! ## Why it matters
//! A 1/16 rivet carries a quarter of a 1/8 one, and is easily driven crooked.
//!
//! ## Source
//! - `NAV-547` NAVEDTRA 14018, chapter 13, rivet selection: nothing under 3/32 in structure (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD2-3"     # 1/16
//! structure = "secondary"
//! ```
//!
//! ## How to put it right
//! Call 3/32 or larger, if the drawing leaves it open.
//!
//! ## When to allow it
//! When the rivet only holds a nutplate or a hinge leaf in place, as the drawing shows.

use crate::hardware::limit;
use crate::job::{Joint, Structure};
use crate::report::Severity;
use crate::rules::facts::{NO_STRUCTURE, rivet_diameter};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let least = limit::rivet_in_structure().value;
    let Some(d) = rivet_diameter(joint).filter(|d| *d < least) else { return };
    let Some(structure) = joint.structure else { return sink.cannot(NO_STRUCTURE) };
    if structure.value == Structure::Nothing {
        return;
    }
    let word = structure.value.word();
    let message = format!(
        "rivet diameter {d} is under {least}, the least in structure",
        d = sink.style.length(d),
        least = sink.style.length(least)
    );
    let finding = sink.warning(joint.spec.fastener.span, message).label(structure.span, format!("{word} structure"));
    let least = sink.style.rivet(least);
    sink.push(finding.help(format!("the smallest size for structure is {least}, dash 3")));
}
