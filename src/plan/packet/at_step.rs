//! A joint at a step: the drill or the fastener to work with first, then what the hand needs to know there.
//!
//! Everything a step needs is repeated at the step; nobody has to turn back a page with a tool in hand. How many pieces
//! go in or come out is counted where all lists count it.

use serde::Serialize;

use super::source::Source;
use crate::hardware::Fastener;
use crate::job::{Handled, Handling, Joint, JointRef, Preparation, StepKind, operation};
use crate::plan::hole;
use crate::plan::joint::{decode, delivered, fit_up_words, head_side, named, prepared, shop_head};
use crate::plan::torque;
use crate::units::{Style, counted};

/// A joint at a step.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StepJoint {
    /// Id of the joint; of another traveler's joint that traveler's id before it.
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

/// The joints of a step: those that it names, then those whose hardware it handles all the same.
pub(super) fn joints(source: Source<'_>, at: usize) -> Vec<StepJoint> {
    let named = &source.traveler().steps[at].joints;
    let handled = source.job.handled(source.item(at));
    let own = |joint: usize| JointRef { traveler: source.index, joint };
    let is_named = |joint: JointRef| named.iter().any(|one| own(one.value) == joint);
    let mut joints: Vec<JointRef> = named.iter().map(|one| own(one.value)).collect();
    // Shared holes get the fasteners of another joint, which has its own line.
    let has_line = |one: &&Handled| !is_named(one.joint) && !matches!(one.what, Handling::Share { .. });
    for one in handled.iter().filter(has_line) {
        if !joints.contains(&one.joint) {
            joints.push(one.joint);
        }
    }
    joints.into_iter().map(|joint| AtStep { source, at, joint, handled: &handled }.line(is_named(joint))).collect()
}

/// The id of a joint as a packet says it.
pub(super) fn joint_id(source: Source<'_>, joint: JointRef) -> String {
    let own = &source.job.joint(joint).id.value;
    if joint.traveler == source.index {
        own.clone()
    } else {
        format!("{} {own}", source.job.travelers[joint.traveler].id.value)
    }
}

/// One joint at one step.
struct AtStep<'a> {
    source: Source<'a>,
    at: usize,
    joint: JointRef,
    handled: &'a [Handled],
}

/// Count, lead and lines.
type Words = (String, String, Vec<String>);

