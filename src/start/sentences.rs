//! What a usual step says of a joint: only what the joint's own fastener, nut and washers call for.
//!
//! Common practice of the trade; it gives no number, because those stand with the joint.

use crate::hardware::Fastener;
use crate::job::{Joint, Preparation, Safety};

/// What the step that tightens a joint does, for its title.
pub(super) fn tighten_verb(joint: &Joint) -> &'static str {
    match (joint.is_snug(), joint.safety()) {
        (true, Safety::Itself | Safety::LockWasher) => "Set snug",
        (true, _) => "Set snug and safety",
        (false, Safety::Itself | Safety::LockWasher) => "Torque",
        (false, _) => "Torque and safety",
    }
}

/// How a nut is tightened and safetied.
pub(super) fn tightened(joint: &Joint) -> Vec<&'static str> {
    let mut lines = Vec::new();
    if joint.is_snug() {
        lines.push("Finger-tight, then back until the joint turns freely by hand, without play.");
    } else if joint.has_drag() && joint.torque_holds_drag() {
        lines.push("The range holds the nut's drag already: do not add it.");
    } else if joint.has_drag() {
        lines.push("Measure the nut's drag while running it down and add it.");
    }
    lines.push(match joint.safety() {
        Safety::Pin => "New cotter pin now, both ends bent; mark it now.",
        Safety::Wire => "New safety wire now, pulling the head tighter; mark it now.",
        Safety::CheckNut => "Hold the nut and lock it with the check nut now, mark it now.",
        Safety::Open => "Safety it now as the drawing says, mark it now.",
        Safety::Itself | Safety::LockWasher => "Mark it now.",
    });
    lines
}

/// How a bolt or screw goes in.
pub(super) fn bolted(joint: &Joint) -> Vec<&'static str> {
    let has_washers = !joint.washers_head.is_empty() || !joint.washers_nut.is_empty();
    let mut lines = vec![if has_washers {
        "Head side and washers as the joint's sheet shows."
    } else {
        "Head side as the joint's sheet shows."
    }];
    if matches!(joint.fastener, Ok(Fastener::Bolt(_))) {
        lines.push("The shank reaches through the stack, the thread does not bear.");
    }
    lines
}

/// How a rivet is driven.
pub(super) fn driven(joint: &Joint) -> [&'static str; 2] {
    let few = joint.count.value <= 3;
    [
        if few {
            "Drive one, measure its shop head, then go on."
        } else {
            "Drive three, measure their shop heads, then go on."
        },
        "A bad one: stop, mark it, write a discrepancy before drilling it out.",
    ]
}

/// How parts are held together for drilling and for fastening: rivet holes take sheet holders.
pub(super) fn pinned(joints: &[&Joint]) -> Option<&'static str> {
    let takes_holders = |joint: &&Joint| !matches!(joint.fastener, Ok(Fastener::Bolt(_) | Fastener::Screw(_)));
    match (joints.is_empty(), joints.iter().any(takes_holders)) {
        (true, _) => None,
        (false, true) => Some("A sheet holder in every second hole as soon as there are holes."),
        (false, false) => Some("A clamp beside every second hole; a bolt in each as soon as it has its size."),
    }
}

/// How parts are held together for the fasteners.
pub(super) fn fitted(joints: &[&Joint]) -> &'static str {
    match pinned(joints) {
        Some(text) if text.starts_with("A sheet holder") => {
            "A sheet holder in every second hole; no gap between the layers; heads on the side that the joint's sheet shows."
        }
        _ => "No gap between the layers; heads on the side that the joint's sheet shows.",
    }
}

/// What to look at when everything is in.
pub(super) fn inspected(joints: &[&Joint]) -> Vec<&'static str> {
    let any = |such: fn(&Joint) -> bool| joints.iter().any(|joint| such(joint));
    let mut lines = Vec::new();
    if any(|joint| matches!(joint.fastener, Ok(Fastener::SolidRivet(_) | Fastener::BlindRivet(_)))) {
        lines.push("Every head seated, no crack, no gap, no mark on the sheet.");
    }
    if any(|joint| matches!(joint.fastener, Ok(Fastener::Bolt(_) | Fastener::Screw(_)))) {
        lines.push("Every bolt and screw marked, no gap under a head or washer.");
    }
    if any(|joint| joint.safety() == Safety::Pin) {
        lines.push("Every cotter pin in, both ends bent.");
    }
    if any(|joint| joint.leave_open.is_some()) {
        lines.push("Holes that stay open are those that the sheet names.");
    }
    if lines.is_empty() {
        lines.push("No crack, no gap, no mark on the parts.");
    }
    lines.push("Look at it on another day than it was made.");
    lines
}

/// How the depth of a countersink is set.
pub(super) fn countersunk(joints: &[&Joint]) -> &'static str {
    let under_dimple = |joint: &&Joint| joint.layers.iter().any(|layer| layer.preparation == Preparation::Dimple);
    match (joints.iter().any(under_dimple), joints.iter().all(under_dimple)) {
        (_, true) => "Set the stop on scrap until the dimpled sheet sits flush.",
        (true, false) => "Set the stop on scrap until the fastener, or the dimpled sheet, sits flush.",
        (false, _) => "Set the stop on scrap until the fastener sits flush.",
    }
}
