//! Holes: every listed size for a fastener, each with its own source.
//!
//! Conflicting sources stay side by side; the nominal row is a flag, not a deletion.

use serde::Deserialize;

use super::kit::KitFastener;
use super::source::{Basis, Graded};
use super::table::{self, Sourced};
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
    /// Whether this is the size that the surest source gives.
    pub nominal: bool,
    /// Whether shops take this drill where the drawing gives none.
    pub usual: bool,
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
    #[serde(default)]
    usual: bool,
}

impl Sourced<HoleRow> {
    pub(super) fn listed(&self) -> ListedHole {
        ListedHole {
            size: self.size,
            low: self.low.unwrap_or(self.size.length),
            high: self.high.unwrap_or(self.size.length),
            nominal: self.nominal,
            usual: self.usual,
            basis: self.basis.clone(),
        }
    }
}

/// The holes that a kit gives for its own fastener.
pub(super) fn of_kit(own: &KitFastener) -> Vec<ListedHole> {
    let listed = |(low, high)| ListedHole {
        size: Size::plain(low),
        low,
        high,
        nominal: true,
        usual: false,
        basis: Basis::given(&own.source),
    };
    own.hole.map(listed).into_iter().collect()
}

/// The size that the surest source gives.
pub(super) fn nominal(holes: Vec<ListedHole>) -> Option<Graded<Size>> {
    holes.into_iter().find(|hole| hole.nominal).map(|hole| Graded { value: hole.size, basis: hole.basis })
}

/// The size to drill where the drawing gives none: the shop's usual drill, else the nominal size, if nothing larger is
/// there already; else the first accepted size that is not below what is there.
pub(super) fn usual(holes: &[ListedHole], start: Option<Length>) -> Option<Graded<Size>> {
    let graded = |hole: &ListedHole, size: Size| Graded { value: size, basis: hole.basis.clone() };
    let chosen = holes.iter().find(|hole| hole.usual).or_else(|| holes.iter().find(|hole| hole.nominal));
    let Some(start) = start.filter(|start| chosen.is_none_or(|chosen| chosen.size.length < *start)) else {
        return chosen.map(|hole| graded(hole, hole.size));
    };
    // A hole that is accepted as it is needs no other size.
    if let Some(hole) = holes.iter().find(|hole| hole.accepts(start)) {
        return Some(graded(hole, Size::plain(start)));
    }
    let larger = holes.iter().filter(|hole| hole.size.length >= start).min_by_key(|hole| hole.size.length);
    larger.or(chosen).map(|hole| graded(hole, hole.size))
}
