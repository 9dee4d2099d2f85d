//! Metric washers, `ISO 7089-6-200HV` and `DIN 125-A6.4`: bolt, hole and thickness.
//!
//! DIN names a washer by its hole, ISO by its bolt: both are read.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Washer, WasherKind};
use crate::hardware::iso::{self, millimetres};
use crate::hardware::metal::Metal;
use crate::hardware::number::{Call, Parts, Undecoded, clip};
use crate::hardware::table::{self, Sourced, Table};
use crate::units::Length;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Document {
    number: String,
    words: String,
    kind: WasherKind,
    /// The sizes it has, in the table of sizes.
    sizes: String,
    #[serde(default)]
    successor: Option<String>,
    /// In what the successor differs.
    #[serde(default)]
    differs: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Size {
    sizes: String,
    #[serde(deserialize_with = "table::length")]
    bolt: Length,
    #[serde(deserialize_with = "table::length")]
    inner: Length,
    #[serde(default, deserialize_with = "table::some_length")]
    outer: Option<Length>,
    #[serde(default, deserialize_with = "table::some_length")]
    thickness: Option<Length>,
}

static DOCUMENTS: LazyLock<Table<Document>> = LazyLock::new(|| table::read("iso_washer"));
static SIZES: LazyLock<Table<Size>> = LazyLock::new(|| table::read("iso_washer_size"));

impl iso::Document for Document {
    fn number(&self) -> &str {
        &self.number
    }
}

pub(super) fn documents() -> impl Iterator<Item = &'static str> {
    iso::documents(&DOCUMENTS)
}

/// What the kind of a metric washer rests on.
pub(super) fn basis(usual: &str) -> Option<crate::hardware::Basis> {
    let number = usual.split('-').next()?;
    DOCUMENTS.rows.iter().find(|row| row.number == number).map(|row| row.basis.clone())
}

pub(super) fn decode(parts: &Parts) -> Option<Result<Washer, Undecoded>> {
    iso::decode(&DOCUMENTS, parts, read)
}

fn read(parts: &Parts, document: &'static Sourced<Document>) -> Result<Washer, Undecoded> {
    let family = Washer {
        call: Call::of(parts.text, document.number.clone()),
        words: document.words.clone(),
        kind: document.kind,
        bolt: None,
        diameters: None,
        thickness: None,
        metal: Some(Metal::Steel),
        successor: document.successor.clone(),
        differs: document.differs.as_deref(),
    };
    if parts.rest.is_empty() {
        return Ok(family);
    }
    let (size, tail) = parts.rest.split_once('-').unwrap_or((parts.rest, ""));
    // The form of a DIN washer stands in front of its hole: A6.4.
    let (form, size) = match size.strip_prefix(['A', 'B']) {
        Some(rest) if rest.starts_with(|c: char| c.is_ascii_digit()) => (&size[..1], rest),
        _ => ("", size.strip_prefix('M').unwrap_or(size)),
    };
    let plain = tail.len() <= 12 && tail.chars().all(|c| c.is_ascii_alphanumeric() || c == '-');
    let found = millimetres(size).filter(|_| plain).and_then(|wanted| {
        let of_document = || SIZES.rows.iter().filter(|row| row.sizes == document.sizes);
        of_document().find(|row| row.bolt == wanted).or_else(|| of_document().find(|row| row.inner == wanted))
    });
    let row = found.ok_or_else(|| {
        let known = SIZES.rows.iter().filter(|row| row.sizes == document.sizes).map(|row| row.bolt.mm_exact());
        let what = format!("has an unknown size: {}", clip(parts.rest));
        let known: Vec<String> = known.collect();
        parts.fault(&what, format!("the size is the bolt in mm: {}", known.join(", ")), "ISO7089-Q")
    })?;
    let tail = if tail.is_empty() { String::new() } else { format!("-{tail}") };
    let form = if form.is_empty() { String::new() } else { format!("{form}-") };
    let end = format!("{}{tail}", row.bolt.mm_exact());
    Ok(Washer {
        call: Call::of(parts.text, format!("{}-{}{end}", document.number, form.replace('-', ""))),
        bolt: Some(row.bolt),
        diameters: row.outer.map(|outer| row.graded((row.inner, outer))),
        thickness: row.thickness.map(|thickness| row.graded(thickness)),
        metal: Some(if tail.starts_with("-A") { Metal::Stainless } else { Metal::Steel }),
        successor: document.successor.as_ref().map(|number| format!("{number}-{end}")),
        ..family
    })
}

/// Call and thickness of the plain washer of a bolt.
pub(super) fn plain_for(bolt: Length) -> Option<(String, Length)> {
    let row = SIZES.rows.iter().find(|row| row.sizes == PLAIN && row.bolt == bolt)?;
    Some((format!("ISO 7089-{}", bolt.mm_exact()), row.thickness?))
}

/// The sizes of a plain washer, in the table of sizes.
const PLAIN: &str = "plain";

/// One call of every document in every size.
pub(super) fn every_call() -> impl Iterator<Item = String> {
    DOCUMENTS.rows.iter().flat_map(|document| {
        let sizes = SIZES.rows.iter().filter(|row| row.sizes == document.sizes);
        sizes.map(|row| format!("{}-{}", document.number, row.bolt.mm_exact()))
    })
}
