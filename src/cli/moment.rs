//! The moment for which a page is planned: typed, or read from the clock.
//!
//! The only place that reads the clock. It knows no time zones: without a typed moment the clock's own zone is used, UTC.

use anyhow::{Result, anyhow};

use super::Console;
use crate::units::{Moment, When};

/// The moment typed, as `2026-03-02T18:00` or a date alone, which means its first minute; else now.
pub(super) fn moment(typed: Option<&str>, console: &mut Console) -> Result<Moment> {
    if let Some(text) = typed {
        return Ok(When::parse(text).map_err(|fault| anyhow!("--now: {fault}"))?.earliest);
    }
    console.complain("no --now is given: the clock is read in UTC, so hours of a cure may be off by your time zone");
    clock()
}

/// What the clock says, in UTC.
pub(super) fn clock() -> Result<Moment> {
    // The one place where a page may depend on the clock; with --now the same input gives the same bytes.
    #[allow(clippy::disallowed_methods)]
    let since = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH)?;
    Ok(Moment::from_minutes(i64::try_from(since.as_secs() / 60)?))
}
