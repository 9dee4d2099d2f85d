//! The torque of a bolt and nut, with the nut's drag, and what to set on a wrench with an adapter.
//!
//! The table is for dry threads; it says nothing of lubricated ones, and torque of the plans outranks it.

use super::NoProposal;
use crate::hardware::bend::cosine;
use crate::hardware::source::{Basis, Graded};
use crate::hardware::thread::Thread;
use crate::hardware::{Nut, NutDuty, OwnTorque, TableTorque, prevailing_torque, torque_for, wrench_setting};
use crate::units::{Length, Style, Torque, TorqueRange};

/// The torque of a thread and nut.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TorqueProposal {
    /// The thread.
    pub thread: &'static Thread,
    /// The column of the table.
    pub duty: NutDuty,
    /// What the table says.
    pub table: Graded<TableTorque>,
    /// The nut's own drag that was measured on running it down.
    pub drag: Torque,
    /// The table's range with the drag added.
    pub range: TorqueRange,
    /// The greatest torque with the drag added (AC 43.13-1B, par. 7-40f); none where an entry of the build names none.
    pub most: Option<Torque>,
    /// Whether an entry of the build stands in the place of the table.
    pub is_own: bool,
    /// Whether the nut turns hard before it seats, so that there is a drag to add.
    pub has_drag: bool,
    /// Least drag of this nut when it is used again, for a self-locking one.
    pub reuse: Option<Graded<Torque>>,
}

/// The torque of a thread with a nut, the nut's drag added.
///
/// # Errors
/// When the nut has another thread, or the table does not list the thread.
pub fn propose_torque(thread: &'static Thread, nut: &Nut, drag: Torque) -> Result<TorqueProposal, NoProposal> {
    same_threads(thread, nut)?;
    let table = torque_for(thread, nut.duty);
    let table = table.ok_or_else(|| {
        NoProposal(format!("Table 7-1 does not list thread {}; ask the plans for its torque", thread.name))
    })?;
    let most = Some(table.value.most);
    Ok(proposal(thread, nut, drag, (table, most)))
}

/// The torque that an entry of the build gives a thread with a nut, the nut's drag added.
///
/// # Errors
/// When the nut has another thread.
pub fn propose_own_torque(
    thread: &'static Thread,
    nut: &Nut,
    own: &OwnTorque,
    drag: Torque,
) -> Result<TorqueProposal, NoProposal> {
    same_threads(thread, nut)?;
    // An entry without a greatest torque is not judged by one; `most` says so.
    let most = own.most.unwrap_or(own.range.high);
    let value = TableTorque { install: own.range, most, estimated: false };
    let found = proposal(thread, nut, drag, (Graded { value, basis: Basis::given(&own.source) }, own.most));
    Ok(TorqueProposal { is_own: true, ..found })
}

fn same_threads(thread: &Thread, nut: &Nut) -> Result<(), NoProposal> {
    match nut.thread.filter(|other| other.name != thread.name) {
        None => Ok(()),
        Some(other) => Err(NoProposal(format!(
            "{} has thread {}, the bolt {}; they do not go together",
            nut.call.usual, other.name, thread.name
        ))),
    }
}

fn proposal(
    thread: &'static Thread,
    nut: &Nut,
    drag: Torque,
    (table, most): (Graded<TableTorque>, Option<Torque>),
) -> TorqueProposal {
    TorqueProposal {
        thread,
        duty: nut.duty,
        drag,
        most: most.map(|most| most + drag),
        is_own: false,
        has_drag: nut.kind.is_self_locking(),
        range: TorqueRange { low: table.value.install.low + drag, high: table.value.install.high + drag },
        reuse: prevailing_torque(thread).filter(|_| nut.kind.is_self_locking()),
        table,
    }
}

/// What to set on a wrench with an adapter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WrenchSetting {
    /// Wrench, from its grip to its square.
    pub wrench: Length,
    /// By how much the adapter makes the lever longer; below zero it makes it shorter.
    pub reach: Length,
    /// The range to set.
    pub range: TorqueRange,
}

/// What to set for a torque on a wrench whose adapter stands at an angle to it, in thousandths of a degree.
///
/// At 0 degrees the adapter lengthens the wrench, at 90 it changes nothing, at 180 it shortens it.
///
/// # Errors
/// When wrench and adapter leave no lever, or the angle is not between 0 and 180 degrees.
pub fn set_wrench(
    range: TorqueRange,
    wrench: Length,
    adapter: Length,
    angle: i64,
    style: &Style,
) -> Result<WrenchSetting, NoProposal> {
    let along =
        cosine(angle).ok_or_else(|| NoProposal("the adapter's angle must be from 0 to 180 degrees".to_owned()))?;
    let reach = adapter.fraction(along, COSINE_SCALE);
    let set = |torque| wrench_setting(torque, wrench, reach);
    match (set(range.low), set(range.high)) {
        (Some(low), Some(high)) => Ok(WrenchSetting { wrench, reach, range: TorqueRange { low, high } }),
        _ => Err(NoProposal(format!(
            "a wrench of {} with an adapter that reaches {} leaves no lever; the wrench must be longer than the adapter shortens it",
            style.length(wrench),
            style.length(reach)
        ))),
    }
}

/// What [`cosine`] calls one.
const COSINE_SCALE: i64 = 1_000_000_000;
