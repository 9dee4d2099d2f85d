//! # grip-long
//!
//! ## What it checks
//! The grip of a bolt is no longer than the stack and all washers together.
//!
//! ## Why it matters
//! The nut then runs out of thread before it clamps anything: it reaches its torque against the shank, and the joint is
//! loose.
//!
//! ## Source
//! - `geometry` geometry: the nut needs thread where it sits.
//! - `AN-TBL` AN3 to AN6 grip and length table: grips of AN3 to AN6 (shall); grade A.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]   # .063 and .063
//! fastener = "AN3-6A"              # grip .375
//! ```
//!
//! ## How to put it right
//! Use the bolt that the help names, or add washers up to 1/8 in in all.
//!
//! ## When to allow it
//! When a bushing or spacer that is no layer of the stack fills the gap: better add it to the stack.

use crate::hardware::{SLACK, WASHER_SLACK};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_GRIP, NO_THICKNESS, bolt, fitting_bolts, washer_stack};
use crate::rules::{At, Looks, Rule, Sink};

pub static RULE: Rule = Rule {
    name: "grip-long",
    family: "bolts",
    severity: Severity::Error,
    sources: &["geometry", "AN-TBL"],
    page: include_str!("grip_long.rs"),
    looks: Looks::Joint(look),
};

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(bolt) = bolt(joint) else { return };
    let Some(stack) = joint.thickness() else { return sink.cannot(NO_THICKNESS) };
    let Some(grip) = &bolt.grip else { return sink.cannot(NO_GRIP) };
    let head = washer_stack(&joint.washers_head, sink);
    let Some(washers) = head.zip(washer_stack(&joint.washers_nut, sink)).map(|(head, nut)| head + nut) else { return };
    let leeway = if joint.washers_head.is_empty() && joint.washers_nut.is_empty() { SLACK } else { WASHER_SLACK };
    let all = stack + washers;
    if all.reaches(grip.value, leeway) {
        return;
    }
    let message = format!("grip {} of {} is longer than stack and washers, {all}", grip.value, joint.call);
    let finding = sink.at_most_error(&grip.basis, joint.written.span, message).label(joint.stack_span, format!("stack {stack}"));
    sink.push(finding.help(format!("{}; or add {} of washers", fitting_bolts(joint, bolt, stack), grip.value - all)));
}
