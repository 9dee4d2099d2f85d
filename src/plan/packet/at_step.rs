//! A joint at a step: the drill or the fastener to work with first, then what the hand needs to know there.
//!
//! Everything a step needs is repeated at the step; nobody has to turn back a page with a tool in hand.

use serde::Serialize;

use crate::hardware::Fastener;
use crate::job::{Joint, Preparation, StepKind};
use crate::plan::hole;
use crate::plan::joint::{decode, delivered, head_side, named, prepared, shop_head};
use crate::plan::torque;
use crate::units::counted;

/// A joint at a step.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StepJoint {
    /// Id of the joint.
    pub id: String,
    /// What the joint is called, where the spec says.
    pub name: Option<String>,
    /// How many holes or fasteners, in words.
    pub count: String,
    /// The size or call to work with, to be read at arm's length.
    pub lead: String,
    /// More about it, a line each.
    pub lines: Vec<String>,
}

pub(super) fn at_step(joint: &Joint, at: usize, kind: StepKind) -> StepJoint {
    let before = joint.hole_before(at).map(|hole| hole.size);
    let (count, lead, lines) = match kind {
        StepKind::Drill | StepKind::Ream => made(joint, at, kind),
        StepKind::Rivet | StepKind::Bolt => fastened(joint, at),
        StepKind::Torque => torqued(joint),
        StepKind::Countersink => formed(joint, Preparation::is_cut, &countersink(joint)),
        StepKind::Dimple => formed(joint, |preparation| preparation == Preparation::Dimple, "dimple"),
        // Once a fastener is in, it is what there is to look at.
        _ if is_set(joint, at) => looked_at(joint),
        _ => (counted(joint.count.value, "hole", "holes"), String::new(), Vec::new()),
    };
    let mut lines = lines;
    if !kind.makes_holes()
        && !kind.fastens()
        && kind != StepKind::Torque
        && !is_set(joint, at)
        && let Some(size) = before
    {
        lines.push(format!("hole now {}", hole::full(joint, size)));
    }
    StepJoint {
        id: joint.id.value.clone(),
        name: joint.name.as_ref().map(|name| name.value.clone()),
        count,
        lead,
        lines,
    }
}

/// Count, lead and lines.
type AtStep = (String, String, Vec<String>);

fn made(joint: &Joint, at: usize, kind: StepKind) -> AtStep {
    let reached = joint.life.iter().find(|life| life.step == at).and_then(|life| life.hole);
    let tool = if kind == StepKind::Ream { "ream" } else { "drill" };
    let lead =
        reached.map_or_else(|| "size not known".to_owned(), |hole| format!("{tool} {}", hole::cut(kind, hole.size)));
    let from = joint
        .hole_before(at)
        .map(|hole| hole.size)
        .map(|size| format!("opens {}", hole::full(joint, size)))
        // Holes in some layers guide the drill through the others.
        .or_else(|| delivered(joint).map(|holes| format!("as delivered {holes}")))
        .unwrap_or_else(|| "undrilled until now".to_owned());
    let final_size = joint.final_hole().map(|hole| hole.size);
    let last = match (reached, final_size) {
        (Some(reached), Some(last)) if reached.size.length == last.length => "final size".to_owned(),
        (_, Some(last)) => format!("final size later: {}", hole::full(joint, last)),
        (_, None) => "final size not given".to_owned(),
    };
    (counted(joint.count.value, "hole", "holes"), lead, vec![format!("{from}; {last}")])
}

fn fastened(joint: &Joint, at: usize) -> AtStep {
    let set = joint.set_here();
    let count = if set == joint.count.value { format!("{set}") } else { format!("{set} of {}", joint.count.value) };
    let mut lines = vec![decode(joint)];
    let solid = matches!(joint.fastener, Ok(Fastener::SolidRivet(_)));
    if let Some(side) = head_side(joint) {
        lines.push(format!("{} on {side}", if solid { "manufactured head" } else { "head" }));
    }
    if let Some(line) = shop_head(joint) {
        lines.push(line);
    }
    if let Some(size) = joint.hole_before(at).map(|hole| hole.size) {
        let stack = joint.thickness().map_or(String::new(), |total| format!("; stack {}", total.both()));
        lines.push(format!("hole {}{stack}", hole::full(joint, size)));
    }
    if let Some(wet) = &joint.wet {
        lines.push(format!("WET: set with {}", wet.value));
    }
    bolt_lines(joint, &mut lines);
    (count, joint.call.clone(), lines)
}

