//! Standard sheet, and old gauge numbers that mean the same sheet.
//!
//! It answers which thickness is meant; it does not say which sheet is strong enough.

use std::sync::LazyLock;

use serde::Deserialize;

use super::limit;
use super::source::Basis;
use super::table::{self, Table};
use crate::units::{Length, Unit};

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    #[serde(deserialize_with = "table::length")]
    thickness: Length,
    #[serde(default, deserialize_with = "table::some_length")]
    old: Option<Length>,
}

static SHEETS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("sheet"));
static METRIC: LazyLock<Table<Row>> = LazyLock::new(|| table::read("sheet_metric"));

/// Today's standard thickness of a sheet that may be named by its old gauge; other thicknesses are themselves.
#[must_use]
pub fn modern_sheet(thickness: Length) -> Length {
    SHEETS.rows.iter().find(|row| row.old == Some(thickness)).map_or(thickness, |row| row.thickness)
}

/// Whether two thicknesses name the same sheet: equal, or one the old gauge of the other.
#[must_use]
pub fn sheet_equivalent(one: Length, other: Length) -> bool {
    modern_sheet(one) == modern_sheet(other)
}

/// Whether a thickness is a standard sheet, today's, an old gauge or a metric one, or plate in whole steps.
#[must_use]
pub fn is_standard_sheet(thickness: Length) -> bool {
    let modern = modern_sheet(thickness);
    let step = limit::plate_step().value;
    let is_plate = thickness >= limit::plate_from().value && thickness.nm() % step.nm() == 0;
    is_plate || SHEETS.rows.iter().chain(&METRIC.rows).any(|row| row.thickness == modern)
}

/// Today's standard thicknesses, thinnest first.
pub fn standard_sheets() -> impl Iterator<Item = Length> {
    SHEETS.rows.iter().map(|row| row.thickness)
}

/// Metric thicknesses, thinnest first.
pub fn metric_sheets() -> impl Iterator<Item = Length> {
    METRIC.rows.iter().map(|row| row.thickness)
}

/// What the list of standard sheets of a unit rests on.
#[must_use]
pub fn sheet_basis(unit: Unit) -> Basis {
    match unit {
        Unit::Inch => SHEETS.basis.clone(),
        Unit::Mm => METRIC.basis.clone(),
    }
}
