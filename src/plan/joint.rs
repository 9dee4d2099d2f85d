//! A joint in words: what its call says, its layers, where it lies, what else to know; the same on every page.
//!
//! Facts of one joint; whether they are right was judged before.

use std::cmp::Ordering;

use serde::Serialize;

use super::torque;
use crate::hardware::Fastener;
use crate::job::{
    Access, Handled, Handling, Hardware, Job, Joint, JointRef, Layer, LivesAt, Preparation, StepKind, Structure,
    Temporary, Traveler, grip_range, hole_range, operation,
};
use crate::phrase::{self, say, say_count};
use crate::plan::told;
use crate::units::{Length, Size, Style};
use crate::words::Measures;

/// A layer of a stack.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LayerLine {
    /// Id and name of the part; of a layer that is no part, its material.
    pub name: String,
    /// Material with temper, as written.
    pub material: Option<String>,
    /// Thickness.
    pub thickness: Option<String>,
    /// What is done around the hole.
    pub preparation: &'static str,
}

/// What the call says, or why it could not be read.
pub(super) fn decode(joint: &Joint, style: &Style) -> String {
    match &joint.fastener {
        Ok(fastener) => told::described(fastener, style),
        Err(fault) => fault.message.clone(),
    }
}

pub(super) fn layer(layer: &Layer, style: &Style) -> LayerLine {
    LayerLine {
        name: layer.name.clone(),
        material: layer.material.clone(),
        thickness: layer.thickness.map(|thickness| style.length(thickness)),
        preparation: layer.preparation.word(),
    }
}

/// The holes as delivered, in words: one size, or each layer's where they differ; nothing where all are undrilled.
pub(super) fn delivered(joint: &Joint, style: &Style) -> Option<String> {
    let holes: Vec<Option<Size>> = joint.delivered_by_layer().map(|hole| Some(hole?.size)).collect();
    let first = holes.iter().flatten().next()?;
    if holes.iter().all(|hole| hole.is_some_and(|hole| hole.length == first.length)) {
        return Some(style.size(*first));
    }
    let words = |hole: Option<Size>| hole.map_or_else(|| say!("undrilled").to_owned(), |hole| style.size(hole));
    let each = joint
        .layers
        .iter()
        .zip(holes)
        .map(|(layer, hole)| say!("{hole} in {name}", hole = words(hole), name = layer.name));
    Some(each.collect::<Vec<_>>().join(", "))
}

/// Where the manufactured head goes: on the first layer of the stack.
pub(super) fn head_side(joint: &Joint) -> Option<String> {
    let takes_head = !matches!(joint.fastener, Ok(Fastener::Nut(_) | Fastener::Washer(_) | Fastener::CotterPin(_)));
    joint.layers.first().filter(|_| takes_head).map(|first| first.name.clone())
}

/// The id of a layer's part; of a layer that is no part, its name.
pub(super) fn short_name(layer: &Layer, traveler: &Traveler) -> String {
    layer.part.map_or_else(|| layer.name.clone(), |at| traveler.parts[at].id.value.clone())
}

pub(super) fn places(joint: &Joint, traveler: &Traveler, style: &Style) -> Vec<String> {
    let mut lines = Vec::new();
    match joint.edge.as_slice() {
        [] => {}
        [one] => lines.push(say!("smallest edge distance {one}", one = style.length(one.value))),
        several => {
            let each = joint.layers.iter().zip(several);
            let each =
                each.map(|(layer, edge)| format!("{} {}", short_name(layer, traveler), style.length(edge.value)));
            lines.push(say!("smallest edge distance: {each}", each = each.collect::<Vec<_>>().join(", ")));
        }
    }
    if let Some(pitch) = &joint.pitch {
        lines.push(say!("pitch {pitch}", pitch = style.length(pitch.value)));
    }
    if joint.rows.value > 1 {
        let gap =
            joint.row_gap.as_ref().map_or(String::new(), |gap| say!(", {gap} apart", gap = style.length(gap.value)));
        lines.push(say!("{rows} rows{gap}", rows = joint.rows.value, gap));
    }
    if let Some(leg) = &joint.stringer_leg {
        lines.push(say!("stringer leg {leg}", leg = style.length(leg.value)));
    }
    if let Some(tube) = &joint.tube {
        lines.push(say!("tube {tube} outside", tube = style.length(tube.value)));
    }
    lines
}

