//! As built: what the signed sheets say is in each joint: call, washers, nut, pin, hole, torque.
//!
//! It repeats the requirement to which somebody signed; whether the hand followed the sheet is on the sheet.

use std::collections::BTreeMap;

use serde::Serialize;

use super::{BookFacts, Signature, step_of};
use crate::archive::{Capacity, StepRequirement};
use crate::work::shown;

/// What stands behind the id in the name of a field, longest first where one begins another.
const SIDES: &[&str] = &[
    "count",
    "hole",
    "fastener",
    "washer at the head",
    "washer at the nut",
    "nut",
    "cotter",
    "wet with",
    "torque",
    "threads",
    "left open",
];

/// One joint as signed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Default)]
#[serde(rename_all = "kebab-case")]
pub struct BuiltJoint {
    /// Id.
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
pub(super) fn joints(signatures: &[&Signature], facts: &BookFacts<'_>) -> Vec<BuiltJoint> {
    let mut joints: BTreeMap<String, BuiltJoint> = BTreeMap::new();
    for signature in signatures.iter().filter(|own| own.struck.is_none() && own.signed.capacity == Capacity::Done) {
        let Some(step) = step_of(signature, facts) else { continue };
        let sheet = signature.sheet().map(|code| format!(", {code}")).unwrap_or_default();
        let signed = format!("{} {}{sheet}", signature.signed.by, signature.signed.worked);
        match step.value("do") {
            Some("rivet" | "bolt") => {
                for own in of_step(step) {
                    joints.insert(own.joint.clone(), BuiltJoint { signed: signed.clone(), ..own });
                }
            }
            Some("torque") => {
                for own in of_step(step) {
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
fn of_step(step: &StepRequirement) -> Vec<BuiltJoint> {
    let mut joints: Vec<BuiltJoint> = Vec::new();
    for field in &step.fields {
        let Some((id, side)) = split(&field.name) else { continue };
        let at = joints.iter().position(|joint| joint.joint == id).unwrap_or_else(|| {
            joints.push(BuiltJoint { joint: id.to_owned(), ..BuiltJoint::default() });
            joints.len() - 1
        });
        let (joint, value) = (&mut joints[at], shown(&field.value));
        match side {
            "count" => joint.count = value,
            "fastener" => joint.fastener = value,
            "hole" => joint.hole = Some(value),
            "washer at the head" => joint.washers_head.push(value),
            "washer at the nut" => joint.washers_nut.push(value),
            "nut" | "cotter" => joint.nut.push(value),
            "torque" | "threads" => joint.torque.push(value),
            _ => joint.more.push(format!("{side} {value}")),
        }
    }
    joints.retain(|joint| !joint.fastener.is_empty());
    joints
}

/// Id and side in `joint J1 washer at the nut, 2`.
fn split(name: &str) -> Option<(&str, &'static str)> {
    let rest = name.strip_prefix("joint ")?;
    let plain = rest
        .rsplit_once(", ")
        .map_or(rest, |(before, nth)| if nth.bytes().all(|b| b.is_ascii_digit()) { before } else { rest });
    SIDES.iter().find_map(|side| Some((plain.strip_suffix(side)?.strip_suffix(' ')?, *side)))
}
