//! Blind rivets of the ISO standards, `ISO 15977-4x8`: body, head, diameter and length; the grip where it is listed.
//!
//! The grips of ISO 15981 are not those of another pair of materials: such a rivet has none here.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{BlindFamily, BlindRivet, ISO};
use crate::hardware::head::Head;
use crate::hardware::iso::millimetres;
use crate::hardware::number::{Call, Parts, Undecoded, clip};
use crate::hardware::table::{self, Sourced, Table};
use crate::units::Length;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Document {
    number: String,
    flush: bool,
    material: String,
    #[serde(default)]
    successor: Option<String>,
    /// In what the successor differs.
    #[serde(default)]
    differs: Option<String>,
}

static DOCUMENTS: LazyLock<Table<Document>> = LazyLock::new(|| table::read("iso_blind"));

/// The one whose grips are listed.
pub(super) const LISTED: &str = "ISO15981";

pub(super) fn documents() -> impl Iterator<Item = &'static str> {
    DOCUMENTS.rows.iter().map(|row| row.number.as_str())
}

fn document_of(rivet: &BlindRivet) -> Option<&'static Sourced<Document>> {
    let number = rivet.stem.split('-').next()?;
    DOCUMENTS.rows.iter().find(|row| row.number == number).filter(|_| rivet.family == BlindFamily::Iso)
}

/// What took the document's place, and in what it differs.
pub(super) fn successor(rivet: &BlindRivet) -> Option<(&'static str, &'static str)> {
    let document = document_of(rivet)?;
    Some((document.successor.as_deref()?, document.differs.as_deref()?))
}

/// Whether the grips of a rivet's document are listed.
pub(super) fn has_grips(rivet: &BlindRivet) -> bool {
    rivet.stem.starts_with(LISTED)
}

/// Reads a number of one of the ISO documents; nothing for a number of another one.
pub(super) fn decode(parts: &Parts) -> Option<Result<BlindRivet, Undecoded>> {
    let document = DOCUMENTS.rows.iter().find(|row| row.number == parts.standard)?;
    Some(read(parts, document))
}

fn read(parts: &Parts, document: &'static Sourced<Document>) -> Result<BlindRivet, Undecoded> {
    let help =
        "write diameter and length in mm, as in ISO 15981-4x10; the diameters are those of the standard's Table 1";
    let (size, tail) = parts.rest.split_once("-AL").map_or((parts.rest, ""), |(size, _)| (size, "-ALA/ALA"));
    // A dash stands for the x too, as in 4-8.
    let (diameter, length) = size.split_once(['X', '-']).map_or((size, None), |(d, length)| (d, Some(length)));
    let diameter = millimetres(diameter).filter(|d| ISO.rows.iter().any(|row| row.diameters.contains(d)));
    let diameter =
        diameter.ok_or_else(|| parts.fault("has a diameter that the standard does not list", help, "ISO-BLIND"))?;
    let stem = format!("{}-{}", document.number, diameter.mm_exact());
    let rivet = BlindRivet {
        call: Call::of(parts.text, format!("{stem}{tail}")),
        family: BlindFamily::Iso,
        head: if document.flush { Head::Flush120 } else { Head::Protruding },
        diameter,
        grip: None,
        basis: if document.number == LISTED { ISO.basis.clone() } else { document.basis.clone() },
        material: document.material.clone(),
        grade: None,
        code: None,
        stem,
        tail: tail.to_owned(),
        bulbed: false,
        dashed: false,
        length: None,
    };
    let Some(length) = length else { return Ok(rivet) };
    let unread = || parts.fault(&format!("has an unknown length: {}", clip(length)), help, "ISO-BLIND");
    let millimetres = millimetres(length);
    if !has_grips(&rivet) {
        let length = millimetres.ok_or_else(unread)?;
        let usual = format!("{}X{}{tail}", rivet.stem, length.mm_exact());
        return Ok(BlindRivet { call: Call::of(parts.text, usual), length: Some(length), ..rivet });
    }
    listed(parts, &rivet, millimetres)
}

/// A rivet whose grip is that of its row.
fn listed(parts: &Parts, rivet: &BlindRivet, length: Option<Length>) -> Result<BlindRivet, Undecoded> {
    let row = length.and_then(|length| rivet.iso_rows().find(|row| row.length == length));
    let row = row.ok_or_else(|| {
        let lengths: Vec<String> = rivet.iso_rows().map(|row| row.length.mm_exact()).collect();
        parts.fault(
            "has a length that the standard does not list",
            format!("in this diameter it lists {} mm", lengths.join(", ")),
            "ISO15981",
        )
    })?;
    let full = rivet.in_row(row);
    Ok(BlindRivet { call: Call::of(parts.text, full.call.usual), ..full })
}

/// One call of every document and diameter without listed grips, alone and in a length.
pub(super) fn every_call() -> impl Iterator<Item = String> {
    documents().filter(|number| *number != LISTED).flat_map(|number| {
        let diameters = ISO.rows.iter().flat_map(|row| row.diameters.iter());
        let mut diameters: Vec<Length> = diameters.copied().collect();
        diameters.sort_unstable();
        diameters.dedup();
        diameters.into_iter().flat_map(move |d| ["", "X10"].map(|tail| format!("{number}-{}{tail}", d.mm_exact())))
    })
}
