//! What a shop has to work with: drills, sheets, rivets; what its owner says, else what a shop of its unit usually has.
//!
//! It proposes from what there is. It judges nothing: a size that the shop lacks is as right as one that it has.

use std::sync::LazyLock;

use serde::Deserialize;

use super::Fastener;
use super::fastener::{holes_for, usual_hole};
use super::hole::ListedHole;
use super::limit;
use super::rivet::RIVET_DASHES;
use super::sheet::{metric_sheets, standard_sheets};
use super::source::Graded;
use super::table::{self, Table};
use crate::units::{Length, NamedDrills, Size, Unit};

/// What one shop has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Shop {
    unit: Unit,
    /// Drills that the owner names, smallest first; empty where he names none.
    drills: Vec<Size>,
    /// Sheets that the owner names, thinnest first.
    sheets: Vec<Length>,
    /// Rivets that the owner names, smallest first.
    rivets: Vec<Length>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    shop: String,
    #[serde(deserialize_with = "table::length")]
    pilot: Length,
    #[serde(default, deserialize_with = "table::lengths")]
    rivet: Vec<Length>,
    #[serde(default, deserialize_with = "table::some_length")]
    step: Option<Length>,
    #[serde(default, deserialize_with = "table::lengths")]
    drill: Vec<Length>,
}

static SHOPS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("shop"));

/// How far a rivet's names in inches and millimetres may lie apart: 3.2 mm is the 1/8 in rivet.
const SAME_RIVET: Length = Length::from_microns(50);

impl Shop {
    /// The usual shop of a unit.
    #[must_use]
    pub const fn usual(unit: Unit) -> Self {
        Self { unit, drills: Vec::new(), sheets: Vec::new(), rivets: Vec::new() }
    }

    /// A shop of which the owner says what it has; an empty list says nothing.
    #[must_use]
    pub fn of(unit: Unit, mut drills: Vec<Size>, mut sheets: Vec<Length>, mut rivets: Vec<Length>) -> Self {
        drills.sort();
        sheets.sort();
        rivets.sort();
        Self { unit, drills, sheets, rivets }
    }

