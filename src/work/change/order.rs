//! Steps that moved, came in or went, and what was done when.
//!
//! Order within a traveler is no requirement of a step; here two orders of the same steps are compared.

use std::collections::BTreeSet;

use super::comparison::{Comparison, differences, done};
use super::{Difference, StepChange, Verdict};
use crate::archive::{About, Capacity, Signature, StepRequirement};
use crate::calendar::Day;
use crate::job::Hand;
use crate::words::ItemName;

/// What a changed order does to a signed step: steps that now come before it and were not done by then.
pub(super) fn moved(with: &Comparison<'_>, step: &str, signature: &Signature) -> (Verdict, Vec<String>) {
    let before = |sheet: &crate::archive::SheetRequirement| -> BTreeSet<String> {
        sheet.steps.iter().take_while(|own| own.id != step).map(|own| own.id.clone()).collect()
    };
    let old = before(with.old);
    let new = before(with.new);
    let moved = new.iter().filter(|id| !old.contains(*id) && with.old.step(id).is_some());
    let late: Vec<&String> = moved
        .filter(|id| {
            done(with.state, with.issue, id).is_none_or(|(other, _)| other.signed.worked > signature.signed.worked)
        })
        .collect();
    let all_met = new.iter().any(|id| !old.contains(id) && with.old.step(id).is_some());
    match late.as_slice() {
        [] if all_met => (Verdict::Stands, vec!["the order changed; what comes first now was done first".to_owned()]),
        [] => (Verdict::Stands, Vec::new()),
        late => {
            let names: Vec<&str> = late.iter().map(|id| id.as_str()).collect();
            (
                Verdict::LookAgain,
                vec![format!("the order changed: {} comes first now and was not done before", names.join(", "))],
            )
        }
    }
}

/// A step that the sheet before did not have.
pub(super) fn inserted_step(with: &Comparison<'_>, new: &StepRequirement) -> StepChange {
    let after = with.new.steps.iter().skip_while(|step| step.id != new.id).skip(1);
    let later: Vec<&str> =
        after.filter(|step| done(with.state, with.issue, &step.id).is_some()).map(|step| step.id.as_str()).collect();
    let (verdict, reason) = if later.is_empty() {
        (Verdict::Print, "the step is new".to_owned())
    } else {
        (Verdict::Retrofit, format!("the step is new, and {} after it is done", later.join(", ")))
    };
    let differences = differences(&[], &new.facts, with.old.form);
    StepChange { differences, ..StepChange::of(new, verdict, reason) }
}

/// Signed steps after this one that work on a joint or part which changed in it.
pub(super) fn then_again(with: &Comparison<'_>, step: &str, differences: &[Difference]) -> Vec<String> {
    let touched: BTreeSet<Worked<'_>> = differences.iter().filter_map(|own| worked_on(own.about()?)).collect();
    let after = with.new.steps.iter().skip_while(|own| own.id != step).skip(1);
    let again = after.filter(|own| {
        let mut things = own.facts.iter().filter_map(|fact| worked_on(&fact.about));
        things.any(|thing| touched.contains(&thing))
    });
    again.filter(|own| done(with.state, with.issue, &own.id).is_some()).map(|own| own.id.clone()).collect()
}

/// What hands work on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Worked<'a> {
    Joint(&'a str),
    Part(&'a str),
}

fn worked_on(about: &About) -> Option<Worked<'_>> {
    match about {
        About::Part(part) => Some(Worked::Part(part)),
        about => about.joint().map(Worked::Joint),
    }
}

/// The first step after this one that is signed.
pub(super) fn next_signed<'a>(with: &Comparison<'a>, step: &str) -> Option<&'a Signature> {
    let mut after = with.new.steps.iter().skip_while(|own| own.id != step).skip(1);
    after.find_map(|own| done(with.state, with.issue, &own.id)).map(|(signature, _)| signature)
}

/// Whether a step of a traveler was done, in every hand that matters, no later than a day.
pub(super) fn was_done(with: &Comparison<'_>, traveler: &str, step: &str, by: Day) -> bool {
    let Some(index) = with.job.travelers.iter().position(|own| own.id.value == traveler) else { return false };
    let hands =
        with.job.hands_of(index).into_iter().filter(|hand| hand.is_none() || with.hand.is_none() || *hand == with.hand);
    let done = |hand: Option<Hand>| {
        let mut signatures = with.state.counting(&ItemName::new(traveler, hand, step));
        signatures.any(|(signature, _)| signature.signed.capacity == Capacity::Done && signature.signed.worked <= by)
    };
    hands.into_iter().all(done)
}
