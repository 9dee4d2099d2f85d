//! # rivet-large-for-sheet
//!
//! ## What it checks
//! The rivet is no more than three times as thick as the thickest sheet of its stack (note); the next size above that is
//! still silent. Above five times, where a rivet of 3/32 or more keeps within them, it is a warning for solid rivets.
//!
//! ## Why it matters
//! Driving a thick rivet swells its hole more than a thin sheet can take, and the sheet dishes around the head.
//!
//! ## Source
//! - `AC-4-27` AC 43.13-1B, par. 4-58g: about three times the sheet (should); grade A, its own example goes beyond.
//! - `NAV-547` NAVEDTRA 14018, chapter 13, rivet selection: at most three times the thickest sheet (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]   # both .032: three times is .096, the next size above it 1/8
//! fastener = "MS20470AD6-5"
//! ```
//!
//! ## How to put it right
//! Nothing need be wrong: the circular accepts a 5/32 in rivet in .032 in sheet. Squeeze rather than hammer.
//!
//! ## When to allow it
//! When the drawing calls for this rivet in thin sheet, and a trial piece stayed flat.

use crate::hardware::{limit, reaches, within};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_THICKNESS, rivet_diameter, solid};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(d) = rivet_diameter(joint) else { return };
    let Some(thickest) = joint.thickest() else { return sink.cannot(NO_THICKNESS) };
    let about = thickest.times(limit::rivet_in_sheet().value);
    // "Approximately": the nearest size above three times the sheet is what the rule of thumb leads to.
    let Some(tolerated) = sink.shop.rivets().into_iter().find(|size| reaches(*size, about)) else { return };
    if d <= tolerated {
        return;
    }
    let most = thickest.times(limit::rivet_in_sheet_most().value);
    // Below 3/32 another rule warns in structure: no smaller rivet is asked for.
    let least = limit::rivet_in_structure().value;
    let finding = if solid(joint).is_some() && !within(d, most) && least <= most {
        let message = format!(
            "rivet diameter {d} is over five times the thickest sheet, {most}",
            d = sink.style.length(d),
            most = sink.style.at_most(most)
        );
        sink.warning(joint.spec.fastener.span, message)
    } else {
        let message = format!(
            "rivet diameter {d} is over three times the thickest sheet, {about}",
            d = sink.style.length(d),
            about = sink.style.length(about)
        );
        sink.note(joint.spec.fastener.span, message)
    };
    let finding = finding
        .label(joint.spec.stack.span, format!("thickest sheet {thickest}", thickest = sink.style.length(thickest)));
    let fits = tolerated.max(least);
    sink.push(if fits < d {
        finding.help(format!("about three times the sheet is {} or less", sink.style.rivet(fits)))
    } else {
        finding.help("nothing smaller is used in structure: squeeze rather than hammer")
    });
}
