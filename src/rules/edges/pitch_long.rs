//! # pitch-long
//!
//! ## What it checks
//! From rivet to rivet in a row there are no more than 12 D (warning); above 8 D it says so in a note.
//!
//! ## Why it matters
//! Between rivets that are far apart the sheet gapes and buckles early.
//!
//! ## Source
//! - `TRADE` trade article on aircraft riveting, 1999: at most 10 to 12 D (common practice); grade A.
//! - `NAV-547` NAVEDTRA 14018, chapter 13, rivet selection: 4 to 8 D is usual (recommended); grade A.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD4-5"     # 1/8: 12 D is 1.500
//! pitch = "1.6"
//! ```
//!
//! ## How to put it right
//! Add rivets to the row, if the drawing leaves the count open.
//!
//! ## When to allow it
//! Fairings and other parts that carry no load, when the drawing gives the pitch.

use crate::hardware::{limit, within};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_PITCH, diameter_words, in_diameters, rivet_diameter};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(d) = rivet_diameter(joint) else { return };
    let Some(pitch) = joint.pitch else {
        // A lone rivet has no neighbour.
        if joint.count.value > 1 {
            sink.cannot(NO_PITCH);
        }
        return;
    };
    let (most_ratio, usual_ratio) = (limit::pitch_most(), limit::pitch_usual());
    let (most, usual) = (most_ratio.at(d).value, usual_ratio.at(d).value);
    let (length, multiple) = (pitch.value, in_diameters(pitch.value, d));
    let finding = if !within(length, most) {
        let message = format!(
            "pitch {length} is {multiple}; more than {} D, {most}, lets the sheets gape",
            most_ratio.value,
            length = sink.style.length(length),
            most = sink.style.at_most(most)
        );
        sink.warning(pitch.span, message).help(format!("at most {most} passes", most = sink.style.at_most(most)))
    } else if !within(length, usual) {
        let message = format!(
            "pitch {length} is {multiple}; usual is {} D, {usual}, or less",
            usual_ratio.value,
            length = sink.style.length(length),
            usual = sink.style.at_most(usual)
        );
        sink.note(pitch.span, message).source(usual_ratio.basis.cite())
    } else {
        return;
    };
    sink.push(finding.label(joint.spec.fastener.span, diameter_words(d, sink.style)));
}
