//! Hexagons: how wide across flats and how high the heads of bolts and the nuts are, for drawing them.
//!
//! No rule judges by these sizes, so that a row from memory draws and does no more. What has no hexagon (eye and clevis
//! bolts, screws, kit hardware) has no row.

use std::sync::LazyLock;

use serde::Deserialize;

use super::bolt::{Bolt, BoltSeries};
use super::nut::Nut;
use super::source::Graded;
use super::table::{self, Table};
use crate::units::Length;

/// A hexagon as it stands on a joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hexagon {
    /// Width across flats.
    pub across: Length,
    /// Height.
    pub height: Length,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
enum Of {
    Head,
    Nut,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    of: Of,
    /// The documents it is of; none of a row that is of all the others.
    #[serde(default)]
    numbers: Vec<String>,
    #[serde(deserialize_with = "table::length")]
    thread: Length,
    #[serde(deserialize_with = "table::length")]
    across: Length,
    /// Absent where the nut's own table has it.
    #[serde(default, deserialize_with = "table::some_length")]
    height: Option<Length>,
}

static HEXAGONS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("hexagon"));

impl Row {
    /// Whether it is of a part number's document: the document ends where no digit goes on.
    fn is_of(&self, usual: &str) -> bool {
        let names = |number: &String| {
            usual.strip_prefix(number.as_str()).is_some_and(|rest| !rest.starts_with(char::is_numeric))
        };
        self.numbers.is_empty() || self.numbers.iter().any(names)
    }
}

fn hexagon(of: Of, usual: &str, thread: Length, height: Option<Length>) -> Option<Graded<Hexagon>> {
    let row = HEXAGONS.rows.iter().find(|row| row.of == of && row.thread == thread && row.is_of(usual))?;
    Some(row.graded(Hexagon { across: row.across, height: height.or(row.height)? }))
}

/// The head of a bolt, where it is a listed hexagon.
#[must_use]
pub fn hexagon_head(bolt: &Bolt) -> Option<Graded<Hexagon>> {
    match bolt.series {
        BoltSeries::Eye | BoltSeries::Clevis | BoltSeries::Kit => None,
        BoltSeries::An | BoltSeries::CloseAn | BoltSeries::DrilledHead | BoltSeries::Nas | BoltSeries::Iso => {
            hexagon(Of::Head, &bolt.call.usual, bolt.diameter, None)
        }
    }
}

/// A nut, where it is a listed hexagon; the greatest height where its own table has one.
#[must_use]
pub fn hexagon_nut(nut: &Nut) -> Option<Graded<Hexagon>> {
    let height = nut.height.as_ref().map(|height| height.value.1);
    hexagon(Of::Nut, &nut.call.usual, nut.thread?.diameter, height)
}
