//! Metric cotter pins, `ISO 1234-1.6x16`: the nominal diameter is that of the hole.
//!
//! Which pin a bolt takes is not known: no page that could be read says it.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{CotterPin, CotterSize};
use crate::hardware::iso::millimetres;
use crate::hardware::metal::Metal;
use crate::hardware::number::{Call, Parts, Undecoded, clip};
use crate::hardware::source::Graded;
use crate::hardware::table::{self, Table};
use crate::units::Length;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    #[serde(deserialize_with = "table::length")]
    diameter: Length,
    #[serde(deserialize_with = "table::length")]
    shank_low: Length,
    #[serde(deserialize_with = "table::length")]
    shank_high: Length,
}

static PINS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("iso_cotter"));

pub(super) const DOCUMENTS: [&str; 2] = ["ISO1234", "DIN94"];

pub(super) fn decode(parts: &Parts) -> Result<CotterPin, Undecoded> {
    let successor = (parts.standard == "DIN94").then(|| "ISO1234".to_owned());
    if parts.rest.is_empty() {
        let call = Call::of(parts.text, parts.standard.to_owned());
        return Ok(CotterPin { call, diameter: None, length: None, metal: Metal::Steel, successor });
    }
    let help = "write diameter and length in mm, as in ISO 1234-1.6x16";
    let (size, tail) = parts.rest.split_once('-').unwrap_or((parts.rest, ""));
    let fault = || parts.fault(&format!("has an unknown size: {}", clip(parts.rest)), help, "ISO1234-Q");
    let (diameter, length) = size.split_once('X').ok_or_else(fault)?;
    let diameter = millimetres(diameter).and_then(|wanted| PINS.rows.iter().find(|row| row.diameter == wanted));
    let row = diameter.ok_or_else(fault)?;
    let length = millimetres(length).ok_or_else(fault)?;
    let plain = tail.len() <= 8 && tail.chars().all(|c| c.is_ascii_alphanumeric());
    plain.then_some(()).ok_or_else(fault)?;
    let tail = if tail.is_empty() { String::new() } else { format!("-{tail}") };
    let end = format!("-{}X{}{tail}", row.diameter.mm_exact(), length.mm_exact());
    Ok(CotterPin {
        call: Call::of(parts.text, format!("{}{end}", parts.standard)),
        diameter: Some(row.graded(row.diameter)),
        length: Some(row.graded(length)),
        metal: if tail.starts_with("-A") { Metal::Stainless } else { Metal::Steel },
        successor: successor.map(|number| format!("{number}{end}")),
    })
}

/// The limits of a metric pin: it passes a hole of its nominal diameter.
pub(super) fn size(diameter: Length) -> Option<Graded<CotterSize>> {
    let row = PINS.rows.iter().find(|row| row.diameter == diameter)?;
    let value = CotterSize { shank_low: row.shank_low, shank_high: row.shank_high, gauge_hole: row.diameter };
    Some(row.graded(value))
}

pub(super) fn every_call() -> impl Iterator<Item = String> {
    DOCUMENTS
        .into_iter()
        .flat_map(|number| PINS.rows.iter().map(move |row| format!("{number}-{}X16", row.diameter.mm_exact())))
}
