//! As built: what the signed sheets say is in each joint: call, washers, nut, pin, hole, torque.
//!
//! It repeats the requirement to which somebody signed; whether the hand followed the sheet is on the sheet.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{BookFacts, Signature, step_of};
use crate::archive::{About, Capacity, Side, StepRequirement, shown_value};
use crate::job::StepKind;
use crate::phrase;
use crate::units::Style;

/// One joint as signed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Default)]
#[serde(rename_all = "kebab-case")]
pub struct BuiltJoint {
    /// Id of the joint.
    pub joint: String,
    /// How many.
    pub count: String,
    /// Call of the fastener.
    pub fastener: String,
    /// Final hole.
    pub hole: Option<String>,
    /// Washers at the head.
    pub washers_head: Vec<String>,
    /// Washers at the nut.
    pub washers_nut: Vec<String>,
    /// Nut and pin.
    pub nut: Vec<String>,
    /// Torque, and the state of the threads.
    pub torque: Vec<String>,
    /// What it is set wet with, and what stays open.
    pub more: Vec<String>,
    /// Who signed, when, on which sheet.
    pub signed: String,
}

/// Every joint that signed steps have fastened, by id; the last signature of a joint counts, a torque of its own is added.
pub(super) fn joints(signatures: &[&Signature], facts: &BookFacts<'_>, style: &Style) -> Vec<BuiltJoint> {
    let mut joints: BTreeMap<String, BuiltJoint> = BTreeMap::new();
    for signature in signatures.iter().filter(|own| own.struck.is_none() && own.signed.capacity == Capacity::Done) {
        let Some(step) = step_of(signature, facts) else { continue };
        let sheet = signature.sheet().map(|code| format!(", {code}")).unwrap_or_default();
        let signed = format!("{} {}{sheet}", signature.signed.by, signature.signed.worked);
        match step.kind() {
            Some(StepKind::Rivet | StepKind::Bolt) => {
                for own in of_step(step, style) {
                    joints.insert(own.joint.clone(), BuiltJoint { signed: signed.clone(), ..own });
                }
            }
            Some(StepKind::Torque) => {
                for own in of_step(step, style) {
                    let joint = joints
                        .entry(own.joint.clone())
                        .or_insert_with(|| BuiltJoint { signed: signed.clone(), ..own.clone() });
                    joint.torque = own.torque;
                }
            }
            _ => {}
        }
    }
    joints.into_values().collect()
}

/// The joints that a step fastens, by its requirements.
fn of_step(step: &StepRequirement, style: &Style) -> Vec<BuiltJoint> {
    let mut joints: Vec<BuiltJoint> = Vec::new();
    for fact in &step.facts {
        let About::Joint(id, side) = &fact.about else { continue };
        let at = joints.iter().position(|joint| joint.joint == *id).unwrap_or_else(|| {
            joints.push(BuiltJoint { joint: id.clone(), ..BuiltJoint::default() });
            joints.len() - 1
        });
        let joint = &mut joints[at];
        let value = shown_value(fact, style);
        match side {
            Side::Count => joint.count = value,
            Side::Fastener => joint.fastener = value,
            Side::Hole => joint.hole = Some(value),
            Side::WasherHead => joint.washers_head.push(value),
            Side::WasherNut => joint.washers_nut.push(value),
            Side::Nut | Side::Cotter => joint.nut.push(value),
            Side::Torque | Side::Threads => joint.torque.push(value),
            Side::Wet | Side::LeftOpen => joint.more.push(format!("{} {value}", phrase::word(side.word()))),
            _ => {}
        }
    }
    joints.retain(|joint| !joint.fastener.is_empty());
    joints
}
