//! Whether the next larger rivet would still have its edge distance: the one place where that is computed.
//!
//! It answers from the spec's numbers and the tables. Whether a hole may be opened at all is for the plans to say.

use super::Joint;
use crate::hardware::{Fastener, Shop, limit, next_larger_rivet, reaches};
use crate::units::{Length, Ratio};

/// What the next larger rivet needs of the edge.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Room {
    /// Diameter of the next larger rivet.
    pub next: Length,
    /// The multiple of it that is asked for: the plans', else the table's.
    pub ratio: Ratio,
    /// Least edge distance.
    pub needed: Length,
}

impl Room {
    /// Whether an edge distance is enough, give or take the slack of every edge check.
    #[must_use]
    pub fn is_enough(&self, edge: Length) -> bool {
        reaches(edge, self.needed)
    }
}

impl Joint {
    /// The multiple of the diameter that an edge distance must reach: the plans' own outranks the table.
    #[must_use]
    pub fn edge_ratio(&self) -> Ratio {
        let plans = self.limits.as_ref().and_then(|limits| limits.edge);
        plans.map_or(limit::rivet_edge().value, |ratio| ratio.value)
    }

    /// Diameter of the next larger rivet; nothing for what is no rivet, and beyond the largest.
    #[must_use]
    pub fn next_rivet(&self) -> Option<Length> {
        self.next
    }

    /// The next larger rivet of the same standard, else of the shop.
    pub(super) fn find_next(fastener: &Fastener, shop: &Shop) -> Option<Length> {
        match fastener {
            Fastener::SolidRivet(rivet) if rivet.call.kit.is_none() => next_larger_rivet(rivet.diameter),
            Fastener::SolidRivet(rivet) => shop.next_rivet(rivet.diameter),
            Fastener::BlindRivet(rivet) if rivet.is_of_inch_series() => next_larger_rivet(rivet.diameter),
            Fastener::BlindRivet(rivet) => shop.next_rivet(rivet.diameter),
            _ => None,
        }
    }

    /// What the next larger rivet needs, where there is one.
    #[must_use]
    pub fn room_for_next(&self) -> Option<Room> {
        let next = self.next_rivet()?;
        let ratio = self.edge_ratio();
        Some(Room { next, ratio, needed: next.times(ratio) })
    }

    /// The smallest edge distance that is given.
    #[must_use]
    pub fn least_edge(&self) -> Option<Length> {
        self.edge.iter().map(|edge| edge.value).min()
    }
}
