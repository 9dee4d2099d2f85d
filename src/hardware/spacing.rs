//! How near to an edge and to each other fasteners may stand, as multiples of the diameter.
//!
//! It gives the limits of the published tables; limits of the plans outrank them and are not known here.

use super::Head;
use super::source::{Graded, Sureness};
use crate::units::{Length, Ratio};

/// A distance below which it is an error, and one below which it is doubtful; equal where the sources know one only.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeastDistance {
    /// The least that any source accepts.
    pub least: Graded<Length>,
    /// The least that is recommended.
    pub recommended: Graded<Length>,
}

impl LeastDistance {
    fn of(d: Length, least: (i64, &'static str, Sureness), recommended: (i64, &'static str, Sureness)) -> Self {
        let times = |(thousandths, key, sureness)| Graded::published(d.times(Ratio(thousandths)), key, sureness);
        Self { least: times(least), recommended: times(recommended) }
    }
}

/// From the centre of a rivet's hole to the edge of a sheet: 2 D, 2.5 D recommended for a flush head.
#[must_use]
pub fn rivet_edge(d: Length, head: Head) -> LeastDistance {
    let least = (2_000, "AC-4-57c", Sureness::B);
    LeastDistance::of(d, least, if head.is_flush() { (2_500, "FAA-HB", Sureness::B) } else { least })
}

/// From the centre of a bolt's hole to the edge of a sheet: 1.5 D, 2 D preferred.
#[must_use]
pub fn bolt_edge(d: Length) -> LeastDistance {
    LeastDistance::of(d, (1_500, "TM-BD74", Sureness::A), (2_000, "TM-BD74", Sureness::A))
}

/// From rivet to rivet in a row: 3 D, 4 D in each of two rows.
#[must_use]
pub fn rivet_pitch(d: Length, rows: u32) -> Graded<Length> {
    let (thousandths, key, sureness) = match rows {
        0 | 1 => (3_000, "AC-4-57c", Sureness::B),
        // 40 rivets of 1/8 in two rows over 10 in: the example of AC 43.13-1B, par. 4-58g.
        2 => (4_000, "AC-F4-5", Sureness::ACalc),
        _ => (3_000, "AC-F4-5", Sureness::B),
    };
    Graded::published(d.times(Ratio(thousandths)), key, sureness)
}

/// From row to row of rivets: 2 D as one source draws it, 2.5 D as another demands.
#[must_use]
pub fn rivet_row_gap(d: Length) -> LeastDistance {
    LeastDistance::of(d, (2_000, "TM-303", Sureness::A), (2_500, "TM-229", Sureness::A))
}
