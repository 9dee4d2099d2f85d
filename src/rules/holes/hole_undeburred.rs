//! # hole-undeburred
//!
//! ## What it checks
//! Between the last drilling of a joint and its fastening there is a `deburr` step that names the joint, one of its parts,
//! or neither joints nor parts.
//!
//! ## Why it matters
//! Burrs and swarf between the sheets hold them apart: the rivet swells into the gap, and the burr's edge starts cracks.
//!
//! ## Source
//! - `common-practice` common practice: take apart and deburr both sides of every sheet before fastening.
//!
//! ## Example that fires
//! ```toml
//! [[step]]
//! do = "drill"
//! joints = ["J1"]
//! [[step]]
//! do = "rivet"      # no deburr step between
//! joints = ["J1"]
//! ```
//!
//! ## How to put it right
//! Add a step with `do = "deburr"` that lists the joint, after the last drilling and before the fastening.
//!
//! ## When to allow it
//! When the holes are drilled in assembly and the plans say not to take it apart, as in a sealed or bonded joint.

use crate::job::{Joint, StepKind, StepRef};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    let Some(fastened) = joint.fastenings().next() else { return };
    // Delivered drilled, or drilled only after the fastening: not a matter of burrs.
    let mut before = joint.life_before(fastened.at).iter();
    let Some(drilled) = before.rfind(|lived| lived.kind.makes_holes()) else { return };
    let around = at.job.around(at.joint());
    let mut between =
        around.into_iter().skip_while(|step| *step != drilled.at).take_while(|step| *step != fastened.at).skip(1);
    let deburrs =
        |step: StepRef| at.job.step(step).kind.value == StepKind::Deburr && at.job.touches_joint(step, at.joint());
    if between.any(deburrs) {
        return;
    }
    let first = at.step_name(drilled.at);
    let second = at.step_name(fastened.at);
    let message =
        format!("no step deburrs joint {} between step {first}, which drills it, and step {second}", joint.title());
    let help = format!("add a step with `do = \"deburr\"` and `joints = [\"{}\"]` between them", joint.id.value);
    sink.push(sink.warning(fastened.span, message).label(drilled.span, "drilled here").help(help));
}
