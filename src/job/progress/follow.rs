//! What the entries of a progress file name: steps and hands in the specs of today, boxes, people.
//!
//! What leads nowhere is a finding. A progress file knows no sheets: what can only be of one is refused.

use std::collections::{BTreeMap, BTreeSet};

use super::reading::{judge_reading, not_read};
use super::{Done, State};
use crate::calendar::When;
use crate::job::resolve::dangling;
use crate::job::{Hand, Item, Job, Order, StepRef, Text};
use crate::report::{Finding, Place, Report, Severity, fault};
use crate::spec::{CloseSpec, DiscrepancySpec, EveningSpec, SignSpec, StepName, named_steps, nearest, shared};
use crate::text::{Span, Spanned};
use crate::words::Capacity;

/// What is at hand while a progress file is followed.
pub(super) struct Following<'a> {
    job: &'a Job,
    travelers: BTreeMap<&'a str, usize>,
    report: &'a mut Report,
}

/// Steps as they are typed.
#[derive(Clone, Copy)]
pub(super) struct Named<'s> {
    traveler: Option<&'s Text>,
    hand: Option<Spanned<Hand>>,
    steps: &'s [Text],
    except: &'s [Text],
}

impl<'s> Named<'s> {
    pub const fn of(
        traveler: Option<&'s Text>,
        hand: Option<Spanned<Hand>>,
        steps: &'s [Text],
        except: &'s [Text],
    ) -> Self {
        Self { traveler, hand, steps, except }
    }
}

impl<'a> Following<'a> {
    pub fn of(job: &'a Job, report: &'a mut Report) -> Self {
        let mut travelers = BTreeMap::new();
        for (index, traveler) in job.travelers.iter().enumerate() {
            travelers.entry(traveler.id.value.as_str()).or_insert(index);
        }
        Self { job, travelers, report }
    }

    fn error(&mut self, span: Span, message: impl Into<String>, help: impl Into<String>) {
        self.report.push(Finding::new(fault::VALUE_INVALID, Severity::Error, span, message).help(help));
    }

    fn push(&mut self, mut finding: Finding, item: Item) {
        let traveler = &self.job.travelers[item.at.traveler];
        let (traveler, step) = (Some(traveler.id.value.clone()), Some(self.job.step(item.at).id.value.clone()));
        finding.place = Place { traveler, step, ..Place::default() };
        self.report.push(finding);
    }

    /// What only an archive can keep.
    pub fn refuse_records(&mut self, spec: &EveningSpec) {
        let visits = spec.visit.iter().map(|own| ("visit", own.span));
        let answers = spec.answer.iter().map(|own| ("answer", own.span));
        let corrections = spec.correct.iter().map(|own| ("correct", own.span));
        let struck = spec.strike.iter().map(|own| ("strike", own.span));
        let sheets = [("read", &spec.read), ("mark", &spec.mark), ("lost", &spec.lost), ("void", &spec.void)];
        let sheets = sheets.into_iter().flat_map(|(what, all)| all.iter().map(move |own| (what, own.span)));
        let all: Vec<_> = visits.chain(answers).chain(corrections).chain(struck).chain(sheets).collect();
        for (table, span) in all {
            let message = format!("[[{table}]] is of an archive, and progress.toml keeps none");
            self.error(
                span,
                message,
                "write it into a file below evenings/ and enter that: `shophead archive enter FILE`",
            );
        }
        let found = spec.discrepancy.iter().filter_map(|own| own.sheet.as_ref());
        let sheets: Vec<Span> =
            spec.sign.iter().filter_map(|own| own.sheet.as_ref()).chain(found).map(|own| own.span).collect();
        for span in sheets {
            self.error(span, "progress.toml knows no sheets", "write `traveler`, and `hand` where it is built in two");
        }
    }

    /// A day that must be there.
    pub fn day(&mut self, on: Option<Spanned<When>>, entry: Span) -> Option<When> {
        // A day that could not be read is a fault of its own.
        let is_unread = |own: &Finding| own.span.file == entry.file && own.message.starts_with("`on`");
        if on.is_none() && !self.report.findings.iter().any(is_unread) {
            self.error(entry, "the entry has no `on`", "add `on = 2026-03-02` to it, or once at the top");
        }
        on.map(|on| on.value)
    }

    /// The number of a discrepancy, which nobody gives it here.
    pub fn number(&mut self, own: &DiscrepancySpec) -> Option<String> {
        if own.number.is_none() {
            self.error(own.span, "`discrepancy` has no `number`", "add the number that stands in the margin");
        }
        own.number.as_ref().map(|number| number.value.clone())
    }

