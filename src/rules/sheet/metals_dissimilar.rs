//! # metals-dissimilar
//!
//! ## What it checks
//! No two bare metals that corrode each other touch in a joint: layer on layer, or a solid rivet or a kit's fastener in a layer. A
//! joint is silent here when it is set `wet`, or when a step before its fastening primes, paints, seals or bonds one of the two.
//! Steel hardware of the standards is plated and is judged by `washer-metal`, not here.
//!
//! ## Why it matters
//! With a little water two metals make a battery, and the aluminium pays.
//!
//! ## Source
//! - `common-practice` common practice: a barrier between unlike metals, wet assembly, and water that can run off.
//!
//! ## Example that fires
//! ```toml
//! [[part]]
//! id = "A"
//! material = "2024-T3"
//! [[part]]
//! id = "B"
//! material = "titanium"
//! [[joint]]
//! stack = ["A", "B"]     # no `wet`, and no coat before it is fastened
//! ```
//!
//! ## How to put it right
//! Set the fasteners wet, or prime both faces in a step before the fastening.
//!
//! ## When to allow it
//! When one part is plated or insulated in a way that the spec does not show.

use crate::hardware::{Fastener, Metal, metal_of, metals_corrode};
use crate::job::{Joint, StepRef, Touch};
use crate::report::Severity;
use crate::rules::{At, Looks, Rule, Sink};
use crate::text::Span;

pub static RULE: Rule = Rule {
    name: "metals-dissimilar",
    family: "sheet",
    severity: Severity::Warning,
    sources: &["common-practice"],
    page: include_str!("metals_dissimilar.rs"),
    looks: Looks::Joint(look),
};

/// One thing in a joint: its name, its metal, the part it is, and where it is written.
struct Thing {
    name: String,
    metal: Metal,
    part: Option<String>,
    span: Span,
}

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    if joint.wet.is_some() {
        return;
    }
    let layers: Vec<Option<Thing>> = joint.layers.iter().map(|layer| layer_thing(layer, at)).collect();
    if layers.iter().any(Option::is_none) {
        sink.cannot("the metal of a layer is not known");
    }
    let touching = layers.windows(2).filter_map(|pair| Some((pair[0].as_ref()?, pair[1].as_ref()?)));
    let fastener = fastener_thing(joint);
    let through = fastener.iter().flat_map(|fastener| layers.iter().flatten().map(move |layer| (fastener, layer)));
    for (one, other) in touching.chain(through) {
        if !metals_corrode(one.metal, other.metal).value || coated(joint, at, one, other) {
            continue;
        }
        let (first, second) = (one.metal.word(), other.metal.word());
        let message = format!("{} is {first} and touches {}, which is {second}, with no barrier between", one.name, other.name);
        let help = "set the joint `wet`, or add a step that primes the faces before the fastening";
        sink.push(sink.warning(one.span, message).label(other.span, second).help(help));
        // One pair says it; the cure is the same for all.
        return;
    }
}

fn layer_thing(layer: &crate::job::Layer, at: &At<'_>) -> Option<Thing> {
    let metal = metal_of(layer.material.as_deref()?)?;
    let part = layer.part.map(|part| at.traveler.parts[part].id.value.clone());
    Some(Thing { name: layer.name.clone(), metal, part, span: layer.span })
}

/// The fastener, where its bare metal is known: standard steel hardware is plated.
fn fastener_thing(joint: &Joint) -> Option<Thing> {
    let metal = match joint.fastener.as_ref().ok()? {
        Fastener::SolidRivet(rivet) => rivet.alloy.map(|alloy| alloy.metal),
        Fastener::BlindRivet(rivet) => rivet.metal(),
        _ => None,
    }?;
    Some(Thing { name: joint.call.clone(), metal, part: None, span: joint.written.span })
}

/// Whether a step before the fastening puts a coat on one of two parts.
fn coated(joint: &Joint, at: &At<'_>, one: &Thing, other: &Thing) -> bool {
    let end = joint.fastenings().next().map_or(at.traveler.steps.len(), |fastened| fastened.step);
    let coats = (0..end).filter(|step| at.traveler.steps[*step].kind.value.coats());
    let mut touched = coats.map(|step| at.job.touch(StepRef { traveler: at.traveler_index, step }));
    touched.any(|touch| match touch {
        Touch::Whole => true,
        Touch::Parts(parts) => [one, other].into_iter().filter_map(|thing| thing.part.as_ref()).any(|part| parts.contains(part)),
        Touch::Nothing => false,
    })
}
