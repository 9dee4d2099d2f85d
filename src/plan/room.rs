//! ROOM: whether the next larger rivet would still have its edge distance: the one place where that is computed.
//!
//! It answers from the spec's numbers and the tables. Whether a hole may be opened at all is for the plans to say.

use crate::hardware::{Fastener, next_larger_rivet, nominal_hole, reaches};
use crate::job::Joint;
use crate::units::{Length, Ratio, Size};

/// The least without a limit of the plans: 2 D (AC 43.13-1B, par. 4-57c).
const LEAST_EDGE: Ratio = Ratio(2_000);

/// Edge distance at the next larger rivet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Room {
    /// Diameter of the next larger rivet.
    pub next: Length,
    /// The multiple that is asked for: the plans', else the table's.
    pub ratio: Ratio,
    /// The smallest edge distance of the joint.
    pub edge: Length,
    /// What the next larger rivet needs.
    pub needed: Length,
}

impl Room {
    /// Whether there is room, give or take the slack of every edge check.
    pub fn is_enough(&self) -> bool {
        reaches(self.edge, self.needed)
    }
}

/// The room of a joint, or why it is not judged.
pub(super) fn room(joint: &Joint) -> Result<Room, &'static str> {
    let Ok(Fastener::SolidRivet(_) | Fastener::BlindRivet(_)) = &joint.fastener else {
        return Err("ask before enlarging the hole of a bolt or screw");
    };
    let next = next_rivet(joint).ok_or("there is no larger rivet in the tables")?;
    let edge = joint.edge.iter().map(|edge| edge.value).min().ok_or("no edge distance is given")?;
    let ratio = edge_ratio(joint);
    Ok(Room { next, ratio, edge, needed: next.times(ratio) })
}

/// The multiple of the diameter that an edge distance must reach: the plans' own outranks the table.
pub(super) fn edge_ratio(joint: &Joint) -> Ratio {
    joint.limits.as_ref().and_then(|limits| limits.edge).map_or(LEAST_EDGE, |ratio| ratio.value)
}

/// Diameter of the next larger rivet, for a rivet.
pub(super) fn next_rivet(joint: &Joint) -> Option<Length> {
    match joint.fastener.as_ref().ok()? {
        Fastener::SolidRivet(rivet) => next_larger_rivet(rivet.diameter),
        Fastener::BlindRivet(rivet) => next_larger_rivet(rivet.diameter),
        _ => None,
    }
}

/// The next larger rivet and its hole; a kit's own rivet has no next size in any table.
pub(super) fn next_hole(joint: &Joint) -> Option<(Length, Size)> {
    let next = next_rivet(joint)?;
    let mut larger = joint.fastener.as_ref().ok().filter(|fastener| fastener.kit().is_none())?.clone();
    match &mut larger {
        Fastener::SolidRivet(rivet) => rivet.diameter = next,
        Fastener::BlindRivet(rivet) => rivet.diameter = next,
        _ => return None,
    }
    Some((next, nominal_hole(&larger)?.value))
}

/// A diameter as it is called: `5/32`, else in inches.
pub(super) fn size_name(diameter: Length) -> String {
    diameter.fraction_text().unwrap_or_else(|| diameter.inch_text())
}
