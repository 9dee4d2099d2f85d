//! # temper-soft
//!
//! ## What it checks
//! No layer of a joint in structure is an annealed (-O) alloy that gets its strength from heat treatment, unless a
//! step heat-treats it. Alloys that are used soft, as 5052-O and 3003-O, are fine.
//!
//! ## Why it matters
//! 2024-O bends like lead and has a third of the strength of -T3. A part that was formed soft and forgotten looks like
//! any other.
//!
//! ## Source
//! - `AC-4-12` AC 43.13-1B, par. 4-54 and 4-55: strength of heat-treated alloys in the temper that the drawing asks
//!   (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! [[part]]
//! id = "RIB-4"
//! material = "2024-O"            # and no step that heat-treats it
//! ```
//!
//! ## How to put it right
//! Add the step that heat-treats the part, or correct the temper.
//!
//! ## When to allow it
//! When the part comes heat-treated from elsewhere after forming, and its paper says so.

use crate::hardware::is_soft_temper;
use crate::job::{Joint, StepKind, Structure};
use crate::report::Severity;
use crate::rules::facts::NO_STRUCTURE;
use crate::rules::{At, Check, Looks, Sink};

/// Words of a step that heat-treats.
const TREATS: [&str; 5] = ["heat-treat", "heat treat", "solution", "quench", "harden"];

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    let soft = joint.layers.iter().find(|layer| layer.material.as_deref().is_some_and(is_soft_temper));
    let Some((layer, material)) = soft.and_then(|layer| layer.material.as_ref().map(|material| (layer, material)))
    else {
        return;
    };
    let Some(structure) = joint.structure else { return sink.cannot(NO_STRUCTURE) };
    if structure.value == Structure::Nothing || is_treated(at) {
        return;
    }
    let message = format!("layer {} is {material}, annealed, in {} structure", layer.name, structure.value.word());
    let finding = sink.warning(layer.span, message).label(structure.span, "structure");
    sink.push(finding.help("add the step that heat-treats it, or correct the temper"));
}

fn is_treated(at: &At<'_>) -> bool {
    at.traveler.steps.iter().any(|step| {
        if step.kind.value == StepKind::HeatTreat {
            return true;
        }
        let text = step.text.as_ref().map_or("", |text| text.value.as_str());
        let words = format!("{} {text}", step.title.value).to_lowercase();
        TREATS.iter().any(|word| words.contains(word))
    })
}
