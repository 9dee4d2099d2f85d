//! One discrepancy a cause: what a change did to the work of several steps of a sheet is found once, not once a step.
//!
//! Steps share a cause where the same side of a joint, or the same other fact, went from one value to the same other. A step
//! that is done and gone from the plans stands alone.

use super::NoticeFacts;
use crate::archive::{About, Cause, DiscrepancyOpened, State};
use crate::ident::SheetCode;
use crate::job::Job;
use crate::phrase::say_count;
use crate::units::Style;
use crate::work::{Difference, SheetChange, StepChange, Verdict};

/// A discrepancy for every cause by which work is touched, and for every step that is done and gone.
pub(super) fn discrepancies(
    job: &Job,
    state: &State,
    sheets: &[SheetChange],
    facts: &NoticeFacts,
) -> Vec<DiscrepancyOpened> {
    let style = &job.project.style;
    let found = sheets.iter().flat_map(|sheet| causes(sheet).into_iter().map(move |steps| (sheet, steps)));
    let opened = state.next_discrepancies().zip(found);
    opened.filter_map(|(number, (sheet, steps))| one(number, sheet, &steps, style, facts)).collect()
}

fn one(
    number: String,
    sheet: &SheetChange,
    steps: &[&StepChange],
    style: &Style,
    facts: &NoticeFacts,
) -> Option<DiscrepancyOpened> {
    let (first, rest) = steps.split_first()?;
    Some(DiscrepancyOpened {
        sheet: SheetCode::parse(sheet.new.as_ref().unwrap_or(&sheet.old)).ok(),
        traveler: Some(sheet.traveler.clone()),
        hand: sheet.hand,
        step: Some(first.step.clone()),
        also: rest.iter().map(|step| step.step.clone()).collect(),
        joint: joint_of(steps),
        should: sides(steps, |own| own.is_words(style)),
        is: sides(steps, |own| own.was_words(style)),
        ..DiscrepancyOpened::blank(number, Cause::Change, what(sheet, steps), &facts.by, facts.on)
    })
}

/// The touched steps of a sheet by what touched them, in the order of the first of each.
fn causes(sheet: &SheetChange) -> Vec<Vec<&StepChange>> {
    let mut groups: Vec<Vec<&StepChange>> = Vec::new();
    let touched = |step: &&StepChange| matches!(step.verdict, Verdict::ReworkOrAsk | Verdict::UndoOrKeep);
    for step in sheet.steps.iter().filter(touched) {
        let shares = |group: &Vec<&StepChange>| group.iter().any(|other| share_a_cause(step, other));
        // A step with two causes joins what was apart.
        let joined = groups.extract_if(.., |group| shares(group)).reduce(|mut all, more| {
            all.extend(more);
            all
        });
        let mut group = joined.unwrap_or_else(Vec::new);
        group.push(step);
        groups.push(group);
    }
    groups
}

fn share_a_cause(one: &StepChange, other: &StepChange) -> bool {
    let rework = |step: &StepChange| step.verdict == Verdict::ReworkOrAsk;
    let shared = |own: &Difference| other.differences.iter().any(|more| same(own, more));
    rework(one) && rework(other) && one.differences.iter().any(shared)
}

/// Whether two steps saw the same change: of a joint by its values, for each step names its own side of one hole.
fn same(one: &Difference, other: &Difference) -> bool {
    let values = one.old == other.old && one.new == other.new;
    match (one.about(), other.about()) {
        (Some(About::Joint(joint, _)), Some(About::Joint(of, _))) => values && joint == of,
        (about, of) => values && about == of,
    }
}

fn joint_of(steps: &[&StepChange]) -> Option<String> {
    let mut joints = steps.iter().flat_map(|step| &step.differences).map(|own| own.about().and_then(About::joint));
    let first = joints.next()??;
    joints.all(|joint| joint == Some(first)).then(|| first.to_owned())
}

fn what(sheet: &SheetChange, steps: &[&StepChange]) -> String {
    let numbers: Vec<&str> = steps.iter().map(|step| step.number.as_str()).collect();
    let reasons = distinct(steps.iter().flat_map(|step| step.reasons.iter().cloned()));
    say_count!(
        steps.len(),
        "step {numbers} was done to revision {revision}: {reasons}",
        "steps {numbers} were done to revision {revision}: {reasons}",
        numbers = numbers.join(", "),
        revision = sheet.revisions.0,
        reasons = reasons.join("; ")
    )
}

fn sides(steps: &[&StepChange], side: impl Fn(&Difference) -> Option<String>) -> Option<String> {
    let sides = distinct(steps.iter().flat_map(|step| &step.differences).filter_map(side));
    (!sides.is_empty()).then(|| sides.join("; "))
}

fn distinct(all: impl Iterator<Item = String>) -> Vec<String> {
    let mut kept: Vec<String> = Vec::new();
    for one in all {
        if !kept.contains(&one) {
            kept.push(one);
        }
    }
    kept
}
