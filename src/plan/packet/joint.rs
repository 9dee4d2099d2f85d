//! The schedule of joints: stack, hole from delivery to final size, steps, what stays open, room for the next size. What a
//! call says in plain words stands with the hardware to pull.
//!
//! Facts and simple sums; whether they are right was judged before.

use serde::Serialize;

use super::at_step::with_fastener;
use super::source::Source;
use super::step::StepSheet;
use crate::job::{Job, Joint, JointRef, Layer, StepRef, Traveler, operation};
use crate::phrase::say;
use crate::plan::hole;
use crate::plan::joint::{
    conditions, delivered, fastened_elsewhere, leave_open, limits, places, shop_head_beside, short_name, torque_line,
    verb,
};
use crate::plan::room;
use crate::units::{Size, Style};

/// One joint on the schedule.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct JointSheet {
    /// Id of the joint.
    pub id: String,
    /// What the joint is called, where the spec says.
    pub name: Option<String>,
    /// Fasteners on this hand.
    pub count: u32,
    /// The full call.
    pub call: String,
    /// The call as the plans write it, where it is another word.
    pub written: Option<String>,
    /// Layers from the manufactured head down.
    pub layers: Vec<JointLayer>,
    /// Total thickness.
    pub total: Option<String>,
    /// The hole, from delivery to the final size.
    pub ladder: Vec<Rung>,
    /// Final hole with drill name, decimal inch and millimetres.
    pub last: Option<String>,
    /// Distances and rows, one line each.
    pub places: Vec<String>,
    /// Whether the first of them is the smallest edge distance, beside which the measured one is written.
    pub edge_first: bool,
    /// Room for the next larger fastener.
    pub next_size: NextSize,
    /// What goes with the fastener: sealant, washers, nut, pin, and what is in before it.
    pub hardware: Vec<String>,
    /// What of that no step of the packet says: enough where the steps stand on the same sheet.
    pub untold: Vec<String>,
    /// What of the notes no step says, the hole's size left out, which the ladder beside it has.
    pub brief: Vec<String>,
    /// The shop head by its measures, for a card that the steps do not repeat; its least where no reading has it.
    pub shop_head: Option<String>,
    /// What else to know: where the final hole comes from, torque, access.
    pub notes: Vec<String>,
    /// Which of them says the torque.
    #[serde(skip)]
    pub torque: Option<String>,
    /// Holes that stay open.
    pub leave_open: Option<String>,
    /// Limits that the plans set instead of the tables.
    pub limits: Option<String>,
    /// The steps that work on it, in working order.
    pub stages: Vec<String>,
}

/// A layer of a joint; name and material of a part stand with the parts.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct JointLayer {
    /// Id of the part; of a layer that is no part, its material.
    pub name: String,
    /// Thickness.
    pub thickness: Option<String>,
    /// What is done around the hole.
    pub preparation: &'static str,
}

/// One size in the life of a hole.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Rung {
    /// `as delivered`, or the step's number.
    pub when: String,
    /// Drill name or the shortest form of the size.
    pub short: String,
    /// What the short form leaves out: decimal inch and millimetres.
    pub more: String,
    /// Whether a step makes it.
    pub made: bool,
}

/// Whether the next larger fastener would still have room.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct NextSize {
    /// `yes`, `no` or `not judged`.
    pub verdict: &'static str,
    /// The numbers, or why it is not judged.
    pub why: String,
    /// The same beside the edge distance itself.
    pub brief: String,
}

pub(super) fn sheets(source: Source<'_>) -> Vec<JointSheet> {
    source.joints().map(|(at, joint)| sheet(source, at, joint)).collect()
}

impl JointSheet {
    /// The same beside the steps that are printed with it.
    pub(super) fn beside(mut self, steps: &[StepSheet]) -> Self {
        let at_steps = || steps.iter().flat_map(|step| &step.joints).filter(|named| named.id == self.id);
        let is_said = |words: &String| at_steps().any(|named| named.hardware.contains(words));
        self.untold = self.hardware.iter().filter(|words| !is_said(words)).cloned().collect();
        if steps.iter().flat_map(|step| &step.torques).any(|strip| strip.joint == self.id) {
            self.brief.retain(|note| Some(note) != self.torque.as_ref());
        }
        self
    }
}

fn sheet(source: Source<'_>, at: usize, joint: &Joint) -> JointSheet {
    let at = JointRef { traveler: source.index, joint: at };
    let style = &source.job.project.style;
    JointSheet {
        id: joint.id.value.clone(),
        name: joint.name.as_ref().map(|name| name.value.clone()),
        count: joint.count.value,
        call: joint.call.clone(),
        written: (joint.spec.fastener.value != joint.call).then(|| joint.spec.fastener.value.clone()),
        layers: joint.layers.iter().map(|one| layer(one, source.traveler(), style)).collect(),
        total: joint.thickness().map(|total| style.length(total)),
        ladder: rungs(joint, source.job, source.index),
        last: joint.final_hole().map(|last| hole::full(joint, last.size, style)),
        places: places(joint, source.traveler(), style),
        edge_first: !joint.edge.is_empty(),
        next_size: next_size(joint, style),
        hardware: hardware(joint),
        untold: hardware(joint),
        brief: last_source(joint).map(str::to_owned).into_iter().chain(conditions(joint, style)).collect(),
        shop_head: shop_head_beside(joint, style),
        notes: last_note(joint, style).into_iter().chain(conditions(joint, style)).collect(),
        torque: torque_line(joint, style),
        leave_open: leave_open(source.job, joint).or_else(|| fastened_elsewhere(source.job, at)),
        limits: limits(joint, style),
        stages: stages(joint, source.job, source.index),
    }
}

