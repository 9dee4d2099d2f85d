//! The figures of one packet, taken from its joints and steps.
//!
//! What cannot be drawn (a layer without thickness, a call that does not decode) has no figure; nothing is guessed.

use std::collections::BTreeMap;

use serde::Serialize;

use super::at_step::joint_id;
use super::source::Source;
use crate::figure::{
    Body, Drawing, HeadGauge, Hole, HoleGauge, LayerOf, MapStep, Nut, Rung, SectionOf, Space, Strip, Top, Washer,
    gauges, ladder, millimetres, section, step_map, strips,
};
use crate::hardware::{
    Fastener, Head, NutKind, SolidRivet, flush_head, flush_screw_head, largest_hole, limit, shop_head, smallest_hole,
};
use crate::job::{Hand, Hardware, Job, Joint, JointRef, Step, StepKind, StepRef, Traveler, operation};
use crate::plan::joint::{short_name, verb};
use crate::plan::room::next_hole;
use crate::units::{Length, Size, Style};

/// The figures of one packet.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Figures {
    /// The steps in order.
    pub map: Option<Drawing>,
    /// Figures of each joint, in the order of the joints.
    pub joints: Vec<JointFigures>,
    /// Sections that each step shows, in the order of the steps.
    pub steps: Vec<Vec<Drawing>>,
    /// Drill templates.
    pub strips: Vec<StripSheet>,
    /// Gauges for the calls of this packet.
    pub gauges: Option<Drawing>,
}

/// The figures of one joint.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct JointFigures {
    /// The joint's id.
    pub id: String,
    /// Section.
    pub section: Option<Drawing>,
    /// Hole ladder.
    pub ladder: Option<Drawing>,
}

/// The drill template of one joint.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StripSheet {
    /// The joint's id.
    pub id: String,
    /// Its strips in order; empty where the pattern does not fit.
    pub strips: Vec<Drawing>,
    /// Why there are none.
    pub refused: Option<String>,
}

/// What a page has beside its margins on either paper; strips and gauges are never wider.
const PAGE: Space = Space { width: millimetres(165), height: millimetres(160) };
const SECTION: Space = Space { width: millimetres(118), height: millimetres(46) };
const TALL_SECTION: Space = Space { width: millimetres(118), height: millimetres(110) };
/// A step with more joints than this shows no sections: they stand with the joints, and the step stays on one page.
const MOST_AT_STEP: usize = 1;

impl Figures {
    /// The figures of what is printed. The map is of the whole packet; the gauges are one sheet for all of its joints.
    #[must_use]
    pub fn of(source: Source<'_>) -> Self {
        let traveler = source.traveler();
        let style = &source.job.project.style;
        let drawn: BTreeMap<usize, JointFigures> =
            source.joints().map(|(at, joint)| (at, joint_figures(joint, traveler, style))).collect();
        let fills_any = source.steps().any(|(_, step)| !step.fills.is_empty());
        let at = |step| StepRef { traveler: source.index, step };
        let map = || (0..traveler.steps.len()).map(|step| map_step(source.job, at(step))).collect::<Vec<_>>();
        Self {
            map: if source.is_excerpt() { None } else { step_map(&map(), PAGE.width) },
            steps: source.steps().map(|(_, step)| step_sections(source, step, &drawn)).collect(),
            strips: source.joints().filter_map(|(_, joint)| strip_sheet(joint, traveler, source.hand, style)).collect(),
            gauges: if drawn.is_empty() && !fills_any { None } else { gauge_sheet(source) },
            joints: drawn.into_values().collect(),
        }
    }
}

fn joint_figures(joint: &Joint, traveler: &Traveler, style: &Style) -> JointFigures {
    let section =
        section_of(joint).and_then(|of| section(&of, SECTION, style).or_else(|| section(&of, TALL_SECTION, style)));
    JointFigures {
        id: joint.id.value.clone(),
        section,
        ladder: ladder(&rungs(joint, traveler, style), PAGE.width, style),
    }
}

