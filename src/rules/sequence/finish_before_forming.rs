//! # finish-before-forming
//!
//! ## What it checks
//! No part is trimmed, formed, heat-treated, drilled, reamed, countersunk or dimpled after a step of the same traveler has
//! primed or painted it.
//!
//! ## Why it matters
//! Forming cracks the coat and cutting bares the metal, just where sheet lies on sheet and water stays.
//!
//! ## Source
//! - `common-practice` common practice: all forming and cutting, then cleaning, then the coat.
//!
//! ## Example that fires
//! ```toml
//! [[step]]
//! do = "prime"
//! parts = ["WNG-211"]
//! [[step]]
//! do = "dimple"          # later, on the same part
//! parts = ["WNG-211"]
//! ```
//!
//! ## How to put it right
//! Move the forming before the coat.
//!
//! ## When to allow it
//! When the hole must be opened in the assembled and primed structure, and a step touches the bare edges up.

use crate::job::{StepKind, StepRef, Touch, Traveler};
use crate::report::{Place, Severity};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Traveler(look) };

fn look(traveler: &Traveler, at: &At<'_>, sink: &mut Sink<'_>) {
    let touch = |step| at.job.touch(StepRef { traveler: at.traveler_index, step });
    let mut coats: Vec<(usize, Touch)> = Vec::new();
    for (index, step) in traveler.steps.iter().enumerate() {
        let kind = step.kind.value;
        if matches!(kind, StepKind::Prime | StepKind::Paint) {
            coats.push((index, touch(index)));
        }
        let Some(verb) = harms(kind) else { continue };
        let own = touch(index);
        // The first coat says it; later ones on the same part add nothing.
        let Some((coat, shared)) =
            coats.iter().find_map(|(coat, coated)| Some((*coat, shared_by(traveler, coated, &own)?)))
        else {
            continue;
        };
        let coated = &traveler.steps[coat];
        let name = &step.id.value;
        let what = match &shared {
            Shared::Assembly => "the assembly".to_owned(),
            Shared::Part(id) => format!("part {id}"),
        };
        let message = format!("step {name} {verb} {what}, which step {} has coated before it", coated.id.value);
        let finding = sink.warning(step.kind.span, message).label(coated.kind.span, "coated here");
        let finding =
            finding.help(format!("move {name} before {}, or touch the bare edges up and allow it", coated.id.value));
        let part = match shared {
            Shared::Assembly => None,
            Shared::Part(id) => Some(id),
        };
        sink.push_about(Place { step: Some(name.clone()), part, ..Place::default() }, finding);
    }
}

/// What a kind of work does to a coat that is there.
const fn harms(kind: StepKind) -> Option<&'static str> {
    match kind {
        StepKind::Drill | StepKind::Ream | StepKind::Countersink | StepKind::Trim => Some("cuts"),
        StepKind::Dimple | StepKind::Form => Some("forms"),
        StepKind::HeatTreat => Some("heats"),
        _ => None,
    }
}

/// What two steps both touch.
enum Shared {
    Assembly,
    /// By its id.
    Part(String),
}

fn shared_by(traveler: &Traveler, one: &Touch, other: &Touch) -> Option<Shared> {
    let known = |id: &String| traveler.parts.iter().any(|part| part.id.value == *id);
    match (one, other) {
        (Touch::Nothing, _) | (_, Touch::Nothing) => None,
        (Touch::Whole, Touch::Whole) => Some(Shared::Assembly),
        (Touch::Whole, Touch::Parts(parts)) | (Touch::Parts(parts), Touch::Whole) => {
            parts.iter().find(|id| known(id)).cloned().map(Shared::Part)
        }
        (Touch::Parts(one), Touch::Parts(other)) => one.intersection(other).next().cloned().map(Shared::Part),
    }
}
