//! The change history in front of a packet: what changed at which step since the sheet before, and on what it rests.
//!
//! It repeats the comparison; whether changed work is right is for whoever looks at it.

use serde::Serialize;

use super::source::{Changed, Source};
use crate::job::Step;
use crate::phrase::say;
use crate::work::{StepChange, Verdict};

/// One line of the change history.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct HistoryLine {
    /// Revision of the traveler.
    pub revision: String,
    /// The step by its number, or that it is all of them.
    pub step: String,
    /// What changed, and what becomes of the signature.
    pub what: String,
    /// What it rests on.
    pub because: String,
    /// The day.
    pub on: String,
}

/// The steps that a change touches otherwise than by asking for a read-through.
fn touched<'a>(change: &Changed<'a>) -> impl Iterator<Item = &'a StepChange> {
    let only_reads = |own: &StepChange| own.verdict == Verdict::StandsAfterReading && own.differences.is_empty();
    change.sheet.steps.iter().filter(move |own| own.is_changed() && !only_reads(own))
}

/// The revision with which a step changed, where this print is the first since.
pub(super) fn revision_of(source: Source<'_>, step: &Step) -> Option<String> {
    let change = source.change?;
    touched(&change).any(|own| own.step == step.id.value).then(|| change.sheet.revisions.1.clone())
}

/// How many more fasteners a joint has than when a step was done, and how many that were: where this print is the first since
/// and the work was signed.
pub(super) fn more_fasteners(source: Source<'_>, step: &Step, joint: &str) -> Option<(u32, u32)> {
    let change = source.change?;
    let own = change.sheet.steps.iter().find(|own| own.step == step.id.value && own.done.is_some())?;
    let worked = own.verdict == Verdict::ReworkOrAsk;
    own.differences.iter().filter(|_| worked).find_map(|difference| difference.more_fasteners(joint))
}

/// The history of one print: step by step, then the drawings.
pub(super) fn lines(source: Source<'_>) -> Vec<HistoryLine> {
    let Some(change) = source.change else { return Vec::new() };
    let line = |step: String, what: String| HistoryLine {
        revision: change.sheet.revisions.1.clone(),
        step,
        what,
        because: change.because.to_owned(),
        on: change.on.to_string(),
    };
    let of_step = |own: &StepChange| {
        let reasons = if own.reasons.is_empty() { own.verdict.words().to_owned() } else { own.reasons.join("; ") };
        let verdict = if own.done.is_some() { format!(" ({})", own.verdict.words()) } else { String::new() };
        line(say!("step {number}", number = own.number), format!("{reasons}{verdict}"))
    };
    let of_drawing = |(sheet, old, new): &(String, String, String)| {
        line(say!("all steps").to_owned(), say!("drawing {sheet}: revision {new}, was {old}", sheet, new, old))
    };
    touched(&change).map(of_step).chain(change.sheet.drawings.iter().map(of_drawing)).collect()
}
