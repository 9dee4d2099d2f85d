//! The last page: leftovers, tools, open holes, temporary hardware, photos, boxes: counted before the packet leaves the bench.
//!
//! It lists what to look at; the looking and the marks are the builder's.

use serde::Serialize;

use super::cover::{LeftOpen, TemporaryLine};
use super::pick::HardwareLine;
use super::{Source, StepSheet};

/// The close-out page.
#[derive(Debug, Clone, Serialize)]
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

pub(super) fn plan(source: Source<'_>, hardware: Vec<HardwareLine>, steps: &[StepSheet]) -> CloseOut {
    let cover = super::cover::plan(source, steps);
    let photo = |step: &StepSheet| step.photo.as_ref().map(|photo| format!("{} {photo}", step.number));
    CloseOut {
        hardware,
        tools: super::tool::tools(source).len(),
        leave_open: cover.leave_open,
        temporary: super::cover::temporary_left(source),
        photos: steps.iter().filter_map(photo).collect(),
        records: steps.iter().map(|step| step.records.len()).sum(),
        steps: steps.len(),
        next: cover.before.into_iter().map(|line| format!("{} {}", line.id, line.title)).collect(),
    }
}
