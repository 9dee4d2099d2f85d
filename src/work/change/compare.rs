//! Compares a sheet in force with the specs as they are now, step by step.
//!
//! Both sides are taken in the form in which the sheet was archived: a fact that it did not record fells nothing.

use std::collections::{BTreeMap, BTreeSet};

use super::comparison::{Comparison, differences, done};
use super::rename::{self, Thing};
use super::{Archived, DoneBy, SheetChange, StepChange, Verdict, hardware, order, weigh, words};
use crate::archive::{Carried, Carry, Form, Issue, SheetRequirement, Signature, State, StepRequirement};
use crate::job::{Hand, Job};
use crate::units::Style;
use crate::work::requirement::{sheet_requirement, sheet_requirement_as, sheet_to_print};
use crate::work::space::Spaces;

/// What has changed since the sheets in force were issued, sheet by sheet; sheets without any change are left out.
#[must_use]
pub fn changes(job: &Job, state: &State, archived: &Archived) -> Vec<SheetChange> {
    let spaces = Spaces::of(job);
    let in_force = || state.all_in_force().filter_map(|issue| Some((issue, archived.get(&issue.issued.sheet)?)));
    let then = |index: usize, hand: Option<Hand>, form: Form| sheet_requirement_as(job, index, hand, form);
    // A step of another traveler may be needed under its new name.
    let mut renamed_steps: BTreeMap<(String, String), String> = BTreeMap::new();
    let mut pairs = Vec::new();
    for (issue, old) in in_force() {
        let Some((index, hand)) = find(job, issue) else { continue };
        let mut new = then(index, hand, old.form);
        let names = rename::take_back(old, &mut new);
        for renamed in names.renamed.iter().filter(|renamed| renamed.thing == Thing::Step) {
            renamed_steps.insert((old.traveler.clone(), renamed.now.clone()), renamed.was.clone());
        }
        pairs.push((issue, old, new, names, index, hand));
    }
    let mut changes: Vec<SheetChange> = Vec::new();
    for (issue, old, new, names, index, hand) in &mut pairs {
        rename::needed_steps(new, &renamed_steps);
        let comparison = Comparison { job, spaces: &spaces, state, issue, old, new, names, index: *index, hand: *hand };
        changes.push(compare(&comparison));
    }
    changes.retain(SheetChange::is_changed);
    changes
        .extend(in_force().filter(|(issue, _)| find(job, issue).is_none()).map(|(issue, old)| gone(state, issue, old)));
    changes.sort_by(|a, b| (&a.traveler, &a.hand).cmp(&(&b.traveler, &b.hand)));
    changes
}

/// The traveler and hand of a sheet in the specs as they are now.
fn find(job: &Job, issue: &Issue) -> Option<(usize, Option<Hand>)> {
    let index = job.travelers.iter().position(|traveler| traveler.id.value == issue.issued.traveler)?;
    let hand = job.hands_of(index).into_iter().find(|hand| *hand == issue.issued.hand)?;
    Some((index, hand))
}

/// The sheets in force whose requirements are no longer those of the specs: traveler, hand and code.
#[must_use]
pub fn outdated_sheets(job: &Job, state: &State) -> Vec<String> {
    let outdated = |issue: &&Issue| match find(job, issue) {
        Some((index, hand)) => sheet_to_print(job, state, index, hand).code() != issue.issued.sheet,
        // A traveler whose file cannot be read is no revision.
        None => job.unread == 0,
    };
    let name = |issue: &Issue| format!("{} {}", issue.issued.packet(), issue.issued.sheet);
    state.all_in_force().filter(outdated).map(name).collect()
}

fn done_by(signature: &Signature) -> DoneBy {
    DoneBy {
        entry: signature.entry.0,
        by: signature.signed.by.clone(),
        worked: signature.signed.worked.to_string(),
        sheet: signature.sheet().map(|code| code.to_string()),
    }
}

