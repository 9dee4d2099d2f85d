//! The extract of the records: readings, what lies outside first; discrepancies; what is temporary or open on purpose.
//!
//! It repeats what was written down. Only readings are compared with their limits; nothing else is judged.

use serde::Serialize;

use super::scene::Scene;
use crate::archive::{Discrepancy as Archived, Limits, NO_UNIT, RecordSide};
use crate::job::{Discrepancy, Done, Item, Record, operation};
use crate::phrase::{self, say};
use crate::plan::decided::{decided, sides};
use crate::plan::measured::{label_as_read, requirement};
use crate::plan::told;
use crate::units::Decimal;
use crate::work::{Held, LedgerLine, ledger};

/// How a reading stands to its limits, what a visitor must see first in front.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum ReadingVerdict {
    /// Outside.
    Outside,
    /// The step is signed, the value is missing.
    NotWritten,
    /// It is no number.
    NoNumber,
    /// Exactly on a limit.
    OnLimit,
    /// There are no limits.
    NoLimits,
    /// Inside, and on neither limit.
    Inside,
}

/// One measured value.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ReadingLine {
    /// How it stands.
    pub verdict: ReadingVerdict,
    /// Traveler, hand and number of the step.
    pub place: String,
    /// What was measured, as it was called when it was read.
    pub label: String,
    /// Title of the step, where another reading has the same label.
    pub step: Option<String>,
    /// What was read, with its unit.
    pub read: Option<String>,
    /// The limits in words.
    pub limits: String,
    /// Initials and day.
    pub by: String,
}

/// One discrepancy.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DiscrepancyLook {
    /// Its number.
    pub number: String,
    /// When and by whom it was found, and where.
    pub found: String,
    /// What is wrong.
    pub what: String,
    /// What should be and what is.
    pub sides: Vec<String>,
    /// What was decided, on whose word; absent while it is open.
    pub decided: Option<String>,
    /// Values read afterwards, and what was fitted for good.
    pub after: Vec<String>,
}

/// Readings of what is signed: outside first, within that those taken in the spaces.
pub(super) fn readings(scene: &Scene<'_>) -> Vec<ReadingLine> {
    let done = scene.items.iter().filter_map(|item| Some((*item, scene.state.done.get(item)?)));
    let mut lines: Vec<(bool, ReadingLine)> = done
        .flat_map(|(item, done)| {
            let elsewhere = !scene.is_inside(item);
            scene.job.step(item.at).records.iter().map(move |record| (elsewhere, reading(scene, item, done, record)))
        })
        .collect();
    lines.sort_by_key(|(elsewhere, line)| (line.verdict, *elsewhere));
    let mut lines: Vec<ReadingLine> = lines.into_iter().map(|(_, line)| line).collect();
    let labels: Vec<String> = lines.iter().map(|line| line.label.clone()).collect();
    for line in &mut lines {
        if labels.iter().filter(|label| **label == line.label).count() < 2 {
            line.step = None;
        }
    }
    lines
}

fn reading(scene: &Scene<'_>, item: Item, done: &Done, record: &Record) -> ReadingLine {
    let value = done.values.get(&record.id.value);
    let limits = Limits { min: record.min.map(|min| min.value), max: record.max.map(|max| max.value) };
    let verdict = match value.map(|value| limits.contain(value)) {
        None => ReadingVerdict::NotWritten,
        Some(None) if limits != Limits::default() => ReadingVerdict::NoNumber,
        Some(Some(false)) => ReadingVerdict::Outside,
        Some(_) if is_apart(scene, item, record) => ReadingVerdict::Outside,
        Some(_) if limits == Limits::default() => ReadingVerdict::NoLimits,
        Some(Some(true)) if value.is_some_and(|value| is_on_limit(value, limits)) => ReadingVerdict::OnLimit,
        Some(_) => ReadingVerdict::Inside,
    };
    // A value stays what it was when it was read: today's label and unit are for those that are still to be read.
    let signed = scene.signed(item).filter(|_| value.is_some());
    let id = &record.id.value;
    let today = || record.unit.as_ref().map_or(NO_UNIT, |unit| unit.value.as_str());
    let unit = signed.and_then(|(_, step)| step?.record_text(id, RecordSide::Unit)).unwrap_or_else(today);
    let unit = if unit == NO_UNIT { String::new() } else { format!(" {unit}") };
    let label = signed.map(|(signature, step)| label_as_read(scene.job, signature, step, id));
    let number = operation(scene.job.step(item.at).number);
    ReadingLine {
        verdict,
        place: format!("{} {number}", scene.place(item.at.traveler, item.hand)),
        label: label.unwrap_or_else(|| told::label(record)),
        step: Some(told::title(scene.job, item.at)),
        read: value.map(|value| format!("{value}{unit}")),
        limits: requirement(record),
        by: format!("{} {}", done.by, done.on.earliest.day()),
    }
}

/// Whether a value does not keep to what it is compared with.
fn is_apart(scene: &Scene<'_>, item: Item, record: &Record) -> bool {
    let read = |at, id: &str| scene.state.reading(Item { at, ..item }, id);
    let traveler = &scene.job.travelers[item.at.traveler];
    let apart = scene.job.apart(item, read);
    apart.iter().any(|own| [own.one, own.other].iter().any(|at| std::ptr::eq(traveler.record(*at), record)))
}

