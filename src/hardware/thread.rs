//! Screw threads by name, inch and metric, and the codes that part numbers use for them.
//!
//! It knows which threads are equal; it does not know which bolt or nut is meant to go where.

use std::sync::LazyLock;

use serde::Deserialize;

use super::table::{self, Table};
use crate::units::Length;

/// A screw thread.
#[derive(Debug, PartialEq, Eq)]
pub struct Thread {
    /// Name: `10-32`, `1/4-28`, `M6`, `M8x1`.
    pub name: String,
    /// Nominal diameter.
    pub diameter: Length,
    /// Threads per inch; none of a metric thread.
    pub per_inch: Option<u16>,
    pitch: Length,
    code: String,
    sixteenths: Option<u16>,
    number_code: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct InchRow {
    name: String,
    #[serde(deserialize_with = "table::length")]
    diameter: Length,
    per_inch: u16,
    /// Code in numbers such as AN365-1032.
    code: String,
    /// Code in numbers such as AN310-3.
    #[serde(default)]
    sixteenths: Option<u16>,
    /// Code in numbers such as MS21042-08.
    #[serde(default)]
    number_code: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct MetricRow {
    name: String,
    #[serde(deserialize_with = "table::length")]
    diameter: Length,
    #[serde(deserialize_with = "table::length")]
    pitch: Length,
}

static THREADS: LazyLock<Vec<Thread>> = LazyLock::new(|| {
    let inch: Table<InchRow> = table::read("thread");
    let metric: Table<MetricRow> = table::read("thread_metric");
    let of_inch = |row: InchRow| Thread {
        // Rounded to the nearest nanometre.
        pitch: Length::from_mils(1_000).fraction(1, i64::from(row.per_inch)),
        name: row.name,
        diameter: row.diameter,
        per_inch: Some(row.per_inch),
        code: row.code,
        sixteenths: row.sixteenths,
        number_code: row.number_code,
    };
    let of_metric = |row: MetricRow| Thread {
        // Metric threads have no code: numbers write them by name.
        code: String::new(),
        name: row.name,
        diameter: row.diameter,
        per_inch: None,
        pitch: row.pitch,
        sixteenths: None,
        number_code: None,
    };
    let inch = inch.rows.into_iter().map(|row| of_inch(row.row));
    inch.chain(metric.rows.into_iter().map(|row| of_metric(row.row))).collect()
});

/// Every thread of the tables, inch threads first.
pub fn threads() -> impl Iterator<Item = &'static Thread> {
    THREADS.iter()
}

/// The thread of a name, as in `10-32`, `1/4-28`, `M6` or `M8x1`; the coarse pitch may be written too, as in `M6x1`.
#[must_use]
pub fn thread(name: &str) -> Option<&'static Thread> {
    let wanted = name.trim().trim_start_matches('#');
    threads().find(|thread| thread.name == wanted).or_else(|| metric_thread(wanted))
}

/// Whether two names are those of one thread: known ones by what they are, others as they are written, but for case and
/// blanks.
#[must_use]
pub fn same_thread(one: &str, other: &str) -> bool {
    match (thread(one), thread(other)) {
        (Some(one), Some(other)) => one.name == other.name,
        (None, None) => plain_name(one) == plain_name(other),
        _ => false,
    }
}

fn plain_name(name: &str) -> String {
    name.chars().filter(|c| !c.is_whitespace() && *c != '#').map(|c| c.to_ascii_uppercase()).collect()
}

/// A metric thread as people write it: any case, blanks, `x` or `×`, with or without the coarse pitch.
pub(super) fn metric_thread(name: &str) -> Option<&'static Thread> {
    let plain: String = name.chars().filter(|c| !c.is_whitespace()).map(|c| c.to_ascii_uppercase()).collect();
    let (diameter, pitch) = match plain.strip_prefix('M')?.split_once(['X', '×']) {
        Some((diameter, pitch)) => (diameter, Some(millimetres(pitch)?)),
        None => (plain.strip_prefix('M')?, None),
    };
    let diameter = millimetres(diameter)?;
    let metric = threads().filter(|thread| thread.per_inch.is_none() && thread.diameter == diameter);
    // The coarse thread of a diameter stands before its fine ones.
    metric.into_iter().find(|thread| pitch.is_none_or(|pitch| pitch == thread.pitch))
}

fn millimetres(text: &str) -> Option<Length> {
    let is_number =
        text.starts_with(|c: char| c.is_ascii_digit()) && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'.'));
    is_number.then(|| Length::parse(&format!("{text} mm"), crate::units::Unit::Mm).ok()).flatten()
}

pub(super) fn thread_of_code(code: &str) -> Option<&'static Thread> {
    threads().find(|thread| !code.is_empty() && thread.code == code)
}

/// The fine thread of a size in 1/16 in (`3` is 10-32), or a number screw with a leading zero (`08`).
pub(super) fn thread_of_sixteenths(code: &str) -> Option<&'static Thread> {
    let by_number = threads().find(|thread| thread.number_code.as_deref() == Some(code));
    by_number.or_else(|| threads().find(|thread| thread.sixteenths.is_some_and(|n| n.to_string() == code)))
}

impl Thread {
    /// The distance of one thread.
    #[must_use]
    pub const fn pitch(&self) -> Length {
        self.pitch
    }

    /// Whether it is a metric thread.
    #[must_use]
    pub const fn is_metric(&self) -> bool {
        self.per_inch.is_none()
    }

    /// Size in 1/16 in where part numbers count it so: 3 for 10-32.
    #[must_use]
    pub const fn sixteenths(&self) -> Option<u16> {
        self.sixteenths
    }

    /// Code in numbers such as AN365-1032; empty for a metric thread.
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
