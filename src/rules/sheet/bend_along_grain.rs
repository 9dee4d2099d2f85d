//! # bend-along-grain
//!
//! ## What it checks
//! A bend whose line runs along the rolling direction (`bend.grain = "along"`) has at least twice the least radius of
//! the table.
//!
//! ## Why it matters
//! Across the grain a sheet bends easily; along it the same radius cracks.
//!
//! ## Source
//! - `common-practice` common practice: twice the radius along the grain; from memory.
//!
//! ## Example that fires
//! ```toml
//! bend = { radius = "3/16", grain = "along" }   # .063 2024-T3: twice 3 t
//! ```
//!
//! ## How to put it right
//! Turn the blank on the sheet, or bend with the radius that the help names.
//!
//! ## When to allow it
//! When a trial piece of the same sheet was bent along the grain and looked at with a glass.

use crate::hardware::{bend_minimum, limit};
use crate::job::{Grain, Part, Traveler};
use crate::report::{Place, Severity};
use crate::rules::facts::from_memory;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Traveler(look) };

fn look(traveler: &Traveler, _: &At<'_>, sink: &mut Sink<'_>) {
    for part in &traveler.parts {
        check_part(part, sink);
    }
}

fn check_part(part: &Part, sink: &mut Sink<'_>) {
    let Some(bend) = &part.bend else { return };
    let Some(grain) = bend.grain.filter(|grain| grain.value == Grain::Along) else { return };
    // What the table does not list is said by the rule for tight bends.
    let (Some(material), Some(thickness)) = (&part.material, part.thickness) else { return };
    let Some(table) = bend_minimum(&material.value, thickness.value.length) else { return };
    let least = table.value.least.times(limit::bend_along_grain().value);
    if bend.radius.value.reaches(least, limit::bend_slack().value) {
        return;
    }
    let message = format!(
        "bend radius {} of part {} runs along the grain; twice the table's is {least}",
        sink.style.length(bend.radius.value),
        part.id.value,
        least = sink.style.at_least(least)
    );
    let finding = sink.warning(bend.radius.span, message).label(grain.span, "along the rolling direction");
    let finding =
        finding.source(from_memory("common-practice")).help(format!("{} or more passes", sink.style.at_least(least)));
    sink.push_about(Place { part: Some(part.id.value.clone()), ..Place::default() }, finding);
}