/// Whether a value is exactly one of its limits: the next reading of the same thing may well lie outside.
fn is_on_limit(value: &str, limits: Limits) -> bool {
    Decimal::parse(value).is_ok_and(|value| limits.min == Some(value) || limits.max == Some(value))
}

/// Open discrepancies and closed ones, as far as they concern the spaces.
pub(super) fn discrepancies(scene: &Scene<'_>) -> (Vec<DiscrepancyLook>, Vec<DiscrepancyLook>) {
    let all: Vec<DiscrepancyLook> = match scene.archived {
        Some(archived) => {
            archived.discrepancies.values().filter(|own| concerns(scene, own)).map(archived_line).collect()
        }
        None => scene
            .state
            .discrepancies
            .iter()
            .filter(|own| own.items.iter().any(|item| scene.items.contains(item)))
            .map(line)
            .collect(),
    };
    all.into_iter().partition(|own| own.decided.is_none())
}

fn concerns(scene: &Scene<'_>, own: &Archived) -> bool {
    let (opened, hand) = (&own.opened, own.opened.hand);
    let at_space = || opened.space.as_ref().is_some_and(|space| scene.is_space(space, hand));
    let Some(traveler) = &opened.traveler else { return at_space() };
    let at_step = || opened.step.as_ref().is_some_and(|step| scene.item(traveler, hand, step).is_some());
    let at_joint = || {
        let placed = scene.chosen.iter().flat_map(|chosen| scene.joints_in(chosen)).find(|placed| {
            scene.job.travelers[placed.joint.traveler].id.value == *traveler
                && opened.joint.as_ref() == Some(&scene.joint(*placed).id.value)
                && (hand.is_none() || placed.hand == hand)
        });
        placed.is_some()
    };
    at_space() || at_step() || at_joint()
}

fn archived_line(own: &Archived) -> DiscrepancyLook {
    let opened = &own.opened;
    let hand = opened.hand.map(|hand| phrase::word(hand.word()));
    let place = [&opened.traveler, &hand, &opened.step, &opened.joint, &opened.space];
    let place = place.into_iter().flatten().cloned().collect::<Vec<_>>().join(" ");
    let closed = own.closed.as_ref().map(|(_, closed)| closed);
    let readings = closed.into_iter().flat_map(|closed| {
        closed.after.iter().map(|own| say!("after: {reading} {value}", reading = own.id, value = own.value))
    });
    let fitted = closed.into_iter().flat_map(|closed| closed.as_built.iter().map(|own| say!("as built: {own}", own)));
    DiscrepancyLook {
        number: opened.number.clone(),
        found: format!("{} {}, {place}", opened.found, opened.by),
        what: opened.what.clone(),
        sides: sides(opened),
        decided: own.struck.as_ref().map(|because| say!("struck out: {because}", because)).or(closed.map(decided)),
        after: readings.chain(fitted).collect(),
    }
}

fn line(own: &Discrepancy) -> DiscrepancyLook {
    DiscrepancyLook {
        number: own.id.clone(),
        found: own.opened.map_or_else(String::new, |opened| opened.to_string()),
        what: own.what.clone(),
        sides: Vec::new(),
        decided: (!own.open).then(|| say!("closed; the decision is on the builder's sheet").to_owned()),
        after: Vec::new(),
    }
}

/// What was fitted beyond the drawings, as signed.
pub(super) fn as_built(scene: &Scene<'_>) -> Vec<String> {
    let Some(archived) = scene.archived else { return Vec::new() };
    let mut lines = Vec::new();
    for item in &scene.items {
        for (signature, _) in archived.counting(&scene.job.name_of(*item)) {
            lines.extend(
                signature
                    .signed
                    .as_built
                    .iter()
                    .map(|own| format!("{}: {own}", scene.place(item.at.traveler, item.hand))),
            );
        }
    }
    lines
}

/// Departures from a rule that the builder wrote down with a reason; those of joints elsewhere are left out.
pub(super) fn departures(scene: &Scene<'_>) -> Vec<String> {
    let placed: Vec<_> = scene.chosen.iter().flat_map(|chosen| scene.joints_in(chosen)).collect();
    let mut lines = Vec::new();
    for traveler in scene.travelers() {
        let own = &scene.job.travelers[traveler];
        let here = |id: &str| placed.iter().any(|at| at.joint.traveler == traveler && scene.joint(*at).id.value == id);
        for allow in own.allows.iter().filter(|allow| allow.joint.as_ref().is_none_or(|joint| here(&joint.value))) {
            let at = [&allow.joint, &allow.step, &allow.part].into_iter().flatten().map(|text| text.value.as_str());
            let at: Vec<&str> = std::iter::once(own.id.value.as_str()).chain(at).collect();
            let rule = allow.rule.value.replace('-', " ");
            lines.push(format!("{}, {rule}: {}", at.join(" "), allow.because.value));
        }
    }
    lines
}

/// Temporary hardware that is in, and what is open on purpose.
pub(super) fn parked(scene: &Scene<'_>) -> (Vec<LedgerLine>, Vec<LedgerLine>) {
    let spaces: Vec<String> =
        scene.chosen.iter().filter_map(|own| own.space).map(|space| scene.job.space_name(space)).collect();
    let here = |line: &LedgerLine| line.held == Held::Open && line.spaces.iter().any(|space| spaces.contains(space));
    let lines = ledger(scene.job, scene.state).into_iter().filter(here);
    lines.partition(|line| line.kind == crate::job::ParkedKind::Temporary.words())
}
