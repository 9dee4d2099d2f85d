//! # hole-shrinks
//!
//! ## What it checks
//! No drilling or reaming step names a size below the hole that it finds, in the layer with the smallest one; and the final
//! size is below that of no layer as delivered. The same size again passes: drilling through all layers at size is how the
//! holes of a punched kit are brought into line.
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
    let (Some(start), Some(last)) = (joint.delivered_most(), joint.last) else { return };
    let Some(span) = last.span.filter(|_| last.size.length < start.size.length) else { return };
    // A drilling step that is too small for every layer is told there, where the sizes are used.
    let is_told = joint.drillings().next().is_some()
        && joint.delivered().is_some_and(|least| last.size.length < least.size.length);
    if !is_told {
        let message = format!(
            "final hole {} is smaller than the hole as delivered, {}",
            sink.style.size(last.size),
            sink.style.size(start.size)
        );
        let help = format!("write `final = \"{}\"`, or correct `start`", sink.style.typed(start.size));
        let finding = sink.error(span, message).help(help);
        sink.push(start.span.into_iter().fold(finding, |finding, span| finding.label(span, "as delivered")));
    }
}

fn check_step(joint: &Joint, drilled: &LivesAt, at: &At<'_>, sink: &mut Sink<'_>) {
    // Nothing to shrink: the first drill through undrilled sheet, or a step whose size is not known.
    let (Some(before), Some(after)) = (joint.hole_before(drilled.at), drilled.hole) else { return };
    if after.size.length >= before.size.length {
        return;
    }
    let message = format!(
        "step {} drills to {}, smaller than the hole before it, {}",
        at.step_name(drilled.at),
        sink.style.size(after.size),
        sink.style.size(before.size)
    );
    let span = at.job.step(drilled.at).to.map_or(drilled.span, |to| to.span);
    let help = format!(
        "give {} or more, or take joint {} out of the step",
        sink.style.length(before.size.length),
        joint.id.value
    );
    let finding = sink.error(span, message).help(help);
    sink.push(match before {
        FinalHole { span: Some(span), .. } => finding.label(span, "the hole before"),
        FinalHole { .. } => finding,
    });
}
