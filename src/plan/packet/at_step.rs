//! A joint at a step: the drill or the fastener to work with first, then what the hand needs to know there.
//!
//! A fact stands in full once, with the joint; here is what is needed with a tool in hand, so that nobody turns a page. How
//! many pieces go in or come out is counted where all lists count it.

use serde::Serialize;

use super::source::Source;
use crate::hardware::Fastener;
use crate::job::{
    Hand, Handled, Handling, Hardware, Joint, JointRef, Layer, Preparation, StepKind, StepRef, operation,
};
use crate::phrase::{say, say_count};
use crate::plan::hole;
use crate::plan::joint::{delivered, fit_up_words, head_side, prepared, shop_head, short_name};
use crate::plan::torque;
use crate::units::Style;

/// A joint at a step.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct StepJoint {
    /// The one hand for which the line is, on a packet of both whose hands differ here.
    pub hand: Option<&'static str>,
    /// Id of the joint; of another traveler's joint that traveler's id before it.
    pub id: String,
    /// What the joint is called, where the spec says.
    pub name: Option<String>,
    /// How many holes or fasteners, in words.
    pub count: String,
    /// The size or call to work with, to be read at arm's length; empty where the step works with neither.
    pub lead: String,
    /// Calls of what goes on the fastener, to be read at arm's length.
    pub hardware: Vec<String>,
    /// More about it.
    pub lines: Vec<String>,
    /// What of that the card of the joint does not say, parts by their ids: enough where the card stands on the same sheet.
    pub short: Vec<String>,
}

/// The joints of a step, and what is the same for several of them, said once: `J2, J4: head on T201 Skin`.
pub(super) fn joints(source: Source<'_>, at: usize) -> (Vec<StepJoint>, Vec<String>) {
    let mut rows = rows(source, at);
    let mut common: Vec<(String, Vec<String>)> = Vec::new();
    for line in rows.iter().flat_map(|row| &row.lines) {
        let having = |row: &&StepJoint| row.lines.contains(line);
        let ids: Vec<&str> = rows.iter().filter(having).map(|row| row.id.as_str()).collect();
        if ids.len() < 2 {
            continue;
        }
        let whose = if ids.len() == rows.len() { say!("all").to_owned() } else { ids.join(", ") };
        match common.iter_mut().find(|(known, _)| *known == whose) {
            Some((_, lines)) if lines.contains(line) => {}
            Some((_, lines)) => lines.push(line.clone()),
            None => common.push((whose, vec![line.clone()])),
        }
    }
    for row in &mut rows {
        row.lines.retain(|line| !common.iter().any(|(_, lines)| lines.contains(line)));
    }
    (rows, common.into_iter().map(|(whose, lines)| format!("{whose}: {}", lines.join("; "))).collect())
}

/// A row for each joint that the step names, then for each whose hardware it handles all the same.
fn rows(source: Source<'_>, at: usize) -> Vec<StepJoint> {
    let step = &source.traveler().steps[at];
    let item = source.item(at);
    let handled = source.job.handled(item);
    let mut joints: Vec<(JointRef, Option<Hand>)> = step.joints.iter().map(|named| (named.joint, named.hand)).collect();
    // Shared holes get the fasteners of another joint, which has its own line.
    let has_line = |one: &&Handled| !step.names(one.joint) && !matches!(one.what, Handling::Share { .. });
    for one in handled.iter().filter(has_line) {
        if !joints.contains(&(one.joint, one.hand)) {
            joints.push((one.joint, one.hand));
        }
    }
    let at = |joint, hand| AtStep { source, at: item.at, joint, hand, handled: &handled };
    joints.into_iter().map(|(joint, hand)| at(joint, hand).line(step.names(joint))).collect()
}

/// The id of a joint as a packet says it: `J2`, another traveler's `FUS-10 J2`.
pub(super) fn joint_id(source: Source<'_>, joint: JointRef, hand: Option<Hand>) -> String {
    let own = &source.job.joint(joint).id.value;
    if joint.traveler == source.index {
        own.clone()
    } else {
        format!("{} {own}", source.job.packet_name(joint.traveler, hand))
    }
}

