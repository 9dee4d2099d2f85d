//! How far the build is: steps signed of all, assembly by assembly, and the hours month by month.
//!
//! It counts; it gives no share in per cent, promises no day, and takes a signed step for no more than that.

use std::collections::BTreeMap;

use serde::Serialize;

use super::unstruck;
use crate::archive::{Capacity, Standing, State};
use crate::job::{Hand, Job};
use crate::units::spent;
use crate::words::{ItemName, PacketName};
use crate::work::GUESSED_MINUTES;

/// One traveler and hand, whether it was begun or not.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Progress {
    /// Traveler and hand.
    pub place: String,
    /// Title of the traveler.
    pub title: String,
    /// Steps that are signed and count.
    pub signed: u32,
    /// Steps in all.
    pub steps: u32,
    /// First day of work.
    pub begun: Option<String>,
    /// Last day of work, where every step is signed.
    pub finished: Option<String>,
    /// Minutes written down.
    pub minutes: u32,
    /// Minutes that the specs give to the steps that are open.
    pub left: u32,
}

/// What was worked in a month.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Month {
    /// Year and month.
    pub month: String,
    /// Minutes written down.
    pub minutes: u32,
}

/// Every packet of the project, in the order of its travelers.
pub(super) fn progress(job: &Job, state: &State) -> Vec<Progress> {
    let packets = (0..job.travelers.len())
        .flat_map(|traveler| job.hands_of(traveler).into_iter().map(move |hand| (traveler, hand)));
    packets.map(|(traveler, hand)| of_packet(job, state, traveler, hand)).collect()
}

fn of_packet(job: &Job, state: &State, traveler: usize, hand: Option<Hand>) -> Progress {
    let own = &job.travelers[traveler];
    let name = PacketName::new(own.id.value.as_str(), hand);
    let is_signed = |step: &&crate::job::Step| {
        let item = ItemName::new(own.id.value.as_str(), hand, step.id.value.as_str());
        matches!(state.standing(&item), Standing::Signed(_))
    };
    let open: Vec<&crate::job::Step> = own.steps.iter().filter(|step| !is_signed(step)).collect();
    let worked =
        unstruck(state).filter(|signature| signature.packet() == name && signature.signed.capacity == Capacity::Done);
    let worked: Vec<_> = worked.collect();
    let days = || worked.iter().map(|signature| signature.signed.worked);
    let steps = amount(own.steps.len());
    Progress {
        place: name.to_string(),
        title: own.title.value.clone(),
        signed: steps - amount(open.len()),
        steps,
        begun: days().min().map(|day| day.to_string()),
        finished: days().max().filter(|_| open.is_empty()).map(|day| day.to_string()),
        minutes: worked.iter().filter_map(|signature| signature.signed.minutes).fold(0, u32::saturating_add),
        left: open
            .iter()
            .map(|step| step.minutes.map_or(GUESSED_MINUTES, |minutes| minutes.value))
            .fold(0, u32::saturating_add),
    }
}

/// A count for paper; what no paper could hold stays at the most there is.
fn amount(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}

/// Minutes by month, from the first month with work to the last, those without any too.
pub(super) fn months(state: &State) -> Vec<Month> {
    let mut months: BTreeMap<(u16, u8), u32> = BTreeMap::new();
    for signature in unstruck(state) {
        let (year, month, _) = signature.signed.worked.parts();
        let own = months.entry((year, month)).or_default();
        // A signature without minutes adds none.
        *own = own.saturating_add(signature.signed.minutes.unwrap_or(0));
    }
    let (Some(first), Some(last)) = (months.keys().next().copied(), months.keys().last().copied()) else {
        return Vec::new();
    };
    let next = |(year, month): (u16, u8)| if month == 12 { (year + 1, 1) } else { (year, month + 1) };
    let all = std::iter::successors(Some(first), |own| (*own < last).then(|| next(*own)));
    let line = |own: (u16, u8)| Month {
        month: format!("{:04}-{:02}", own.0, own.1),
        // A month without work has none.
        minutes: months.get(&own).copied().unwrap_or(0),
    };
    all.map(line).collect()
}

/// Hours and minutes; nothing where there are none, of either.
pub(super) fn hours(minutes: u32) -> Option<String> {
    (minutes > 0).then(|| spent(minutes))
}
