//! Reads `progress.toml`: what the pen marks on the paper say, typed in by hand.
//!
//! A fault in one entry leaves that entry out; the rest of the file still counts. Nothing is resolved here.

use super::keys::progress as keys;
use super::read::{Reading, Table, parse};
use super::section::Text;
use crate::calendar::When;
use crate::report::Finding;
use crate::text::{FileId, Files, Spanned};
use crate::units::Unit;
use crate::words::{Hand, WaitFor};

/// `progress.toml`.
#[derive(Debug, Clone, Default)]
pub struct ProgressSpec {
    /// `[[done]]`.
    pub done: Vec<DoneSpec>,
    /// `[[started]]`.
    pub started: Vec<StartedSpec>,
    /// `[[waiting]]`.
    pub waiting: Vec<WaitingSpec>,
    /// `[[discrepancy]]`.
    pub discrepancies: Vec<DiscrepancySpec>,
}

/// A step of one hand, or of every hand.
#[derive(Debug, Clone)]
pub struct StepOfHand {
    /// `TRAVELER/step`.
    pub step: Text,
    /// The hand.
    pub hand: Option<Spanned<Hand>>,
}

/// `[[done]]`.
#[derive(Debug, Clone)]
pub struct DoneSpec {
    /// Which step.
    pub at: StepOfHand,
    /// When.
    pub on: Spanned<When>,
    /// Initials.
    pub by: Text,
    /// Time spent.
    pub minutes: Option<Spanned<u32>>,
    /// Readings: record id and value.
    pub values: Vec<(Text, Text)>,
}

/// `[[started]]`.
#[derive(Debug, Clone)]
pub struct StartedSpec {
    /// Which step.
    pub at: StepOfHand,
    /// When.
    pub on: Spanned<When>,
    /// Where the work stopped.
    pub note: Option<Text>,
}

/// `[[waiting]]`.
#[derive(Debug, Clone)]
pub struct WaitingSpec {
    /// Which step.
    pub at: StepOfHand,
    /// What kind of wait.
    pub wait: Spanned<WaitFor>,
    /// Who or what.
    pub what: Text,
    /// Since when.
    pub since: Option<Spanned<When>>,
    /// Until when.
    pub until: Option<Spanned<When>>,
}

/// `[[discrepancy]]`.
#[derive(Debug, Clone)]
pub struct DiscrepancySpec {
    /// Its number.
    pub id: Text,
    /// Which step.
    pub at: StepOfHand,
    /// What is wrong.
    pub what: Text,
    /// When it was found.
    pub opened: Option<Spanned<When>>,
    /// When it was settled.
    pub closed: Option<Spanned<When>>,
}

/// Reads the progress file.
pub(super) fn read(file: FileId, files: &Files) -> (ProgressSpec, Vec<Finding>) {
    let mut reading = Reading { file, unit: Unit::Inch, findings: Vec::new() };
    let tree = parse(file, files, &mut reading);
    let mut table = Table::new(tree.get_ref(), 0..0, &keys::PROGRESS_FILE, &mut reading);
    let spec = ProgressSpec {
        done: table.tables("done", &keys::DONE, done),
        started: table.tables("started", &keys::STARTED, started),
        waiting: table.tables("waiting", &keys::WAITING, waiting),
        discrepancies: table.tables("discrepancy", &keys::DISCREPANCY, discrepancy),
    };
    (spec, reading.findings)
}

fn step_of_hand(table: &mut Table<'_, '_>) -> Option<StepOfHand> {
    let (step, hand) = (table.filled("step"), table.word("hand", Hand::WORDS, Hand::parse));
    Some(StepOfHand { step: step?, hand })
}

fn done(table: &mut Table<'_, '_>) -> Option<DoneSpec> {
    let (at, on, by) = (step_of_hand(table), table.when("on"), table.filled("by"));
    let (minutes, values) = (table.count("minutes", 1), table.value_map("values"));
    Some(DoneSpec { at: at?, on: on?, by: by?, minutes, values })
}

fn started(table: &mut Table<'_, '_>) -> Option<StartedSpec> {
    let (at, on, note) = (step_of_hand(table), table.when("on"), table.text("note"));
    Some(StartedSpec { at: at?, on: on?, note })
}

fn waiting(table: &mut Table<'_, '_>) -> Option<WaitingSpec> {
    let (at, wait) = (step_of_hand(table), table.word("for", WaitFor::WORDS, WaitFor::parse));
    let (what, since, until) = (table.filled("what"), table.when("since"), table.when("until"));
    Some(WaitingSpec { at: at?, wait: wait?, what: what?, since, until })
}

fn discrepancy(table: &mut Table<'_, '_>) -> Option<DiscrepancySpec> {
    let (id, at, what) = (table.filled("id"), step_of_hand(table), table.filled("what"));
    let (opened, closed) = (table.when("opened"), table.when("closed"));
    Some(DiscrepancySpec { id: id?, at: at?, what: what?, opened, closed })
}