/// One joint at one step.
struct AtStep<'a> {
    source: Source<'a>,
    at: StepRef,
    joint: JointRef,
    /// The one hand of it, where the step says which.
    hand: Option<Hand>,
    handled: &'a [Handled],
}

/// Count, lead, hardware, and the lines after them.
#[derive(Default)]
struct Words {
    count: String,
    lead: String,
    hardware: Vec<String>,
    /// What only the step says of the joint.
    own: Vec<String>,
    /// What the card of the joint says too.
    card: Vec<String>,
}

impl AtStep<'_> {
    fn style(&self) -> &Style {
        &self.source.job.project.style
    }

    fn of(&self) -> &Joint {
        self.source.job.joint(self.joint)
    }

    fn handled(&self) -> impl Iterator<Item = &Handled> {
        self.handled.iter().filter(|one| one.joint == self.joint && one.hand == self.hand)
    }

    /// The joint's line; of a joint that the step does not name only what is done to its hardware.
    fn line(&self, is_named: bool) -> StepJoint {
        let joint = self.of();
        let mut words = if is_named { self.worked() } else { self.only_handled() };
        let is_fastened = self.handled().any(|one| one.what.is_final());
        for one in self.handled() {
            let Some(fit_up) = fit_up_words(joint, one, is_fastened) else { continue };
            let why = joint.temporary.as_ref().map_or("", |temporary| temporary.why.value.as_str());
            if words.lead.is_empty() {
                words.own.insert(0, say!("temporary: {why}", why));
                words.lead = fit_up;
            } else {
                words.own.push(say!("{fit_up}, temporary: {why}", fit_up, why));
            }
        }
        self.say_more(&mut words);
        if self.joint.traveler != self.source.index {
            // Its card is in the packet of its own traveler.
            words.own.append(&mut words.card);
            words.own.extend(self.stack());
        }
        StepJoint {
            hand: None,
            id: joint_id(self.source, self.joint, self.hand),
            name: joint.name.as_ref().map(|name| name.value.clone()),
            count: words.count,
            lead: words.lead,
            hardware: words.hardware,
            lines: words.own.iter().chain(&words.card).cloned().collect(),
            short: words.own.iter().map(|line| self.by_ids(line)).collect(),
        }
    }

    /// The stack with its thicknesses, from the manufactured head on, and the hole through it where the line does not lead with one.
    fn stack(&self) -> Vec<String> {
        let joint = self.of();
        let layer = |layer: &Layer| {
            let thickness = layer.thickness.map_or_else(String::new, |own| format!(" {}", self.style().length(own)));
            format!("{}{thickness}", layer.name)
        };
        let layers: Vec<String> = joint.layers.iter().map(layer).collect();
        let hole = joint.final_hole().filter(|_| self.handled().any(|one| one.what.is_final()));
        let hole = hole.map(|hole| say!("hole {size}", size = hole::short(joint, hole.size, self.style())));
        std::iter::once(say!("through {layers}", layers = layers.join(" + "))).chain(hole).collect()
    }

    /// A line that calls its layers by their parts' ids alone.
    fn by_ids(&self, line: &str) -> String {
        let traveler = &self.source.job.travelers[self.joint.traveler];
        let shorter = |line: String, layer: &Layer| line.replace(&layer.name, &short_name(layer, traveler));
        self.of().layers.iter().fold(line.to_owned(), shorter)
    }

    /// Where the step was done before the joint had as many: how many more, before what there is in all.
    fn say_more(&self, words: &mut Words) {
        let step = self.source.job.step(self.at);
        let joint = self.source.job.joint_name(self.joint, self.hand, self.source.index);
        if let Some((more, done)) = super::history::more_fasteners(self.source, step, &joint) {
            words.own.insert(0, say!("{done} are done; {count} in all", done, count = words.count));
            words.count = say!("{more} more", more);
        }
    }

    fn only_handled(&self) -> Words {
        match self.handled().find(|one| one.what.is_final()) {
            Some(one) => self.fastened(*one),
            None => Words { count: holes(self.of()), ..Words::default() },
        }
    }

    /// What the step's kind of work needs to know of a joint that it names.
    fn worked(&self) -> Words {
        let joint = self.of();
        let kinds: Vec<StepKind> = joint.works_at(self.at).collect();
        let kind = kinds.first().copied().unwrap_or(self.source.job.step(self.at).kind.value);
        match (kind, self.handled().find(|one| one.what.is_final())) {
            (StepKind::Drill | StepKind::Ream, _) => self.made(kind),
            (_, Some(one)) => self.fastened(*one),
            (StepKind::Torque, _) => self.torqued(),
            (StepKind::Countersink | StepKind::Dimple, _) => formed(joint, &kinds, self.style()),
            // Once a fastener is in, it is what there is to look at.
            _ if self.is_set() => self.looked_at(),
            _ => self.hole_now(),
        }
    }

    fn hole_now(&self) -> Words {
        let hole = self.of().hole_before(self.at).map(|hole| hole::short(self.of(), hole.size, self.style()));
        Words {
            count: self.of().count.value.to_string(),
            card: hole.map(|hole| say!("hole {hole}", hole)).into_iter().collect(),
            ..Words::default()
        }
    }

    fn made(&self, kind: StepKind) -> Words {
        let joint = self.of();
        let style = self.style();
        let reached = joint.hole_after(self.at);
        let tool = if kind == StepKind::Ream { say!("ream") } else { say!("drill") };
        let lead = reached.map(|hole| format!("{tool} {}", hole::cut(kind, hole.size, style)));
        let before =
            joint.hole_before(self.at).map(|hole| say!("from {size}", size = hole::short(joint, hole.size, style)));
        // Holes in some layers guide the drill through the others.
        let before = before.or_else(|| delivered(joint, style).map(|holes| say!("as delivered {holes}", holes)));
        let final_size = joint.final_hole().map(|hole| hole.size);
        let last = match (reached, final_size) {
            (Some(reached), Some(last)) if reached.size.length == last.length => say!("final size").to_owned(),
            (_, Some(last)) => say!("final size later: {last}", last = hole::short(joint, last, style)),
            (_, None) => say!("final size not given").to_owned(),
        };
        Words {
            count: holes(joint),
            lead: lead.unwrap_or_else(|| say!("size not known").to_owned()),
            card: vec![before.unwrap_or_else(|| say!("undrilled until now").to_owned()), last],
            ..Words::default()
        }
    }

    fn fastened(&self, handled: Handled) -> Words {
        let joint = self.of();
        let all = joint.count.value;
        let count = match handled.what {
            Handling::FastenOn { first } => {
                say!(
                    "the rest of {all}, begun at step {number}",
                    all,
                    number = operation(self.source.job.step(first).number)
                )
            }
            _ if handled.count == all => format!("{all}"),
            // The same number on both hands, or a share of it.
            _ if handled.count > all => format!("{}", handled.count),
            _ => say!("{count} of {all}", count = handled.count, all),
        };
        let solid = matches!(joint.fastener, Ok(Fastener::SolidRivet(_)));
        let what = if solid { say!("manufactured head") } else { say!("head") };
        let side = head_side(joint).map(|side| say!("{what} on {side}", what, side));
        Words {
            count,
            lead: joint.call.clone(),
            hardware: with_fastener(joint),
            own: side.into_iter().chain(torque::snug_line(joint)).collect(),
            card: shop_head(joint, self.style()).into_iter().collect(),
        }
    }

    /// Whether the joint was fastened for good before the step.
    fn is_set(&self) -> bool {
        self.of().life_before(self.at).iter().any(|lived| lived.kind.fastens())
    }

    /// Final fasteners that are in before the step.
    fn set(&self) -> u32 {
        self.source.job.set_before((self.joint, self.hand), self.at)
    }

    /// What can be seen of a joint that is fastened.
    fn looked_at(&self) -> Words {
        let joint = self.of();
        let torque = torque::words(joint, self.style()).map(|words| say!("torque {words}", words));
        let side = head_side(joint).map(|side| say!("head on {side}", side));
        let card = side.into_iter().chain(shop_head(joint, self.style())).chain(torque);
        Words { count: self.set().to_string(), lead: joint.call.clone(), card: card.collect(), ..Words::default() }
    }

    /// The torque itself stands in the strip below; here is what it is applied to: what went in since the last torque step.
    fn torqued(&self) -> Words {
        let joint = self.of();
        let earlier = joint.life_before(self.at).iter().rfind(|lived| lived.kind == StepKind::Torque);
        // Before the first torque step nothing is torqued.
        let done = earlier.map_or(0, |lived| self.source.job.set_before((self.joint, self.hand), lived.at));
        let nut = joint.nut.iter().map(|nut| say!("nut {call}", call = nut.call));
        let pin = joint.cotter.iter().map(|pin| say!("new cotter pin {call}", call = pin.call));
        // A second torque step with nothing new goes over all of them again; what another traveler bolts is in already.
        let set = Some(self.set()).filter(|set| *set > 0).unwrap_or(joint.count.value);
        let count = Some(set - done).filter(|left| *left > 0).unwrap_or(set);
        Words {
            count: count.to_string(),
            lead: joint.call.clone(),
            hardware: nut.chain(pin).collect(),
            own: torque::snug_line(joint).into_iter().collect(),
            ..Words::default()
        }
    }
}

