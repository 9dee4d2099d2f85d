//! # rivet-small-for-sheet
//!
//! ## What it checks
//! A solid rivet is at least as thick as the thickest sheet of its stack. Silent where `structure` is none, and for
//! the rivets of a nutplate or through a `tube`.
//!
//! ## Why it matters
//! A thin rivet in a thick plate shears long before the plate bears.
//!
//! ## Source
//! - `NAV-547` NAVEDTRA 14018, chapter 13, rivet selection: not less than the thickness of the thickest sheet
//!   (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-214"]   # the second is .125
//! fastener = "MS20470AD3-6"
//! ```
//!
//! ## How to put it right
//! Use a larger rivet, if the drawing leaves it open.
//!
//! ## When to allow it
//! When the rivets only locate the plate, and bolts carry the load.

use crate::hardware::{largest_rivet, reaches};
use crate::job::{Joint, Structure};
use crate::report::Severity;
use crate::rules::facts::{NO_STRUCTURE, NO_THICKNESS, solid};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(rivet) = solid(joint) else { return };
    let Some(thickest) = joint.thickest() else { return sink.cannot(NO_THICKNESS) };
    // A tube and its plug have a rule of their own.
    if reaches(rivet.diameter, thickest) || joint.tube.is_some() || holds_a_nutplate(joint) {
        return;
    }
    let Some(structure) = joint.structure else { return sink.cannot(NO_STRUCTURE) };
    if structure.value == Structure::Nothing {
        return;
    }
    let message = format!(
        "rivet diameter {} is under the thickest sheet, {thickest}",
        sink.style.length(rivet.diameter),
        thickest = sink.style.length(thickest)
    );
    let finding = sink.warning(joint.spec.fastener.span, message).label(joint.spec.stack.span, "the stack");
    let largest = largest_rivet();
    sink.push(finding.help(if thickest > largest {
        format!(
            "no rivet is that large, the largest is {}: look for a slip in the thickness, else call a bolt",
            sink.style.length(largest)
        )
    } else {
        format!("a rivet of {} or more passes", sink.style.length(thickest))
    }));
}

/// The rivets of a nutplate hold it against turning and carry nothing else.
fn holds_a_nutplate(joint: &Joint) -> bool {
    let names = joint.layers.iter().map(|layer| layer.name.as_str());
    let materials = joint.layers.iter().filter_map(|layer| layer.material.as_deref());
    let own = joint.name.as_ref().map(|name| name.value.as_str());
    names
        .chain(materials)
        .chain(own)
        .map(str::to_lowercase)
        .any(|name| ["nutplate", "nut plate", "anchor nut"].iter().any(|word| name.contains(word)))
}
