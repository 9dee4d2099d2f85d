//! One row a job: a traveler in one hand that can go on, with its next steps.
//!
//! It adds nothing to what is ready; it says what follows in the same packet.

use std::collections::BTreeMap;

use serde::Serialize;

use super::Source;
use super::row::{Row, Rows};
use crate::job::{Hand, Item, StepRef};

/// How a job can go on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum JobState {
    /// A step is begun.
    InWork,
    /// A step can be started.
    Ready,
}

/// One job that can go on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct JobRow {
    /// Traveler id.
    pub traveler: String,
    /// The hand.
    pub hand: Option<&'static str>,
    /// The traveler's title.
    pub title: String,
    /// Whether a step is begun.
    pub state: JobState,
    /// Put off by the builder.
    pub put_off: bool,
    /// The step to go on with.
    pub next: Row,
    /// Those that follow it on the sheet.
    pub then: Vec<Row>,
    /// Steps beyond these.
    pub left: usize,
}

/// Steps of a job on the board beside the next.
const THEN: usize = 4;

/// The jobs that can go on: begun ones, then in the order of what is ready, then what is put off.
pub(super) fn jobs(source: &Source<'_>, rows: &Rows<'_>, in_work: &[Item], ready: &[Item]) -> Vec<JobRow> {
    let begun = in_work.iter().map(|item| (*item, JobState::InWork));
    let items = begun.chain(ready.iter().map(|item| (*item, JobState::Ready)));
    let mut found: BTreeMap<(usize, Option<Hand>), (usize, JobState, Item)> = BTreeMap::new();
    for (at, (item, state)) in items.enumerate() {
        let own = found.entry((item.at.traveler, item.hand)).or_insert((at, state, item));
        // The sheet is worked from the top: the first of several begun or ready steps leads.
        if own.1 == state && item.at.step < own.2.at.step {
            own.2 = item;
        }
    }
    let mut jobs: Vec<(bool, usize, JobRow)> = found
        .into_iter()
        .map(|((traveler, _), (at, state, first))| {
            let put_off = source.job.project.queue.is_later(traveler);
            (put_off, at, job_row(source, rows, first, state, put_off))
        })
        .collect();
    jobs.sort_by_key(|(put_off, at, _)| (*put_off, *at));
    jobs.into_iter().map(|(_, _, row)| row).collect()
}

fn job_row(source: &Source<'_>, rows: &Rows<'_>, first: Item, state: JobState, put_off: bool) -> JobRow {
    let traveler = &source.job.travelers[first.at.traveler];
    let after = (first.at.step + 1..traveler.steps.len())
        .map(|step| Item { at: StepRef { step, ..first.at }, hand: first.hand })
        .filter(|item| !source.state.is_done(*item));
    let open: Vec<Item> = after.collect();
    JobRow {
        traveler: traveler.id.value.clone(),
        hand: first.hand.map(Hand::word),
        title: traveler.title.value.clone(),
        state,
        put_off,
        next: rows.row(first),
        then: open.iter().take(THEN).map(|item| rows.row(*item)).collect(),
        left: open.len().saturating_sub(THEN),
    }
}
