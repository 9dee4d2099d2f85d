//! # dimple-before-size
//!
//! ## What it checks
//! No step drills the holes of a joint larger after a step has dimpled them.
//!
//! ## Why it matters
//! The drill takes the edge of the dimple away, and the stretched metal round it cracks.
//!
//! ## Source
//! - `common-practice` common practice: holes are brought to the size of the dies before they are dimpled.
//!
//! ## Example that fires
//! ```toml
//! [[step]]
//! do = "dimple"
//! joints = ["J1"]
//! [[step]]
//! do = "drill"                   # to #30, from #40
//! joints = ["J1"]
//! ```
//!
//! ## How to put it right
//! Move the drilling step before the dimpling step.
//!
//! ## When to allow it
//! When the dies are for the smaller hole, and the drawing reams the dimpled holes afterwards.

use crate::job::{Joint, StepKind};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    let Some(dimpled) = joint.life.iter().find(|lived| lived.kind == StepKind::Dimple) else { return };
    let opened = joint.life_after(dimpled.at).iter().filter(|lived| lived.kind.makes_holes()).find(|drilled| {
        let before = joint.hole_before(drilled.at);
        drilled.hole.is_some_and(|after| before.is_none_or(|before| after.size.length > before.size.length))
    });
    let Some(opened) = opened else { return };
    let first = at.step_name(dimpled.at);
    let later = at.step_name(opened.at);
    let message = format!("step {later} opens holes that step {first} has dimpled");
    let finding = sink.warning(opened.span, message).label(dimpled.span, "dimpled here");
    sink.push(finding.help(format!("move step {later} before step {first}")));
}
