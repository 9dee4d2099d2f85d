//! What one comparison of a sheet with the specs rests on, and how two lists of facts differ.
//!
//! It weighs nothing.

use std::collections::{BTreeMap, BTreeSet};

use super::rename::{Names, Thing};
use super::{Difference, StepChange, Verdict, words};
use crate::archive::{
    Capacity, Carry, Fact, Form, Issue, SheetRequirement, Signature, State, StepRequirement, fact_lines,
};
use crate::job::{Hand, Item, Job, StepRef, operation};
use crate::work::space::Spaces;

/// What one comparison rests on.
pub(super) struct Comparison<'a> {
    pub job: &'a Job,
    pub spaces: &'a Spaces<'a>,
    pub state: &'a State,
    pub issue: &'a Issue,
    pub old: &'a SheetRequirement,
    /// The specs in the form of the old sheet, with the names of the old sheet for what was only renamed.
    pub new: &'a SheetRequirement,
    pub names: &'a Names,
    pub index: usize,
    pub hand: Option<Hand>,
}

impl Comparison<'_> {
    /// The item of a step by its name on the old sheet, in the specs as they are now.
    pub(super) fn item(&self, step: &str) -> Option<Item> {
        let name = self.names.now(Thing::Step, step).unwrap_or(step);
        let at = self.job.travelers[self.index].steps.iter().position(|own| own.id.value == name)?;
        Some(Item { at: StepRef { traveler: self.index, step: at }, hand: self.hand })
    }
}

/// The signature that says that a step is done, with how it came to the sheet in force.
pub(super) fn done<'a>(state: &'a State, issue: &Issue, step: &str) -> Option<(&'a Signature, Carry)> {
    let issued = &issue.issued;
    let mut counting = state.counting(&issued.item(step));
    counting.find(|(signature, _)| signature.signed.capacity == Capacity::Done)
}

impl StepChange {
    /// A step of which nothing is known but that it is there.
    pub(super) fn of(step: &StepRequirement, verdict: Verdict, reason: String) -> Self {
        Self {
            step: step.id.clone(),
            was: None,
            number: operation(step.number),
            title: step.title.clone(),
            verdict,
            reasons: vec![reason],
            differences: Vec::new(),
            reworded: false,
            done: None,
            measured: Vec::new(),
            then_again: Vec::new(),
            access: Vec::new(),
        }
    }
}

/// Facts that are not what they were, matched by the names of their lines; the new order first.
pub(super) fn differences(old: &[Fact], new: &[Fact], form: Form) -> Vec<Difference> {
    let named = |facts: &[Fact]| -> Vec<(String, String)> {
        let plain: Vec<Fact> = facts.iter().map(Fact::plain).collect();
        fact_lines(&plain, form).into_iter().map(|line| (line.name, line.value)).collect()
    };
    let before = named(old);
    let after = named(new);
    let by_name: BTreeMap<&str, usize> = before.iter().enumerate().map(|(at, (name, _))| (name.as_str(), at)).collect();
    let mut differences = Vec::new();
    for ((name, value), fact) in after.iter().zip(new) {
        let was = by_name.get(name.as_str()).copied();
        if was.is_none_or(|at| before[at].1 != *value) {
            differences.push(words::difference(name, &fact.about, was.map(|at| &old[at]), Some(fact)));
        }
    }
    let kept: BTreeSet<&str> = after.iter().map(|(name, _)| name.as_str()).collect();
    let gone = before.iter().zip(old).filter(|((name, _), _)| !kept.contains(name.as_str()));
    differences.extend(gone.map(|((name, _), fact)| words::difference(name, &fact.about, Some(fact), None)));
    differences
}
