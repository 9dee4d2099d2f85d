//! The keys of `progress.toml`: what is done, started and waited for.
//!
//! What a value means for the work is not said here.

use super::Form::{Count, Id, Tables, Text, ValueMap, When, Word};
use super::{Section, may, need};
use crate::words::{Hand, WaitFor};

/// `progress.toml`.
pub static PROGRESS_FILE: Section = Section {
    name: "",
    doc: "The progress file, `progress.toml` beside the project file: what the pen marks on the paper say.",
    keys: &[
        may("done", Tables(&DONE), "Steps that are signed off."),
        may("started", Tables(&STARTED), "Steps that are begun and not signed off."),
        may("waiting", Tables(&WAITING), "Steps that cannot go on until an answer, a person or a delivery comes."),
        may(
            "discrepancy",
            Tables(&DISCREPANCY),
            "Discrepancies; an open one holds its step, its joints and the closing of its zones.",
        ),
    ],
};

/// `[[done]]`.
pub static DONE: Section = Section {
    name: "done",
    doc: "One step that is signed off.",
    keys: &[
        need("step", Id, "`TRAVELER/step`."),
        may("hand", Word(Hand::WORDS), "The hand. Absent: every hand that the traveler is built in."),
        need("on", When, "When it was finished. A date alone counts as the end of that day when something cures."),
        need("by", Text, "Initials."),
        may("minutes", Count { least: 1 }, "Time spent."),
        may("values", ValueMap, "Readings, by the id of the step's record, as `{ level = 0.05 }`."),
    ],
};

/// `[[started]]`.
pub static STARTED: Section = Section {
    name: "started",
    doc: "One step that is begun.",
    keys: &[
        need("step", Id, "`TRAVELER/step`."),
        may("hand", Word(Hand::WORDS), "The hand. Absent: every hand that the traveler is built in."),
        need("on", When, "When it was begun."),
        may("note", Text, "Where the work stopped, and what comes next."),
    ],
};

/// `[[waiting]]`.
pub static WAITING: Section = Section {
    name: "waiting",
    doc: "One step that cannot go on.",
    keys: &[
        need("step", Id, "`TRAVELER/step`."),
        may("hand", Word(Hand::WORDS), "The hand. Absent: every hand that the traveler is built in."),
        need("for", Word(WaitFor::WORDS), "What it waits for."),
        need("what", Text, "Who or what, in words."),
        may("since", When, "Since when."),
        may("until", When, "When the wait is over; from then on it no longer holds the step."),
    ],
};

/// `[[discrepancy]]`.
pub static DISCREPANCY: Section = Section {
    name: "discrepancy",
    doc: "One discrepancy.",
    keys: &[
        need("id", Id, "Its number, as written in the margin."),
        need("step", Id, "`TRAVELER/step` at which it was found."),
        may("hand", Word(Hand::WORDS), "The hand. Absent: every hand that the traveler is built in."),
        need("what", Text, "What is wrong, in words."),
        may("opened", When, "When it was found."),
        may("closed", When, "When it was settled. Absent: open."),
    ],
};