pub(super) fn notes(joint: &Joint, style: &Style) -> Vec<String> {
    let mut lines = Vec::new();
    let several = |list: &[Hardware]| if list.is_empty() { say!("none").to_owned() } else { calls(list) };
    if let Some(wet) = &joint.wet {
        lines.push(say!("set wet with {wet}", wet = wet.value));
    }
    if joint.nut.is_some() || !joint.washers_head.is_empty() || !joint.washers_nut.is_empty() {
        lines.push(say!(
            "washers under head: {head}; under nut: {nut}",
            head = several(&joint.washers_head),
            nut = several(&joint.washers_nut)
        ));
    }
    for (what, hardware) in
        [(say!("nut"), &joint.nut), (say!("check nut"), &joint.check_nut), (say!("cotter pin"), &joint.cotter)]
    {
        if let Some(hardware) = hardware {
            lines.push(format!("{what} {}", named(hardware, style)));
        }
    }
    if let Some(temporary) = &joint.temporary {
        lines.push(say!(
            "first with temporary {call}: {why}",
            call = temporary.leaves().call,
            why = temporary.why.value
        ));
    }
    lines.extend(conditions(joint, style));
    lines
}

/// What a joint is tightened to.
pub(super) fn torque_line(joint: &Joint, style: &Style) -> Option<String> {
    torque::words(joint, style).map(|words| say!("torque {words}", words))
}

/// How a joint is tightened, made and reached.
pub(super) fn conditions(joint: &Joint, style: &Style) -> Vec<String> {
    let mut lines: Vec<String> = torque_line(joint, style).into_iter().collect();
    lines.extend(torque::snug_line(joint));
    if let Some(chamfer) = &joint.holes.chamfer {
        lines.push(say!("burr chamfer at most {chamfer}", chamfer = style.size(chamfer.value)));
    }
    if joint.access.as_ref().is_some_and(|access| access.value == Access::OneSide) {
        lines.push(say!("reached from one side only").to_owned());
    }
    if joint.structure.as_ref().is_some_and(|structure| structure.value == Structure::Primary) {
        lines.push(say!("primary structure").to_owned());
    }
    lines
}

fn calls(list: &[Hardware]) -> String {
    list.iter().map(|hardware| hardware.call.as_str()).collect::<Vec<_>>().join(" + ")
}

/// A call with what it says.
pub(super) fn named(hardware: &Hardware, style: &Style) -> String {
    match &hardware.fastener {
        Ok(fastener) => format!("{} ({})", hardware.call, told::described(fastener, style)),
        Err(_) => hardware.call.clone(),
    }
}

/// The sentence about holes that stay open.
pub(super) fn leave_open(job: &Job, joint: &Joint) -> Option<String> {
    let open = joint.leave_open.as_ref()?;
    let until = match joint.filled_by {
        Some(at) if at.traveler < job.travelers.len() => {
            say!(
                "{traveler} step {number}",
                traveler = job.travelers[at.traveler].id.value,
                number = operation(job.step(at).number)
            )
        }
        _ => open.until.value.clone(),
    };
    Some(say!(
        "{open} of {all} holes, until {until}: {why}",
        open = open.count.value,
        all = joint.count.value,
        until,
        why = open.why.value
    ))
}