/// The sections of a step that forms a seat for a head or sets fasteners.
fn step_sections(source: Source<'_>, step: &Step, drawn: &BTreeMap<usize, JointFigures>) -> Vec<Drawing> {
    let shows = step.kind.value.fastens() || matches!(step.kind.value, StepKind::Countersink | StepKind::Dimple);
    let own = step.joints.iter().map(|joint| JointRef { traveler: source.index, joint: joint.value });
    let is_set = |joint: &JointRef| joint.traveler != source.index && source.job.joint(*joint).shares_with.is_none();
    let filled = step.fills.iter().copied().filter(is_set);
    let joints: Vec<JointRef> = own.chain(filled).collect();
    if !shows || joints.len() > MOST_AT_STEP {
        return Vec::new();
    }
    let sections = joints.into_iter().filter_map(|joint| {
        let section = if joint.traveler == source.index {
            drawn.get(&joint.joint)?.section.clone()?
        } else {
            joint_figures(source.job.joint(joint), &source.job.travelers[joint.traveler], &source.job.project.style)
                .section?
        };
        Some(Drawing { caption: format!("{}: {}", joint_id(source, joint), section.caption), ..section })
    });
    sections.collect()
}

/// What the section of a joint shows, where everything that it needs is known.
#[must_use]
pub fn section_of(joint: &Joint) -> Option<SectionOf> {
    let layers: Option<Vec<LayerOf>> = joint.layers.iter().map(layer_of).collect();
    Some(SectionOf {
        layers: layers?,
        hole: joint.final_hole()?.size.length,
        body: body_of(joint)?,
        call: joint.call.clone(),
    })
}

fn layer_of(layer: &crate::job::Layer) -> Option<LayerOf> {
    // A layer whose material is not given has none written beside it.
    let material = layer.material.clone().unwrap_or_default();
    // A layer that is no part has its material for a name.
    let name = if layer.name == material { String::new() } else { layer.name.clone() };
    Some(LayerOf { thickness: layer.thickness?, material, name, preparation: layer.preparation })
}

fn body_of(joint: &Joint) -> Option<Body> {
    match joint.fastener.as_ref().ok()? {
        Fastener::SolidRivet(rivet) => {
            let driven = shop_head(rivet.diameter, rivet.alloy);
            let shop = (driven.diameter.value, driven.height.value);
            Some(Body::Solid { diameter: rivet.diameter, top: top_of(rivet.head, rivet.diameter, None), shop })
        }
        Fastener::BlindRivet(rivet) => {
            Some(Body::Blind { diameter: rivet.diameter, top: top_of(rivet.head, rivet.diameter, None) })
        }
        Fastener::Bolt(bolt) => {
            let (grip, length) =
                (bolt.thread_starts().map(|grip| grip.value), bolt.length.as_ref().map(|length| length.value));
            bolt_of(joint, bolt.diameter, Top::Protruding, grip, length)
        }
        Fastener::Screw(screw) => {
            let diameter = screw.diameter?;
            let listed = flush_screw_head(screw).map(|head| head.diameter);
            bolt_of(joint, diameter, top_of(screw.head, diameter, listed), None, screw.length)
        }
        _ => None,
    }
}

fn bolt_of(joint: &Joint, diameter: Length, top: Top, grip: Option<Length>, length: Option<Length>) -> Option<Body> {
    let runs_out = matches!(&joint.fastener, Ok(Fastener::Bolt(bolt)) if bolt.thread_from.is_some());
    let washers = |list: &[Hardware]| list.iter().map(washer_of).collect::<Option<Vec<Washer>>>();
    let nut = joint.nut.as_ref().map(|nut| match &nut.fastener {
        Ok(Fastener::Nutplate(_)) => Nut::Plate(nut.call.clone()),
        Ok(Fastener::Nut(its)) => {
            let castle = matches!(its.kind, NutKind::Castle | NutKind::SelfLockingCastle);
            Nut::Loose(nut.call.clone(), castle && joint.cotter.is_some())
        }
        _ => Nut::Loose(nut.call.clone(), false),
    });
    let (head_washers, nut_washers) = (washers(&joint.washers_head)?, washers(&joint.washers_nut)?);
    Some(Body::Bolt { diameter, top, grip, runs_out, length, head_washers, nut_washers, nut })
}

