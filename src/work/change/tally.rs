//! Hardware and parts of a sheet by its requirements, and by how many two sheets differ.
//!
//! Without spares: it is what goes into the aircraft.

use std::collections::BTreeMap;

use crate::archive::{Aspect, SheetRequirement, StepRequirement};

/// Call or part, and by how many more or fewer the new sheet needs it; equal ones are left out.
pub(super) fn difference(old: Option<&SheetRequirement>, new: Option<&SheetRequirement>) -> Vec<(String, i64)> {
    let (old, new) = (old.map(tally).unwrap_or_default(), new.map(tally).unwrap_or_default());
    let mut names: Vec<&String> = old.keys().chain(new.keys()).collect();
    names.sort();
    names.dedup();
    let count = |list: &BTreeMap<String, i64>, name: &String| list.get(name).copied().unwrap_or(0);
    let differences = names.into_iter().map(|name| (name.clone(), count(&new, name) - count(&old, name)));
    differences.filter(|(_, by)| *by != 0).collect()
}

/// Pieces by call, from the steps that put the final fasteners in.
fn tally(sheet: &SheetRequirement) -> BTreeMap<String, i64> {
    let mut pieces = BTreeMap::new();
    for step in sheet.steps.iter().filter(|step| matches!(step.value("do"), Some("rivet" | "bolt"))) {
        for field in step.fields.iter().filter(|field| field.aspect == Aspect::Fastener) {
            let Some((joint, rest)) = joint_of(&field.name) else { continue };
            let each = rest == "fastener" || rest == "nut" || rest == "cotter" || rest.starts_with("washer at the ");
            if each {
                *pieces.entry(field.value.clone()).or_default() += count(step, joint);
            }
        }
    }
    pieces
}

/// Joint and what follows of a field's name.
pub(super) fn joint_of(name: &str) -> Option<(&str, &str)> {
    const ENDINGS: &[&str] = &["fastener", "nut", "cotter", "washer at the head", "washer at the nut"];
    let rest = name.strip_prefix("joint ")?;
    let plain = rest.split_once(", ").map_or(rest, |(before, _)| before);
    let ending = ENDINGS.iter().find(|ending| plain.ends_with(&format!(" {ending}")))?;
    Some((&plain[..plain.len() - ending.len() - 1], &rest[plain.len() - ending.len()..plain.len()]))
}

fn count(step: &StepRequirement, joint: &str) -> i64 {
    step.value(&format!("joint {joint} count")).and_then(|count| count.parse().ok()).unwrap_or(0)
}
