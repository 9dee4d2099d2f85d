//! The state of the work: what is done, begun and waited for, by step and hand.
//!
//! It is filled from a progress file, and can be filled from any other record of the work. It follows references and
//! reports entries that lead nowhere or that cannot be so; it decides nothing about what comes next.

use std::collections::{BTreeMap, BTreeSet};

mod reading;

use self::reading::{judge_reading, not_read};
use super::resolve::dangling;
use super::{Hand, Item, Job, Order, StepRef, Text, WaitFor};
use crate::calendar::{Day, When};
use crate::report::{Finding, Place, Report, Severity, fault};
use crate::spec::{DoneSpec, ProgressSpec, nearest};
use crate::text::{Span, Spanned};

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

    /// Discrepancies that are not settled.
    pub fn open_discrepancies(&self) -> impl Iterator<Item = &Discrepancy> {
        self.discrepancies.iter().filter(|discrepancy| discrepancy.open)
    }
}

/// Follows the references of a progress file; what leads nowhere is a finding and is left out.
#[must_use]
pub fn resolve_progress(spec: ProgressSpec, job: &Job, order: &Order, report: &mut Report) -> State {
    let mut at = Reading::of(job, report);
    let (mut state, mut places) = (State::default(), BTreeMap::new());
    for done in spec.done {
        at.check_initials(&done.by);
        let values = at.readings(&done);
        for item in at.items(&done.step, done.hand) {
            let entry = Done {
                on: done.on.value,
                by: done.by.value.clone(),
                minutes: done.minutes.map(|m| m.value),
                values: values.clone(),
            };
            if state.done.insert(item, entry).is_some() {
                let message = format!("{} is signed off twice", job.item_name(item));
                at.push(
                    Finding::new(fault::ID_REPEATED, Severity::Error, done.step.span, message)
                        .help("keep one entry; the later one counts"),
                    item,
                );
            }
            places.insert(item, done.step.span);
        }
    }
    for started in spec.started {
        for item in at.items(&started.step, started.hand) {
            let note = started.note.as_ref().map(|note| note.value.clone());
            state.started.insert(item, Started { on: started.on.value, note });
        }
    }
    for waiting in spec.waiting {
        let (since, until) = (waiting.since.map(|since| since.value), waiting.until.map(|until| until.value));
        let items = at.items(&waiting.step, waiting.hand).into_iter();
        state.waiting.extend(items.map(|item| Waiting {
            item,
            wait: waiting.wait.value,
            what: waiting.what.value.clone(),
            since,
            until,
        }));
    }
    for own in spec.discrepancies {
        let (opened, open) = (own.opened.map(|opened| opened.value), own.closed.is_none());
        let items = at.items(&own.step, own.hand);
        state.discrepancies.push(Discrepancy { id: own.id.value, items, what: own.what.value, opened, open });
    }
    state.started.retain(|item, _| !state.done.contains_key(item));
    at.check_order(&state, order, &places);
    report.drop_followers();
    state
}

/// Work that is dated after today was not done yet; each such day is a finding.
pub fn check_days(spec: &ProgressSpec, today: Day, report: &mut Report) {
    let done = spec.done.iter().map(|own| ("done", own.on));
    let started = spec.started.iter().map(|own| ("begun", own.on));
    let opened = spec.discrepancies.iter().filter_map(|own| Some(("found", own.opened?)));
    for (what, on) in done.chain(started).chain(opened) {
        let day = on.value.earliest.day();
        if day > today {
            let message = format!("this is {what} on {day}, which is after today, {today}");
            let finding = Finding::new(fault::VALUE_INVALID, Severity::Warning, on.span, message);
            report.push(finding.help("look at year, month and day once more"));
        }
    }
}

/// What is at hand while a progress file is followed.
struct Reading<'a> {
    job: &'a Job,
    travelers: BTreeMap<&'a str, usize>,
    steps: BTreeMap<(usize, &'a str), usize>,
    report: &'a mut Report,
}

impl<'a> Reading<'a> {
    fn of(job: &'a Job, report: &'a mut Report) -> Self {
        let (mut travelers, mut steps) = (BTreeMap::new(), BTreeMap::new());
        for (index, traveler) in job.travelers.iter().enumerate() {
            travelers.entry(traveler.id.value.as_str()).or_insert(index);
            for (number, step) in traveler.steps.iter().enumerate() {
                steps.entry((index, step.id.value.as_str())).or_insert(number);
            }
        }
        Self { job, travelers, steps, report }
    }

    fn push(&mut self, mut finding: Finding, item: Item) {
        let traveler = &self.job.travelers[item.at.traveler];
        let (traveler, step) = (Some(traveler.id.value.clone()), Some(self.job.step(item.at).id.value.clone()));
        finding.place = Place { traveler, step, ..Place::default() };
        self.report.push(finding);
    }

