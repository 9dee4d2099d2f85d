//! The schedule of joints: stack, hole from delivery to final size, fastener, what stays open, room for the next size.
//!
//! Facts and simple sums; whether they are right was judged before.

use serde::Serialize;

use super::Source;
use crate::hardware::Fastener;
use crate::job::{Access, Hardware, Job, Joint, Layer, Preparation, StepKind, Structure, Traveler, operation};
use crate::units::{Length, Size};

/// One joint on the schedule.
#[derive(Debug, Clone, Serialize)]
pub struct JointSheet {
    /// Id.
    pub id: String,
    /// Name.
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

/// A layer of a stack.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct LayerLine {
    /// Name.
    pub name: String,
    /// Material.
    pub material: Option<String>,
    /// Thickness.
    pub thickness: Option<String>,
    /// What is done around the hole.
    pub preparation: &'static str,
}

/// One size in the life of a hole.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
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
pub struct NextSize {
    /// `yes`, `no` or `not judged`.
    pub verdict: &'static str,
    /// The numbers, or why it is not judged.
    pub why: String,
}

/// One box of a joint's state.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct Stage {
    /// The step's number.
    pub number: String,
    /// What is done, in a word or two.
    pub what: String,
}

pub(super) fn sheets(source: Source<'_>) -> Vec<JointSheet> {
    source.traveler.joints.iter().map(|joint| sheet(source, joint)).collect()
}

fn sheet(source: Source<'_>, joint: &Joint) -> JointSheet {
    JointSheet {
        id: joint.id.value.clone(),
        name: joint.name.as_ref().map(|name| name.value.clone()),
        count: joint.count.value,
        call: joint.call.clone(),
        written: (joint.spec.fastener.value != joint.call).then(|| joint.spec.fastener.value.clone()),
        decode: decode(joint),
        layers: joint.layers.iter().map(layer).collect(),
        total: joint.thickness().map(Length::both),
        head_side: head_side(joint),
        ladder: rungs(joint, source.traveler),
        last: joint.final_hole().map(|hole| hole.size.full()),
        last_source: match (joint.last, joint.final_hole()) {
            (Some(last), _) if last.span.is_some() => "from the plans",
            (_, Some(hole)) if hole.span.is_some() => {
                "as drilled or delivered, larger than the nominal hole of the table"
            }
            (_, Some(_)) => "nominal hole of the table",
            (_, None) => "not given",
        },
        places: places(joint, source.traveler),
        next_size: next_size(joint),
        notes: notes(joint),
        leave_open: leave_open(source.job, joint),
        limits: limits(joint),
        stages: stages(joint, source.traveler),
    }
}

/// What the call says, or why it could not be read.
pub(super) fn decode(joint: &Joint) -> String {
    match &joint.fastener {
        Ok(fastener) => fastener.describe(),
        Err(fault) => fault.message.clone(),
    }
}

pub(super) fn layer(layer: &Layer) -> LayerLine {
    LayerLine {
        name: layer.name.clone(),
        material: layer.material.clone(),
        thickness: layer.thickness.map(Length::both),
        preparation: layer.preparation.word(),
    }
}

/// Where the manufactured head goes: on the first layer of the stack.
pub(super) fn head_side(joint: &Joint) -> Option<String> {
    let takes_head = !matches!(joint.fastener, Ok(Fastener::Nut(_) | Fastener::Washer(_) | Fastener::CotterPin(_)));
    joint.layers.first().filter(|_| takes_head).map(|first| first.name.clone())
}

/// The hole's sizes in order: as delivered, then after each step that makes or enlarges it.
pub(super) fn rungs(joint: &Joint, traveler: &Traveler) -> Vec<Rung> {
    let rung = |when: String, size: Size| Rung { when, short: size.short(), full: size.full() };
    let start = joint.holes.start.as_ref().map(|start| rung("as delivered".into(), start.value));
    let made = joint.drillings().filter_map(|at| Some(rung(operation(traveler.steps[at.step].number), at.hole?.size)));
    start.into_iter().chain(made).collect()
}

/// The hole's size when a step begins.
pub(super) fn hole_before(joint: &Joint, step: usize) -> Option<Size> {
    let made = joint.life.iter().take_while(|at| at.step < step).filter_map(|at| at.hole).last();
    made.map(|hole| hole.size).or_else(|| joint.holes.start.as_ref().map(|start| start.value))
}

pub(super) fn places(joint: &Joint, traveler: &Traveler) -> Vec<String> {
    let mut lines = Vec::new();
    match joint.edge.as_slice() {
        [] => {}
        [one] => lines.push(format!("smallest edge distance {}", one.value.both())),
        several => {
            let short =
                |layer: &Layer| layer.part.map_or_else(|| layer.name.clone(), |at| traveler.parts[at].id.value.clone());
            let each =
                joint.layers.iter().zip(several).map(|(layer, edge)| format!("{} {}", short(layer), edge.value.both()));
            lines.push(format!("smallest edge distance: {}", each.collect::<Vec<_>>().join(", ")));
        }
    }
    if let Some(pitch) = &joint.pitch {
        lines.push(format!("pitch {}", pitch.value.both()));
    }
    if joint.rows.value > 1 {
        let gap = joint.row_gap.as_ref().map_or(String::new(), |gap| format!(", {} apart", gap.value.both()));
        lines.push(format!("{} rows{gap}", joint.rows.value));
    }
    if let Some(leg) = &joint.stringer_leg {
        lines.push(format!("stringer leg {}", leg.value.both()));
    }
    if let Some(tube) = &joint.tube {
        lines.push(format!("tube {} outside", tube.value.both()));
    }
    lines
}