/// Where the final size comes from, unless the plans give it.
fn last_source(joint: &Joint) -> Option<&'static str> {
    let hole = joint.final_hole()?;
    match joint.last {
        Some(last) if last.span.is_some() => None,
        _ if hole.span.is_some() => Some(say!("as drilled or delivered, larger than the usual hole")),
        _ => Some(say!("usual hole of the table")),
    }
}

/// The same with the size.
fn last_note(joint: &Joint, style: &Style) -> Option<String> {
    Some(say!(
        "final hole {size}: {source}",
        size = hole::short(joint, joint.final_hole()?.size, style),
        source = last_source(joint)?
    ))
}

/// Why there is a temporary fastener stands in front of the packet.
fn hardware(joint: &Joint) -> Vec<String> {
    let first = joint.temporary.iter().map(|temporary| say!("first temporary {call}", call = temporary.leaves().call));
    with_fastener(joint).into_iter().chain(first).collect()
}

fn layer(layer: &Layer, traveler: &Traveler, style: &Style) -> JointLayer {
    JointLayer {
        name: short_name(layer, traveler),
        thickness: layer.thickness.map(|thickness| style.length(thickness)),
        preparation: layer.preparation.word(),
    }
}

/// The hole's sizes in order: as delivered, then after each step that makes or enlarges it.
pub(super) fn rungs(joint: &Joint, job: &Job, traveler: usize) -> Vec<Rung> {
    let style = &job.project.style;
    let rung = |made: bool, when: String, short: String, full: &str| {
        // A fraction has its unit in the short form alone. Where the layers differ, the sizes in full say which is whose,
        // and stand beside the short ones whole.
        let fraction = short.strip_suffix(" in").filter(|name| name.contains('/')).unwrap_or(&short);
        let more = full.strip_prefix(fraction).unwrap_or(full).trim_start().to_owned();
        Rung { when, short, more, made }
    };
    let start = delivered(joint, style);
    let start = start.map(|full| rung(false, say!("as delivered").into(), delivered_short(joint, style), &full));
    let made = joint.drillings().filter_map(|at| {
        let size = at.hole?.size;
        let step = say!("step {number}", number = operation(job.step(at.at).number));
        let when = format!("{}{step}", of_other(job, at.at, traveler));
        Some(rung(true, when, hole::short(joint, size, style), &hole::full(joint, size, style)))
    });
    start.into_iter().chain(made).collect()
}

/// The sizes as delivered, smallest first: `#40`, or `#40, #30` where the layers differ.
fn delivered_short(joint: &Joint, style: &Style) -> String {
    let mut sizes: Vec<Size> = joint.delivered_by_layer().flatten().map(|hole| hole.size).collect();
    sizes.sort();
    sizes.dedup_by_key(|size| size.length);
    sizes.iter().map(|size| style.name(*size)).collect::<Vec<_>>().join(", ")
}

/// Room for the next larger rivet, in words.
fn next_size(joint: &Joint, style: &Style) -> NextSize {
    match room::room(joint) {
        Err(why) => NextSize { verdict: say!("not judged"), why: why.to_owned(), brief: why.to_owned() },
        Ok((room, edge)) => {
            let is_enough = room.is_enough(edge);
            let sign = if is_enough { say!("at least") } else { say!("less than") };
            let drill = room::next_hole(joint)
                .map_or_else(String::new, |(_, hole)| say!(", hole {hole}", hole = style.name(hole)));
            let next = style.rivet(room.next);
            let least = style.first(style.least_shown(room.needed, Some(edge)));
            let ratio = &room.ratio;
            NextSize {
                verdict: if is_enough { say!("yes") } else { say!("no") },
                brief: say!("{next} rivet{drill}: {ratio} D is {least}", next, drill, ratio, least),
                why: say!(
                    "{next} rivet{drill}: edge {edge} is {sign} {ratio} D, {least}",
                    next,
                    drill,
                    edge = style.first(edge),
                    sign,
                    ratio,
                    least
                ),
            }
        }
    }
}

/// The traveler of a step that is not the packet's own, before what is said of the step.
fn of_other(job: &Job, at: StepRef, traveler: usize) -> String {
    let is_own = at.traveler == traveler;
    if is_own { String::new() } else { format!("{} ", job.travelers[at.traveler].id.value) }
}

fn stages(joint: &Joint, job: &Job, traveler: usize) -> Vec<String> {
    let stage = |at: &crate::job::LivesAt| {
        format!("{}{} {}", of_other(job, at.at, traveler), operation(job.step(at.at).number), verb(at.kind))
    };
    joint.life.iter().map(stage).collect()
}