impl AtStep<'_> {
    fn style(&self) -> &Style {
        &self.source.job.project.style
    }

    fn of(&self) -> &Joint {
        self.source.job.joint(self.joint)
    }

    fn handled(&self) -> impl Iterator<Item = &Handled> {
        self.handled.iter().filter(|one| one.joint == self.joint)
    }

    /// The joint's line; of a joint that the step does not name only what is done to its hardware.
    fn line(&self, is_named: bool) -> StepJoint {
        let joint = self.of();
        let (count, mut lead, mut lines) = if is_named { self.worked() } else { self.only_handled() };
        for one in self.handled() {
            let Some(words) = fit_up_words(joint, one) else { continue };
            let why = joint.temporary.as_ref().map_or("", |temporary| temporary.why.value.as_str());
            if lead.is_empty() {
                lines.insert(0, format!("temporary: {why}"));
                lead = words;
            } else {
                lines.push(format!("{words}, temporary: {why}"));
            }
        }
        StepJoint {
            id: joint_id(self.source, self.joint),
            name: joint.name.as_ref().map(|name| name.value.clone()),
            count,
            lead,
            lines,
        }
    }

    fn only_handled(&self) -> Words {
        match self.handled().find(|one| one.what.is_final()) {
            Some(one) => self.fastened(*one),
            None => (holes(self.of()), String::new(), Vec::new()),
        }
    }

    /// What the step's kind of work needs to know of a joint that it names.
    fn worked(&self) -> Words {
        let joint = self.of();
        let kind = self.source.traveler().steps[self.at].kind.value;
        let before = joint.hole_before(self.at).map(|hole| hole.size);
        let (count, lead, mut lines) = match (kind, self.handled().find(|one| one.what.is_final())) {
            (StepKind::Drill | StepKind::Ream, _) => made(joint, self.at, kind, self.style()),
            (_, Some(one)) => self.fastened(*one),
            (StepKind::Torque, _) => self.torqued(),
            (StepKind::Countersink, _) => formed(joint, Preparation::is_cut, &countersink(joint), self.style()),
            (StepKind::Dimple, _) => {
                formed(joint, |preparation| preparation == Preparation::Dimple, "dimple", self.style())
            }
            // Once a fastener is in, it is what there is to look at.
            _ if self.is_set() => self.looked_at(),
            _ => (holes(joint), String::new(), Vec::new()),
        };
        let says_hole = !kind.makes_holes() && !kind.fastens() && kind != StepKind::Torque && !self.is_set();
        lines.extend(
            before.filter(|_| says_hole).map(|size| format!("hole now {}", hole::full(joint, size, self.style()))),
        );
        (count, lead, lines)
    }

    fn fastened(&self, handled: Handled) -> Words {
        let joint = self.of();
        let all = joint.count.value;
        let count = match handled.what {
            Handling::FastenOn { first } => {
                format!("the rest of {all}, begun at step {}", operation(self.source.job.step(first).number))
            }
            _ if handled.count == all => format!("{all}"),
            // The same number on both hands, or a share of it.
            _ if handled.count > all => format!("{}", handled.count),
            _ => format!("{} of {all}", handled.count),
        };
        // In another traveler's packet the holes are as that traveler left them.
        let is_own = self.joint.traveler == self.source.index;
        let at = if is_own { self.at } else { usize::MAX };
        let mut lines = vec![decode(joint, self.style())];
        let solid = matches!(joint.fastener, Ok(Fastener::SolidRivet(_)));
        if let Some(side) = head_side(joint) {
            lines.push(format!("{} on {side}", if solid { "manufactured head" } else { "head" }));
        }
        lines.extend(shop_head(joint, self.style()));
        if let Some(size) = joint.hole_before(at).map(|hole| hole.size) {
            let stack =
                joint.thickness().map_or(String::new(), |total| format!("; stack {}", self.style().length(total)));
            lines.push(format!("hole {}{stack}", hole::full(joint, size, self.style())));
        }
        if let Some(wet) = &joint.wet {
            lines.push(format!("WET: set with {}", wet.value));
        }
        bolt_lines(joint, self.style(), &mut lines);
        (count, joint.call.clone(), lines)
    }

    /// Whether the joint was fastened for good before the step.
    fn is_set(&self) -> bool {
        self.of().fastenings().any(|life| life.step < self.at)
    }

    /// Final fasteners that are in before the step.
    fn set(&self) -> u32 {
        self.source.job.set_before(self.joint, self.at)
    }

    /// What can be seen of a joint that is fastened.
    fn looked_at(&self) -> Words {
        let joint = self.of();
        let torque = torque::words(joint, self.style()).map(|words| format!("torque {words}"));
        let lines = head_side(joint)
            .map(|side| format!("head on {side}"))
            .into_iter()
            .chain(shop_head(joint, self.style()))
            .chain(torque);
        (self.set().to_string(), joint.call.clone(), lines.collect())
    }

    /// The torque itself stands in the strip below; here is what it is applied to: what went in since the last torque step.
    fn torqued(&self) -> Words {
        let joint = self.of();
        let earlier = joint.life.iter().rfind(|life| life.kind == StepKind::Torque && life.step < self.at);
        // Before the first torque step nothing is torqued.
        let done = earlier.map_or(0, |life| self.source.job.set_before(self.joint, life.step));
        let nut = joint.nut.iter().map(|nut| format!("nut: {}", named(nut, self.style())));
        let pin = joint.cotter.iter().map(|pin| format!("new cotter pin: {}", named(pin, self.style())));
        let snug = torque::snug_line(joint);
        let lines = nut.chain(pin).chain(snug).collect();
        // A second torque step with nothing new goes over all of them again; what another traveler bolts is in already.
        let set = Some(self.set()).filter(|set| *set > 0).unwrap_or(joint.count.value);
        let count = Some(set - done).filter(|left| *left > 0).unwrap_or(set);
        (count.to_string(), joint.call.clone(), lines)
    }
}

