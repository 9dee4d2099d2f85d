//! How near to an edge and to each other fasteners may stand, as multiples of the diameter.
//!
//! It gives the limits of the published tables; limits of the plans outrank them and are not known here.

use super::head::Head;
use super::limit;
use super::source::Graded;
use crate::units::{Length, Ratio};

/// A multiple of the diameter below which it is an error, and one below which it is doubtful; equal where the sources
/// know one only.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeastMultiple {
    /// The least that any source accepts.
    pub least: Graded<Ratio>,
    /// The least that is recommended.
    pub recommended: Graded<Ratio>,
}

/// The two multiples as lengths for one diameter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeastDistance {
    /// The least that any source accepts.
    pub least: Graded<Length>,
    /// The least that is recommended.
    pub recommended: Graded<Length>,
}

impl LeastMultiple {
    fn of(least: &Graded<Ratio>, recommended: &Graded<Ratio>) -> Self {
        Self { least: least.clone(), recommended: recommended.clone() }
    }

    /// What the multiples are for a diameter.
    #[must_use]
    pub fn at(&self, d: Length) -> LeastDistance {
        LeastDistance { least: self.least.at(d), recommended: self.recommended.at(d) }
    }
}

impl Graded<Ratio> {
    /// What the multiple is for a diameter, on the same basis.
    #[must_use]
    pub fn at(&self, d: Length) -> Graded<Length> {
        Graded { value: d.times(self.value), basis: self.basis.clone() }
    }
}

/// From the centre of a rivet's hole to the edge of a sheet; more is recommended for a flush head.
#[must_use]
pub fn rivet_edge(head: Head) -> LeastMultiple {
    let least = limit::rivet_edge();
    LeastMultiple::of(least, if head.is_flush() { limit::flush_rivet_edge() } else { least })
}

/// From the centre of a bolt's hole to the edge of a sheet.
#[must_use]
pub fn bolt_edge() -> LeastMultiple {
    LeastMultiple::of(limit::bolt_edge(), limit::bolt_edge_preferred())
}

/// From rivet to rivet in a row, by the number of rows.
#[must_use]
pub fn rivet_pitch(rows: u32) -> &'static Graded<Ratio> {
    match rows {
        0 | 1 => limit::pitch_in_one_row(),
        2 => limit::pitch_in_two_rows(),
        _ => limit::pitch_in_more_rows(),
    }
}

/// From row to row of rivets: as one source draws it, and as another demands.
#[must_use]
pub fn rivet_row_gap() -> LeastMultiple {
    LeastMultiple::of(limit::row_gap(), limit::row_gap_wanted())
}
