//! Readings that are compared with each other: judged as soon as both are there, whichever is signed first.
//!
//! The limits are those of the issued sheet. It judges two values and no others.

use crate::archive::requirement::{NO_UNIT, RecordSide, SheetRequirement, StepRequirement};
use crate::archive::state::{Issue, State};
use crate::archive::value::{Capacity, Reading};
use crate::spec::named_reading;

/// Two readings that do not keep to their limits.
pub(super) struct Apart {
    /// What is wrong.
    pub what: String,
    /// What should be.
    pub should: String,
    /// What was read.
    pub is: String,
}

/// What the readings of a step do not keep to, against each other and against those of other steps of the sheet.
pub(super) fn apart(
    state: &State,
    issue: &Issue,
    (sheet, step): (&SheetRequirement, &StepRequirement),
    readings: &[Reading],
) -> Vec<Apart> {
    let read = |at: &Place<'_>| {
        if at.step.id == step.id {
            return readings.iter().find(|reading| reading.id == at.record).map(|reading| reading.value.clone());
        }
        let item = issue.issued.item(&at.step.id);
        let done = state.counting(&item).filter(|(own, _)| own.signed.capacity == Capacity::Done);
        let values = done.filter_map(|(own, _)| own.reading(at.record));
        values.last().map(str::to_owned)
    };
    let mut found = Vec::new();
    for owner in &sheet.steps {
        for (id, own) in owner.compared() {
            let places = Place::of(sheet, owner, id).zip(Place::of(sheet, owner, &own.other));
            let Some((one, other)) = places.filter(|(one, other)| [one, other].iter().any(|at| at.step.id == step.id))
            else {
                continue;
            };
            let Some((first, second)) = read(&one).zip(read(&other)) else { continue };
            if own.limits.contain(&first, &second) != Some(false) {
                continue;
            }
            let unit = one.step.record_text(one.record, RecordSide::Unit).filter(|unit| *unit != NO_UNIT);
            found.push(Apart {
                what: format!(
                    "`{id}` and `{}` of step `{}` are not as they should be to each other",
                    own.other, owner.id
                ),
                should: format!("{id} {}", own.limits.words(unit, &own.other)),
                is: format!("{first} and {second}"),
            });
        }
    }
    found
}

/// A reading on a sheet.
struct Place<'a> {
    step: &'a StepRequirement,
    record: &'a str,
}

impl<'a> Place<'a> {
    /// The reading that a step names.
    fn of(sheet: &'a SheetRequirement, owner: &'a StepRequirement, name: &'a str) -> Option<Self> {
        let (step, record) = named_reading(name, |id| owner.record_ids().contains(&id))?;
        Some(Self { step: step.map_or(Some(owner), |id| sheet.step(id))?, record })
    }
}
