//! The time of an entry: typed, or read from the clock, in UTC.
//!
//! It knows no time zones; an entry typed in the evening may carry the day after, which the archive allows for.

use anyhow::{Context, Result, anyhow};

use super::moment::clock;
use crate::archive::{Day, Moment};

const MINUTES_OF_DAY: i64 = 1440;

/// The moment typed, as `2026-03-02T18:00`, or now.
pub(super) fn entered(typed: Option<&str>) -> Result<Moment> {
    if let Some(text) = typed {
        return Moment::parse(text).ok_or_else(|| anyhow!("--entered is `{text}`, expected a time such as 2026-03-02T18:00"));
    }
    // What is recorded carries the time of its entry; with --entered the same input gives the same records.
    let now = clock()?;
    let day = Day::parse(&now.date_text()).context("the clock shows a day outside the years that records have")?;
    let minute = u16::try_from(now.minutes().rem_euclid(MINUTES_OF_DAY))?;
    Moment::new(day, minute / 60, minute % 60).context("a day has 24 hours of 60 minutes")
}

/// A day typed, or the day of a moment.
pub(super) fn day(typed: Option<&str>, entered: Moment) -> Result<Day> {
    match typed {
        Some(text) => Day::parse(text).ok_or_else(|| anyhow!("`{text}` is no day such as 2026-03-02")),
        None => Ok(entered.day),
    }
}
