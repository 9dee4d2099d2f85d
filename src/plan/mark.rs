//! MARKS: what the archive says of a packet's steps, put onto the packet: signed steps get no boxes, changed steps a bar.
//!
//! It marks a packet that was planned; it changes nothing that was planned.

use std::collections::BTreeMap;

use serde::Serialize;

use super::Packet;
use crate::archive::{Capacity, Carried, Carry, Issue, Signature, State};
use crate::calendar::Day;
use crate::work::{SheetChange, StepChange, Verdict};

/// Signatures that count on a packet, by step, each with how it came there.
pub type Marks<'a> = BTreeMap<String, Vec<(&'a Signature, Carry)>>;

/// One line of the change history in front of a packet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct HistoryLine {
    /// Revision of the traveler.
    pub revision: String,
    /// Number of the step.
    pub step: String,
    /// What changed, and what becomes of the signature.
    pub what: String,
    /// What it rests on.
    pub because: String,
    /// The day.
    pub on: String,
}

/// The marks of a sheet in force.
#[must_use]
pub fn marks_of_issue<'a>(state: &'a State, issue: &'a Issue) -> Marks<'a> {
    let issued = &issue.issued;
    let was_read = issue.read_through.is_some();
    let now = |how: Carry| if was_read && how == Carry::ReadThrough { Carry::Stands } else { how };
    let of_step = |id: &str| -> Vec<_> {
        let counting = state.counting(&issued.traveler, issued.hand.as_deref(), id);
        counting.map(|(signature, how)| (signature, now(how))).collect()
    };
    issued
        .steps
        .iter()
        .map(|step| (step.id.clone(), of_step(&step.id)))
        .filter(|(_, marks)| !marks.is_empty())
        .collect()
}

/// The marks of a sheet that is about to be issued.
#[must_use]
pub fn marks_of_carried<'a>(state: &'a State, carried: &[Carried]) -> Marks<'a> {
    let mut marks = Marks::new();
    for one in carried {
        if let Some(signature) = state.signatures.get(&one.entry) {
            marks.entry(one.step.clone()).or_default().push((signature, one.how));
        }
    }
    marks
}

fn words(signature: &Signature, how: Carry) -> String {
    let sheet = signature.sheet.map_or_else(|| "before the archive".to_owned(), |code| format!("on {code}"));
    let by = if signature.by.is_empty() { String::new() } else { format!(" by {}", signature.by) };
    let stands = match how {
        Carry::Stands => "",
        Carry::ReadThrough => "; stands when the change note is read",
        Carry::ByRecord => "; stands by record",
    };
    format!("signed {sheet}{by}, {}{stands}", signature.worked)
}

impl Packet {
    /// Puts the day of the print on the packet.
    pub fn set_date(&mut self, date: Option<Day>) {
        self.date = date;
        self.head.date = date.map(|date| date.to_string());
    }

    /// Prints signed steps as signed, with what was read, and without boxes.
    pub fn mark_signed(&mut self, marks: &Marks<'_>) {
        for step in &mut self.steps {
            let Some(signatures) = marks.get(&step.id) else { continue };
            for sign in &mut step.signs {
                let own = signatures.iter().find(|(signature, _)| {
                    signature.capacity.word() == sign.kind
                        && (signature.capacity == Capacity::Done || signature.role == sign.role)
                });
                sign.signed = own.map(|(signature, how)| words(signature, *how));
            }
            let done = signatures.iter().find(|(signature, _)| signature.capacity == Capacity::Done);
            for record in &mut step.records {
                record.read = done.and_then(|(signature, _)| signature.reading(&record.id)).map(str::to_owned);
            }
        }
        let waits = marks.values().flatten().any(|(_, how)| *how == Carry::ReadThrough);
        self.cover.read_note = self.cover.read_note || waits;
    }

    /// Marks the steps that a change touches, and puts the change history in front.
    pub fn mark_changed(&mut self, change: &SheetChange, because: &str, on: &str) {
        let revision = &change.revisions.1;
        let only_reads = |own: &StepChange| own.verdict == Verdict::StandsAfterReading && own.differences.is_empty();
        for own in change.steps.iter().filter(|own| own.is_changed() && !only_reads(own)) {
            if let Some(step) = self.steps.iter_mut().find(|step| step.id == own.step) {
                step.changed = Some(revision.clone());
                step.short = false;
            }
            let reasons = if own.reasons.is_empty() { own.verdict.words().to_owned() } else { own.reasons.join("; ") };
            let verdict = if own.done.is_some() { format!(" ({})", own.verdict.words()) } else { String::new() };
            self.cover.history.push(HistoryLine {
                revision: revision.clone(),
                step: own.number.clone(),
                what: format!("{reasons}{verdict}"),
                because: because.to_owned(),
                on: on.to_owned(),
            });
        }
        for (sheet, old, new) in &change.drawings {
            let what = format!("drawing {sheet}: revision {new}, was {old}");
            let (revision, step) = (revision.clone(), "all".to_owned());
            self.cover.history.push(HistoryLine {
                revision,
                step,
                what,
                because: because.to_owned(),
                on: on.to_owned(),
            });
        }
    }
}
