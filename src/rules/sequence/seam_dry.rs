//! # seam-dry
//!
//! ## What it checks
//! A joint that is riveted or bolted in a space with `holds = "fuel"` is set wet (`wet`).
//!
//! ## Why it matters
//! A tank leaks through its fasteners, and a seam that was driven dry cannot be made tight from outside.
//!
//! ## Source
//! - `common-practice` common practice: every fastener of a wet tank is set in sealant.
//!
//! ## Example that fires
//! ```toml
//! # build.toml: [[space]] id = "tank", holds = "fuel"
//! [[step]]
//! do = "rivet"
//! spaces = ["tank"]
//! joints = ["J1"]               # and no `wet` in J1
//! ```
//!
//! ## How to put it right
//! Add `wet` with the sealant to the joint.
//!
//! ## When to allow it
//! When the joint lies in the space and not in the wall of the tank, as of a bracket.

use crate::job::{Joint, LivesAt};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    if joint.wet.is_some() {
        return;
    }
    let is_in_tank = |fastened: &&LivesAt| {
        let spaces = &at.job.step(fastened.at).spaces;
        spaces.iter().any(|space| at.job.space_spec(space.value).holds.is_some())
    };
    let Some(fastened) = joint.fastenings().find(is_in_tank) else { return };
    let step = at.step_name(fastened.at);
    let message = format!("step {step} fastens joint {} in a tank, and nothing seals it", joint.title());
    let finding = sink.warning(fastened.span, message).label(joint.spec.fastener.span, "not set wet");
    sink.push(finding.help("add `wet = \"..\"` with the sealant to the joint"));
}