fn washer_of(hardware: &Hardware) -> Option<Washer> {
    let Ok(Fastener::Washer(washer)) = &hardware.fastener else { return None };
    let outer = washer.diameters.as_ref().map(|both| both.value.1);
    Some(Washer { call: hardware.call.clone(), thickness: washer.thickness.as_ref()?.value, outer })
}

fn top_of(head: Head, diameter: Length, listed: Option<Length>) -> Top {
    let listed = listed
        .or_else(|| flush_head(diameter, head).map(|head| head.diameter))
        .unwrap_or_else(|| diameter.times(limit::flush_head_drawn().value));
    match head {
        Head::Protruding => Top::Protruding,
        Head::Flush82 => Top::Flush82(listed),
        Head::Flush100 | Head::FlushReduced100 => Top::Flush100(listed),
        Head::Flush120 => Top::Flush120(listed),
    }
}

/// The states of a joint's hole: as delivered, after each step, and what a repair would take.
#[must_use]
pub fn rungs(joint: &Joint, traveler: &Traveler, style: &Style) -> Vec<Rung> {
    let made: Vec<_> = joint.drillings().filter_map(|at| Some((&traveler.steps[at.step], at.hole?.size))).collect();
    let rung =
        |when: String, size: Option<Size>| Rung { when, size, reamed: false, last: made.is_empty(), repair: false };
    let mut all = match (joint.delivered(), joint.delivered_most()) {
        (Some(least), Some(most)) if least.size.length == most.size.length => {
            vec![rung("as delivered".into(), Some(least.size))]
        }
        (_, None) => vec![rung("as delivered".into(), None)],
        // One rung a layer, where the layers differ.
        _ => {
            let layers = joint.layers.iter().zip(joint.delivered_by_layer());
            layers
                .map(|(layer, hole)| {
                    rung(format!("as delivered: {}", short_name(layer, traveler)), hole.map(|hole| hole.size))
                })
                .collect()
        }
    };
    let count = made.len();
    for (index, (step, size)) in made.into_iter().enumerate() {
        let when = format!("{} {}", operation(step.number), verb(step.kind.value));
        all.push(Rung {
            when,
            size: Some(size),
            reamed: step.kind.value == StepKind::Ream,
            last: index + 1 == count,
            repair: false,
        });
    }
    if let Some((next, size)) = next_hole(joint) {
        let name = style.short(next);
        all.push(Rung {
            when: format!("next size {name}"),
            size: Some(size),
            reamed: false,
            last: false,
            repair: true,
        });
    }
    all
}

fn strip_sheet(joint: &Joint, traveler: &Traveler, hand: Option<Hand>, style: &Style) -> Option<StripSheet> {
    let (places, last, diameter) = (joint.places.as_ref()?, joint.final_hole()?, joint.diameter()?);
    let ratio = joint.edge_ratio();
    let side = hand.map_or(String::new(), |hand| format!(", {}", hand.word().to_uppercase()));
    let strip = Strip {
        title: format!("{}{side}, seen from the head side", joint.title()),
        holes: places.iter().map(|(along, across)| Hole { along: *along, across: *across }).collect(),
        hole: last.size,
        least: (format!("{ratio} D"), diameter.times(ratio)),
        next: joint.next_rivet().map(|next| (style.short(next), next.times(ratio))),
        mirrored: hand.is_some() && hand != traveler.hands.first().map(|first| first.value),
    };
    let (drawn, refused) = match strips(&strip, PAGE, style) {
        Ok(drawn) => (drawn, None),
        Err(fault) => (Vec::new(), Some(fault.words(style))),
    };
    Some(StripSheet { id: joint.id.value.clone(), strips: drawn, refused })
}

/// For whom a step stops: the first hold, or the first stage.
fn looks_at(job: &Job, at: StepRef) -> Option<String> {
    let hold = job.holds(job.step(at)).first().map(|role| job.role_word(role).to_owned());
    let stage = || {
        let own = &job.project.stages[*job.stages_at(at).first()?];
        Some(format!("{}, stage {}", job.who_signs(own), own.id.value))
    };
    hold.or_else(stage)
}