fn holes(joint: &Joint) -> String {
    counted(joint.count.value, "hole", "holes")
}

fn made(joint: &Joint, at: usize, kind: StepKind, style: &Style) -> Words {
    let reached = joint.life.iter().find(|life| life.step == at).and_then(|life| life.hole);
    let tool = if kind == StepKind::Ream { "ream" } else { "drill" };
    let lead = reached
        .map_or_else(|| "size not known".to_owned(), |hole| format!("{tool} {}", hole::cut(kind, hole.size, style)));
    let from = joint
        .hole_before(at)
        .map(|hole| hole.size)
        .map(|size| format!("opens {}", hole::full(joint, size, style)))
        // Holes in some layers guide the drill through the others.
        .or_else(|| delivered(joint, style).map(|holes| format!("as delivered {holes}")))
        .unwrap_or_else(|| "undrilled until now".to_owned());
    let final_size = joint.final_hole().map(|hole| hole.size);
    let last = match (reached, final_size) {
        (Some(reached), Some(last)) if reached.size.length == last.length => "final size".to_owned(),
        (_, Some(last)) => format!("final size later: {}", hole::full(joint, last, style)),
        (_, None) => "final size not given".to_owned(),
    };
    (holes(joint), lead, vec![format!("{from}; {last}")])
}

/// Whether a step is the one that applies the joint's torque: a step of that kind, or the bolting where none follows.
pub(super) fn is_torqued(joint: &Joint, at: usize) -> bool {
    let kind_here = joint.life.iter().find(|life| life.step == at).map(|life| life.kind);
    let later = || joint.life.iter().any(|life| life.step > at && life.kind == StepKind::Torque);
    kind_here == Some(StepKind::Torque) || (kind_here == Some(StepKind::Bolt) && !later())
}

fn bolt_lines(joint: &Joint, style: &Style, lines: &mut Vec<String>) {
    let stack =
        |list: &[crate::job::Hardware]| list.iter().map(|own| named(own, style)).collect::<Vec<_>>().join(" + ");
    for (place, list) in [("washers under head", &joint.washers_head), ("washers under nut", &joint.washers_nut)] {
        if !list.is_empty() {
            lines.push(format!("{place}: {}", stack(list)));
        }
    }
    for (what, hardware) in [("nut", &joint.nut), ("check nut", &joint.check_nut), ("new cotter pin", &joint.cotter)] {
        if let Some(hardware) = hardware {
            lines.push(format!("{what}: {}", named(hardware, style)));
        }
    }
    lines.extend(torque::snug_line(joint));
}

/// The verb with the head's own angle: a countersink of another angle seats no head.
fn countersink(joint: &Joint) -> String {
    let angle = joint.fastener.as_ref().ok().and_then(|fastener| fastener.head().degrees());
    angle.map_or_else(|| "countersink".to_owned(), |angle| format!("countersink {angle} deg"))
}

fn formed(joint: &Joint, is_meant: fn(Preparation) -> bool, verb: &str, style: &Style) -> Words {
    let size = joint.diameter().map_or_else(String::new, |d| style.short(d));
    let layers = joint.layers.iter().filter(|layer| is_meant(layer.preparation)).map(|layer| {
        let thickness = layer.thickness.map_or(String::new(), |thickness| format!(", {}", style.length(thickness)));
        let sides = if layer.preparation == Preparation::CountersinkBoth { " from both sides" } else { "" };
        format!("{verb}{sides} {}{thickness}", layer.name)
    });
    let plain = prepared(joint, Preparation::Plain).map(|layer| format!("leave {} plain", layer.name));
    let lines = layers.chain(plain).collect();
    (holes(joint), format!("for {size} {}", joint.call), lines)
}
