//! # material-unknown
//!
//! ## What it checks
//! A material that begins with four digits is an alloy that the tables know, with a dash before its temper.
//!
//! ## Why it matters
//! A slip in the alloy (`2042-T3`, `6061T6`) passes every table in silence: bend, strength and corrosion are then not
//! judged at all.
//!
//! ## Source
//! - `practice` shop practice of this project: what looks like an alloy is one of the list of metals.
//!
//! ## Example that fires
//! ```toml
//! [[part]]
//! id = "WNG-211"
//! material = "2042-T3"            # 2024-T3 was meant
//! ```
//!
//! ## How to put it right
//! Correct the alloy. Another material is written in words.
//!
//! ## When to allow it
//! When the alloy is real and the tables lack it: what rests on it is then not judged.

use crate::hardware::alloy_slip;
use crate::job::Traveler;
use crate::report::{Finding, Place, Severity};
use crate::rules::{At, Check, Looks, Sink};
use crate::text::Span;

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Traveler(look) };

fn look(traveler: &Traveler, _: &At<'_>, sink: &mut Sink<'_>) {
    for part in &traveler.parts {
        let Some(material) = &part.material else { continue };
        if let Some(finding) = judge(&material.value, material.span, sink) {
            sink.push_about(Place { part: Some(part.id.value.clone()), ..Place::default() }, finding);
        }
    }
    for joint in &traveler.joints {
        let own = joint.spec.stack.value.iter().filter_map(|layer| layer.material.as_ref());
        for material in own {
            if let Some(finding) = judge(&material.value, material.span, sink) {
                sink.push_about(Place { joint: Some(joint.id.value.clone()), ..Place::default() }, finding);
            }
        }
    }
}

fn judge(material: &str, span: Span, sink: &Sink<'_>) -> Option<Finding> {
    let slip = alloy_slip(material)?;
    let finding = sink.warning(span, format!("`{}` is no alloy of the tables", slip.word));
    Some(match slip.nearest {
        Some(nearest) => finding.help(format!("did you mean `{nearest}`?")),
        None => finding.help("write alloy and temper as `2024-T3`, another material in words"),
    })
}
