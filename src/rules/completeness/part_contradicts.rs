//! # part-contradicts
//!
//! ## What it checks
//! A part id has one material and one thickness in all travelers.
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
//! Correct the one that is wrong, or give the parts ids of their own.
//!
//! ## When to allow it
//! When the part is machined thinner between the two travelers: better give it another id.

use std::collections::BTreeMap;

use crate::hardware::sheet_equivalent;
use crate::job::{Job, Order, Part};
use crate::report::{Place, Severity};
use crate::rules::{Check, Looks, Sink};
use crate::text::Span;
use crate::units::Style;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Order(look) };

fn look(job: &Job, _: &Order, sink: &mut Sink<'_>) {
    let mut first: BTreeMap<&str, (&str, &Part)> = BTreeMap::new();
    for traveler in &job.travelers {
        let id = traveler.id.value.as_str();
        for part in &traveler.parts {
            let (owner, other) = *first.entry(part.id.value.as_str()).or_insert((id, part));
            // Twice in one traveler is a fault of its own.
            if owner == id {
                continue;
            }
            let Some((span, here, there)) = differs(part, other, sink.style) else { continue };
            let message = format!("part {} is {here} here, and {there} in traveler {owner}", part.id.value);
            let finding = sink.error(span, message).label(other.id.span, format!("in traveler {owner}"));
            let place = Place { traveler: Some(id.to_owned()), part: Some(part.id.value.clone()), ..Place::default() };
            sink.push_about(place, finding.help("correct one of them, or give the parts ids of their own"));
        }
    }
}

/// Where two descriptions of a part differ, and how each says it.
fn differs(one: &Part, other: &Part, style: &Style) -> Option<(Span, String, String)> {
    if let (Some(here), Some(there)) = (one.thickness, other.thickness)
        && !sheet_equivalent(here.value.length, there.value.length)
    {
        return Some((here.span, style.length(here.value.length), style.length(there.value.length)));
    }
    let plain = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    let (here, there) = (one.material.as_ref()?, other.material.as_ref()?);
    (plain(&here.value) != plain(&there.value)).then(|| (here.span, here.value.clone(), there.value.clone()))
}
