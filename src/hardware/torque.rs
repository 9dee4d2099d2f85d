//! Torque by thread and nut, the drag of a reused nut, and the setting of a wrench with an adapter.
//!
//! The table is for dry, oil-free, cadmium-plated threads and leaves out the nut's own drag. Metric torques differ by more
//! than half between published tables, by class, nut and friction: the build's own entries say what they are for, and none
//! is judged by one that is for something else.

use std::sync::LazyLock;

use serde::Deserialize;

use super::Fastener;
use super::limit;
use super::nut::NutDuty;
use super::source::Graded;
use super::table::{self, Table};
use super::thread::{Thread, same_thread};
use crate::units::{Length, Torque, TorqueRange};
use crate::words::{Lubrication, TorqueNut};

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

/// A torque of the build's own, and what it is for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnTorque {
    /// Thread of the bolt.
    pub thread: String,
    /// Property class of the bolt; none: any.
    pub class: Option<String>,
    /// Kind of the nut; none: any, and a bolt without one.
    pub nut: Option<TorqueNut>,
    /// How the threads are.
    pub lubrication: Lubrication,
    /// The range.
    pub range: TorqueRange,
    /// Never more than this, where the source says so.
    pub most: Option<Torque>,
    /// Where it comes from.
    pub source: String,
}

/// What a joint asks of the build's torques.
#[derive(Debug)]
pub struct TorqueAsked<'a> {
    /// Thread of the bolt or screw, by name.
    pub thread: Option<&'a str>,
    /// Property class of a metric one.
    pub class: Option<&'a str>,
    /// Nut or nutplate, where one is given.
    pub nut: Option<&'a Fastener>,
    /// Whether the threads are lubricated.
    pub lubrication: Lubrication,
}

impl TorqueAsked<'_> {
    /// The entry that is for this thread, class, nut and lubrication; of several the one that says most.
    #[must_use]
    pub fn among<'t>(&self, own: &'t [OwnTorque]) -> Option<&'t OwnTorque> {
        let fits = own.iter().filter(|entry| self.has_thread_of(entry) && self.is_otherwise_as(entry));
        // The first of several that say as much.
        fits.rev().max_by_key(|entry| (entry.class.is_some(), entry.nut.is_some()))
    }

    /// Whether an entry has this thread, for whatever else it is.
    #[must_use]
    pub fn has_thread_of(&self, entry: &OwnTorque) -> bool {
        self.thread.is_some_and(|name| same_thread(name, &entry.thread))
    }

    fn is_otherwise_as(&self, entry: &OwnTorque) -> bool {
        let class = self.class;
        let nut = self.nut.and_then(torque_nut);
        entry.class.as_deref().is_none_or(|wanted| class.is_some_and(|class| class.eq_ignore_ascii_case(wanted)))
            && entry.nut.is_none_or(|wanted| nut == Some(wanted))
            && entry.lubrication == self.lubrication
    }
}

/// For what nut its torque is.
fn torque_nut(fastener: &Fastener) -> Option<TorqueNut> {
    match fastener {
        Fastener::Nut(nut) if nut.duty == NutDuty::Shear => Some(TorqueNut::Thin),
        Fastener::Nut(nut) if nut.kind.is_castle() => Some(TorqueNut::Castle),
        Fastener::Nut(nut) if nut.kind.is_self_locking() => Some(TorqueNut::SelfLocking),
        Fastener::Nut(_) => Some(TorqueNut::Plain),
        Fastener::Nutplate(_) => Some(TorqueNut::SelfLocking),
        _ => None,
    }
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct ClassRow {
    class: String,
    /// N/mm2.
    tensile: i64,
}

static CLASSES: LazyLock<Table<ClassRow>> = LazyLock::new(|| table::read("property_class"));

/// The torque that pulls a metric bolt to the strength of its class, whatever the friction; of a bolt whose class is not
/// known that of the strongest class.
///
/// Nut factor times diameter times strength times the stress area, pi / 4 times (d - 0.9382 p) squared (ISO 898-1).
#[must_use]
pub fn torque_that_breaks(thread: &Thread, class: Option<&str>) -> Option<Graded<Torque>> {
    let named = |row: &&table::Sourced<ClassRow>| class.is_none_or(|class| class.eq_ignore_ascii_case(&row.class));
    let row = CLASSES.rows.iter().filter(named).max_by_key(|row| row.tensile).filter(|_| thread.is_metric())?;
    let microns = |length: Length| i128::from(length.nm()) / 1_000;
    let across = microns(thread.diameter - thread.pitch().times(limit::stress_diameter().value));
    let area = across * across * PI_QUARTER / PI_SCALE;
    let lever = microns(thread.diameter.times(limit::nut_factor_most().value));
    // N/mm2 times square microns times microns: a newton metre is ten to the 12th of them.
    let decimetres = i64::try_from(i128::from(row.tensile) * area * lever / 100_000_000_000).ok()?;
    Some(row.graded(Torque::from_newton_decimetres(decimetres)))
}

/// A quarter of pi, in millionths.
const PI_QUARTER: i128 = 785_398;
const PI_SCALE: i128 = 1_000_000;

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