/// Where another traveler fastens a joint: `all 12 holes, fastened in WING-10 step 070`.
pub(super) fn fastened_elsewhere(job: &Job, at: JointRef) -> Option<String> {
    let joint = job.joint(at);
    let step = |lived: &LivesAt| {
        say!(
            "{traveler} step {number}",
            traveler = job.travelers[lived.at.traveler].id.value,
            number = operation(job.step(lived.at).number)
        )
    };
    let mut steps: Vec<String> = joint.fastenings().filter(|own| own.at.traveler != at.traveler).map(step).collect();
    steps.dedup();
    let all = say_count!(joint.count.value, "{n} hole", "{n} holes");
    let steps = steps.join(say!(" and "));
    (!steps.is_empty()).then(|| say!("all {all}, fastened in {steps}", all, steps))
}

/// Which holes a step fills, in words that follow FILL; `id` names the joint on that step's sheet.
pub(super) fn fill(job: &Job, id: &str, handled: &Handled, on: usize) -> Option<String> {
    let (since, shared) = match handled.what {
        Handling::Fill { since } => (since, None),
        Handling::Share { since, with } => (since, Some(with)),
        _ => return None,
    };
    let joint = job.joint(handled.joint);
    let all = say_count!(joint.open_count(), "{n} hole", "{n} holes");
    let of = match handled.count.cmp(&joint.open_count()) {
        // A step without hands does it on both.
        Ordering::Greater => say!("the {all} of each hand, {count} in all,", all, count = handled.count),
        Ordering::Equal => say!("the {all}", all),
        Ordering::Less => say!("{count} of the {all}", count = handled.count, all),
    };
    let at = since.map(|at| {
        let number = operation(job.step(at).number);
        if at.traveler == on {
            say!(" at step {number}", number)
        } else {
            say!(" at {traveler} step {number}", traveler = job.travelers[at.traveler].id.value, number)
        }
    });
    let with = shared.map(|with| say!(", with the fasteners of {with}", with = job.joint(with).id.value));
    // Which step left them open is not known of a joint that no step works on; most holes get their own fasteners.
    Some(say!("{id}: {of} left open{at}{with}", id, of, at = at.unwrap_or_default(), with = with.unwrap_or_default()))
}

/// Fit-up hardware by its calls: bolt and nut.
pub(super) fn fit_up_call(temporary: &Temporary) -> String {
    let nut = temporary.nut.as_ref().map_or(String::new(), |nut| say!(" with {call}", call = nut.call));
    if temporary.nut_only { temporary.leaves().call.clone() } else { format!("{}{nut}", temporary.fastener.call) }
}

/// What a step does to fit-up hardware, with the number of pieces; nothing where it does something else. `is_fastened` says
/// that the step fastens the joint for good.
pub(super) fn fit_up_words(joint: &Joint, handled: &Handled, is_fastened: bool) -> Option<String> {
    let verb = match handled.what {
        Handling::PutIn { again: false } => say!("fit"),
        Handling::PutIn { again: true } => say!("fit again"),
        Handling::TakeOut => say!("take out"),
        _ => return None,
    };
    let temporary = joint.temporary.as_ref()?;
    // Where the parts come apart, the bolt comes out as well.
    if temporary.nut_only && (is_fastened || handled.what != Handling::TakeOut) {
        return Some(nut_words(temporary, handled));
    }
    let with = if temporary.nut_only { format!("{} + ", temporary.fastener.call) } else { String::new() };
    Some(format!("{verb} {} x {with}{}", handled.count, fit_up_call(temporary)))
}

/// The same where the bolt stays in and its nut alone is for a time.
fn nut_words(temporary: &Temporary, handled: &Handled) -> String {
    let bolt = &temporary.fastener.call;
    let nut = &temporary.leaves().call;
    let count = handled.count;
    if handled.what == Handling::TakeOut {
        say!("change the nut only: take off {count} x {nut}, {bolt} stays in", count, nut, bolt)
    } else {
        say!("fit {count} x {bolt} with {nut}: only the nut is temporary", count, nut, bolt)
    }
}

