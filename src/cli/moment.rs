//! The moment for which a page is planned: typed, or read from the clock.

use anyhow::{Result, anyhow};

use super::Console;
use super::clock::clock;
use crate::units::{Moment, When};

/// The moment typed, as `2026-03-02T18:00` or a date alone, which means its first minute; else now.
pub(super) fn moment(typed: Option<&str>, console: &mut Console) -> Result<Moment> {
    match typed {
        Some(text) => Ok(When::parse(text).map_err(|fault| anyhow!("--now: {fault}"))?.earliest),
        None => clock(console),
    }
}
