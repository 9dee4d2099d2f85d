//! The end of a packet: leftovers, tools, open holes, temporary hardware, photos, boxes: counted before the packet leaves the bench.
//!
//! It lists what to look at; the looking and the marks are the builder's.

use serde::Serialize;

use super::cover::{LeftOpen, TemporaryLine, temporary, waiting};
use super::hardware::{HardwareLine, hardware};
use super::source::Source;
use super::tool::tools;
use crate::job::{Joint, JointRef, Step, operation};
use crate::phrase::{say, say_count};
use crate::plan::joint::{fastened_elsewhere, leave_open};

/// The close-out.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CloseOut {
    /// Hardware to account for, rivets left out.
    pub hardware: Vec<HardwareLine>,
    /// Holes that must still be open.
    pub leave_open: Vec<LeftOpen>,
    /// Fit-up hardware that no step of this packet replaces: it stays in, as listed.
    pub temporary: Vec<TemporaryLine>,
    /// What is looked at and counted, a tick each.
    pub looks: Vec<String>,
    /// Travelers that may take this assembly next.
    pub next: Vec<String>,
}

/// The close-out; an excerpt that has the last step closes the whole packet, one without it closes nothing.
pub(super) fn plan(printed: Source<'_>) -> Option<CloseOut> {
    let source = printed.whole();
    let steps = &source.traveler().steps;
    let ends_before = printed.is_excerpt() && steps.len().checked_sub(1).is_some_and(|last| !printed.has(last));
    if ends_before {
        return None;
    }
    let open = open_at_end(source);
    let parked = temporary(source, |at| stays_in(source, at));
    Some(CloseOut {
        hardware: hardware(source).into_iter().filter(|line| line.counted).collect(),
        looks: looks(source, &open, &parked),
        leave_open: open,
        temporary: parked,
        next: waiting(source).into_iter().map(|line| format!("{} {}", line.id, line.title)).collect(),
    })
}

fn looks(source: Source<'_>, open: &[LeftOpen], parked: &[TemporaryLine]) -> Vec<String> {
    let steps = &source.traveler().steps;
    let listed = |lines: Vec<String>, none: &str, what: &str| {
        if lines.is_empty() { none.to_owned() } else { format!("{what}: {}", lines.join("; ")) }
    };
    let open = open.iter().map(|line| format!("{}, {}", line.joint, line.words)).collect();
    let parked = parked
        .iter()
        .map(|line| say!("{count} x {what} in {joint}", count = line.count, what = line.what, joint = line.joint))
        .collect();
    let photo = |step: &Step| step.photo.as_ref().map(|_| operation(step.number));
    let photos: Vec<String> = steps.iter().filter_map(photo).collect();
    let filled = say_count!(steps.len(), "{n} step", "{n} steps");
    let readings =
        say_count!(steps.iter().map(|step| step.records.len()).sum::<usize>(), "{n} reading", "{n} readings");
    let mut looks = vec![
        say!("tools counted out, {kinds}", kinds = say_count!(tools(source).len(), "{n} kind", "{n} kinds")),
        say!("swarf, rivets and stems out of every corner").to_owned(),
        listed(open, say!("no hole is open"), say!("open exactly as listed")),
        listed(parked, say!("no temporary hardware is in"), say!("temporary hardware exactly as listed")),
        say!("every box of {filled} and {readings} filled, N/A or lined through", filled, readings),
    ];
    if !photos.is_empty() {
        looks.push(say!("photos of {photos}", photos = photos.join(", ")));
    }
    looks
}

/// Holes of a joint that are open when the packet is finished: those that none of its steps fills.
fn open_at_end(source: Source<'_>) -> Vec<LeftOpen> {
    let line = |(index, joint): (usize, &Joint)| {
        let at = JointRef { traveler: source.index, joint: index };
        let open = source.job.open_at_end(at);
        // A hole with fit-up hardware in it stands in the line below.
        if open == 0 || stays_in(source, index) {
            return None;
        }
        let words = leave_open(source.job, joint).filter(|_| open == joint.open_count());
        let elsewhere = || fastened_elsewhere(source.job, at);
        let unsaid =
            || say!("{open} of {count} holes: no step of this packet fastens them", open, count = joint.count.value);
        Some(LeftOpen { joint: joint.title(), words: words.or_else(elsewhere).unwrap_or_else(unsaid) })
    };
    source.joints().filter_map(line).collect()
}

/// Whether fit-up hardware is still in a joint when the packet is finished.
fn stays_in(source: Source<'_>, joint: usize) -> bool {
    let times = source.job.fit_ups(JointRef { traveler: source.index, joint });
    times.last().is_some_and(|last| last.taken_out.is_none_or(|out| out.traveler != source.index))
}
