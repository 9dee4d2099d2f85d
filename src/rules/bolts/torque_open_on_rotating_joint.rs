//! # torque-open-on-rotating-joint
//!
//! ## What it checks
//! A castle nut on a joint that turns says how it is tightened: `torque = "snug"` where the part turns on the bolt, or
//! `clamped = "inner race"` where it turns on what the bolt clamps.
//!
//! ## Why it matters
//! A hinge that is tightened by the table binds; a bearing that is left snug lets its bolt turn in the hole. Without the
//! word the sheet prints no torque, and says that the joint must turn.
//!
//! ## Source
//! - `common-practice` common practice: a nut on a joint that turns on its bolt is left snug and pinned.
//!
//! ## Example that fires
//! ```toml
//! rotates = true
//! nut = "AN310-4"
//! cotter = "MS24665-132"       # and neither `torque` nor `clamped`
//! ```
//!
//! ## How to put it right
//! Write one of the two, as the drawing has it.
//!
//! ## When to allow it
//! It is a note and stops nothing: what is printed is snug.

use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::nut;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Note, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(rotates), Some((nut, written))) = (joint.rotates, nut(joint)) else { return };
    if !nut.kind.is_castle() || !joint.turns_its_bolt() || joint.called_torque().is_some() {
        return;
    }
    let message = format!("nut {} is on a joint that turns, and nothing says how it is tightened", written.value);
    let finding = sink.note(written.span, message).label(rotates.span, "rotates in use");
    sink.push(finding.help(
        "write `torque = \"snug\"` where the part turns on the bolt, `clamped = \"inner race\"` where the bolt clamps a race",
    ));
}