pub(super) fn limits(joint: &Joint, style: &Style) -> Option<String> {
    let limits = joint.limits.as_ref()?;
    let multiples = [
        (say!("edge"), &limits.edge),
        (say!("pitch"), &limits.pitch),
        (say!("row gap"), &limits.row_gap),
        (say!("hole to bend"), &limits.bend),
    ];
    let multiples = multiples.iter().filter_map(|(name, ratio)| Some(format!("{name} {} D", ratio.as_ref()?.value)));
    let hole = limits.hole.iter().map(|range| say!("hole {range}", range = hole_range(range.value, style)));
    let ranges = hole
        .chain(limits.grip.iter().map(|range| say!("stack gripped {range}", range = grip_range(range.value, style))));
    let torque = limits.torque.iter().map(|torque| say!("torque {torque}", torque = style.torques(torque.value)));
    let set: Vec<String> = multiples.chain(ranges).chain(torque).collect();
    Some(say!("limits of the plans: {set} ({because})", set = set.join(", "), because = limits.because.value))
}

/// A step's kind as a short word for a narrow box.
pub(super) fn verb(kind: StepKind) -> &'static str {
    match kind {
        StepKind::LayOut => say!("lay out"),
        StepKind::Countersink => say!("c'sink"),
        StepKind::TakeApart => say!("apart"),
        StepKind::Photograph => say!("photo"),
        other => phrase::fixed(other.word()),
    }
}

/// Layers with a preparation, for the steps that do it.
pub(super) fn prepared(joint: &Joint, preparation: Preparation) -> impl Iterator<Item = &Layer> {
    joint.layers.iter().filter(move |layer| layer.preparation == preparation)
}

/// Measures of a shop head in words: what to aim at and the least that passes.
struct ShopHead {
    wide: String,
    high: String,
    least_wide: String,
    least_high: String,
}

/// Where the plans' own reading sets the least, as it is written there.
fn shop_head_measures(joint: &Joint, style: &Style) -> Option<ShopHead> {
    let Ok(Fastener::SolidRivet(rivet)) = &joint.fastener else { return None };
    let head = crate::hardware::shop_head(rivet.diameter, rivet.alloy);
    let side = |what: Measures, aim: Length, least: Length| match joint.recorded_head(what) {
        None => (style.aim(aim), style.first(style.least_shown(least, None))),
        Some((min, recorded)) => {
            let written = format!("{min} {}", recorded.unit);
            // Nobody aims below what must be.
            let aim = recorded.length(min).map_or(aim, |min| min.max(aim));
            (style.aim(aim), written)
        }
    };
    let (wide, least_wide) = side(Measures::HeadWidth, head.diameter.value, head.least_diameter.value);
    let (high, least_high) = side(Measures::HeadHeight, head.height.value, head.least_height.value);
    Some(ShopHead { wide, high, least_wide, least_high })
}

/// The shop head to aim at and the least that passes.
pub(super) fn shop_head(joint: &Joint, style: &Style) -> Option<String> {
    let ShopHead { wide, high, least_wide, least_high } = shop_head_measures(joint, style)?;
    Some(say!(
        "shop head: aim at {wide} wide, {high} high; at least {least_wide} wide, {least_high} high",
        wide,
        high,
        least_wide,
        least_high
    ))
}

/// The same on the sheet on which its readings stand, which say the least.
pub(super) fn shop_head_beside(joint: &Joint, style: &Style) -> Option<String> {
    let is_read = |what| joint.recorded_head(what).is_some();
    if !is_read(Measures::HeadWidth) || !is_read(Measures::HeadHeight) {
        return shop_head(joint, style);
    }
    let ShopHead { wide, high, .. } = shop_head_measures(joint, style)?;
    Some(say!("shop head: aim at {wide} wide, {high} high", wide, high))
}
