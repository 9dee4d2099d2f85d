//! Holes: every listed size for a fastener, each with its own source.
//!
//! Conflicting sources stay side by side; the nominal row is a flag, not a deletion.

use std::sync::LazyLock;

use serde::Deserialize;

use super::source::{Basis, Graded};
use super::table::{self, Sourced, Table};
use super::{Bolt, Fastener, SolidRivet, blind, bolt};
use crate::units::{Length, Size};

/// One listed hole for a fastener.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ListedHole {
    /// The drill or nominal size as the source names it.
    pub size: Size,
    /// Smallest hole that the source accepts.
    pub low: Length,
    /// Largest hole that the source accepts.
    pub high: Length,
    /// Whether this is the size to drill where the drawing gives none.
    pub nominal: bool,
    /// What the row rests on.
    pub basis: Basis,
}

impl ListedHole {
    /// Whether a hole of this diameter is within the row.
    #[must_use]
    pub fn accepts(&self, hole: Length) -> bool {
        (self.low..=self.high).contains(&hole)
    }
}

/// A row of a hole table; `key` columns differ by family and stay with it.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct HoleRow {
    /// Diameter in 1/32 in, of rivets.
    #[serde(default)]
    pub(super) dash: u16,
    /// Diameter, of bolts.
    #[serde(default, deserialize_with = "table::some_length")]
    pub(super) diameter: Option<Length>,
    /// The numbers the row is for, where the table serves several.
    #[serde(default)]
    pub(super) series: Option<String>,
    #[serde(deserialize_with = "table::size")]
    size: Size,
    #[serde(default, deserialize_with = "table::some_length")]
    low: Option<Length>,
    #[serde(default, deserialize_with = "table::some_length")]
    high: Option<Length>,
    #[serde(default)]
    nominal: bool,
}

impl Sourced<HoleRow> {
    pub(super) fn listed(&self) -> ListedHole {
        ListedHole {
            size: self.size,
            low: self.low.unwrap_or(self.size.length),
            high: self.high.unwrap_or(self.size.length),
            nominal: self.nominal,
            basis: self.basis.clone(),
        }
    }
}

static SOLID: LazyLock<Table<HoleRow>> = LazyLock::new(|| table::read("solid_rivet_hole"));

/// Every listed hole for a fastener; empty for hardware that has none (nuts, washers, pins) or none listed.
#[must_use]
pub fn holes_for(fastener: &Fastener) -> Vec<ListedHole> {
    if let Some(own) = fastener.kit() {
        let basis = Basis::given(&own.source);
        return own
            .hole
            .map(|(low, high)| ListedHole { size: Size::plain(low), low, high, nominal: true, basis })
            .into_iter()
            .collect();
    }
    match fastener {
        Fastener::SolidRivet(rivet) => solid_rivet_holes(rivet.diameter),
        Fastener::BlindRivet(rivet) => blind::holes(rivet),
        Fastener::Bolt(bolt) => bolt_holes(bolt),
        Fastener::Screw(screw) => {
            screw.thread.map(|thread| bolt::holes_of_diameter(thread.diameter, "AN")).unwrap_or_default()
        }
        Fastener::Nut(_) | Fastener::Washer(_) | Fastener::CotterPin(_) | Fastener::Nutplate(_) => Vec::new(),
    }
}

fn bolt_holes(bolt: &Bolt) -> Vec<ListedHole> {
    bolt::holes_of_diameter(bolt.diameter, bolt.series.word())
}

/// Every listed hole for a solid rivet of a diameter.
#[must_use]
pub fn solid_rivet_holes(diameter: Length) -> Vec<ListedHole> {
    let rows = SOLID.rows.iter().filter(|row| Length::from_32nds(row.dash) == diameter);
    rows.map(Sourced::listed).collect()
}

/// The size to drill where the drawing gives none.
#[must_use]
pub fn nominal_hole(fastener: &Fastener) -> Option<Graded<Size>> {
    holes_for(fastener).into_iter().find(|hole| hole.nominal).map(|hole| Graded { value: hole.size, basis: hole.basis })
}

/// The smallest listed hole, with the surest source that lists it.
#[must_use]
pub fn smallest_hole(fastener: &Fastener) -> Option<Graded<Length>> {
    let holes = holes_for(fastener);
    let lowest = holes.into_iter().min_by_key(|hole| (hole.low, hole.basis.sureness))?;
    Some(Graded { value: lowest.low, basis: lowest.basis })
}

/// The largest listed hole, with the surest source that lists it.
#[must_use]
pub fn largest_hole(fastener: &Fastener) -> Option<Graded<Length>> {
    let holes = holes_for(fastener);
    let highest = holes.into_iter().max_by_key(|hole| (hole.high, std::cmp::Reverse(hole.basis.sureness)))?;
    Some(Graded { value: highest.high, basis: highest.basis })
}

impl SolidRivet {
    /// The size to drill where the drawing gives none.
    #[must_use]
    pub fn nominal_hole(&self) -> Option<Graded<Size>> {
        nominal_hole(&Fastener::SolidRivet(self.clone()))
    }
}
