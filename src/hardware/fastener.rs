//! What every decoded number can be asked, whatever its family: call, diameter, head, thread, metal, holes.
//!
//! The answers are the families' own.

use super::Fastener;
use super::head::Head;
use super::hole::{self, ListedHole};
use super::kit::KitFastener;
use super::metal::Metal;
use super::source::{Basis, Graded};
use super::thread::Thread;
use crate::units::{Length, Size};

/// How the kinds of other hardware end that goes through layers.
const THROUGH: [&str; 4] = ["bolt", "screw", "rivet", "pin"];

impl Fastener {
    /// The part number as written.
    #[must_use]
    pub fn call(&self) -> &str {
        &self.common().call.text
    }

    /// The part number in its usual form: for totals and for comparing.
    #[must_use]
    pub fn usual_call(&self) -> &str {
        &self.common().call.usual
    }

    /// The kit's entry behind it, where no standard covers it.
    #[must_use]
    pub fn kit(&self) -> Option<&KitFastener> {
        self.common().call.kit.as_ref()
    }

    /// Nominal diameter of what goes into the hole, or of the thread; none where the number does not tell it.
    #[must_use]
    pub fn diameter(&self) -> Option<Length> {
        self.common().diameter
    }

    /// Shape of the manufactured head; protruding for hardware without one.
    #[must_use]
    pub fn head(&self) -> Head {
        self.common().head
    }

    /// Thread, for hardware that has one.
    #[must_use]
    pub fn thread(&self) -> Option<&'static Thread> {
        self.common().thread
    }

    /// Name of its thread: the table's, or as a kit's entry writes it.
    #[must_use]
    pub fn thread_name(&self) -> Option<&str> {
        let of_kit = || self.kit().and_then(|own| own.thread.as_deref());
        self.thread().map(|thread| thread.name.as_str()).or_else(of_kit)
    }

    /// Property class of a metric bolt or screw, as in `8.8`.
    #[must_use]
    pub fn property_class(&self) -> Option<&str> {
        match self {
            Self::Bolt(bolt) => bolt.class.as_deref(),
            other => other.kit().and_then(|own| own.property_class.as_deref()),
        }
    }

    /// What the thread rests on, where it is not the number itself that tells it.
    #[must_use]
    pub const fn thread_basis(&self) -> Option<&Basis> {
        match self {
            Self::Screw(screw) => screw.thread_basis.as_ref(),
            _ => None,
        }
    }

    /// Metal, where the number or the kit's entry tells it.
    #[must_use]
    pub fn metal(&self) -> Option<Metal> {
        self.common().metal
    }

    /// Whether it goes through the layers of a joint: a rivet, a bolt, a screw, a pin, or a nutplate, whose rivets do.
    #[must_use]
    pub fn goes_through(&self) -> bool {
        match self {
            Self::Nut(_) | Self::Washer(_) | Self::CotterPin(_) => false,
            Self::OtherPart(part) => THROUGH.iter().any(|kind| part.kind.ends_with(kind)),
            _ => true,
        }
    }

    /// Its kind as closely as the number tells it: `solid rivet`, `cable terminal`.
    #[must_use]
    pub fn noun(&self) -> &str {
        match self {
            Self::OtherPart(part) => &part.kind,
            other => other.kind_words(),
        }
    }

    /// Whether the call lacks the length or grip that it needs: a family and diameter alone.
    #[must_use]
    pub fn lacks_length(&self) -> bool {
        self.common().lacks_length
    }
}

/// Every listed hole for a fastener; empty for hardware that has none (nuts, washers, pins) or none listed.
#[must_use]
pub fn holes_for(fastener: &Fastener) -> Vec<ListedHole> {
    fastener.kit().map_or_else(|| fastener.holes(), hole::of_kit)
}

/// The size that the surest source gives.
#[must_use]
pub fn nominal_hole(fastener: &Fastener) -> Option<Graded<Size>> {
    hole::nominal(holes_for(fastener))
}

/// The size to drill where the drawing gives none, in a hole that is delivered as `start`.
#[must_use]
pub fn usual_hole(fastener: &Fastener, start: Option<Length>) -> Option<Graded<Size>> {
    hole::usual(&holes_for(fastener), start)
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
