//! Signatures that wait for a read-through, each with what there is to read: what was in force when it was read last, and now.
//!
//! Both sides are archived; no spec is asked.

use std::collections::BTreeMap;

use super::compare::reads_again;
use super::comparison::differences;
use super::{Difference, words};
use crate::archive::{Carry, EntryNumber, Issue, SheetRequirement, State};
use crate::ident::SheetCode;
use crate::job;
use crate::job::Job;
use crate::units::Style;
use crate::words::ItemName;

/// A signature that waits for a read-through of the change note.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unread {
    /// The step, by its name on the sheet in force.
    pub item: ItemName,
    /// The sheet in force, whose change note it is.
    pub sheet: SheetCode,
    /// The signature.
    pub entry: EntryNumber,
    /// Who signed.
    pub by: String,
    /// What is to be read, one clause each.
    pub reasons: Vec<String>,
    /// What is not what it was at the step.
    pub differences: Vec<Difference>,
}

/// Every signature that waits for a read-through, sheet by sheet; `required` gives what a sheet required, as archived. Of
/// a sheet for which it gives nothing, the reasons are left out.
#[must_use]
pub fn unread(state: &State, style: &Style, required: impl Fn(&Issue) -> Option<SheetRequirement>) -> Vec<Unread> {
    let mut sheets: BTreeMap<SheetCode, Option<SheetRequirement>> = BTreeMap::new();
    let mut all = Vec::new();
    for issue in state.all_in_force().filter(|issue| issue.read_through.is_none()) {
        for carried in issue.issued.carried.iter().filter(|carried| carried.how == Carry::ReadThrough) {
            let Some(signature) = state.signatures.get(&carried.entry).filter(|own| own.struck.is_none()) else {
                continue;
            };
            let mut own = Unread {
                item: issue.issued.item(&carried.step),
                sheet: issue.issued.sheet,
                entry: signature.entry,
                by: signature.signed.by.clone(),
                reasons: Vec::new(),
                differences: Vec::new(),
            };
            if let Some((old, step)) = last_read(state, issue, carried.entry) {
                for one in [issue, old] {
                    sheets.entry(one.issued.sheet).or_insert_with(|| required(one));
                }
                let archived = |issue: &Issue| sheets.get(&issue.issued.sheet)?.as_ref();
                if let (Some(was), Some(is)) = (archived(old), archived(issue)) {
                    own.take(was, is, &step, style);
                }
            }
            all.push(own);
        }
    }
    all
}

/// Adds to each step that waits for a read-through what there is to read.
pub fn tell_what_to_read(job: &Job, unread: &[Unread], state: &mut job::State) {
    for waiting in &mut state.waiting {
        let name = job.name_of(waiting.item);
        if let Some(own) = unread.iter().find(|own| own.item == name && !own.reasons.is_empty()) {
            waiting.what = format!("{}: {}", waiting.what, own.reasons.join("; "));
        }
    }
}

impl Unread {
    fn take(&mut self, was: &SheetRequirement, is: &SheetRequirement, step: &str, style: &Style) {
        if let (Some(old), Some(new)) = (was.step(step), is.step(&self.item.step)) {
            let mut differences = differences(&old.facts, &new.facts, is.form);
            // What an older form did not record is not new.
            differences.retain(|difference| difference.was.is_some() || was.form == is.form);
            self.differences = differences;
        }
        self.reasons = self.differences.iter().map(|own| words::of(own, style)).collect();
        self.reasons.extend(reads_again(was, is, style));
    }
}

/// The sheet from which on nobody has read the notes, and the step's name on it.
fn last_read<'a>(state: &'a State, issue: &'a Issue, entry: EntryNumber) -> Option<(&'a Issue, String)> {
    let mut newer = issue;
    loop {
        let old = state.sheet(newer.issued.supersedes?)?;
        let Some(carried) = old.issued.carried.iter().find(|carried| carried.entry == entry) else {
            return Some((old, state.signatures.get(&entry)?.signed.step.clone()));
        };
        // A sheet never replaces one that was issued after it.
        if carried.how != Carry::ReadThrough || old.read_through.is_some() || old.entry >= newer.entry {
            return Some((old, carried.step.clone()));
        }
        newer = old;
    }
}
