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
    for step in &sheet.steps {
        for fact in &step.facts {
            let About::Joint(joint, side) = &fact.about else { continue };
            let each = matches!(
                side,
                Side::Fastener | Side::Nut | Side::CheckNut | Side::Cotter | Side::WasherHead | Side::WasherNut
            );
            if let Some(call) = fact.text().filter(|_| each) {
                *pieces.entry(call.to_owned()).or_default() += i64::from(set_here(sheet, step, joint));
            }
        }
    }
    pieces
}

/// Final fasteners of a joint that a step sets, by what it requires. Sheets before form 3 state it only by the joint's count
/// and the holes left open.
#[must_use]
pub fn set_here(sheet: &SheetRequirement, step: &StepRequirement, joint: &str) -> u32 {
    let about = |side| About::Joint(joint.to_owned(), side);
    if let Some(FactValue::Count(count)) = step.value(&about(Side::SetHere)) {
        return *count;
    }
    let Some(FactValue::Count(count)) = step.value(&about(Side::Count)) else { return 0 };
    if !step.kind().is_some_and(StepKind::fastens) {
        return 0;
    }
    match step.value(&about(Side::LeftOpen)) {
        Some(FactValue::LeftOpen(open, until)) if is_named(until, sheet, step) => *open,
        Some(FactValue::LeftOpen(open, _)) => count.saturating_sub(*open),
        _ => *count,
    }
}

/// Whether `TRAVELER/step`, or `step` alone, names a step of the sheet.
fn is_named(written: &str, sheet: &SheetRequirement, step: &StepRequirement) -> bool {
    let (traveler, id) = written.split_once('/').map_or((sheet.traveler.as_str(), written), |both| both);
    traveler.trim() == sheet.traveler && id.trim() == step.id
}