fn map_step(job: &Job, at: StepRef) -> MapStep {
    let step = job.step(at);
    let names = |spaces: &[crate::job::Index]| {
        spaces.iter().map(|space| job.space_spec(space.value).name.value.clone()).collect()
    };
    let wait = match (&step.cure, &step.cure_latest) {
        (Some(cure), None) => Some(format!("{} at least", cure.value)),
        (Some(cure), Some(latest)) => Some(format!("{} at least, {} at most", cure.value, latest.value)),
        (None, Some(latest)) => Some(format!("{} at most", latest.value)),
        (None, None) => None,
    };
    MapStep {
        number: operation(step.number),
        word: verb(step.kind.value).to_owned(),
        hold: looks_at(job, at),
        witness: step.witness.as_ref().map(|role| job.role_word(&role.value).to_owned()),
        closes: names(&step.closes),
        opens: names(&step.opens),
        wait,
    }
}

/// One gauge for each rivet diameter and each hole that the packet has, those that it fills for others among them.
fn gauge_sheet(source: Source<'_>) -> Option<Drawing> {
    let traveler = source.traveler();
    let style = &source.job.project.style;
    let filled = traveler.steps.iter().flat_map(|step| &step.fills).map(|joint| source.job.joint(*joint));
    let filled = filled.filter(|joint| joint.shares_with.is_none());
    let mut heads: Vec<(HeadGauge, Vec<&str>)> = Vec::new();
    let mut holes: Vec<HoleGauge> = Vec::new();
    for joint in traveler.joints.iter().chain(filled) {
        let Ok(fastener) = &joint.fastener else { continue };
        if let Fastener::SolidRivet(rivet) = fastener {
            add_head(&mut heads, rivet, &joint.call, style);
        }
        if let Some(gauge) = hole_gauge(joint, fastener, style)
            && !holes.contains(&gauge)
        {
            holes.push(gauge);
        }
    }
    let named = |(gauge, calls): (HeadGauge, Vec<&str>)| HeadGauge { calls: calls.join(", "), ..gauge };
    gauges(&heads.into_iter().map(named).collect::<Vec<_>>(), &holes, style)
}

/// Adds a call to the gauge of its rivets.
fn add_head<'a>(heads: &mut Vec<(HeadGauge, Vec<&'a str>)>, rivet: &SolidRivet, call: &'a str, style: &Style) {
    let driven = shop_head(rivet.diameter, rivet.alloy);
    let diameter = (driven.least_diameter.value, driven.diameter.value);
    let name = format!("{} rivets", style.short(rivet.diameter));
    match heads.iter_mut().find(|(gauge, _)| gauge.name == name && gauge.diameter == diameter) {
        Some((_, calls)) if calls.contains(&call) => {}
        Some((_, calls)) => calls.push(call),
        None => {
            let gauge = HeadGauge {
                name,
                calls: String::new(),
                diameter,
                height: (driven.least_height.value, driven.height.value),
                most_height: driven.most_height.map(|most| most.value),
            };
            heads.push((gauge, vec![call]));
        }
    }
}

/// The limits of a joint's hole, where they differ: the plans' own, else the published ones of its fastener.
fn hole_gauge(joint: &Joint, fastener: &Fastener, style: &Style) -> Option<HoleGauge> {
    if let Some(plans) = joint.plans_hole() {
        let (low, high) = (plans.range.0.length, plans.range.1.length);
        let name = format!("holes of joint {}, as the plans set them", joint.id.value);
        return (low < high).then_some(HoleGauge { name, limits: (low, high) });
    }
    let limits = (smallest_hole(fastener)?.value, largest_hole(fastener)?.value);
    let diameter = fastener.diameter()?;
    let what = match fastener {
        Fastener::SolidRivet(_) => "solid rivets",
        Fastener::BlindRivet(_) => "blind rivets",
        Fastener::Bolt(_) => "bolts",
        _ => "screws",
    };
    let name = format!("holes of {} {what}", style.short(diameter));
    (limits.0 < limits.1).then_some(HoleGauge { name, limits })
}
