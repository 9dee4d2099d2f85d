//! The published tables as embedded data: one TOML file each, read once.
//!
//! A broken embedded table is a fault of the program and stops it with the file's name; nothing here
//! reads a file from disk, and nothing here knows what a table is for.

use std::borrow::Cow;

use serde::de::{DeserializeOwned, Error};
use serde::{Deserialize, Deserializer};

use super::source::{self, Basis, Graded, Sureness, source};
use crate::units::{Length, Size, Torque, Unit};

/// A table as its file has it; the rows are read by whoever asks.
#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    /// What the rows are; read by people and by the tests.
    #[allow(dead_code, reason = "kept for the reader of the table")]
    what: String,
    /// The unit of bare numbers in the rows.
    #[allow(dead_code, reason = "kept for the reader of the table")]
    unit: String,
    /// The source of rows that name none.
    source: String,
    /// The sureness of rows that name none.
    sureness: Sureness,
    /// What a reader of the table must know.
    #[allow(dead_code, reason = "kept for the reader of the table")]
    #[serde(default)]
    note: String,
    #[serde(rename = "row")]
    rows: Vec<toml::Table>,
}

/// One published table.
#[derive(Debug)]
pub(super) struct Table<R> {
    /// What the table as a whole rests on.
    pub(super) basis: Basis,
    /// The rows.
    pub(super) rows: Vec<Sourced<R>>,
}

/// A row with what it rests on: its own `source` and `sureness`, else the table's.
#[derive(Debug)]
pub(super) struct Sourced<R> {
    pub(super) row: R,
    pub(super) basis: Basis,
}

impl<R> Sourced<R> {
    /// A value of the row with what it rests on.
    pub(super) fn graded<T>(&self, value: T) -> Graded<T> {
        Graded { value, basis: self.basis.clone() }
    }
}

impl<R> std::ops::Deref for Sourced<R> {
    type Target = R;

    fn deref(&self) -> &R {
        &self.row
    }
}

/// The two columns that every table may have.
#[derive(Deserialize)]
struct Own {
    source: Option<String>,
    sureness: Option<Sureness>,
}

impl<R: DeserializeOwned> Sourced<R> {
    fn read(mut columns: toml::Table, whole: &Basis) -> Result<Self, toml::de::Error> {
        let own: toml::Table = ["source", "sureness"].iter().filter_map(|key| columns.remove_entry(*key)).collect();
        let own: Own = own.try_into()?;
        let source = own.source.map_or_else(|| whole.source.clone(), |key| Cow::Borrowed(source(&key).key.as_str()));
        let basis = Basis { source, sureness: own.sureness.unwrap_or(whole.sureness) };
        Ok(Self { row: columns.try_into()?, basis })
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
    "shop",
    "shop_head",
    "flush_head",
    "flush_strength",
    "hexagon",
    "iso_blind",
    "iso_bolt",
    "iso_bolt_document",
    "iso_bolt_hole",
    "iso_cotter",
    "iso_length",
    "iso_nut",
    "iso_nut_height",
    "iso_washer",
    "iso_washer_size",
    "limit",
    "metal",
    "nut",
    "nutplate",
    "nutplate_size",
    "other_part",
    "prevailing_torque",
    "property_class",
    "rivet_alloy",
    "rivet_standard",
    "rivets_per_inch",
    "screw",
    "screw_dash",
    "screw_head",
    "screw_thread",
    "sheet",
    "sheet_holder",
    "sheet_metric",
    "single_shear",
    "solid_rivet_hole",
    "substitute",
    "thin_sheet",
    "thread",
    "thread_metric",
    "torque",
    "washer",
    "washer_size",
);

/// Reads an embedded table.
///
/// # Panics
/// When the table is missing or broken: a fault of the program, with the file's name.
pub(super) fn read<R: DeserializeOwned>(name: &str) -> Table<R> {
    let text = table_text(name);
    let text = text.unwrap_or_else(|| panic!("there is no embedded table hardware/tables/{name}.toml"));
    let broken = |fault| panic!("embedded file hardware/tables/{name}.toml is broken: {fault}");
    let file: File = toml::from_str(text).unwrap_or_else(broken);
    let basis = Basis { source: Cow::Borrowed(source(&file.source).key.as_str()), sureness: file.sureness };
    let row = |columns| {
        Sourced::read(columns, &basis)
            .unwrap_or_else(|fault| panic!("embedded file hardware/tables/{name}.toml is broken: {fault}"))
    };
    Table { rows: file.rows.into_iter().map(row).collect(), basis }
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
    // Whether a drill prints by its name is for the project that reads the table.
    let size = Size::parse(&text, Unit::Inch).map_err(D::Error::custom)?;
    Ok(Size::plain(size.length))
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
