//! # washers-too-many
//!
//! ## What it checks
//! The washers of a bolt, head side and nut side together, are no thicker than 1/8 in.
//!
//! ## Why it matters
//! A pile of washers bends the bolt, and mostly hides that the next shorter bolt was not in the drawer.
//!
//! ## Source
//! - `AC-7-37` AC 43.13-1B, par. 7-37 to 7-39: washers to adjust grip, at most 1/8 in (should); from memory, grade C.
//!
//! ## Example that fires
//! ```toml
//! washers = { head = ["NAS1149F0363P"], nut = ["NAS1149F0363P", "NAS1149F0363P"] }   # .189
//! ```
//!
//! ## How to put it right
//! Take the bolt with the next shorter grip.
//!
//! ## When to allow it
//! When the drawing stacks washers as a spacer: better make the spacer a layer of the stack.

use crate::hardware::{limit, may_take_up_grip};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{bolt, washer_stack};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    // Only bolts come in grips fine enough to make washers a choice.
    if bolt(joint).is_none() {
        return;
    }
    let Some(first) = joint.washers_head.first().or(joint.washers_nut.first()) else { return };
    let head = washer_stack(&joint.washers_head, sink);
    let Some(washers) = head.zip(washer_stack(&joint.washers_nut, sink)).map(|(head, nut)| head + nut) else { return };
    if may_take_up_grip(washers) {
        return;
    }
    let most = limit::washers_most();
    let count = joint.washers_head.len() + joint.washers_nut.len();
    let message = format!(
        "{count} washers are {washers} thick; at most {} is used to take up grip",
        sink.style.length(most.value),
        washers = sink.style.length(washers)
    );
    let finding = sink.warning(first.written.span, message).source(most.basis.cite());
    sink.push(
        finding
            .label(joint.spec.fastener.span, "the bolt")
            .help("use the bolt with the next shorter grip, and fewer washers"),
    );
}