fn compare(with: &Comparison<'_>) -> SheetChange {
    let reads_again = reads_again(with.old, with.new, &with.job.project.style);
    let kept = with.new.steps.iter().map(|step| match with.old.step(&step.id) {
        Some(old) => kept_step(with, old, step, &reads_again),
        None => order::inserted_step(with, step),
    });
    let mut steps: Vec<StepChange> = kept.collect();
    let gone = with.old.steps.iter().filter(|old| with.new.step(&old.id).is_none());
    steps.extend(gone.map(|old| asked_or_gone(with, old)));
    for step in &mut steps {
        add_access(with, step);
    }
    let carried = steps.iter().flat_map(|step| carried(with, step)).collect();
    for step in &mut steps {
        if let Some(now) = with.names.now(Thing::Step, &step.step) {
            step.was = Some(std::mem::replace(&mut step.step, now.to_owned()));
        }
    }
    let issued = &with.issue.issued;
    let title = &with.job.travelers[with.index].title.value;
    let to_print = sheet_to_print(with.job, with.state, with.index, with.hand);
    let reworded = with.old.wording.zip(with.new.wording).is_some_and(|(old, new)| old != new);
    SheetChange {
        traveler: issued.traveler.clone(),
        hand: issued.hand,
        title: title.clone(),
        old: issued.sheet.to_string(),
        new: Some(to_print.code().to_string()),
        revisions: (with.old.revision.clone(), with.new.revision.clone()),
        drawings: drawings(with.old, with.new),
        whole: differences(&with.old.facts, &with.new.facts, with.old.form),
        renamed: with.names.renamed.clone(),
        not_recorded: not_recorded(with),
        reworded: reworded || *title != issued.title,
        steps,
        hardware: hardware::difference(Some(with.old), Some(with.new)),
        carried,
    }
}

