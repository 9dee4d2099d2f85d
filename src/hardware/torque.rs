//! Torque by thread and nut, the drag of a reused nut, and the setting of a wrench with an adapter.
//!
//! The table is for dry, oil-free, cadmium-plated threads and leaves out the nut's own drag.

use std::sync::LazyLock;

use serde::Deserialize;

use super::nut::NutDuty;
use super::source::Graded;
use super::table::{self, Table};
use super::thread::Thread;
use crate::units::{Length, Torque, TorqueRange};

/// Torque of the table for one thread and nut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TableTorque {
    /// Range for installation, without the nut's drag.
    pub install: TorqueRange,
    /// Never more than this, drag included.
    pub most: Torque,
    /// Whether the circular marks the range as estimated.
    pub estimated: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    thread: String,
    tension: (i64, i64),
    shear: (i64, i64),
    tension_most: i64,
    shear_most: i64,
    #[serde(default)]
    estimated: bool,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct DragRow {
    thread: String,
    #[serde(deserialize_with = "table::torque")]
    least: Torque,
}

static TORQUES: LazyLock<Table<Row>> = LazyLock::new(|| table::read("torque"));
static DRAGS: LazyLock<Table<DragRow>> = LazyLock::new(|| table::read("prevailing_torque"));

/// The table's torque for a thread and a nut's column.
#[must_use]
pub fn torque_for(thread: &Thread, duty: NutDuty) -> Option<Graded<TableTorque>> {
    let row = TORQUES.rows.iter().find(|row| row.thread == thread.name)?;
    let ((low, high), most, estimated) = match duty {
        NutDuty::Tension => (row.tension, row.tension_most, false),
        NutDuty::Shear => (row.shear, row.shear_most, row.estimated),
    };
    let pounds = Torque::from_inch_pounds;
    let install = TorqueRange { low: pounds(low), high: pounds(high) };
    Some(row.graded(TableTorque { install, most: pounds(most), estimated }))
}

/// Least prevailing (run-down) torque of a reused self-locking nut.
#[must_use]
pub fn prevailing_torque(thread: &Thread) -> Option<Graded<Torque>> {
    let row = DRAGS.rows.iter().find(|row| row.thread == thread.name)?;
    Some(row.graded(row.least))
}

/// Threads that Table 7-1 lists, in its order.
pub fn torque_threads() -> impl Iterator<Item = &'static str> {
    TORQUES.rows.iter().map(|row| row.thread.as_str())
}

/// What to set on a wrench of length `wrench` with an adapter that makes it longer by `adapter`: torque x L / (L + A).
///
/// An adapter that shortens the wrench is negative; one at a right angle to the handle changes nothing (A = 0).
/// `None` where wrench and adapter leave no lever.
#[must_use]
pub fn wrench_setting(torque: Torque, wrench: Length, adapter: Length) -> Option<Torque> {
    let lever = wrench + adapter;
    let sensible = wrench > Length::ZERO && lever > Length::ZERO;
    sensible.then(|| torque.fraction(wrench.nm(), lever.nm()))
}
