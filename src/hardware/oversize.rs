//! How many holes of one pattern may be saved by a larger rivet before the pattern is a matter for its designer.
//!
//! It gives the published limit. It does not know how many there are already: the builder's ledger of past repairs does.

use super::source::{Graded, Sureness};

/// Per cent of the rivets of one pattern, and the most in any pattern (M47196, as summarised).
const SHARE: u32 = 20;
const MOST: u32 = 10;

/// The most oversize holes and countersink repairs together in one pattern: 20 per cent of its rivets or 10, whichever is less.
#[must_use]
pub fn most_oversize(rivets: u32) -> Graded<u32> {
    let share = u32::try_from(u64::from(rivets) * u64::from(SHARE) / 100).unwrap_or(MOST);
    Graded::published(share.min(MOST), "M47196", Sureness::B)
}
