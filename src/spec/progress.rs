//! The keys of `progress.toml`: what the pen marks on the paper say, typed in by hand.
//!
//! A fault in one entry leaves that entry out; the rest of the file still counts. Nothing is resolved here.

use super::form::{Count, Filled, Id, Tables, Text, ValueMap, When, Word};
use super::list::section;
use crate::words::{Hand, WaitFor};

section! {
    /// The progress file, `progress.toml` beside the project file: what the pen marks on the paper say.
    ProgressSpec = "" {
        /// Steps that are signed off.
        done "done": any Tables<DoneSpec> => apart,
        /// Steps that are begun and not signed off.
        started "started": any Tables<StartedSpec> => apart,
        /// Steps that cannot go on until an answer, a person or a delivery comes.
        waiting "waiting": any Tables<WaitingSpec> => apart,
        /// Discrepancies; an open one holds its step, its joints and the closing of its spaces.
        discrepancies "discrepancy": any Tables<DiscrepancySpec> => apart,
    }

    /// One step that is signed off.
    DoneSpec = "done" {
        /// `TRAVELER/step`.
        step "step": need Id => apart,
        /// The hand. Absent: every hand that the traveler is built in.
        hand "hand": may Word<Hand> => apart,
        /// When it was finished. A date alone counts as the end of that day when something cures.
        on "on": need When => apart,
        /// Initials.
        by "by": need Filled => apart,
        /// Time spent.
        minutes "minutes": may Count<1> => apart,
        /// Readings, by the id of the step's record, as `{ level = 0.05 }`.
        values "values": any ValueMap => apart,
    }

    /// One step that is begun.
    StartedSpec = "started" {
        /// `TRAVELER/step`.
        step "step": need Id => apart,
        /// The hand. Absent: every hand that the traveler is built in.
        hand "hand": may Word<Hand> => apart,
        /// When it was begun.
        on "on": need When => apart,
        /// Where the work stopped, and what comes next.
        note "note": may Text => apart,
    }

    /// One step that cannot go on.
    WaitingSpec = "waiting" {
        /// `TRAVELER/step`.
        step "step": need Id => apart,
        /// The hand. Absent: every hand that the traveler is built in.
        hand "hand": may Word<Hand> => apart,
        /// What it waits for.
        wait "for": need Word<WaitFor> => apart,
        /// Who or what, in words.
        what "what": need Filled => apart,
        /// Since when.
        since "since": may When => apart,
        /// When the wait is over; from then on it no longer holds the step.
        until "until": may When => apart,
    }

    /// One discrepancy.
    DiscrepancySpec = "discrepancy" {
        /// Its number, as written in the margin.
        id "id": need Id => apart,
        /// `TRAVELER/step` at which it was found.
        step "step": need Id => apart,
        /// The hand. Absent: every hand that the traveler is built in.
        hand "hand": may Word<Hand> => apart,
        /// What is wrong, in words.
        what "what": need Filled => apart,
        /// When it was found.
        opened "opened": may When => apart,
        /// When it was settled. Absent: open.
        closed "closed": may When => apart,
    }
}
