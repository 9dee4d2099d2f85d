//! # sheet-not-standard
//!
//! ## What it checks
//! The thickness of an aluminium part is a standard sheet or an old gauge number for one. A part thicker than the thickest
//! sheet is a bar or a block, and one in a joint that gives `tube` has a wall: both are left alone.
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
    if metal_of(&material.value) != Some(Metal::Aluminium) || is_standard_sheet(length) {
        return;
    }
    let message = format!("part {} is {length} thick, which is no standard sheet", part.id.value);
    let finding = sink.warning(thickness.span, message).source(sheet_basis().cite());
    let inch = |sheet: Length| sheet.inch_text();
    let help = match nearest_sheets(length) {
        (Some(below), Some(above)) => format!("the nearest sheets are {} and {} in", inch(below), inch(above)),
        (None, Some(thinnest)) => format!("the thinnest sheet is {} in", inch(thinnest)),
        // Thicker than any sheet: a bar or a block, of which there is no list.
        (_, None) => return,
    };
    sink.push_about(Place { part: Some(part.id.value.clone()), ..Place::default() }, finding.help(help));
}
