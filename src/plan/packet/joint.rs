//! The schedule of joints: stack, hole from delivery to final size, fastener, what stays open, room for the next size.
//!
//! Facts and simple sums; whether they are right was judged before.

use serde::Serialize;

use super::source::Source;
use crate::job::{Joint, Traveler, operation};
use crate::plan::hole;
use crate::plan::joint::{LayerLine, decode, delivered, head_side, layer, leave_open, limits, notes, places, verb};
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
    /// What the call says, in plain words; the reason where it could not be read.
    pub decode: String,
    /// Layers from the manufactured head down.
    pub layers: Vec<LayerLine>,
    /// Total thickness.
    pub total: Option<String>,
    /// Where the manufactured head goes.
    pub head_side: Option<String>,
    /// The hole, from delivery to the final size.
    pub ladder: Vec<Rung>,
    /// Final hole with drill name, decimal inch and millimetres.
    pub last: Option<String>,
    /// Where the final size comes from.
    pub last_source: &'static str,
    /// Distances and rows, one line each.
    pub places: Vec<String>,
    /// Room for the next larger fastener.
    pub next_size: NextSize,
    /// What else to know: wet, washers, torque, access.
    pub notes: Vec<String>,
    /// Holes that stay open.
    pub leave_open: Option<String>,
    /// Limits that the plans set instead of the tables.
    pub limits: Option<String>,
    /// Stages to tick off, in working order.
    pub stages: Vec<Stage>,
}

/// One size in the life of a hole.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Rung {
    /// `as delivered`, or the step's number.
    pub when: String,
    /// Drill name or the shortest form of the size.
    pub short: String,
    /// Drill name, decimal inch and millimetres.
    pub full: String,
}

/// Whether the next larger fastener would still have room.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct NextSize {
    /// `yes`, `no` or `not judged`.
    pub verdict: &'static str,
    /// The numbers, or why it is not judged.
    pub why: String,
}

/// One box of a joint's state.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Stage {
    /// The step's number.
    pub number: String,
    /// What is done, in a word or two.
    pub what: String,
}

pub(super) fn sheets(source: Source<'_>) -> Vec<JointSheet> {
    source.joints().map(|(_, joint)| sheet(source, joint)).collect()
}

fn sheet(source: Source<'_>, joint: &Joint) -> JointSheet {
    let style = &source.job.project.style;
    JointSheet {
        id: joint.id.value.clone(),
        name: joint.name.as_ref().map(|name| name.value.clone()),
        count: joint.count.value,
        call: joint.call.clone(),
        written: (joint.spec.fastener.value != joint.call).then(|| joint.spec.fastener.value.clone()),
        decode: decode(joint, style),
        layers: joint.layers.iter().map(|own| layer(own, style)).collect(),
        total: joint.thickness().map(|total| style.length(total)),
        head_side: head_side(joint),
        ladder: rungs(joint, source.traveler(), style),
        last: joint.final_hole().map(|last| hole::full(joint, last.size, style)),
        last_source: match (joint.last, joint.final_hole()) {
            (Some(last), _) if last.span.is_some() => "from the plans",
            (_, Some(hole)) if hole.span.is_some() => "as drilled or delivered, larger than the usual hole",
            (_, Some(_)) => "usual hole of the table",
            (_, None) => "not given",
        },
        places: places(joint, source.traveler(), style),
        next_size: next_size(joint, style),
        notes: notes(joint, style),
        leave_open: leave_open(source.job, joint),
        limits: limits(joint, style),
        stages: stages(joint, source.traveler(), style),
    }
}

/// The hole's sizes in order: as delivered, then after each step that makes or enlarges it.
pub(super) fn rungs(joint: &Joint, traveler: &Traveler, style: &Style) -> Vec<Rung> {
    let rung = |when: String, size: Size| Rung {
        when,
        short: hole::short(joint, size, style),
        full: hole::full(joint, size, style),
    };
    let start = delivered(joint, style).map(|full| Rung {
        when: "as delivered".into(),
        short: delivered_short(joint, style),
        full,
    });
    let made = joint.drillings().filter_map(|at| Some(rung(operation(traveler.steps[at.step].number), at.hole?.size)));
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
        Err(why) => NextSize { verdict: "not judged", why: why.to_owned() },
        Ok((room, edge)) => {
            let is_enough = room.is_enough(edge);
            let sign = if is_enough { "at least" } else { "less than" };
            NextSize {
                verdict: if is_enough { "yes" } else { "no" },
                why: format!(
                    "{} rivet: edge {} is {sign} {} D = {}",
                    style.short(room.next),
                    style.first(edge),
                    room.ratio,
                    style.first(room.needed)
                ),
            }
        }
    }
}

fn stages(joint: &Joint, traveler: &Traveler, style: &Style) -> Vec<Stage> {
    let stage = |at: &crate::job::LivesAt| {
        let size = at.hole.map_or(String::new(), |made| format!(" {}", hole::cut_short(at.kind, made.size, style)));
        Stage { number: operation(traveler.steps[at.step].number), what: format!("{}{size}", verb(at.kind)) }
    };
    joint.life.iter().map(stage).collect()
}