    fn row(&self) -> &'static Row {
        let word = match self.unit {
            Unit::Inch => "inch",
            Unit::Mm => "mm",
        };
        SHOPS.rows.iter().find(|row| row.shop == word).expect("shop.toml has a row for each unit")
    }

    /// Drills that print by their names: what is owned, else those of the trade of the unit.
    #[must_use]
    pub fn named_drills(&self) -> NamedDrills {
        match (self.unit, self.drills.is_empty()) {
            (Unit::Inch, true) => NamedDrills::Every,
            _ => NamedDrills::Only(self.drills.iter().filter_map(|drill| drill.drill).collect()),
        }
    }

    /// The drill for pilot holes: the usual one, else the largest that is not above it, else the smallest.
    #[must_use]
    pub fn pilot(&self) -> Size {
        let usual = Size::plain(self.row().pilot);
        let below = self.drills.iter().rfind(|drill| **drill <= usual);
        below.or(self.drills.first()).copied().unwrap_or(usual)
    }

    /// The drill before a reamer of this size, where there is one.
    #[must_use]
    pub fn under(&self, reamed: Length) -> Option<Size> {
        let left = match self.unit {
            Unit::Inch => limit::reamer_takes(),
            Unit::Mm => limit::reamer_takes_metric(),
        };
        let most = reamed - left.value;
        if !self.drills.is_empty() {
            return self.drills.iter().rfind(|drill| drill.length <= most).copied();
        }
        // Fractions in an inch shop: a number drill beside a reamer is easily taken for it.
        let step = self.row().step.unwrap_or(Length::from_64ths(1));
        let under = most.down_to(step);
        (under > Length::ZERO).then_some(Size::plain(under))
    }

    /// The drill of the shop for a hole: what was chosen, if the shop has it, else the nearest accepted size that it has.
    #[must_use]
    pub fn drill_for(&self, holes: &[ListedHole], chosen: Graded<Size>) -> Graded<Size> {
        let has = |size: Length| self.drills.iter().any(|drill| drill.length == size);
        if (self.drills.is_empty() && self.unit == Unit::Inch) || has(chosen.value.length) {
            return chosen;
        }
        let accepted = |drill: Size| {
            let rows = holes.iter().filter(|hole| hole.accepts(drill.length));
            rows.min_by_key(|hole| hole.basis.sureness).map(|hole| Graded { value: drill, basis: hole.basis.clone() })
        };
        let far = |found: &Graded<Size>| found.value.length.distance(chosen.value.length);
        self.drills_near(chosen.value.length).into_iter().filter_map(accepted).min_by_key(far).unwrap_or(chosen)
    }

    /// The size to drill where the drawing gives none, in a hole that is delivered as `start`: a drill of the shop where the
    /// tables accept one.
    #[must_use]
    pub fn usual_hole(&self, fastener: &Fastener, start: Option<Length>) -> Option<Graded<Size>> {
        let usual = usual_hole(fastener, start)?;
        let is_start = start == Some(usual.value.length);
        Some(if is_start { usual } else { self.drill_for(&holes_for(fastener), usual) })
    }

    /// Drills that could stand for a size: the owner's, else the two steps beside it.
    fn drills_near(&self, size: Length) -> Vec<Size> {
        let Some(step) = self.row().step.filter(|_| self.drills.is_empty()) else { return self.drills.clone() };
        let ends = (self.row().drill.first().copied(), self.row().drill.last().copied());
        let inside = |drill: &Length| matches!(ends, (Some(from), Some(to)) if (from..=to).contains(drill));
        [size.down_to(step), size.up_to(step)].into_iter().filter(inside).map(Size::plain).collect()
    }

    /// Diameters of rivets, smallest first.
    #[must_use]
    pub fn rivets(&self) -> Vec<Length> {
        if self.rivets.is_empty() { self.usual_rivets() } else { self.rivets.clone() }
    }

    /// Those of the standards in an inch shop, the metric ones in a metric one.
    fn usual_rivets(&self) -> Vec<Length> {
        match self.unit {
            Unit::Inch => RIVET_DASHES.into_iter().map(Length::from_32nds).collect(),
            Unit::Mm => self.row().rivet.clone(),
        }
    }

    /// The next larger rivet, of the owner's or, beyond his largest, of the usual ones.
    #[must_use]
    pub fn next_rivet(&self, diameter: Length) -> Option<Length> {
        let larger = |rivet: &&Length| **rivet > diameter + SAME_RIVET;
        self.rivets().into_iter().chain(self.usual_rivets()).find(|rivet| larger(&rivet))
    }

    /// Thicknesses of sheets, thinnest first: the owner's, else those of the standards of the unit.
    #[must_use]
    pub fn sheets(&self) -> Vec<Length> {
        match (self.sheets.is_empty(), self.unit) {
            (false, _) => self.sheets.clone(),
            (true, Unit::Inch) => standard_sheets().collect(),
            (true, Unit::Mm) => metric_sheets().collect(),
        }
    }

    /// Sheets next to a thickness, below and above.
    #[must_use]
    pub fn sheets_beside(&self, thickness: Length) -> (Option<Length>, Option<Length>) {
        let sheets = self.sheets();
        let below = sheets.iter().rfind(|sheet| **sheet < thickness).copied();
        (below, sheets.iter().find(|sheet| **sheet > thickness).copied())
    }

    /// Whether the owner names this sheet.
    #[must_use]
    pub fn has_sheet(&self, thickness: Length) -> bool {
        self.sheets.contains(&thickness)
    }
}

/// Whether two diameters name the same rivet, in inches and in millimetres.
#[must_use]
pub fn is_same_rivet(one: Length, other: Length) -> bool {
    one.distance(other) <= SAME_RIVET
}
