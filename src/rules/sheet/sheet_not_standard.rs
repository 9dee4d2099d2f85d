//! # sheet-not-standard
//!
//! ## What it checks
//! The thickness of an aluminium part, or of a layer that is no part, is a standard sheet of today, of an old gauge or in
//! millimetres, or plate in steps of 1/16. Parts in a joint that gives `tube`, and parts whose name or material says tube,
//! bar, rod, extrusion, angle, block, spacer, casting, machined or bushing are not sheet and are left alone.
//!
//! ## Why it matters
//! A thickness that no sheet has is mostly a slip of a digit, and every verdict about its joints rests on it.
//!
//! ## Source
//! - `H5J-DB` MIL-HDBK-5J, Tables 8.1.2.1(a) and (b): the thicknesses of its rows (common practice); grade A.
//! - `common-practice` common practice: metric sheets, and plate in steps of 1/16 in; from memory.
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

use crate::hardware::{Metal, is_standard_sheet, metal_of, sheet_basis};
use crate::job::{Joint, Traveler};
use crate::report::{Finding, Place, Severity};
use crate::rules::{At, Check, Looks, Sink};
use crate::text::Span;
use crate::units::{Length, Size, Style};

/// Words for what is no sheet.
const SHAPES: [&str; 12] = [
    "tube",
    "tubing",
    "bar",
    "rod",
    "extrusion",
    "extruded",
    "angle",
    "block",
    "spacer",
    "casting",
    "machined",
    "bushing",
];

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Traveler(look) };

fn look(traveler: &Traveler, _: &At<'_>, sink: &mut Sink<'_>) {
    for (index, part) in traveler.parts.iter().enumerate() {
        let in_tube =
            |joint: &Joint| joint.tube.is_some() && joint.layers.iter().any(|layer| layer.part == Some(index));
        let (Some(material), Some(thickness)) = (&part.material, part.thickness) else { continue };
        let sheet = Sheet { name: &part.name.value, material: &material.value, thickness: thickness.value.length };
        if traveler.joints.iter().any(in_tube) || !sheet.is_out_of_place(sink) {
            continue;
        }
        let finding = sheet.finding(&format!("part {}", part.id.value), thickness.span, sink);
        sink.push_about(Place { part: Some(part.id.value.clone()), ..Place::default() }, finding);
    }
    for joint in traveler.joints.iter().filter(|joint| joint.tube.is_none()) {
        // A layer that is a part was judged there; a thickness of its own is a machined step of it.
        for layer in joint.layers.iter().filter(|layer| layer.part.is_none()) {
            let (Some(material), Some(thickness)) = (&layer.material, layer.thickness) else { continue };
            let sheet = Sheet { name: &layer.name, material, thickness };
            if sheet.is_out_of_place(sink) {
                let finding =
                    sheet.finding(&format!("layer {}", layer.name), layer.thickness_span.unwrap_or(layer.span), sink);
                sink.push_about(Place { joint: Some(joint.id.value.clone()), ..Place::default() }, finding);
            }
        }
    }
}

/// What may be a sheet.
struct Sheet<'a> {
    name: &'a str,
    material: &'a str,
    thickness: Length,
}

impl Sheet<'_> {
    /// Whether it is aluminium sheet of a thickness that no sheet has; steel and plastics come in others.
    fn is_out_of_place(&self, sink: &Sink<'_>) -> bool {
        let is_known = is_standard_sheet(self.thickness) || sink.shop.has_sheet(self.thickness);
        metal_of(self.material) == Some(Metal::Aluminium) && !is_known && self.is_sheet()
    }

    /// Tubes, bars and extrusions come in walls of their own.
    fn is_sheet(&self) -> bool {
        let words = format!("{} {}", self.name, self.material).to_lowercase();
        let shape = words.split(|c: char| !c.is_alphanumeric()).any(|word| SHAPES.contains(&word));
        !shape
    }

    /// The thickness that is meant where a zero was left out, or the unit: nothing where no sheet has that either.
    fn slip(&self, sink: &Sink<'_>) -> String {
        let other = sink.style.unit.other();
        let is_sheet = |own: &Length| is_standard_sheet(*own) || sink.shop.has_sheet(*own);
        let as_other = Some(self.thickness.number_in(other)).filter(is_sheet);
        let tenth = Some(self.thickness.tenth()).filter(is_sheet);
        match (as_other, tenth) {
            (Some(meant), _) => {
                let number = Style::of(other).typed(Size::plain(meant));
                format!("; with another unit meant, write `thickness = \"{number} {}\"`", Style::of(other).word())
            }
            (None, Some(tenth)) => format!("; with a zero missing, it is {}", sink.style.length(tenth)),
            (None, None) => String::new(),
        }
    }

    fn finding(&self, what: &str, span: Span, sink: &Sink<'_>) -> Finding {
        let message = format!("{what} is {} thick, which is no standard sheet", sink.style.length(self.thickness));
        let help = match sink.shop.sheets_beside(self.thickness) {
            (Some(below), Some(above)) => {
                format!("the nearest sheets are {} and {}", sink.style.length(below), sink.style.length(above))
            }
            (None, Some(sheet)) => {
                format!("the thinnest sheet is {}{}", sink.style.length(sheet), self.slip(sink))
            }
            (Some(sheet), None) => {
                format!("the thickest sheet is {}{}", sink.style.length(sheet), self.slip(sink))
            }
            (None, None) => "no sheet is listed".to_owned(),
        };
        sink.warning(span, message).source(sheet_basis(sink.style.unit).cite()).help(help)
    }
}
