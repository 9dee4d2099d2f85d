//! Sheet holders: which size stands in a hole, where one does.
//!
//! They come by the rivet. A hole between two sizes, one below the smallest or above the largest, and a stack that they do
//! not reach through take a clamp or a bolt: no size is made up.

use std::sync::LazyLock;

use serde::Deserialize;

use super::table::{self, Table};
use crate::units::{Length, Unit};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    rivet: String,
    metric: String,
    #[serde(deserialize_with = "table::lengths")]
    hole: Vec<Length>,
    #[serde(deserialize_with = "table::length")]
    stack: Length,
}

static HOLDERS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("sheet_holder"));

/// A size of sheet holders: the rivet whose hole it stands in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct SheetHolder(usize);

impl SheetHolder {
    /// The size that stands in a hole through a stack; nothing where none does.
    #[must_use]
    pub fn of(hole: Length, stack: Option<Length>) -> Option<Self> {
        let reaches = |row: &Row| stack.is_none_or(|stack| stack <= row.stack);
        let grips = |row: &Row| matches!(row.hole[..], [low, high] if (low..=high).contains(&hole));
        HOLDERS.rows.iter().position(|row| grips(row) && reaches(row)).map(Self)
    }

    /// The size that a tool list names by its rivet, in inches or millimetres.
    #[must_use]
    pub fn named(size: Length) -> Option<Self> {
        let is_meant = |row: &Row| {
            [(row.rivet.as_str(), Unit::Inch), (row.metric.as_str(), Unit::Mm)]
                .into_iter()
                .any(|(text, unit)| Length::parse(text, unit).is_ok_and(|own| own == size))
        };
        HOLDERS.rows.iter().position(|row| is_meant(row)).map(Self)
    }

    /// The rivet by whose diameter it goes.
    ///
    /// # Panics
    /// When the embedded table is broken: a fault of the program.
    #[must_use]
    pub fn rivet(self) -> Length {
        Length::parse(&HOLDERS.rows[self.0].rivet, Unit::Inch).expect("sheet_holder.toml gives the rivet as a size")
    }

    /// The size as a shop of this unit calls it: `1/8 in`, `3.2 mm`.
    #[must_use]
    pub fn name(self, unit: Unit) -> String {
        let row = &HOLDERS.rows[self.0];
        match unit {
            Unit::Inch => format!("{} in", row.rivet),
            Unit::Mm => format!("{} mm", row.metric),
        }
    }
}