    /// What is closed was opened.
    pub fn check_closed(&mut self, closed: &[CloseSpec], state: &State) {
        for own in closed {
            let known = || state.discrepancies.iter().map(|own| own.id.as_str());
            if !known().any(|number| number == own.discrepancy.value) {
                self.report.push(dangling(&own.discrepancy, "discrepancy", known()));
            }
        }
    }

    /// The items of every signature, and what was done.
    pub fn signatures(&mut self, spec: &EveningSpec, state: &mut State, places: &mut BTreeMap<Item, Span>) {
        let mut all: Vec<(&SignSpec, Vec<Item>)> = Vec::new();
        for sign in &spec.sign {
            let items = self.items(Named::of(sign.traveler.as_ref(), sign.hand, &sign.steps, &sign.except));
            all.push((sign, items));
        }
        // Minutes at the top are those of all steps of which the entries give none.
        let without = all.iter().filter(|(sign, _)| sign.minutes.is_none() && is_work(sign));
        let count = without.map(|(_, items)| items.len()).sum();
        let mut of_top: Vec<u32> = spec.minutes.into_iter().flat_map(|own| shared(own.value, count)).collect();
        for (sign, items) in all {
            let minutes = match sign.minutes {
                Some(minutes) => shared(minutes.value, items.len()).collect(),
                None if is_work(sign) => of_top.drain(..items.len().min(of_top.len())).collect(),
                None => Vec::new(),
            };
            self.sign(spec, sign, &items, &minutes, state, places);
        }
    }

    fn sign(
        &mut self,
        spec: &EveningSpec,
        sign: &SignSpec,
        items: &[Item],
        minutes: &[u32],
        state: &mut State,
        places: &mut BTreeMap<Item, Span>,
    ) {
        let Some(on) = self.day(sign.on.or(spec.on), sign.span) else { return };
        let Some(by) = sign.by.as_ref().or(spec.by.as_ref()) else {
            return self.error(sign.span, "the entry has no `by`", "add `by = \"..\"` to it, or once at the top");
        };
        self.check_initials(by);
        match sign.capacity.map(|own| own.value) {
            None | Some(Capacity::Done) if is_work(sign) => {}
            Some(Capacity::Hold) => return state.looked.extend(items),
            Some(Capacity::Witness) => return,
            _ => {
                return self.error(
                    sign.span,
                    "a stage is signed in an archive",
                    "`shophead packet --issue` begins one",
                );
            }
        }
        let values = self.readings(sign, items);
        for (nth, item) in items.iter().enumerate() {
            let minutes = minutes.get(nth).copied().filter(|minutes| *minutes > 0);
            // A step without boxes has no readings.
            let values = values.get(&item.at).cloned().unwrap_or_default();
            let entry = Done { on, by: by.value.clone(), minutes, values };
            let span = sign.steps.first().map_or(sign.span, |own| own.span);
            if state.done.insert(*item, entry).is_some() {
                let message = format!("{} is signed off twice", self.job.item_name(*item));
                let finding = Finding::new(fault::ID_REPEATED, Severity::Error, span, message);
                self.push(finding.help("keep one entry; the later one counts"), *item);
            }
            places.insert(*item, span);
        }
    }

    /// The traveler that a name means.
    fn traveler(&mut self, named: Named<'_>) -> Option<usize> {
        let first = named.steps.first()?;
        let prefix = first.value.split_once('/').map(|(traveler, _)| traveler.trim().to_owned());
        let prefix = prefix.map(|value| Text { value, span: first.span });
        let Some(traveler) = named.traveler.or(prefix.as_ref()) else {
            let message = format!("`{}` does not name a traveler and a step", first.value);
            let finding = Finding::new(fault::REFERENCE_DANGLING, Severity::Error, first.span, message);
            let is_traveler = self.travelers.contains_key(first.value.as_str());
            self.report.push(finding.help(if is_traveler {
                format!(
                    "{0} is a traveler: add the step, as `{0}/step`; a whole job waits by `wait` under [board] of build.toml",
                    first.value
                )
            } else {
                "add `traveler = \"..\"`, or write `TRAVELER/step`".to_owned()
            }));
            return None;
        };
        let found = self.travelers.get(traveler.value.as_str()).copied();
        if found.is_none() {
            self.report.push(dangling(traveler, "traveler", self.travelers.keys().copied()));
        }
        found
    }

