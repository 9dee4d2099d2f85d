//! The state of the work: what is done, begun and waited for, by step and hand.
//!
//! It is filled from a progress file, in the language of evenings, and can be filled from any other record of the work. It
//! follows references to the specs of today and reports entries that lead nowhere or that cannot be so; it decides nothing
//! about what comes next.

use std::collections::{BTreeMap, BTreeSet};

mod follow;
mod reading;

use self::follow::{Following, Named};
use super::{Item, Job, Order, WaitFor};
use crate::calendar::{Day, When};
use crate::report::{Finding, Report, Severity, fault};
use crate::spec::EveningSpec;

/// What is known of the work.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct State {
    /// Items that are signed off.
    pub done: BTreeMap<Item, Done>,
    /// Items that are begun and not signed off.
    pub started: BTreeMap<Item, Started>,
    /// Items that cannot go on.
    pub waiting: Vec<Waiting>,
    /// Items that are not signed off, while everybody who must look has signed.
    pub looked: BTreeSet<Item>,
    /// Discrepancies, open and closed.
    pub discrepancies: Vec<Discrepancy>,
}

/// How an item was done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Done {
    /// Day, or day and minute, at which it was finished.
    pub on: When,
    /// Initials.
    pub by: String,
    /// Minutes spent.
    pub minutes: Option<u32>,
    /// Readings by record id, as written.
    pub values: BTreeMap<String, String>,
}

/// How an item was begun.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Started {
    /// Day, or day and minute, at which it was begun.
    pub on: When,
    /// Where the work stopped.
    pub note: Option<String>,
}

/// An item that cannot go on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiting {
    /// The item.
    pub item: Item,
    /// What kind of wait.
    pub wait: WaitFor,
    /// Who or what.
    pub what: String,
    /// Since when.
    pub since: Option<When>,
    /// Until when.
    pub until: Option<When>,
}

/// A discrepancy.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Discrepancy {
    /// Its number.
    pub id: String,
    /// Where it was found, in every hand that it is about.
    pub items: Vec<Item>,
    /// What is wrong.
    pub what: String,
    /// When it was found.
    pub opened: Option<When>,
    /// Whether it is not settled.
    pub open: bool,
}

impl State {
    /// Whether an item is signed off.
    #[must_use]
    pub fn is_done(&self, item: Item) -> bool {
        self.done.contains_key(&item)
    }

    /// The value of a reading of an item that is signed off.
    #[must_use]
    pub fn reading(&self, item: Item, id: &str) -> Option<&str> {
        self.done.get(&item)?.values.get(id).map(String::as_str)
    }

    /// Discrepancies that are not settled.
    pub fn open_discrepancies(&self) -> impl Iterator<Item = &Discrepancy> {
        self.discrepancies.iter().filter(|discrepancy| discrepancy.open)
    }
}

/// Follows the references of a progress file; what leads nowhere is a finding and is left out.
#[must_use]
pub fn resolve_progress(spec: EveningSpec, job: &Job, order: &Order, report: &mut Report) -> State {
    let mut at = Following::of(job, report);
    at.refuse_records(&spec);
    let (mut state, mut places) = (State::default(), BTreeMap::new());
    at.signatures(&spec, &mut state, &mut places);
    for started in spec.started {
        let Some(on) = at.day(started.on.or(spec.on), started.span) else { continue };
        let note = started.note.as_ref().map(|note| note.value.clone());
        for item in at.items(Named::of(started.traveler.as_ref(), started.hand, &started.steps, &[])) {
            state.started.insert(item, Started { on, note: note.clone() });
        }
    }
    for waiting in spec.waiting {
        let (since, until) = (waiting.since.map(|since| since.value), waiting.until.map(|until| until.value));
        let items = at.items(Named::of(waiting.traveler.as_ref(), waiting.hand, &waiting.steps, &[])).into_iter();
        state.waiting.extend(items.map(|item| Waiting {
            item,
            wait: waiting.wait.value,
            what: waiting.what.value.clone(),
            since,
            until,
        }));
    }
    let closed: BTreeSet<&str> = spec.close.iter().map(|close| close.discrepancy.value.as_str()).collect();
    for own in spec.discrepancy {
        let Some(number) = at.number(&own) else { continue };
        let opened = own.on.or(spec.on).map(|on| on.value);
        let items = at.items(Named::of(own.traveler.as_ref(), own.hand, &own.step, &[]));
        let open = !closed.contains(number.as_str());
        state.discrepancies.push(Discrepancy { id: number, items, what: own.what.value, opened, open });
    }
    at.check_closed(&spec.close, &state);
    state.started.retain(|item, _| !state.done.contains_key(item));
    state.looked.retain(|item| !state.done.contains_key(item));
    at.check_order(&state, order, &places);
    at.check_compared(&state, &places);
    report.drop_followers();
    state
}

/// Work that is dated after today was not done yet; each such day is a finding.
pub fn check_days(spec: &EveningSpec, today: Day, report: &mut Report) {
    let top = spec.on.map(|on| ("dated", on));
    let done = spec.sign.iter().filter_map(|own| Some(("done", own.on?)));
    let started = spec.started.iter().filter_map(|own| Some(("begun", own.on?)));
    let opened = spec.discrepancy.iter().filter_map(|own| Some(("found", own.on?)));
    for (what, on) in top.into_iter().chain(done).chain(started).chain(opened) {
        let day = on.value.earliest.day();
        if day > today {
            let message = format!("this is {what} on {day}, which is after today, {today}");
            let finding = Finding::new(fault::VALUE_INVALID, Severity::Warning, on.span, message);
            report.push(finding.help("look at year, month and day once more"));
        }
    }
}
