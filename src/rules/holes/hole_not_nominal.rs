//! # hole-not-nominal
//!
//! ## What it checks
//! The final hole is the nominal one of the table or the drill that shops usually take (#40, #30, #21, #11), not another
//! size that some source accepts.
//!
//! ## Why it matters
//! Published sources differ by a drill size, and both hold. A size that is neither the usual nor the nominal one is mostly
//! the drawing's; where it is a slip, it is found before the drill is in the chuck.
//!
//! ## Source
//! - `H5-T8.1.2a` MIL-HDBK-5J, Table 8.1.2(a): nominal rivet holes; the circular refers to it (should); grade A-calc.
//! - `FAA-HB` FAA-H-8083-31, chapter 4: #40, #20 and #10 as the usual drills (recommended); from memory, grade C.
//! - `WW2` service and repair manual of a 1940s fighter, par. 10 to 18: #22 and #12 (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD5-6"
//! holes = { final = "#20" }     # accepted; usual and nominal is #21
//! ```
//!
//! ## How to put it right
//! Nothing is wrong. Give the usual hole if the drawing leaves the choice.
//!
//! ## When to allow it
//! It is a note and stops nothing; allow it where the plans give the other size, with their page as the reason.

use crate::hardware::{Fastener, ListedHole, holes_for, nominal_hole};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Note, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Ok(fastener) = &joint.fastener else { return };
    // The kit's range, or the plans', has no nominal drill: every hole in it is as good as another.
    if fastener.kit().is_some() || joint.plans_hole().is_some() {
        return;
    }
    let (Some(hole), Some(nominal)) = (joint.final_hole(), nominal_hole(fastener)) else { return };
    let size = hole.size.length;
    let listed = holes_for(fastener);
    // Outside every listed hole it is too small or too large, which other rules say.
    let inside = listed.iter().any(|row| row.low <= size) && listed.iter().any(|row| size <= row.high);
    let is_usual = listed.iter().any(|row| row.usual && row.size.length == size);
    if !inside || is_usual || size == nominal.value.length {
        return;
    }
    let of_shop = sink.shop.drill_for(&listed, nominal.clone()).value;
    if of_shop.length == size {
        return;
    }
    let message = format!(
        "final hole {} is not the nominal {} for {}",
        sink.style.size(hole.size),
        sink.style.size(nominal.value),
        joint.call
    );
    let note = sink.note(hole.span.unwrap_or(joint.spec.fastener.span), message).help(match fastener {
        _ if of_shop.length != nominal.value.length => {
            format!("the drill of the shop for it is {}", sink.style.size(of_shop))
        }
        Fastener::SolidRivet(_) => "both hold the rivet: keep to one source throughout".to_owned(),
        _ => "the hole is within the listed limits".to_owned(),
    });
    sink.push(match surest_accepting(&listed, joint) {
        Some(row) => note.source(format!("{}; nominal: {}", row.basis.cite(), nominal.basis.cite())),
        None => note.source(format!("between the listed sizes; nominal: {}", nominal.basis.cite())),
    });
}

/// The surest row that accepts the joint's hole.
fn surest_accepting<'a>(listed: &'a [ListedHole], joint: &Joint) -> Option<&'a ListedHole> {
    let hole = joint.final_hole()?;
    listed.iter().filter(|row| row.accepts(hole.size.length)).min_by_key(|row| row.basis.sureness)
}
