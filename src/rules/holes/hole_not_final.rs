//! # hole-not-final
//!
//! ## What it checks
//! When a step rivets or bolts a joint, its holes have their final size and no later step drills them.
//!
//! ## Why it matters
//! A rivet driven in a pilot hole does not go in, or is drilled out again, which costs the hole its size for good.
//!
//! ## Source
//! - `common-practice` common practice: drill to final size, take apart, deburr, then fasten.
//!
//! ## Example that fires
//! ```toml
//! holes = { final = "#30" }
//! [[step]]
//! do = "drill"
//! joints = ["J1"]
//! to = "#40"
//! [[step]]
//! do = "rivet"       # no step between opens the holes to #30
//! joints = ["J1"]
//! ```
//!
//! ## How to put it right
//! Put a drilling step to the final size before the fastening step, or move the fastening step behind it. A step of another
//! traveler that opens the holes names the joint with this one's id, as `FUS-10/J2`.
//!
//! ## When to allow it
//! When the holes are opened through the other half of the assembly, and no traveler is written for that yet.

use crate::job::{Joint, LivesAt};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    // Without any drilling step the joint is either delivered final or reported as never drilled.
    if joint.drillings().next().is_none() {
        return;
    }
    for fastened in joint.fastenings() {
        check_fastening(joint, fastened, at, sink);
    }
}

fn check_fastening(joint: &Joint, fastened: &LivesAt, at: &At<'_>, sink: &mut Sink<'_>) {
    let name = |lived: &LivesAt| at.step_name(lived.at);
    // Holes left open on purpose may be opened up later.
    let mut after = joint.life_after(fastened.at).iter().filter(|later| later.is_on(fastened.hand));
    let later = after.find(|lived| lived.kind.makes_holes()).filter(|_| joint.leave_open.is_none());
    if let Some(later) = later {
        let message =
            format!("step {} fastens joint {} before step {} drills it", name(fastened), joint.title(), name(later));
        let help = format!("move step {} behind step {}", name(fastened), name(later));
        sink.push(sink.error(fastened.span, message).label(later.span, "drilled here").help(help));
        return;
    }
    let (Some(before), Some(last)) = (joint.hole_before(fastened.at), joint.final_hole()) else { return };
    if before.size.length == last.size.length {
        return;
    }
    let message = format!(
        "step {} fastens joint {} in {} holes; the final size is {}",
        name(fastened),
        joint.title(),
        sink.style.size(before.size),
        sink.style.size(last.size)
    );
    let help = if before.size.length < last.size.length {
        format!("add a drilling step to {} before step {}", sink.style.typed(last.size), name(fastened))
    } else {
        format!("correct the drilling step, or write `final = \"{}\"`", sink.style.typed(before.size))
    };
    let mut finding = sink.error(fastened.span, message).help(help);
    for (span, text) in [(before.span, "size before"), (last.span, "final size")] {
        finding = match span {
            Some(span) => finding.label(span, text),
            None => finding,
        };
    }
    sink.push(finding);
}
