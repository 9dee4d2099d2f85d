//! # cotter-holds-nothing
//!
//! ## What it checks
//! A cotter pin goes through a nut with slots: a castle nut, or a `[[fastener]]` entry with `castle = true`.
//!
//! ## Why it matters
//! Behind a nut without slots the pin lets the nut turn back until it meets it: the clamp is lost long before.
//!
//! ## Source
//! - `geometry` geometry: a pin holds a nut by its slots.
//! - `AC-7-38` AC 43.13-1B, par. 7-38: cotter pins and safety wire (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! nut = "MS21044N3"              # self-locking, no slots
//! cotter = "MS24665-132"
//! ```
//!
//! ## How to put it right
//! Call the castle nut, or leave the pin out where the nut locks itself.
//!
//! ## When to allow it
//! When the pin is only to keep the nut from being lost.

use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{bolt, nut};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(_), Some(cotter), Some((nut, written))) = (bolt(joint), &joint.cotter, nut(joint)) else { return };
    if nut.kind.is_castle() {
        return;
    }
    let message = format!(
        "cotter pin {} holds nothing: nut {} is {} and has no slots",
        cotter.written.value,
        written.value,
        nut.kind.word()
    );
    let finding = sink.warning(cotter.written.span, message).label(written.span, "its nut");
    sink.push(finding.help(if nut.kind.is_self_locking() {
        "leave `cotter` out, or call a castle nut"
    } else {
        "call a castle nut"
    }));
}