/// Whether a step is the one that applies the joint's torque: a step of that kind, or the bolting where none follows.
pub(super) fn is_torqued(joint: &Joint, at: usize) -> bool {
    let kind_here = joint.life.iter().find(|life| life.step == at).map(|life| life.kind);
    let later = || joint.life.iter().any(|life| life.step > at && life.kind == StepKind::Torque);
    kind_here == Some(StepKind::Torque) || (kind_here == Some(StepKind::Bolt) && !later())
}

/// Whether the joint was fastened for good before a step.
fn is_set(joint: &Joint, at: usize) -> bool {
    joint.fastenings().any(|life| life.step < at)
}

/// What can be seen of a joint that is fastened.
fn looked_at(joint: &Joint) -> AtStep {
    let torque = torque::words(joint).map(|words| format!("torque {words}"));
    let lines =
        head_side(joint).map(|side| format!("head on {side}")).into_iter().chain(shop_head(joint)).chain(torque);
    (joint.set_here().to_string(), joint.call.clone(), lines.collect())
}

/// The torque itself stands in the strip below; here is what it is applied to.
fn torqued(joint: &Joint) -> AtStep {
    let nut = joint.nut.iter().map(|nut| format!("nut: {}", named(nut)));
    let pin = joint.cotter.iter().map(|pin| format!("new cotter pin: {}", named(pin)));
    let snug = torque::snug_line(joint);
    (format!("{}", joint.set_here()), joint.call.clone(), nut.chain(pin).chain(snug).collect())
}

fn bolt_lines(joint: &Joint, lines: &mut Vec<String>) {
    let stack = |list: &[crate::job::Hardware]| list.iter().map(named).collect::<Vec<_>>().join(" + ");
    for (place, list) in [("washers under head", &joint.washers_head), ("washers under nut", &joint.washers_nut)] {
        if !list.is_empty() {
            lines.push(format!("{place}: {}", stack(list)));
        }
    }
    for (what, hardware) in [("nut", &joint.nut), ("check nut", &joint.check_nut), ("new cotter pin", &joint.cotter)] {
        if let Some(hardware) = hardware {
            lines.push(format!("{what}: {}", named(hardware)));
        }
    }
    lines.extend(torque::snug_line(joint));
}

/// The verb with the head's own angle: a countersink of another angle seats no head.
fn countersink(joint: &Joint) -> String {
    let angle = joint.fastener.as_ref().ok().and_then(|fastener| fastener.head().degrees());
    angle.map_or_else(|| "countersink".to_owned(), |angle| format!("countersink {angle} deg"))
}

fn formed(joint: &Joint, is_meant: fn(Preparation) -> bool, verb: &str) -> AtStep {
    let size = joint
        .diameter()
        .map_or_else(String::new, |d| d.fraction_text().map_or_else(|| d.both(), |text| format!("{text} in")));
    let layers = joint.layers.iter().filter(|layer| is_meant(layer.preparation)).map(|layer| {
        let thickness = layer.thickness.map_or(String::new(), |thickness| format!(", {}", thickness.both()));
        let sides = if layer.preparation == Preparation::CountersinkBoth { " from both sides" } else { "" };
        format!("{verb}{sides} {}{thickness}", layer.name)
    });
    let plain = prepared(joint, Preparation::Plain).map(|layer| format!("leave {} plain", layer.name));
    let lines = layers.chain(plain).collect();
    (counted(joint.count.value, "hole", "holes"), format!("for {size} {}", joint.call), lines)
}