    /// The items that an entry means, in working order; none where it leads nowhere.
    pub fn items(&mut self, named: Named<'_>) -> Vec<Item> {
        let Some(traveler) = self.traveler(named) else { return Vec::new() };
        let taken = self.steps(traveler, named.except);
        let steps: BTreeSet<usize> = self.steps(traveler, named.steps).difference(&taken).copied().collect();
        let hands = self.hands(traveler, named.hand);
        let of_hand = |hand: &Option<Hand>| {
            let hand = *hand;
            steps.iter().map(move |step| Item { at: StepRef { traveler, step: *step }, hand })
        };
        hands.iter().flat_map(of_hand).collect()
    }

    fn steps(&mut self, traveler: usize, words: &[Text]) -> BTreeSet<usize> {
        let own = &self.job.travelers[traveler];
        let names: Vec<StepName<'_>> =
            own.steps.iter().map(|step| StepName { number: step.number, id: &step.id.value }).collect();
        let mut all = BTreeSet::new();
        for word in words {
            match named_steps(&word.value, &own.id.value, &names, &format!("traveler {}", own.id.value)) {
                Ok(found) => all.extend(found),
                Err(said) => {
                    let finding = Finding {
                        missing: said.unknown.map(|unknown| ("step", unknown)),
                        ..Finding::new(fault::REFERENCE_DANGLING, Severity::Error, word.span, said.message)
                    };
                    self.report.push(finding.help(said.help));
                }
            }
        }
        all
    }

    fn hands(&mut self, traveler: usize, hand: Option<Spanned<Hand>>) -> Vec<Option<Hand>> {
        let hands = self.job.hands_of(traveler);
        let Some(hand) = hand else { return hands };
        if hands.contains(&Some(hand.value)) {
            return vec![Some(hand.value)];
        }
        let id = &self.job.travelers[traveler].id.value;
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

    /// The readings of an entry, by step; those of no box, and those out of tolerance, are findings.
    fn readings(&mut self, sign: &SignSpec, items: &[Item]) -> BTreeMap<StepRef, BTreeMap<String, String>> {
        let steps: BTreeSet<StepRef> = items.iter().map(|item| item.at).collect();
        let boxes = super::reading::Boxes::of(self.job, &steps);
        let mut all: BTreeMap<StepRef, BTreeMap<String, String>> = BTreeMap::new();
        for (name, value) in &sign.readings {
            match boxes.named(&name.value) {
                // Of an entry that leads nowhere that was said.
                Err(_) if items.is_empty() => {}
                Err(said) => {
                    let finding = Finding::new(fault::REFERENCE_DANGLING, Severity::Error, name.span, said.message);
                    self.report.push(finding.help(said.help));
                }
                Ok((at, record)) => {
                    self.report.extend(judge_reading(record, value));
                    all.entry(at).or_default().insert(record.id.value.clone(), value.value.clone());
                }
            }
        }
        for at in steps {
            let given = all.entry(at).or_default();
            self.report.extend(not_read(&self.job.step_name(at), &self.job.step(at).records, given, sign));
        }
        all
    }

    /// Readings that are compared with each other, as soon as both are there.
    pub fn check_compared(&mut self, state: &State, places: &BTreeMap<Item, Span>) {
        for (item, span) in places {
            for compared in self.job.apart(*item, |at, id| state.reading(Item { at, ..*item }, id)) {
                let traveler = &self.job.travelers[item.at.traveler];
                let name = |reading| traveler.reading_name(reading, item.at.step);
                let unit = traveler.record(compared.one).unit.as_ref().map(|unit| unit.value.as_str());
                let should = compared.limits.words(unit, &name(compared.other));
                let message = format!("{} of {} is not {should}", name(compared.one), self.job.item_name(*item));
                let finding = Finding::new(fault::VALUE_INVALID, Severity::Warning, *span, message);
                let finding = finding.label(compared.span, "the limit");
                self.push(finding.help("measure again, or open a [[discrepancy]]"), *item);
            }
        }
    }

    /// What is signed off stands on work that is signed off.
    pub fn check_order(&mut self, state: &State, order: &Order, places: &BTreeMap<Item, Span>) {
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

/// Whether an entry says that work was done.
fn is_work(sign: &SignSpec) -> bool {
    let is_stage = sign.stage.is_some() || sign.outcome.is_some();
    sign.capacity.map_or(!is_stage, |own| own.value == Capacity::Done)
}
