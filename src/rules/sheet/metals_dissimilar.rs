//! # metals-dissimilar
//!
//! ## What it checks
//! Metals that corrode each other do not touch bare: neighbouring layers, and the fastener against its layers. Silent
//! where the joint is set wet, or where a step before the fastening primes, paints or seals it. Steel hardware of the
//! standards counts as cadmium-plated and may lie on aluminium.
//!
//! ## Why it matters
//! Two metals and a little water are a battery, and the sheet is the part of it that is used up.
//!
//! ## Source
//! - `common-practice` common practice: groups of metals that want a barrier; from memory.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-240"]   # 2024-T3 and 4130
//! fastener = "MS20470AD4-4"        # no `wet`, and no step with do = "prime"
//! ```
//!
//! ## How to put it right
//! Set the fasteners wet, or add a prime, paint or seal step before the fastening.
//!
//! ## When to allow it
//! Inside a dry cabin, where the drawing asks for no barrier.

use crate::hardware::{Basis, Fastener, Metal, Sureness, metal_of, metals_corrode};
use crate::job::{Joint, Step, StepKind};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    // Set wet, or kept apart by paint: no bare metal touches.
    if joint.wet.is_some() || has_barrier(joint, at) {
        return;
    }
    let metals: Vec<Option<Metal>> =
        joint.layers.iter().map(|layer| layer.material.as_deref().and_then(metal_of)).collect();
    let neighbours = metals.iter().zip(metals.iter().skip(1)).enumerate();
    let pair = neighbours
        .filter_map(|(index, (one, other))| Some((index, (*one)?, (*other)?)))
        .find(|(_, one, other)| corrode(*one, *other));
    let fastener = joint.fastener.as_ref().ok().and_then(Fastener::metal);
    let message = if let Some((index, one, other)) = pair {
        let (outer, inner) = (&joint.layers[index].name, &joint.layers[index + 1].name);
        format!("{} layer {outer} lies bare on {} layer {inner}", one.word(), other.word())
    } else if let Some((own, layer)) =
        fastener.zip(metals.iter().flatten().copied().find(|layer| fastener.is_some_and(|own| bites(own, *layer))))
    {
        format!("{} of {} goes bare through {}", joint.call, own.word(), layer.word())
    } else {
        return;
    };
    let finding =
        sink.warning(joint.spec.stack.span, message).source(Basis::published("common-practice", Sureness::C).cite());
    let finding =
        finding.label(joint.spec.fastener.span, "not set wet, and no step before primes, paints or seals the joint");
    sink.push(finding.help("add `wet = \"..\"` to the joint, or a step with `do = \"prime\"` before it is fastened"));
}

fn corrode(one: Metal, other: Metal) -> bool {
    metals_corrode(one, other).value
}

/// Whether a fastener of one metal wants a barrier in a layer of another.
fn bites(own: Metal, layer: Metal) -> bool {
    let plated_on_aluminium = own == Metal::Steel && layer == Metal::Aluminium;
    corrode(own, layer) && !plated_on_aluminium
}

fn has_barrier(joint: &Joint, at: &At<'_>) -> bool {
    let until = joint.fastenings().map(|fastened| fastened.step).next().unwrap_or(at.traveler.steps.len());
    at.traveler.steps[..until].iter().any(|step| {
        let covers = matches!(step.kind.value, StepKind::Prime | StepKind::Paint | StepKind::Seal | StepKind::Bond);
        covers && touches(step, joint, at.index)
    })
}

fn touches(step: &Step, joint: &Joint, index: usize) -> bool {
    let names_joint = step.joints.iter().any(|named| named.value == index);
    let names_part = step.parts.iter().any(|named| joint.layers.iter().any(|layer| layer.part == Some(named.value)));
    names_joint || names_part || (step.joints.is_empty() && step.parts.is_empty())
}
