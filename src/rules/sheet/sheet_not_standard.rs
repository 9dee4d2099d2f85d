//! # sheet-not-standard
//!
//! ## What it checks
//! The thickness of an aluminium part is a standard sheet or an old gauge number for one. Plate from .250 on, parts in a
//! joint that gives `tube`, and parts whose name or material says tube, bar, rod, extrusion, angle, casting, machined or
//! bushing are not sheet and are left alone.
//!
//! ## Why it matters
//! A thickness that no sheet has is mostly a slip of a digit, and every verdict about its joints rests on it.
//!
//! ## Source
//! - `H5J-DB` MIL-HDBK-5J, Tables 8.1.2.1(a) and (b): the thicknesses of its rows (common practice); grade A.
//!
//! ## Example that fires
//! ```toml
//! [[part]]
//! id = "WNG-211"
//! material = "2024-T3"
//! thickness = "0.023"            # .032 was meant
//! ```
//!
//! ## How to put it right
//! Correct the thickness. An extrusion, a casting or a machined part is allowed with that as the reason.
//!
//! ## When to allow it
//! Extrusions, machined parts, chemically milled sheet.

use crate::hardware::{Metal, is_standard_sheet, metal_of, nearest_sheets, sheet_basis};
use crate::job::{Joint, Part, Traveler};
use crate::report::{Place, Severity};
use crate::rules::{At, Looks, Rule, Sink};
use crate::units::Length;

/// From here on it is plate: the thickest row of the table.
const PLATE: Length = Length::from_mils(250);
/// Words for what is no sheet.
const SHAPES: [&str; 10] = ["tube", "tubing", "bar", "rod", "extrusion", "extruded", "angle", "casting", "machined", "bushing"];

pub static RULE: Rule = Rule {
    name: "sheet-not-standard",
    family: "sheet",
    severity: Severity::Warning,
    sources: &["H5J-DB"],
    page: include_str!("sheet_not_standard.rs"),
    looks: Looks::Traveler(look),
};

fn look(traveler: &Traveler, _: &At<'_>, sink: &mut Sink<'_>) {
    for (index, part) in traveler.parts.iter().enumerate() {
        let in_tube = |joint: &Joint| joint.tube.is_some() && joint.layers.iter().any(|layer| layer.part == Some(index));
        if !traveler.joints.iter().any(in_tube) {
            check_part(part, sink);
        }
    }
}

fn check_part(part: &Part, sink: &mut Sink<'_>) {
    // The rows are those of aluminium sheet; steel and plastics come in others.
    let (Some(material), Some(thickness)) = (&part.material, part.thickness) else { return };
    let length = thickness.value.length;
    if metal_of(&material.value) != Some(Metal::Aluminium) || is_standard_sheet(length) || !is_sheet(part) {
        return;
    }
    let message = format!("part {} is {length} thick, which is no standard sheet", part.id.value);
    let finding = sink.warning(thickness.span, message).source(sheet_basis().cite());
    let inch = |sheet: Length| sheet.inch_text();
    let help = match nearest_sheets(length) {
        (Some(below), Some(above)) => format!("the nearest sheets are {} and {} in", inch(below), inch(above)),
        (None, Some(thinnest)) => format!("the thinnest sheet is {} in", inch(thinnest)),
        // Thicker than any sheet is plate, and was left alone above.
        (_, None) => return,
    };
    sink.push_about(Place { part: Some(part.id.value.clone()), ..Place::default() }, finding.help(help));
}

/// Plate is thicker than any sheet, and tubes, bars and extrusions come in walls of their own.
fn is_sheet(part: &Part) -> bool {
    let thick = part.thickness.is_some_and(|thickness| thickness.value.length >= PLATE);
    let words = format!("{} {}", part.name.value, part.material.as_ref().map_or("", |material| material.value.as_str())).to_lowercase();
    let shape = words.split(|c: char| !c.is_alphanumeric()).any(|word| SHAPES.contains(&word));
    !thick && !shape
}
