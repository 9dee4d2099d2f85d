//! Sessions: runs of steps of about one to three hours that end where work can rest.
//!
//! An estimate from the steps' minutes; it moves no step.

use super::source::StepRun;
use crate::job::{Hand, Item, Job, State, Step, StepKind, StepRef, Traveler, operation};
use crate::phrase::say;
use crate::work::GUESSED_MINUTES;

/// A session is long enough to end from here on.
const ENOUGH: u32 = 60;
/// A session does not grow past this by another step.
const MOST: u32 = 180;

/// A run of steps.
struct Session {
    /// Why it is good to stop there; empty where it is for the time alone.
    ends: &'static str,
    /// Index of the last step.
    last: usize,
}

fn plan(traveler: &Traveler) -> Vec<Session> {
    let mut sessions: Vec<Session> = Vec::new();
    let mut minutes = 0_u32;
    for (at, step) in traveler.steps.iter().enumerate() {
        minutes = minutes.saturating_add(of(step));
        let next = traveler.steps.get(at + 1);
        if let Some(ends) = end(step, next, minutes) {
            sessions.push(Session { ends, last: at });
            minutes = 0;
        }
    }
    sessions
}

/// Numbers of the steps after which it is good to stop before the packet ends, each with the reason where there is one.
pub(super) fn rests(traveler: &Traveler) -> Vec<String> {
    let last = traveler.steps.len().saturating_sub(1);
    let rest = |session: &Session| {
        let why = if session.ends.is_empty() { String::new() } else { format!(" ({})", session.ends) };
        format!("{}{why}", operation(traveler.steps[session.last].number))
    };
    plan(traveler).iter().filter(|session| session.last < last).map(rest).collect()
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
    let session = plan(traveler).into_iter().find(|session| session.last >= first)?;
    Some(StepRun { first, last: session.last })
}

fn of(step: &Step) -> u32 {
    step.minutes.map_or(GUESSED_MINUTES, |minutes| minutes.value)
}

/// Whether a session ends with a step, and why; an empty reason is the time.
fn end(step: &Step, next: Option<&Step>, minutes: u32) -> Option<&'static str> {
    let Some(next) = next else { return Some("") };
    if step.cure.is_some() {
        return Some(say!("cures"));
    }
    let waits = |step: &Step| step.hold.is_some() || step.stage.is_some();
    if waits(step) && step.closes.is_empty() {
        return Some(say!("hold"));
    }
    // Who must have looked before a space closes comes before the closing step, on another day as a rule.
    if waits(next) && !next.closes.is_empty() {
        return Some(say!("a look before the next step closes"));
    }
    // A clean surface is coated, sealed or bonded while it is clean (common practice).
    let coats = [StepKind::Prime, StepKind::Paint, StepKind::Seal, StepKind::Bond];
    if step.kind.value == StepKind::Clean && coats.contains(&next.kind.value) {
        return None;
    }
    let with_next = minutes.saturating_add(of(next));
    (with_next > MOST || (minutes >= ENOUGH && with_next > MOST - ENOUGH)).then_some("")
}
