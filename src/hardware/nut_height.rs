//! Heights of metric nuts by document and thread.
//!
//! It stands beside the nuts because a bolt asks it too; it knows neither.

use std::sync::LazyLock;

use serde::Deserialize;

use super::source::Graded;
use super::table::{self, Table};
use super::thread::Thread;
use crate::units::Length;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    number: String,
    thread: String,
    #[serde(deserialize_with = "table::length")]
    least: Length,
    #[serde(deserialize_with = "table::length")]
    most: Length,
}

static HEIGHTS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("iso_nut_height"));

/// Least and greatest height of a nut.
pub(super) fn nut_height(number: &str, thread: &Thread) -> Option<Graded<(Length, Length)>> {
    let row = HEIGHTS.rows.iter().find(|row| row.number == number && row.thread == thread.name)?;
    Some(row.graded((row.least, row.most)))
}

/// The greatest height of any listed nut of a thread: what a bolt must reach through where its nut is not known.
pub(super) fn highest_nut(thread: &Thread) -> Option<Length> {
    HEIGHTS.rows.iter().filter(|row| row.thread == thread.name).map(|row| row.most).max()
}
