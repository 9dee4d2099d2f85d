//! ENTER: what was typed becomes entries, judged one after the other against the state that those before would make.
//!
//! Nothing is recorded unless everything can be; the caller does the recording. What is wrong is a finding with the place
//! where it was typed.

mod found;
mod meant;
mod paper;
mod readings;
mod signature;

pub use meant::sheets_meant;
pub use readings::{OpenBox, open_boxes};

use std::collections::BTreeMap;

use super::entry::{Entry, Signed};
use super::record::Record;
use super::requirement::SheetRequirement;
use super::sign::{SAME_EVENING, SignerFacts};
use super::state::State;
use super::value::{EntryNumber, Reading};
use crate::calendar::{Day, Moment, When};
use crate::ident::SheetCode;
use crate::report::{Finding, Severity, fault};
use crate::spec::{EveningSpec, Text};
use crate::text::{Span, Spanned};

/// A step of the specs of today.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TodayStep {
    /// Number on paper.
    pub number: u32,
    /// Id.
    pub id: String,
    /// Title.
    pub title: String,
}

/// What the judging rests on.
pub struct EnterFacts<'a> {
    /// Everybody who may sign.
    pub signers: &'a [SignerFacts],
    /// Ids of the spaces.
    pub spaces: &'a [String],
    /// Requirements of the sheets that are named: those of [`sheets_meant`].
    pub sheets: &'a BTreeMap<SheetCode, SheetRequirement>,
    /// The steps of today's specs, by traveler.
    pub today: &'a BTreeMap<String, Vec<TodayStep>>,
    /// Now.
    pub entered: Moment,
    /// The number that the first entry will get.
    pub next: EntryNumber,
}

/// What an evening becomes.
#[derive(Debug, Clone, Default)]
pub struct Entered {
    /// Entries, each with the place where it was typed.
    pub entries: Vec<(Entry, Span)>,
    /// What the builder should know.
    pub remarks: Vec<String>,
    /// What is recorded only when somebody says that it is meant: findings if nobody does.
    pub doubts: Vec<Finding>,
}

/// Entries, remarks and faults in the making.
struct Entering<'a> {
    facts: &'a EnterFacts<'a>,
    typed: &'a EveningSpec,
    state: State,
    next: EntryNumber,
    done: Entered,
    faults: Vec<Finding>,
}

/// Turns a typed file into entries with remarks.
///
/// # Errors
/// Every reason why something of it cannot be recorded.
pub fn enter(state: &State, typed: &EveningSpec, facts: &EnterFacts<'_>) -> Result<Entered, Vec<Finding>> {
    let (done, faults) = (Entered::default(), Vec::new());
    let mut entering = Entering { facts, typed, state: state.clone(), next: facts.next, done, faults };
    entering.refuse_progress();
    typed.visit.iter().for_each(|visit| entering.visit(visit));
    typed.discrepancy.iter().for_each(|found| entering.discrepancy(found));
    // A space may close over a discrepancy that is settled in the same file; one that a reading opens is settled later.
    typed.close.iter().for_each(|closing| entering.closing(closing));
    entering.signatures();
    entering.corrections();
    for (sheets, what) in [(&typed.read, "read"), (&typed.mark, "mark"), (&typed.lost, "lost"), (&typed.void, "void")] {
        for sheet in sheets {
            entering.sheet(sheet, what);
        }
    }
    // What is recorded already is no fault: that was said.
    if entering.faults.is_empty() && entering.done.entries.is_empty() && entering.done.remarks.is_empty() {
        entering.fault(typed.span, "nothing is typed in it", "write [[sign]] with a traveler and its steps");
    }
    if entering.faults.is_empty() { Ok(entering.done) } else { Err(entering.faults) }
}

impl<'a> Entering<'a> {
    fn push(&mut self, at: Span, entry: impl Into<Entry>) -> EntryNumber {
        let record = Record { number: self.next, entered: self.facts.entered, entry: entry.into() };
        self.state.take(&record);
        self.done.entries.push((record.entry, at));
        self.next = EntryNumber(self.next.0 + 1);
        record.number
    }

    fn fault(&mut self, at: Span, message: impl Into<String>, help: impl Into<String>) {
        self.faults.push(finding(at, message).help(help));
    }

    /// A fault of which the message says all.
    fn plain_fault(&mut self, at: Span, message: impl Into<String>) {
        self.faults.push(finding(at, message));
    }

