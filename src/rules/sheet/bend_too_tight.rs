//! # bend-too-tight
//!
//! ## What it checks
//! The tightest bend of a part has at least the inside radius of Table 4-6 for its alloy and thickness. Between two
//! columns the larger multiple gives a warning and the smaller an error; .002 in is given away, so that a die in
//! thirty-seconds passes. Bends of less than 90 degrees, of which the table does not speak, are a warning.
//!
//! ## Why it matters
//! A sheet bent too sharply cracks along the bend, often only under paint and after some hours of flight.
//!
//! ## Source
//! - `AC-T4-6` AC 43.13-1B, Table 4-6 and par. 4-56b: radii for 90 degree bends (recommended); grade A, the last alloys
//!   by position, grade B.
//!
//! ## Example that fires
//! ```toml
//! [[part]]
//! id = "WNG-213"
//! material = "2024-T3"
//! thickness = "0.032"            # the least is 2 t, .064
//! bend = { radius = "1/32" }
//! ```
//!
//! ## How to put it right
//! Bend with the radius that the help names, or form the part annealed and heat-treat it, as the drawing has it.
//!
//! ## When to allow it
//! When the drawing gives the radius, or the part comes formed from the kit.

use crate::hardware::{BendVerdict, bend_minimum, limit};
use crate::job::{Part, Traveler};
use crate::report::{Place, Severity};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Traveler(look) };

fn look(traveler: &Traveler, _: &At<'_>, sink: &mut Sink<'_>) {
    for part in &traveler.parts {
        check_part(part, sink);
    }
}

fn check_part(part: &Part, sink: &mut Sink<'_>) {
    let Some(bend) = &part.bend else { return };
    let (Some(material), Some(thickness)) = (&part.material, part.thickness) else {
        return sink.cannot("a bent part has no material or no thickness");
    };
    let Some(table) = bend_minimum(&material.value, thickness.value.length) else {
        return sink.cannot("the bend table does not list the alloy or the thickness of a bent part");
    };
    let (radius, limits) = (bend.radius.value, &table.value);
    let is_open = bend.angle.value < limit::bend_of_table().value;
    let (least, multiple, severity) = match BendVerdict::of(radius, limits) {
        BendVerdict::TooTight if is_open => (limits.least, limits.multiples.0, Severity::Warning),
        BendVerdict::TooTight => (limits.least, limits.multiples.0, Severity::Error),
        BendVerdict::Doubtful => (limits.cautious, limits.multiples.1, Severity::Warning),
        BendVerdict::Passes => return,
    };
    let (sheet, alloy) = (thickness.value.length, &material.value);
    let message = format!(
        "bend radius {radius} of part {} is under {multiple} t, {least}, for {alloy} of {sheet}",
        part.id.value,
        radius = sink.style.length(radius),
        least = sink.style.at_least(least),
        sheet = sink.style.length(sheet)
    );
    let finding =
        sink.finding(severity, bend.radius.span, message).label(thickness.span, "thickness").source(table.basis.cite());
    let help = format!(
        "{} or more passes; up to {} is recommended",
        sink.style.at_least(limits.cautious),
        sink.style.length(limits.roomy)
    );
    sink.push_about(Place { part: Some(part.id.value.clone()), ..Place::default() }, finding.help(help));
}
