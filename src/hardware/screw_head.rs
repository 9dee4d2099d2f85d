//! Heads of flush screws: how high the cone is, and the thinnest sheet that a manual lets it into.
//!
//! It knows the heads of the AN and MS numbers by size; a kit's own screw has the head that its entry gives, which no
//! table lists. It judges no joint.

use std::sync::LazyLock;

use serde::Deserialize;

use super::head::{FlushHead, Head};
use super::screw::Screw;
use super::source::{Graded, Sureness};
use super::table::{self, Table};
use crate::units::Length;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    head: String,
    #[serde(deserialize_with = "table::length")]
    screw: Length,
    #[serde(deserialize_with = "table::length")]
    diameter: Length,
    #[serde(deserialize_with = "table::length")]
    height: Length,
    #[serde(default, deserialize_with = "table::some_length")]
    sheet: Option<Length>,
    #[serde(default)]
    sheet_source: Option<String>,
    #[serde(default)]
    sheet_sureness: Option<Sureness>,
}

static HEADS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("screw_head"));

/// The flush head of a screw, where its size is known and listed.
///
/// Its `floor` is the thinnest sheet that a manual countersinks for the size, which is thinner than the head is high; where
/// no manual was found it is the head's height.
#[must_use]
pub fn flush_screw_head(screw: &Screw) -> Option<FlushHead> {
    let own = screw.call.kit.is_none() && screw.head.is_flush();
    let word = match (screw.head, screw.structural) {
        (Head::Flush82, _) => "82",
        (_, true) => "structural",
        (_, false) => "flush",
    };
    let diameter = screw.diameter.filter(|_| own)?;
    let row = HEADS.rows.iter().find(|row| row.head == word && row.screw == diameter)?;
    let sheet = row.sheet.zip(row.sheet_source.as_deref());
    let floor = match sheet {
        Some((sheet, key)) => Graded::published(sheet, key, row.sheet_sureness.unwrap_or(Sureness::C)),
        None => row.graded(row.height),
    };
    Some(FlushHead { diameter: row.diameter, height: row.height, countersink: None, basis: row.basis.clone(), floor })
}
