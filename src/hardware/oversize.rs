//! How many holes of one pattern may be saved by a larger rivet before the pattern is a matter for its designer.
//!
//! It gives the published limit. It does not know how many there are already: the builder's ledger of past repairs does.

use super::limit;
use super::source::Graded;

/// The most oversize holes and countersink repairs together in one pattern of `rivets`: a share of them or a count,
/// whichever is less.
#[must_use]
pub fn most_oversize(rivets: u32) -> Graded<u32> {
    let most = limit::oversize_most();
    let share = u64::from(rivets) * u64::from(limit::oversize_share().value) / 100;
    let value = u32::try_from(share).map_or(most.value, |share| share.min(most.value));
    Graded { value, basis: most.basis.clone() }
}
