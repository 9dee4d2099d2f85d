//! Times: typed on the command line, or read from the clock of whoever runs the program.
//!
//! The only place that reads a clock. The time zone is the system's, or that of the variable `TZ`; records and pages carry
//! local times without a zone, as people write them.

use anyhow::{Context, Result, anyhow};
use jiff::Timestamp;
use jiff::tz::TimeZone;

use super::Console;
use crate::calendar::{Day, Moment, When};

/// Now, by local time; where the system names no time zone, by UTC, and that is said.
pub(super) fn system_time(console: &mut Console) -> Result<Moment> {
    let zone = TimeZone::try_system().unwrap_or_else(|fault| {
        console.complain(&format!("the system names no time zone, so the clock is read in UTC ({fault})"));
        TimeZone::UTC
    });
    // The one place where a page may depend on the clock; with a typed time the same input gives the same bytes.
    #[allow(clippy::disallowed_methods)]
    let now = zone.to_datetime(Timestamp::now());
    Moment::of(now).context("the clock shows a time that no calendar has")
}

/// The time typed, as `2026-03-02T18:00`, or now.
pub(super) fn entry_time(typed: Option<&str>, console: &mut Console) -> Result<Moment> {
    if let Some(text) = typed {
        return Moment::parse(text)
            .ok_or_else(|| anyhow!("--entered is `{text}`, expected a time such as 2026-03-02T18:00"));
    }
    // What is recorded carries the time of its entry; with --entered the same input gives the same records.
    let now = system_time(console)?;
    now.day().for_record().context("the clock shows a day outside the years that records have")?;
    console.note_clock(now);
    Ok(now)
}

/// The day that an option gives.
pub(super) fn typed_day(option: &str, text: &str) -> Result<Day> {
    Day::parse(text).ok_or_else(|| anyhow!("{option} is `{text}`, expected {}", Day::expected(text)))
}

/// The moment for which a page is planned: typed, as `2026-03-02T18:00` or a date alone, which means its first minute;
/// else now.
pub(super) fn page_time(typed: Option<&str>, console: &mut Console) -> Result<Moment> {
    match typed {
        Some(text) => Ok(When::parse(text).map_err(|fault| anyhow!("--now: {fault}"))?.earliest),
        None => system_time(console),
    }
}
