//! Screw threads by name, and the codes that part numbers use for them.
//!
//! It knows which threads are equal; it does not know which bolt or nut is meant to go where.

use std::sync::LazyLock;

use serde::Deserialize;

use super::table::{self, Table};
use crate::units::Length;

/// A screw thread.
#[derive(Debug, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Thread {
    /// Name: `10-32`, `1/4-28`.
    pub name: String,
    /// Nominal diameter.
    #[serde(deserialize_with = "table::length")]
    pub diameter: Length,
    /// Threads per inch.
    pub per_inch: u16,
    /// Code in numbers such as AN365-1032.
    code: String,
    /// Code in numbers such as AN310-3.
    #[serde(default)]
    sixteenths: Option<u16>,
    /// Code in numbers such as MS21042-08.
    #[serde(default)]
    number_code: Option<String>,
}

static THREADS: LazyLock<Table<Thread>> = LazyLock::new(|| table::read("thread"));

/// Every thread of the tables.
pub fn threads() -> impl Iterator<Item = &'static Thread> {
    THREADS.rows.iter().map(|row| &row.row)
}

/// The thread of a name, as in `10-32` or `1/4-28`, also written `AN3` style sizes excluded.
#[must_use]
pub fn thread(name: &str) -> Option<&'static Thread> {
    let wanted = name.trim().trim_start_matches('#');
    threads().find(|thread| thread.name == wanted)
}

pub(super) fn thread_of_code(code: &str) -> Option<&'static Thread> {
    threads().find(|thread| thread.code == code)
}

/// The fine thread of a size in 1/16 in (`3` is 10-32), or a number screw with a leading zero (`08`).
pub(super) fn thread_of_sixteenths(code: &str) -> Option<&'static Thread> {
    let by_number = threads().find(|thread| thread.number_code.as_deref() == Some(code));
    by_number.or_else(|| threads().find(|thread| thread.sixteenths.is_some_and(|n| n.to_string() == code)))
}

impl Thread {
    /// The distance of one thread, rounded to the nearest nanometre.
    #[must_use]
    pub fn pitch(&self) -> Length {
        Length::from_mils(1_000).fraction(1, i64::from(self.per_inch))
    }

    /// Size in 1/16 in where part numbers count it so: 3 for 10-32.
    #[must_use]
    pub const fn sixteenths(&self) -> Option<u16> {
        self.sixteenths
    }

    /// Code in numbers such as AN365-1032.
    #[must_use]
    pub fn code(&self) -> &str {
        &self.code
    }

    /// Code in numbers such as MS21042-3 or MS21042-08.
    #[must_use]
    pub fn short_code(&self) -> Option<String> {
        self.number_code.clone().or_else(|| self.sixteenths.map(|n| n.to_string()))
    }
}