/// Room for the next larger rivet, in words.
fn next_size(joint: &Joint) -> NextSize {
    match super::room::room(joint) {
        Err(why) => NextSize { verdict: "not judged", why: why.to_owned() },
        Ok((room, edge)) => {
            let is_enough = room.is_enough(edge);
            let sign = if is_enough { "at least" } else { "less than" };
            let size = room.next.fraction_text().map_or_else(|| room.next.both(), |fraction| format!("{fraction} in"));
            NextSize {
                verdict: if is_enough { "yes" } else { "no" },
                why: format!(
                    "{size} rivet: edge {} in is {sign} {} D = {} in",
                    edge.inch_text(),
                    room.ratio,
                    room.needed.inch_text()
                ),
            }
        }
    }
}

pub(super) fn notes(joint: &Joint) -> Vec<String> {
    let mut lines = Vec::new();
    let several = |list: &[Hardware]| if list.is_empty() { "none".to_owned() } else { calls(list) };
    if let Some(wet) = &joint.wet {
        lines.push(format!("set wet with {}", wet.value));
    }
    if joint.nut.is_some() || !joint.washers_head.is_empty() || !joint.washers_nut.is_empty() {
        lines.push(format!(
            "washers under head: {}; under nut: {}",
            several(&joint.washers_head),
            several(&joint.washers_nut)
        ));
    }
    for (what, hardware) in [("nut", &joint.nut), ("cotter pin", &joint.cotter)] {
        if let Some(hardware) = hardware {
            lines.push(format!("{what} {}", named(hardware)));
        }
    }
    if let Some(torque) = super::torque::strip(joint) {
        lines.push(format!("torque {}, {}", torque.range, torque.source));
    }
    if let Some(chamfer) = &joint.holes.chamfer {
        lines.push(format!("burr chamfer at most {}", chamfer.value.length.both()));
    }
    if let Some(temporary) = &joint.temporary {
        lines.push(format!("first with temporary {}: {}", temporary.fastener.call, temporary.why.value));
    }
    if joint.access.as_ref().is_some_and(|access| access.value == Access::OneSide) {
        lines.push("reached from one side only".to_owned());
    }
    if joint.structure.as_ref().is_some_and(|structure| structure.value == Structure::Primary) {
        lines.push("primary structure".to_owned());
    }
    lines
}

fn calls(list: &[Hardware]) -> String {
    list.iter().map(|hardware| hardware.call.as_str()).collect::<Vec<_>>().join(" + ")
}

/// A call with what it says.
pub(super) fn named(hardware: &Hardware) -> String {
    match &hardware.fastener {
        Ok(fastener) => format!("{} ({})", hardware.call, fastener.describe()),
        Err(_) => hardware.call.clone(),
    }
}

/// The sentence about holes that stay open.
pub(super) fn leave_open(job: &Job, joint: &Joint) -> Option<String> {
    let open = joint.leave_open.as_ref()?;
    let until = match joint.filled_by {
        Some(at) if at.traveler < job.travelers.len() => {
            format!("{} step {}", job.travelers[at.traveler].id.value, operation(job.step(at).number))
        }
        _ => open.until.value.clone(),
    };
    Some(format!("{} of {} holes, until {until}: {}", open.count.value, joint.count.value, open.why.value))
}

pub(super) fn limits(joint: &Joint) -> Option<String> {
    let limits = joint.limits.as_ref()?;
    let named = [("edge", &limits.edge), ("pitch", &limits.pitch), ("row gap", &limits.row_gap)];
    let set: Vec<String> =
        named.iter().filter_map(|(name, ratio)| Some(format!("{name} {} D", ratio.as_ref()?.value))).collect();
    Some(format!("limits of the plans: {} ({})", set.join(", "), limits.because.value))
}

fn stages(joint: &Joint, traveler: &Traveler) -> Vec<Stage> {
    let stage = |at: &crate::job::LivesAt| {
        let size = at.hole.map_or(String::new(), |hole| format!(" {}", hole.size.short()));
        Stage { number: operation(traveler.steps[at.step].number), what: format!("{}{size}", verb(at.kind)) }
    };
    joint.life.iter().map(stage).collect()
}

/// A step's kind as a short word for a narrow box.
pub(super) const fn verb(kind: StepKind) -> &'static str {
    match kind {
        StepKind::LayOut => "lay out",
        StepKind::Countersink => "c'sink",
        StepKind::TakeApart => "apart",
        StepKind::Photograph => "photo",
        other => other.word(),
    }
}

/// Layers with a preparation, for the steps that do it.
pub(super) fn prepared(joint: &Joint, preparation: Preparation) -> impl Iterator<Item = &Layer> {
    joint.layers.iter().filter(move |layer| layer.preparation == preparation)
}
