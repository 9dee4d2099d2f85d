//! Single shear of driven rivets, its loss in thin sheet, and rivets per inch of the circular.
//!
//! The values serve comparison and the calculators; they are not an analysis of a joint.

use std::sync::LazyLock;

use serde::Deserialize;

use super::head::Head;
use super::rivet::SolidRivet;
use super::sheet::modern_sheet;
use super::source::{Basis, Graded, Sureness};
use super::table::{self, Table};
use crate::units::{Length, Ratio, Style};
use crate::words::Preparation;

/// Columns of the shear and thin-sheet tables, in 1/32 in.
const SHEAR_DASHES: [u16; 6] = [2, 3, 4, 5, 6, 8];
/// Columns of the rivets-per-inch tables, in 1/32 in; a last column is for AN3 bolts.
const COUNT_DASHES: [u16; 5] = [3, 4, 5, 6, 8];

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ShearRow {
    letters: Vec<String>,
    #[allow(dead_code, reason = "kept for the reader of the table and its tests")]
    driven: String,
    #[allow(dead_code, reason = "kept for the reader of the table and its tests")]
    ksi: i64,
    pounds: Vec<i64>,
    #[serde(default = "yes")]
    used: bool,
}

const fn yes() -> bool {
    true
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ThinRow {
    #[serde(deserialize_with = "table::length")]
    sheet: Length,
    factors: Vec<i64>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct CountRow {
    table: String,
    #[serde(deserialize_with = "table::length")]
    sheet: Length,
    tenths: Vec<i64>,
    /// How sure the last column is, where it is not as sure as its row.
    #[serde(default)]
    bolt_sureness: Option<Sureness>,
}

static SHEAR: LazyLock<Table<ShearRow>> = LazyLock::new(|| table::read("single_shear"));
static THIN: LazyLock<Table<ThinRow>> = LazyLock::new(|| table::read("thin_sheet"));
static COUNTS: LazyLock<Table<CountRow>> = LazyLock::new(|| table::read("rivets_per_inch"));

fn column(dashes: &[u16], diameter: Length) -> Option<usize> {
    dashes.iter().position(|dash| Length::from_32nds(*dash) == diameter)
}

/// Ultimate single shear of a driven rivet in full-value sheet, in pounds.
#[must_use]
pub fn single_shear(rivet: &SolidRivet) -> Option<Graded<i64>> {
    let letter = &rivet.alloy?.letter;
    let row = SHEAR.rows.iter().find(|row| row.used && row.letters.contains(letter))?;
    let value = *row.pounds.get(column(&SHEAR_DASHES, rivet.diameter)?)?;
    Some(row.graded(value))
}

/// Ultimate single shear of a flush rivet in a prepared sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FlushShear {
    /// In pounds.
    pub pounds: i64,
    /// The sheet for which it is listed; a thicker one carries no less.
    pub sheet: Length,
    /// Whether the page calls the countersink a knife edge in this sheet and advises against it.
    pub knife_edge: bool,
}

/// Ultimate single shear of a flush 2117-T4 rivet in a dimpled or countersunk sheet of 2024-T3: of the thickest sheet
/// that is listed and is not above this one.
#[must_use]
pub fn flush_shear_in(rivet: &SolidRivet, sheet: Length, preparation: Preparation) -> Option<Graded<FlushShear>> {
    let listed = rivet.head == Head::Flush100 && rivet.alloy.is_some_and(|alloy| alloy.letter == "AD");
    let rows = FLUSH
        .rows
        .iter()
        .filter(|row| listed && Length::from_32nds(row.dash) == rivet.diameter && row.sheet <= modern_sheet(sheet));
    let found = rows.filter_map(|row| {
        let pounds = if preparation == Preparation::Dimple { row.dimpled } else { row.countersunk };
        let knife_edge = row.knife_edge && preparation != Preparation::Dimple;
        Some(row.graded(FlushShear { pounds: pounds?, sheet: row.sheet, knife_edge }))
    });
    found.max_by_key(|found| found.value.sheet)
}

/// What is listed of flush rivets, in words: diameters with their sheets.
#[must_use]
pub fn flush_shear_listed(style: &Style) -> String {
    let mut dashes: Vec<u16> = FLUSH.rows.iter().map(|row| row.dash).collect();
    dashes.dedup();
    let one = |dash: &u16| {
        let rows = || FLUSH.rows.iter().filter(|row| row.dash == *dash);
        let sheets: Vec<String> = rows().map(|row| style.number(row.sheet)).collect();
        let alone = if rows().all(|row| row.countersunk.is_none()) { " dimpled" } else { "" };
        format!(
            "{} rivets in sheet of {} {}{alone}",
            style.rivet(Length::from_32nds(*dash)),
            sheets.join(", "),
            style.word()
        )
    };
    dashes.iter().map(one).collect::<Vec<_>>().join("; ")
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct FlushRow {
    dash: u16,
    #[serde(deserialize_with = "table::length")]
    sheet: Length,
    #[serde(default)]
    countersunk: Option<i64>,
    #[serde(default)]
    dimpled: Option<i64>,
    #[serde(default)]
    knife_edge: bool,
}

static FLUSH: LazyLock<Table<FlushRow>> = LazyLock::new(|| table::read("flush_strength"));

/// Factor on single shear where the thinner sheet is thin for the rivet (t / D below .33): one where the table
/// asks for none, `None` below the table's thinnest value.
///
/// Between two rows the thinner one counts.
#[must_use]
pub fn thin_sheet_factor(diameter: Length, sheet: Length) -> Option<Graded<Ratio>> {
    let column = column(&SHEAR_DASHES, diameter)?;
    let row = THIN.rows.iter().rev().find(|row| row.sheet <= modern_sheet(sheet))?;
    let factor = *row.factors.get(column)?;
    (factor > 0).then(|| row.graded(Ratio(factor)))
}

/// Single shear with the thin-sheet factor, rounded down to a pound.
#[must_use]
pub fn single_shear_in(rivet: &SolidRivet, sheet: Length) -> Option<Graded<i64>> {
    let (full, factor) = (single_shear(rivet)?, thin_sheet_factor(rivet.diameter, sheet)?);
    Some(Graded { value: full.value * factor.value.0 / 1_000, basis: full.basis })
}

/// Which of the circular's tables counts rivets for an alloy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CountTable {
    /// Table 4-9: bare 2014-T6, 2024-T3, 7075-T6 and clad of the same. The larger count of the two that list clad 2024-T3.
    T4_9,
    /// Table 4-10: 2017 and clad 2024-T3.
    T4_10,
    /// Table 4-11: 5052.
    T4_11,
}

impl CountTable {
    const fn word(self) -> &'static str {
        match self {
            Self::T4_9 => "4-9",
            Self::T4_10 => "4-10",
            Self::T4_11 => "4-11",
        }
    }

    /// The table for an alloy, where one of the three names it.
    #[must_use]
    pub fn of(alloy: &str) -> Option<Self> {
        let has = |number: &str| alloy.contains(number);
        if has("2024") || has("7075") || has("2014") {
            Some(Self::T4_9)
        } else if has("2017") {
            Some(Self::T4_10)
        } else {
            has("5052").then_some(Self::T4_11)
        }
    }
}