fn holes(joint: &Joint) -> String {
    say_count!(joint.count.value, "{n} hole", "{n} holes")
}

/// Whether a step is the one that applies the joint's torque: a step of that kind, or the bolting where none follows.
pub(super) fn is_torqued(joint: &Joint, at: StepRef) -> bool {
    let kind_here = joint.works_at(at).next();
    let later = || joint.life_after(at).iter().any(|lived| lived.kind == StepKind::Torque);
    kind_here == Some(StepKind::Torque) || (kind_here == Some(StepKind::Bolt) && !later())
}

/// What goes on a fastener, or under it: sealant; washers, nut and pin with their places.
pub(super) fn with_fastener(joint: &Joint) -> Vec<String> {
    let wet = joint.wet.iter().map(|wet| say!("WET with {wet}", wet = wet.value));
    let stack = |list: &[Hardware]| list.iter().map(|one| one.call.as_str()).collect::<Vec<_>>().join(" + ");
    let washers = [(say!("under head"), &joint.washers_head), (say!("under nut"), &joint.washers_nut)];
    let washers = washers.into_iter().filter(|(_, list)| !list.is_empty());
    let single =
        [(say!("nut"), &joint.nut), (say!("check nut"), &joint.check_nut), (say!("new cotter pin"), &joint.cotter)];
    let single = single.into_iter().filter_map(|(what, one)| Some((what, one.as_ref()?)));
    wet.chain(washers.map(|(place, list)| format!("{place} {}", stack(list))))
        .chain(single.map(|(what, one)| format!("{what} {}", one.call)))
        .collect()
}

