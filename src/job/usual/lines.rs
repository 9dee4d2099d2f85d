//! What a step says of its joints beside its procedure: only what the joint's own fastener, nut and washers call for.
//!
//! Common practice of the trade; it gives no number, because those stand with the joint.

use crate::hardware::Fastener;
use crate::job::{Joint, Preparation, Safety};

/// What the step that tightens a joint does, for its title.
pub(super) fn tighten_verb(joint: &Joint) -> &'static str {
    match (joint.is_snug(), is_safetied(joint)) {
        (true, false) => "Set snug",
        (true, true) => "Set snug and safety",
        (false, false) => "Torque",
        (false, true) => "Torque and safety",
    }
}

/// Whether something is added that keeps the joint from turning loose.
pub(super) fn is_safetied(joint: &Joint) -> bool {
    !matches!(joint.safety(), Safety::Itself | Safety::LockWasher)
}

/// The lines that the joints of a step, each under the name that it has there, add to one of its procedures.
pub(in crate::job) fn lines_for(procedure: &str, named: &[(String, &Joint)]) -> Vec<String> {
    let joints: Vec<&Joint> = named.iter().map(|(_, joint)| *joint).collect();
    let joints = joints.as_slice();
    let lines = |lines: Vec<&'static str>| lines.into_iter().map(str::to_owned).collect();
    match procedure {
        _ if joints.is_empty() => Vec::new(),
        "pin" => lines(vec![pinned(joints)]),
        "fit" => lines(vec![fitted(joints)]),
        "countersink" => lines(vec![countersunk(joints)]),
        "inspect" => lines(inspected(joints)),
        "rivet" => by_joint(named, driven),
        "bolt" => by_joint(named, bolted),
        "torque" => by_joint(named, tightened),
        _ => Vec::new(),
    }
}

/// The lines of each joint, with the joints' names where not all of them have the line.
fn by_joint(joints: &[(String, &Joint)], of: fn(&Joint) -> Vec<&'static str>) -> Vec<String> {
    let all: Vec<Vec<&str>> = joints.iter().map(|(_, joint)| of(joint)).collect();
    let mut told: Vec<&str> = Vec::new();
    for line in all.iter().flatten() {
        if !told.contains(line) {
            told.push(line);
        }
    }
    let names = |line: &str| {
        let has = joints.iter().zip(&all).filter(|(_, lines)| lines.contains(&line));
        has.map(|((name, _), _)| name.as_str()).collect::<Vec<_>>()
    };
    let told_of = |line: &str| match names(line) {
        some if some.len() == joints.len() => line.to_owned(),
        some => format!("{}: {}", some.join(", "), lower(line)),
    };
    told.into_iter().map(told_of).collect()
}

/// A sentence that goes on behind a colon.
fn lower(line: &str) -> String {
    let mut letters = line.chars();
    letters.next().map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}

/// How a nut is tightened and safetied.
fn tightened(joint: &Joint) -> Vec<&'static str> {
    let mut lines = Vec::new();
    if joint.is_snug() {
        lines.push("Finger-tight, then back until the joint turns freely by hand, without play.");
    } else if joint.has_drag() && joint.torque_holds_drag() {
        lines.push("The range holds the nut's drag already: do not add it.");
    } else if joint.has_drag() {
        lines.push("Measure the nut's drag while running it down and add it.");
    }
    match joint.safety() {
        Safety::Pin => lines.push("New cotter pin now, both ends bent."),
        Safety::Wire => lines.push("New safety wire now, pulling the head tighter."),
        Safety::CheckNut => lines.push("Hold the nut and lock it with the check nut now."),
        Safety::Open => lines.push("Safety it now as the drawing says."),
        Safety::Itself | Safety::LockWasher => {}
    }
    lines
}

/// How a bolt or screw goes in.
fn bolted(joint: &Joint) -> Vec<&'static str> {
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
fn driven(joint: &Joint) -> Vec<&'static str> {
    vec![if joint.count.value <= 3 {
        "Drive one, measure its shop head, then go on."
    } else {
        "Drive three, measure their shop heads, then go on."
    }]
}

/// Whether any hole of the joints takes a sheet holder: those of rivets do, a bolt's hole takes the bolt.
fn take_holders(joints: &[&Joint]) -> bool {
    joints.iter().any(|joint| !matches!(joint.fastener, Ok(Fastener::Bolt(_) | Fastener::Screw(_))))
}

/// How parts are held together for drilling.
fn pinned(joints: &[&Joint]) -> &'static str {
    if take_holders(joints) {
        "A sheet holder in every second hole as soon as there are holes."
    } else {
        "A clamp beside every second hole; a bolt in each as soon as it has its size."
    }
}

/// How parts are held together for the fasteners.
fn fitted(joints: &[&Joint]) -> &'static str {
    if take_holders(joints) {
        "A sheet holder in every second hole; heads on the side that the joint's sheet shows."
    } else {
        "Heads on the side that the joint's sheet shows."
    }
}

/// What to look at when everything is in.
fn inspected(joints: &[&Joint]) -> Vec<&'static str> {
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
    lines
}

/// How the depth of a countersink is set.
fn countersunk(joints: &[&Joint]) -> &'static str {
    let under_dimple = |joint: &&Joint| joint.layers.iter().any(|layer| layer.preparation == Preparation::Dimple);
    match (joints.iter().any(under_dimple), joints.iter().all(under_dimple)) {
        (_, true) => "Set the stop on scrap until the dimpled sheet sits flush.",
        (true, false) => "Set the stop on scrap until the fastener, or the dimpled sheet, sits flush.",
        (false, _) => "Set the stop on scrap until the fastener sits flush.",
    }
}