    /// Begun work and waits are no records.
    fn refuse_progress(&mut self) {
        let typed = self.typed;
        let started = typed.started.iter().map(|own| (own.span, "started"));
        for (span, table) in started.chain(typed.waiting.iter().map(|own| (own.span, "waiting"))) {
            let message = format!("[[{table}]] is no record: work that is begun or waits stands in progress.toml");
            self.fault(span, message, "move it to progress.toml beside build.toml, which the board reads too");
        }
    }

    /// Initials and day of an entry: its own, else those at the top; the day at last is today.
    fn who_and_when(&mut self, at: Span, by: Option<&Text>, on: Option<Spanned<When>>) -> Option<(String, Day)> {
        let own = on.or(self.typed.on);
        let on = own.map_or(self.facts.entered.day(), |on| on.value.earliest.day());
        let at_day = own.map_or(at, |on| on.span);
        let Some(by) = by.or(self.typed.by.as_ref()) else {
            self.fault(
                at,
                "`by` says whose initials stand there",
                "write `by = \"..\"` once at the top, or in the entry",
            );
            return None;
        };
        if self.signer(&by.value).is_none() {
            let known: Vec<&str> = self.facts.signers.iter().map(|signer| signer.initials.as_str()).collect();
            let message = format!("nobody in build.toml has the initials `{}`", by.value);
            self.fault(by.span, message, format!("these have: {}", known.join(", ")));
            return None;
        }
        if self.is_ahead(on) {
            let today = self.facts.entered.day();
            self.fault(
                at_day,
                format!("this is dated {on}, which is after today, {today}"),
                "look at year, month and day",
            );
            return None;
        }
        if on.for_record().is_none() {
            self.plain_fault(at_day, format!("{on} lies outside the years that records have"));
            return None;
        }
        Some((by.value.clone(), on))
    }

    /// Whether a day lies further ahead than an evening that is typed before midnight somewhere else.
    fn is_ahead(&self, day: Day) -> bool {
        day.days_after(self.facts.entered.day()) > SAME_EVENING
    }

    fn signer(&self, by: &str) -> Option<&'a SignerFacts> {
        self.facts.signers.iter().find(|signer| signer.initials == by)
    }

    fn space(&mut self, space: Option<&Text>) {
        if let Some(space) = space.filter(|space| !self.facts.spaces.contains(&space.value)) {
            let known = self.facts.spaces.join(", ");
            self.fault(space.span, format!("there is no space `{}`", space.value), format!("there are {known}"));
        }
    }
}

/// A fault of what was typed.
fn finding(at: Span, message: impl Into<String>) -> Finding {
    Finding::new(fault::VALUE_INVALID, Severity::Error, at, message)
}

/// A sheet code as typed.
fn code(text: &Text) -> Result<SheetCode, Box<Finding>> {
    SheetCode::parse(&text.value).map_err(|fault| {
        let message = format!("`{}` is no sheet code: {fault}", text.value);
        let said = finding(text.span, message);
        Box::new(said.help("it stands at the top of every page; `traveler` and `hand` say as much"))
    })
}

fn text(written: Option<&Text>) -> Option<String> {
    written.map(|text| text.value.clone())
}

fn texts(written: &[Text]) -> Vec<String> {
    written.iter().map(|text| text.value.clone()).collect()
}

/// Values by name, in the order of their names, as records have them.
fn pairs(written: &[(Text, Text)]) -> Vec<Reading> {
    let pair = |(id, value): &(Text, Text)| Reading { id: id.value.clone(), value: value.value.clone() };
    let mut all: Vec<Reading> = written.iter().map(pair).collect();
    all.sort_by(|a, b| a.id.cmp(&b.id));
    all
}

/// What stands before the reason for closing a space in which something is left.
const DESPITE: &str = "closed despite what is left: ";
/// What stands before the reason for signing what the order, a cure or a discrepancy speaks against.
const ALL_THE_SAME: &str = "signed all the same: ";

impl Signed {
    /// Whether it gives a reason for what speaks against it, or for closing a space in which something is left: either
    /// answers both.
    #[must_use]
    pub fn gives_reason(&self) -> bool {
        self.note.as_deref().is_some_and(|note| note.starts_with(DESPITE) || note.starts_with(ALL_THE_SAME))
    }

    /// Puts a reason for what speaks against it in front of its note.
    pub fn give_reason(&mut self, reason: &str) {
        let notes = std::iter::once(format!("{ALL_THE_SAME}{reason}")).chain(self.note.take());
        self.note = Some(notes.collect::<Vec<_>>().join("; "));
    }
}
