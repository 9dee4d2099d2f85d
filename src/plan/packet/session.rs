//! Sessions: runs of steps of about one to three hours that end where work can rest.
//!
//! An estimate from the steps' minutes; it moves no step.

use serde::Serialize;

use super::source::StepRun;
use crate::job::{Hand, Item, Job, State, Step, StepKind, StepRef, Traveler, operation};
use crate::units::spent;
use crate::work::GUESSED_MINUTES;

/// A session is long enough to end from here on.
const ENOUGH: u32 = 60;
/// A session does not grow past this by another step.
const MOST: u32 = 180;

/// A run of steps.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Session {
    /// Counted from one.
    pub number: usize,
    /// First step's number.
    pub first: String,
    /// Last step's number.
    pub last: String,
    /// Estimated time.
    pub time: String,
    /// Why it is good to stop there.
    pub ends: &'static str,
    /// Index of the last step.
    #[serde(skip)]
    last_index: usize,
}

pub(super) fn plan(traveler: &Traveler) -> Vec<Session> {
    let mut sessions: Vec<Session> = Vec::new();
    let mut first = 0;
    let mut minutes = 0_u32;
    for (at, step) in traveler.steps.iter().enumerate() {
        minutes = minutes.saturating_add(of(step));
        let next = traveler.steps.get(at + 1);
        if let Some(ends) = end(step, next, minutes) {
            sessions.push(Session {
                number: sessions.len() + 1,
                first: operation(traveler.steps[first].number),
                last: operation(step.number),
                time: spent(minutes),
                ends,
                last_index: at,
            });
            first = at + 1;
            minutes = 0;
        }
    }
    sessions
}

/// The number of the session that ends with a step, unless the packet ends there too.
pub(super) fn ending_with(sessions: &[Session], at: usize) -> Option<usize> {
    let last = sessions.len();
    sessions.iter().find(|session| session.last_index == at && session.number != last).map(|session| session.number)
}

/// What is left of the session in which the work of a traveler and hand stands: from the first step that is not done.
///
/// # Panics
/// When the job has no traveler of that index.
#[must_use]
pub fn next_session(job: &Job, state: &State, index: usize, hand: Option<Hand>) -> Option<StepRun> {
    let traveler = &job.travelers[index];
    let is_done = |step: usize| state.is_done(Item { at: StepRef { traveler: index, step }, hand });
    let first = (0..traveler.steps.len()).find(|step| !is_done(*step))?;
    let session = plan(traveler).into_iter().find(|session| session.last_index >= first)?;
    Some(StepRun { first, last: session.last_index })
}

fn of(step: &Step) -> u32 {
    step.minutes.map_or(GUESSED_MINUTES, |minutes| minutes.value)
}

fn end(step: &Step, next: Option<&Step>, minutes: u32) -> Option<&'static str> {
    let Some(next) = next else { return Some("end of the packet") };
    if step.cure.is_some() {
        return Some("it has to cure");
    }
    let waits = |step: &Step| step.hold.is_some() || step.stage.is_some();
    if waits(step) && step.closes.is_empty() {
        return Some("hold point");
    }
    // Who must have looked before a space closes comes before the closing step, on another day as a rule.
    if waits(next) && !next.closes.is_empty() {
        return Some("a look before the next step closes");
    }
    // A clean surface is coated, sealed or bonded while it is clean (common practice).
    let coats = [StepKind::Prime, StepKind::Paint, StepKind::Seal, StepKind::Bond];
    if step.kind.value == StepKind::Clean && coats.contains(&next.kind.value) {
        return None;
    }
    let with_next = minutes.saturating_add(of(next));
    (with_next > MOST || (minutes >= ENOUGH && with_next > MOST - ENOUGH)).then_some("good place to stop")
}
