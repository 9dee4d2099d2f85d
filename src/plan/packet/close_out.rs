//! The last page: leftovers, tools, open holes, temporary hardware, photos, boxes: counted before the packet leaves the bench.
//!
//! It lists what to look at; the looking and the marks are the builder's.

use serde::Serialize;

use super::cover::{LeftOpen, TemporaryLine, temporary, waiting};
use super::hardware::{HardwareLine, hardware};
use super::source::Source;
use super::tool::tools;
use crate::job::{Joint, JointRef, Step, operation};
use crate::plan::joint::leave_open;

/// The close-out page.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CloseOut {
    /// Hardware to account for.
    pub hardware: Vec<HardwareLine>,
    /// Number of tool lines to count back.
    pub tools: usize,
    /// Holes that must still be open.
    pub leave_open: Vec<LeftOpen>,
    /// Fit-up hardware that no step of this packet replaces: it stays in, as listed.
    pub temporary: Vec<TemporaryLine>,
    /// Photo prompts with their steps.
    pub photos: Vec<String>,
    /// Values to have been recorded.
    pub records: usize,
    /// Steps to have been marked.
    pub steps: usize,
    /// Travelers that may take this assembly next.
    pub next: Vec<String>,
}

/// The last page; an excerpt that has the last step closes the whole packet, one without it closes nothing.
pub(super) fn plan(printed: Source<'_>) -> Option<CloseOut> {
    let source = printed.whole();
    let steps = &source.traveler().steps;
    let ends_before = printed.is_excerpt() && steps.len().checked_sub(1).is_some_and(|last| !printed.has(last));
    if ends_before {
        return None;
    }
    let photo = |step: &Step| Some(format!("{} {}", operation(step.number), step.photo.as_ref()?.value));
    Some(CloseOut {
        hardware: hardware(source),
        tools: tools(source).len(),
        leave_open: open_at_end(source),
        temporary: temporary(source, |at| stays_in(source, at)),
        photos: steps.iter().filter_map(photo).collect(),
        records: steps.iter().map(|step| step.records.len()).sum(),
        steps: steps.len(),
        next: waiting(source).into_iter().map(|line| format!("{} {}", line.id, line.title)).collect(),
    })
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
        let unsaid = || format!("{open} of {} holes: no step of this packet fastens them", joint.count.value);
        Some(LeftOpen { joint: joint.title(), words: words.unwrap_or_else(unsaid) })
    };
    source.joints().filter_map(line).collect()
}

/// Whether fit-up hardware is still in a joint when the packet is finished.
fn stays_in(source: Source<'_>, joint: usize) -> bool {
    let times = source.traveler().fit_ups(source.index, joint);
    times.last().is_some_and(|last| last.taken_out.is_none_or(|out| out.traveler != source.index))
}
