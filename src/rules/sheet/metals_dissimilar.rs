//! # metals-dissimilar
//!
//! ## What it checks
//! Metals that corrode each other do not touch bare: neighbouring layers, and the fastener against its layers. Silent
//! where the joint is set wet, where a step before the fastening primes, paints or seals it or, in another traveler, one of
//! its parts, and where a material's own words say that it is coated (`4130, painted`). What is plated with cadmium or zinc
//! counts as its plating, and may lie on aluminium; steel hardware of the standards is. A bearing that the bolt clamps
//! (`clamped`) is never painted and lies on its part as it comes. Where nothing rests on the joint (`structure = "none"`) it
//! is a note.
//!
//! ## Why it matters
//! Two metals and a little water are a battery, and the sheet is the part of it that is used up.
//!
//! ## Source
//! - `common-practice` common practice: groups of metals that want a barrier; from memory.
//! - `HDBK-419A` MIL-HDBK-419A, volume II, Table 1-24 (bonding and grounding of equipment): aluminium, zinc and cadmium are one
//!   group, carbon steel another, stainless steel a third (should); grade A-else.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-240"]   # 2024-T3 and 4130
//! fastener = "MS20470AD4-4"        # no `wet`, and no step with do = "prime"
//! ```
//!
//! ## How to put it right
//! Set the fasteners wet, or add a prime, paint or seal step before the fastening. A part that comes painted or plated says so
//! in its `material`.
//!
//! ## When to allow it
//! Inside a dry cabin, where the drawing asks for no barrier.

use crate::hardware::{Basis, Fastener, Metal, Sureness, bare_metal, metals_corrode};
use crate::job::{Joint, Part, Step, StepKind, Structure};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    // Set wet, or kept apart by paint: no bare metal touches.
    if joint.wet.is_some() || has_barrier(joint, at) {
        return;
    }
    let surfaces: Vec<Option<Metal>> =
        joint.layers.iter().map(|layer| layer.material.as_deref().and_then(bare_metal)).collect();
    let is_clamped = joint.clamped.is_some();
    let neighbours = surfaces.iter().zip(surfaces.iter().skip(1)).enumerate();
    let pair = neighbours
        .filter_map(|(index, (one, other))| Some((index, (*one)?, (*other)?)))
        .find(|(_, one, other)| corrode(*one, *other) && !(is_clamped && is_bearing(*one, *other)));
    let fastener = joint.fastener.as_ref().ok().and_then(Fastener::metal);
    let message = if let Some((index, one, other)) = pair {
        let (outer, inner) = (&joint.layers[index].name, &joint.layers[index + 1].name);
        format!("{} layer {outer} lies bare on {} layer {inner}", one.word(), other.word())
    } else if let Some((own, layer)) =
        fastener.zip(surfaces.iter().flatten().copied().find(|layer| fastener.is_some_and(|own| bites(own, *layer))))
    {
        format!("{} of {} goes bare through {}", joint.call, own.word(), layer.word())
    } else {
        return;
    };
    let rests = joint.structure.is_none_or(|structure| structure.value != Structure::Nothing);
    let severity = if rests { Severity::Warning } else { Severity::Note };
    let finding = sink.finding(severity, joint.spec.stack.span, message);
    let finding = finding.source(Basis::published("common-practice", Sureness::C).cite());
    let finding =
        finding.label(joint.spec.fastener.span, "not set wet, and no step before primes, paints or seals the joint");
    sink.push(finding.help("add `wet = \"..\"` to the joint, or a step with `do = \"prime\"` before it is fastened"));
}

fn corrode(one: Metal, other: Metal) -> bool {
    metals_corrode(one, other).value
}

/// Whether one of two neighbours is of the steel that bearings and rod ends are made of.
fn is_bearing(one: Metal, other: Metal) -> bool {
    [one, other].iter().any(|metal| matches!(metal, Metal::Steel | Metal::Stainless))
}

/// Whether a fastener of one metal wants a barrier in a layer of another.
fn bites(own: Metal, layer: Metal) -> bool {
    let plated_on_aluminium = own == Metal::Steel && layer == Metal::Aluminium;
    corrode(own, layer) && !plated_on_aluminium
}

/// Whether a step before the fastening coats the joint, or a step of another traveler one of its parts.
fn has_barrier(joint: &Joint, at: &At<'_>) -> bool {
    let until = joint.fastenings().map(|fastened| fastened.at).next();
    let mut before = at.job.around(at.joint()).into_iter().take_while(|step| Some(*step) != until);
    before.any(|step| coats(at.job.step(step)) && at.job.touches_joint(step, at.joint()))
        || is_coated_elsewhere(joint, at)
}

fn coats(step: &Step) -> bool {
    matches!(step.kind.value, StepKind::Prime | StepKind::Paint | StepKind::Seal | StepKind::Bond)
}

/// A part of the stack that a traveler of its own primes or paints comes coated.
fn is_coated_elsewhere(joint: &Joint, at: &At<'_>) -> bool {
    let ids: Vec<&str> =
        joint.layers.iter().filter_map(|layer| Some(at.traveler.parts[layer.part?].id.value.as_str())).collect();
    let others = at.job.travelers.iter().enumerate().filter(|(index, _)| *index != at.traveler_index);
    let is_ours = |part: &Part| ids.contains(&part.id.value.as_str());
    others.map(|(_, traveler)| traveler).any(|traveler| {
        let coated = traveler.steps.iter().filter(|step| coats(step)).flat_map(|step| &step.parts);
        coated.into_iter().any(|named| is_ours(&traveler.parts[named.value]))
    })
}