/// Rivets (2117-T4, protruding) per inch of width, in tenths, in a single-lap joint.
#[must_use]
pub fn rivets_per_inch(table: CountTable, sheet: Length, diameter: Length) -> Option<Graded<i64>> {
    let row =
        COUNTS.rows.iter().find(|row| row.table == table.word() && modern_sheet(row.sheet) == modern_sheet(sheet))?;
    let tenths = *row.tenths.get(column(&COUNT_DASHES, diameter)?)?;
    (tenths > 0).then(|| row.graded(tenths))
}

/// AN3 bolts per inch of width, in tenths, in a single-lap joint.
#[must_use]
pub fn bolts_per_inch(table: CountTable, sheet: Length) -> Option<Graded<i64>> {
    let row =
        COUNTS.rows.iter().find(|row| row.table == table.word() && modern_sheet(row.sheet) == modern_sheet(sheet))?;
    let tenths = row.tenths.last().copied().filter(|tenths| *tenths > 0)?;
    let graded = row.graded(tenths);
    let sureness = row.bolt_sureness.unwrap_or(graded.basis.sureness);
    Some(Graded { basis: Basis { sureness, ..graded.basis }, ..graded })
}

/// Rivets for a width: the full count rounded up, then a per cent of it rounded up (Figure 4-20 of the circular).
#[must_use]
pub fn rivets_for_width(tenths_per_inch: i64, width: Length, per_cent: i64) -> i64 {
    let inch = i128::from(Length::from_mils(1_000).nm());
    let full = ceiling(i128::from(tenths_per_inch) * i128::from(width.nm()), 10 * inch);
    let part = ceiling(full * i128::from(per_cent), 100);
    // More than can be counted is the most that can be.
    i64::try_from(part).unwrap_or(i64::MAX)
}

const fn ceiling(top: i128, bottom: i128) -> i128 {
    (top + bottom - 1).div_euclid(bottom)
}
