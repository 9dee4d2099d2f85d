//! # part-contradicts
//!
//! ## What it checks
//! A part id has one material, one thickness and one bend in all travelers, and where build.toml has the part, these and its
//! name are the ones there.
//!
//! ## Why it matters
//! The same rib is .032 in one file and .040 in the other: one of the rivet lengths is wrong, and nobody can tell
//! which.
//!
//! ## Source
//! - `completeness` completeness of the spec: one id, one thing.
//!
//! ## Example that fires
//! ```toml
//! # a.toml: id = "RIB-4", thickness = "0.032"
//! # b.toml: id = "RIB-4", thickness = "0.040"
//! ```
//!
//! ## How to put it right
//! Give the part once, as a `[[part]]` of build.toml: travelers then need its `id` alone. Or correct the one that is wrong,
//! or give the parts ids of their own.
//!
//! ## When to allow it
//! When the part is machined thinner between the two travelers: better give it another id.

use std::collections::BTreeMap;

use crate::job::{Job, Order, Part, PartFacts, Traveler};
use crate::report::{Finding, Place, Severity};
use crate::rules::{Check, Looks, Sink};
use crate::text::Span;
use crate::units::Style;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Order(look) };

fn look(job: &Job, _: &Order, sink: &mut Sink<'_>) {
    let mut first: BTreeMap<&str, (&str, &Part)> = BTreeMap::new();
    for traveler in &job.travelers {
        let id = traveler.id.value.as_str();
        for part in &traveler.parts {
            if let Some(known) = job.project.parts.iter().find(|known| known.id.value == part.id.value) {
                let finding = against_build(part, &known.into(), known.id.span, sink);
                if let Some(finding) = finding {
                    push(traveler, part, finding, sink);
                }
                continue;
            }
            let (owner, other) = *first.entry(part.id.value.as_str()).or_insert((id, part));
            // Twice in one traveler is a fault of its own.
            if owner == id {
                continue;
            }
            let Some(differs) = part.facts().difference(&other.facts(), sink.style) else { continue };
            let id = &part.id.value;
            let message = format!("part {id} is {} here, and {} in traveler {owner}", differs.here, differs.there);
            let finding = sink.error(differs.span, message).label(other.id.span, format!("in traveler {owner}"));
            push(traveler, part, finding.help(once(other, sink.style)), sink);
        }
    }
}

fn push(traveler: &Traveler, part: &Part, finding: Finding, sink: &mut Sink<'_>) {
    let place =
        Place { traveler: Some(traveler.id.value.clone()), part: Some(part.id.value.clone()), ..Place::default() };
    sink.push_about(place, finding);
}

/// Against what the whole build knows.
fn against_build(part: &Part, known: &PartFacts<'_>, place: Span, sink: &Sink<'_>) -> Option<Finding> {
    let differs = part.facts().difference_from_build(known, sink.style)?;
    let message = format!("part {} is {} here, but build.toml has {}", part.id.value, differs.here, differs.there);
    let finding = sink.error(differs.span, message).label(place, "in build.toml");
    Some(finding.help("leave it out here: the facts come from build.toml; or give this part an id of its own"))
}

/// The entry that says it once, as it is pasted into build.toml.
fn once(part: &Part, style: &Style) -> String {
    let mut lines = vec![format!("id = {:?}", part.id.value), format!("name = {:?}", part.name.value)];
    lines.extend(part.material.as_ref().map(|material| format!("material = {:?}", material.value)));
    lines.extend(part.thickness.map(|thickness| format!("thickness = {:?}", style.length(thickness.value.length))));
    format!(
        "say it once: in build.toml write `[[part]]` with `{}`, and in the travelers its `id` alone; or correct one of them, \
         or give the parts ids of their own",
        lines.join("`, `")
    )
}
