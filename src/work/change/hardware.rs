//! Hardware of a sheet by its requirements, and by how many two sheets differ.
//!
//! Without spares: it is what goes into the aircraft.

use std::collections::BTreeMap;

use crate::archive::{About, FactValue, SheetRequirement, Side, StepRequirement};
use crate::job::StepKind;

/// Call, and by how many more or fewer the new sheet needs it; equal ones are left out.
pub(super) fn difference(old: Option<&SheetRequirement>, new: Option<&SheetRequirement>) -> Vec<(String, i64)> {
    // A sheet that is new, or gone, needs nothing on the other side.
    let old = old.map(tally).unwrap_or_default();
    // As above.
    let new = new.map(tally).unwrap_or_default();
    let mut names: Vec<&String> = old.keys().chain(new.keys()).collect();
    names.sort();
    names.dedup();
    // A call that one side does not have is needed there no time.
    let count = |list: &BTreeMap<String, i64>, name: &String| list.get(name).copied().unwrap_or(0);
    let differences = names.into_iter().map(|name| (name.clone(), count(&new, name) - count(&old, name)));
    differences.filter(|(_, by)| *by != 0).collect()
}

/// Pieces by call, from the steps that put the final fasteners in.
fn tally(sheet: &SheetRequirement) -> BTreeMap<String, i64> {
    let mut pieces = BTreeMap::new();
    for step in sheet.steps.iter().filter(|step| step.kind().is_some_and(StepKind::fastens)) {
        for fact in &step.facts {
            let About::Joint(joint, side) = &fact.about else { continue };
            let each = matches!(side, Side::Fastener | Side::Nut | Side::Cotter | Side::WasherHead | Side::WasherNut);
            if let Some(call) = fact.text().filter(|_| each) {
                *pieces.entry(call.to_owned()).or_default() += count(step, joint);
            }
        }
    }
    pieces
}

/// Fasteners of a joint in a step; a step of form 1 states them as well.
fn count(step: &StepRequirement, joint: &str) -> i64 {
    match step.value(&About::Joint(joint.to_owned(), Side::Count)) {
        Some(FactValue::Count(count)) => i64::from(*count),
        _ => 0,
    }
}