/// Kinds of facts that the old sheet's form did not record.
fn not_recorded(with: &Comparison<'_>) -> Vec<&'static str> {
    if with.old.form == Form::NEWEST {
        return Vec::new();
    }
    let newest = sheet_requirement(with.job, with.index, with.hand);
    let mut kinds: BTreeSet<&'static str> = BTreeSet::new();
    for (then, now) in with.new.steps.iter().zip(&newest.steps) {
        let known: BTreeSet<_> =
            then.facts.iter().map(|fact| (fact.about.aspect(), words::kind(&fact.about))).collect();
        let more = now.facts.iter().map(|fact| (fact.about.aspect(), words::kind(&fact.about)));
        kinds.extend(more.filter(|kind| !known.contains(kind)).map(|(_, words)| words));
    }
    kinds.into_iter().collect()
}

/// Why every signature of a sheet waits for one read-through, where it does: the drawings or the whole sheet changed.
pub(super) fn reads_again(old: &SheetRequirement, new: &SheetRequirement, style: &Style) -> Vec<String> {
    let drawings = drawings(old, new).into_iter();
    let mut reasons: Vec<String> =
        drawings.map(|(sheet, old, new)| format!("drawing {sheet} is now at revision {new}, was {old}")).collect();
    for difference in differences(&old.facts, &new.facts, old.form) {
        reasons.push(format!("for the whole sheet: {}", words::of(&difference, style)));
    }
    reasons
}

fn kept_step(
    with: &Comparison<'_>,
    old: &StepRequirement,
    new: &StepRequirement,
    reads_again: &[String],
) -> StepChange {
    let differences = differences(&old.facts, &new.facts, with.old.form);
    let mut change = StepChange::of(new, Verdict::Print, String::new());
    change.reasons.clear();
    change.reworded = old.wording != new.wording;
    if let Some((signature, how)) = done(with.state, with.issue, &old.id) {
        let facts = weigh::Weighing { with, signature, old, new };
        let weighed = weigh::weigh(&facts, &differences);
        change.verdict = weighed.verdict;
        change.reasons = weighed.reasons;
        change.measured = weighed.measured;
        let (by_order, reasons) = order::moved(with, &new.id, signature);
        change.reasons.extend(reasons);
        change.verdict = change.verdict.max(by_order);
        if !reads_again.is_empty() && change.verdict < Verdict::StandsAfterReading {
            change.verdict = Verdict::StandsAfterReading;
            let unchanged = if differences.is_empty() { "; nothing in this step changed" } else { "" };
            change.reasons.extend(reads_again.iter().map(|reason| format!("{reason}{unchanged}")));
        }
        let unread = how == Carry::ReadThrough && with.issue.read_through.is_none();
        if unread && change.verdict < Verdict::StandsAfterReading {
            change.verdict = Verdict::StandsAfterReading;
            change.reasons.push("the change note of the sheet before has not been read".to_owned());
        }
        change.reasons.extend(with.names.said_of(new));
        if change.reasons.is_empty() {
            change.reasons.push(nothing_changed(with, change.reworded));
        }
        change.done = Some(done_by(signature));
    }
    if change.verdict == Verdict::ReworkOrAsk {
        change.then_again = order::then_again(with, &new.id, &differences);
    }
    change.differences = differences;
    change
}

fn nothing_changed(with: &Comparison<'_>, reworded: bool) -> String {
    if reworded {
        "only words changed".to_owned()
    } else {
        format!("reviewed against revision {}: no change", with.new.revision)
    }
}

/// A step that has no namesake: gone, or under another name that only the builder can tell.
fn asked_or_gone(with: &Comparison<'_>, old: &StepRequirement) -> StepChange {
    let mut change = gone_step(with.state, with.issue, old);
    if let Some(question) = with.names.question(Thing::Step, &old.id).filter(|_| change.done.is_some()) {
        change.verdict = Verdict::WhichOne;
        change.reasons = vec![question];
    }
    change
}

fn gone_step(state: &State, issue: &Issue, old: &StepRequirement) -> StepChange {
    let done = done(state, issue, &old.id).map(|(signature, _)| done_by(signature));
    let (verdict, reason) = match done {
        Some(_) => (Verdict::UndoOrKeep, "the step is done and no longer in the plans; its record is kept"),
        None => (Verdict::Drop, "the step is no longer in the plans"),
    };
    StepChange { done, ..StepChange::of(old, verdict, reason.to_owned()) }
}

/// A sheet whose traveler or hand is no longer in the specs.
fn gone(state: &State, issue: &Issue, old: &SheetRequirement) -> SheetChange {
    SheetChange {
        traveler: issue.issued.traveler.clone(),
        hand: issue.issued.hand,
        title: issue.issued.title.clone(),
        old: issue.issued.sheet.to_string(),
        new: None,
        revisions: (old.revision.clone(), String::new()),
        drawings: Vec::new(),
        whole: Vec::new(),
        renamed: Vec::new(),
        not_recorded: Vec::new(),
        reworded: false,
        steps: old.steps.iter().map(|step| gone_step(state, issue, step)).collect(),
        hardware: hardware::difference(Some(old), None),
        carried: Vec::new(),
    }
}

/// The signatures of a step that go on under the new sheet.
fn carried(with: &Comparison<'_>, step: &StepChange) -> Vec<Carried> {
    let issued = &with.issue.issued;
    let Some(how) = step.verdict.carry() else { return Vec::new() };
    let name = with.names.now(Thing::Step, &step.step).unwrap_or(&step.step);
    let counting = with.state.counting(&issued.item(&step.step));
    counting.map(|(signature, _)| Carried { entry: signature.entry, how, step: name.to_owned() }).collect()
}

fn drawings(old: &SheetRequirement, new: &SheetRequirement) -> Vec<(String, String, String)> {
    let split = |list: &[String]| -> BTreeMap<String, String> {
        let pairs = list
            .iter()
            .map(|cited| cited.split_once(':').map_or((cited.as_str(), "none"), |(sheet, revision)| (sheet, revision)));
        pairs.map(|(sheet, revision)| (sheet.to_owned(), revision.to_owned())).collect()
    };
    let before = split(&old.drawings);
    let after = split(&new.drawings);
    let sheets: BTreeSet<&String> = before.keys().chain(after.keys()).collect();
    let revision = |list: &BTreeMap<String, String>, sheet: &String| {
        list.get(sheet).cloned().unwrap_or_else(|| "not cited".to_owned())
    };
    let pairs = sheets.into_iter().map(|sheet| (sheet.clone(), revision(&before, sheet), revision(&after, sheet)));
    pairs.filter(|(_, old, new)| old != new).collect()
}

/// Adds the access of the spaces that a step needs, where somebody has to go there.
fn add_access(with: &Comparison<'_>, change: &mut StepChange) {
    let goes_there = matches!(change.verdict, Verdict::LookAgain | Verdict::Retrofit | Verdict::ReworkOrAsk);
    let Some(item) = with.item(&change.step).filter(|_| goes_there) else { return };
    let needed = with.job.step(item.at).spaces.iter();
    let spaces: BTreeSet<_> = needed.flat_map(|space| with.job.spaces(space.value, item.hand)).collect();
    change.access = spaces.into_iter().map(|space| with.spaces.access(with.state, space)).collect();
}