/// The head's own angle: a countersink of another angle seats no head.
fn countersink(joint: &Joint) -> String {
    let angle = joint.fastener.as_ref().ok().and_then(|fastener| fastener.head().degrees());
    angle.map_or_else(String::new, |angle| say!("{angle} deg ", angle))
}

/// What is cut or formed around the holes: where a step does both, each layer says which.
fn formed(joint: &Joint, kinds: &[StepKind], style: &Style) -> Words {
    let size = joint.diameter().map_or_else(String::new, |d| style.rivet(d));
    let cuts = kinds.contains(&StepKind::Countersink);
    let dimples = kinds.contains(&StepKind::Dimple);
    let layers = joint.layers.iter().filter_map(|layer| {
        let is_cut = layer.preparation.is_cut();
        if !(is_cut && cuts || layer.preparation == Preparation::Dimple && dimples) {
            return None;
        }
        let verb = match (cuts && dimples, is_cut) {
            (false, _) => "",
            (true, true) => say!("countersink "),
            (true, false) => say!("dimple "),
        };
        let thickness = layer.thickness.map_or(String::new(), |thickness| format!(" {}", style.length(thickness)));
        let sides = if layer.preparation == Preparation::CountersinkBoth { say!(" from both sides") } else { "" };
        Some(format!("{verb}{}{thickness}{sides}", layer.name))
    });
    let plain = prepared(joint, Preparation::Plain).map(|layer| say!("leave {name} plain", name = layer.name));
    let angle = if cuts { countersink(joint) } else { String::new() };
    Words {
        count: holes(joint),
        lead: say!("{angle}for {size} {call}", angle, size, call = joint.call),
        own: layers.chain(plain).collect(),
        ..Words::default()
    }
}