    fn step(&mut self, text: &Text) -> Option<StepRef> {
        let named = |value: &str| Text { value: value.to_owned(), span: text.span };
        let Some((traveler, step)) = text.value.split_once('/') else {
            let message = format!("`{}` does not name a traveler and a step", text.value);
            let finding = Finding::new(fault::REFERENCE_DANGLING, Severity::Error, text.span, message);
            self.report.push(finding.help("write `TRAVELER/step`, as the sheet says it"));
            return None;
        };
        let (traveler, step) = (traveler.trim(), step.trim());
        let Some(index) = self.travelers.get(traveler).copied() else {
            self.report.push(dangling(&named(traveler), "traveler", self.travelers.keys().copied()));
            return None;
        };
        let Some(number) = self.steps.get(&(index, step)).copied() else {
            let known = self.job.travelers[index].steps.iter().map(|step| step.id.value.as_str());
            self.report.push(dangling(&named(step), "step", known));
            return None;
        };
        Some(StepRef { traveler: index, step: number })
    }

    /// The items that an entry means; none where it leads nowhere.
    fn items(&mut self, step: &Text, hand: Option<Spanned<Hand>>) -> Vec<Item> {
        let Some(at) = self.step(step) else { return Vec::new() };
        let hands = self.job.hands_of(at.traveler);
        let Some(hand) = hand else {
            return hands.into_iter().map(|hand| Item { at, hand }).collect();
        };
        if hands.contains(&Some(hand.value)) {
            return vec![Item { at, hand: Some(hand.value) }];
        }
        let id = &self.job.travelers[at.traveler].id.value;
        let message = format!("traveler {id} is not built in the hand `{}`", hand.value.word());
        let known: Vec<&str> = hands.iter().flatten().map(|hand| hand.word()).collect();
        let help = if known.is_empty() {
            "it is a one-off: leave `hand` out".to_owned()
        } else {
            format!("its hands: {}", known.join(", "))
        };
        self.report.push(Finding::new(fault::REFERENCE_DANGLING, Severity::Error, hand.span, message).help(help));
        Vec::new()
    }

    /// Initials that the project does not list are kept; a visitor signs too.
    fn check_initials(&mut self, by: &Text) {
        let known = || self.job.project.signers.iter().map(|signer| signer.initials.value.as_str());
        if known().next().is_some() && !known().any(|initials| initials == by.value) {
            let message = format!("`{}` is nobody's initials in the project file", by.value);
            let help = nearest(&by.value, known())
                .map_or_else(|| "add a [[signer]]".to_owned(), |near| format!("did you mean `{near}`?"));
            self.report.push(Finding::new(fault::VALUE_INVALID, Severity::Warning, by.span, message).help(help));
        }
    }

    /// The readings of an entry; those of no record, and those out of tolerance, are findings.
    fn readings(&mut self, done: &DoneSpec) -> BTreeMap<String, String> {
        let Some(at) = self.known_step(&done.step) else { return BTreeMap::new() };
        let records = &self.job.step(at).records;
        for (id, value) in &done.values {
            match records.iter().find(|record| record.id.value == id.value) {
                None => self.report.push(dangling(
                    id,
                    "record of the step",
                    records.iter().map(|record| record.id.value.as_str()),
                )),
                Some(record) => self.report.extend(judge_reading(record, value)),
            }
        }
        self.report.extend(not_read(&self.job.step_name(at), records, done));
        done.values.iter().map(|(id, value)| (id.value.clone(), value.value.clone())).collect()
    }

    /// The step of a reference that leads somewhere, without a finding where it does not.
    fn known_step(&self, text: &Text) -> Option<StepRef> {
        let (traveler, step) = text.value.split_once('/')?;
        let traveler = self.travelers.get(traveler.trim()).copied()?;
        self.steps.get(&(traveler, step.trim())).map(|step| StepRef { traveler, step: *step })
    }

    /// What is signed off stands on work that is signed off.
    fn check_order(&mut self, state: &State, order: &Order, places: &BTreeMap<Item, Span>) {
        for (item, span) in places {
            let missing: BTreeSet<String> = order
                .links_to(*item)
                .filter(|link| !state.is_done(link.from))
                .map(|link| self.job.item_name(link.from))
                .collect();
            if missing.is_empty() {
                continue;
            }
            let missing = missing.into_iter().collect::<Vec<_>>().join(", ");
            let message = format!("{} is signed off, but {missing} comes first and is not", self.job.item_name(*item));
            let help = "add the missing entries, or look again whether the step was signed too early";
            self.push(Finding::new(fault::VALUE_INVALID, Severity::Warning, *span, message).help(help), *item);
        }
    }
}
