//! Spare rivets: how many more than are set.
//!
//! A bolt is not driven twice and gets none.

/// Extra rivets are never fewer than this: driving spoils a few (common practice).
const FEWEST_SPARE: u32 = 5;

/// The project's per cent rounded up, and at least five.
pub(super) fn spare_of(total: u32, per_cent: u32) -> u32 {
    let share = (u64::from(total) * u64::from(per_cent)).div_ceil(100);
    // More than can be counted is the most that can be.
    u32::try_from(share).unwrap_or(u32::MAX).max(FEWEST_SPARE)
}
