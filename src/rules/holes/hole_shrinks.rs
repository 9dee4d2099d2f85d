//! # hole-shrinks
//!
//! ## What it checks
//! No drilling or reaming step names a size below the hole that it finds. The same size again passes: drilling through all
//! layers at size is how the holes of a punched kit are brought into line.
//!
//! ## Why it matters
//! A drill smaller than the hole does nothing. The step is out of order, or one of the sizes is a slip, and then the next
//! one is wrong too.
//!
//! ## Source
//! - `arithmetic` arithmetic: a hole never becomes smaller.
//!
//! ## Example that fires
//! ```toml
//! holes = { start = "#30", final = "#21" }
//! [[step]]
//! id = "open-up"
//! do = "drill"
//! joints = ["J1"]
//! to = "#40"        # smaller than #30
//! ```
//!
//! ## How to put it right
//! Put the steps in order of size, give an undersize drill before a reamer, or correct the size that is a slip.
//!
//! ## When to allow it
//! When a smaller drill only clears paint or sealant out of finished holes.

use crate::job::{FinalHole, Joint, LivesAt};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    for drilled in joint.drillings() {
        check_step(joint, drilled, at, sink);
    }
    let (Some(start), Some(last)) = (joint.holes.start, joint.last) else { return };
    let Some(span) = last.span else { return };
    // With a drilling step the fault is told there, where the sizes are used.
    if joint.drillings().next().is_none() && last.size.length < start.value.length {
        let message = format!("final hole {} is smaller than the hole as delivered, {}", last.size, start.value);
        let help = format!("write `final = \"{}\"`, or correct `start`", start.value.short());
        sink.push(sink.error(span, message).label(start.span, "as delivered").help(help));
    }
}

fn check_step(joint: &Joint, drilled: &LivesAt, at: &At<'_>, sink: &mut Sink<'_>) {
    // Nothing to shrink: the first drill through undrilled sheet, or a step whose size is not known.
    let (Some(before), Some(after)) = (joint.hole_before(drilled.step), drilled.hole) else { return };
    if after.size.length >= before.size.length {
        return;
    }
    let step = &at.traveler.steps[drilled.step];
    let message =
        format!("step {} drills to {}, smaller than the hole before it, {}", step.id.value, after.size, before.size);
    let span = step.to.map_or(drilled.span, |to| to.span);
    let help = format!("give {} or more, or take joint {} out of the step", before.size.length, joint.id.value);
    let finding = sink.error(span, message).help(help);
    sink.push(match before {
        FinalHole { span: Some(span), .. } => finding.label(span, "the hole before"),
        FinalHole { .. } => finding,
    });
}
