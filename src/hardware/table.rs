//! The published tables as embedded data: one TOML file each, read once.
//!
//! A broken embedded table is a fault of the program and stops it with the file's name; nothing here
//! reads a file from disk, and nothing here knows what a table is for.

use serde::de::{DeserializeOwned, Error};
use serde::{Deserialize, Deserializer};

use super::source::{self, Basis, Sureness};
use crate::units::{Length, Size, Torque, Unit};

/// One published table.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Table<R> {
    /// What the rows are; read by people and by the tests.
    #[allow(dead_code, reason = "kept for the reader of the table")]
    what: String,
    /// The unit of bare numbers in the rows.
    #[allow(dead_code, reason = "kept for the reader of the table")]
    unit: String,
    /// The source of rows that name none.
    pub(super) source: String,
    /// The sureness of rows that name none.
    pub(super) sureness: Sureness,
    /// What a reader of the table must know.
    #[allow(dead_code, reason = "kept for the reader of the table")]
    #[serde(default)]
    note: String,
    /// The rows.
    #[serde(rename = "row")]
    pub(super) rows: Vec<R>,
}

impl<R> Table<R> {
    /// The basis of a row that may name its own source and sureness.
    pub(super) fn basis(&'static self, own_source: Option<&'static str>, own_sureness: Option<Sureness>) -> Basis {
        Basis::published(own_source.unwrap_or(&self.source), own_sureness.unwrap_or(self.sureness))
    }
}

/// The list of embedded tables, written once.
macro_rules! embedded {
    ($($name:literal),+ $(,)?) => {
        /// Name and text of every embedded table, in a fixed order.
        const TEXTS: &[(&str, &str)] = &[$(($name, include_str!(concat!("tables/", $name, ".toml")))),+];
    };
}

embedded!(
    "an_bolt",
    "bend_radius",
    "blind_commercial",
    "blind_hole",
    "blind_iso",
    "blind_military",
    "blind_strength",
    "bolt_hole",
    "bolt_size",
    "cotter_minimum",
    "cotter_pin",
    "cotter_size",
    "countersink_minimum",
    "dimple",
    "driven_head",
    "flush_head",
    "metal",
    "nut",
    "nutplate",
    "nutplate_size",
    "prevailing_torque",
    "rivet_alloy",
    "rivet_standard",
    "rivets_per_inch",
    "screw",
    "sheet",
    "single_shear",
    "solid_rivet_hole",
    "substitute",
    "thin_sheet",
    "thread",
    "torque",
    "washer",
    "washer_size",
);

/// Reads an embedded table.
///
/// # Panics
/// When the table is missing or broken: a fault of the program, with the file's name.
pub(super) fn read<R: DeserializeOwned>(name: &str) -> Table<R> {
    let text = TEXTS.iter().find(|(its_name, _)| *its_name == name).map(|(_, text)| *text);
    let text = text.unwrap_or_else(|| panic!("there is no embedded table hardware/tables/{name}.toml"));
    toml::from_str(text).unwrap_or_else(|fault| panic!("embedded file hardware/tables/{name}.toml is broken: {fault}"))
}

/// Name and text of every embedded table, and of the list of sources: what a digest of the table set is taken over.
#[must_use]
pub fn table_digest_input() -> String {
    let mut whole = String::new();
    for (name, text) in TEXTS.iter().chain(&[("sources", source::TEXT)]) {
        whole.push_str(name);
        whole.push('\n');
        whole.push_str(text);
    }
    whole
}

/// Names of the embedded tables.
pub fn table_names() -> impl Iterator<Item = &'static str> {
    TEXTS.iter().map(|(name, _)| *name)
}

/// Text of an embedded table, for tests and for readers of the tables.
#[must_use]
pub fn table_text(name: &str) -> Option<&'static str> {
    TEXTS.iter().find(|(its_name, _)| *its_name == name).map(|(_, text)| *text)
}

/// Reads a size in the forms of a spec, inch where no unit is given.
pub(super) fn size<'de, D: Deserializer<'de>>(reader: D) -> Result<Size, D::Error> {
    let text = String::deserialize(reader)?;
    Size::parse(&text, Unit::Inch).map_err(D::Error::custom)
}

/// Reads a length in the forms of a spec, inch where no unit is given.
pub(super) fn length<'de, D: Deserializer<'de>>(reader: D) -> Result<Length, D::Error> {
    size(reader).map(|size| size.length)
}

/// Reads a length that may be absent.
pub(super) fn some_length<'de, D: Deserializer<'de>>(reader: D) -> Result<Option<Length>, D::Error> {
    length(reader).map(Some)
}

/// Reads a list of lengths.
pub(super) fn lengths<'de, D: Deserializer<'de>>(reader: D) -> Result<Vec<Length>, D::Error> {
    let texts = Vec::<String>::deserialize(reader)?;
    texts.iter().map(|text| Length::parse(text, Unit::Inch).map_err(D::Error::custom)).collect()
}

/// Reads a torque, inch-pounds where no unit is given.
pub(super) fn torque<'de, D: Deserializer<'de>>(reader: D) -> Result<Torque, D::Error> {
    let text = String::deserialize(reader)?;
    let with_unit = if text.ends_with(|c: char| c.is_ascii_digit()) { format!("{text} in-lb") } else { text };
    Torque::parse(&with_unit).map_err(D::Error::custom)
}
