//! Ids of one scope: look-up, repeats, and what was probably meant.
//!
//! It does not know what the ids stand for.

use std::collections::BTreeMap;

use crate::job::Text;
use crate::report::{Finding, Place, Severity, fault};
use crate::spec::nearest;

/// Ids of one scope with their index; of a repeated id the first counts.
pub(super) struct Names {
    by_id: BTreeMap<String, usize>,
}

impl Names {
    pub(super) fn of<'a>(ids: impl Iterator<Item = &'a Text>) -> Self {
        let mut by_id = BTreeMap::new();
        for (index, id) in ids.enumerate() {
            by_id.entry(id.value.clone()).or_insert(index);
        }
        Self { by_id }
    }

    pub(super) fn get(&self, id: &str) -> Option<usize> {
        self.by_id.get(id).copied()
    }

    pub(super) fn known(&self) -> impl Iterator<Item = &str> {
        self.by_id.keys().map(String::as_str)
    }
}

/// A finding for every id that an earlier entry of the same scope has.
pub(super) fn repeated<'a>(ids: impl Iterator<Item = &'a Text>, kind: &str, place: &Place) -> Vec<Finding> {
    let mut first: BTreeMap<&str, &Text> = BTreeMap::new();
    let mut findings = Vec::new();
    for id in ids {
        match first.get(id.value.as_str()) {
            None => {
                first.insert(&id.value, id);
            }
            Some(earlier) => {
                let message = format!("two entries are called {kind} `{}`", id.value);
                let mut finding = Finding::new(fault::ID_REPEATED, Severity::Error, id.span, message);
                finding = finding
                    .label(earlier.span, "the first one")
                    .help("give one of them another id; references go to the first");
                finding.place = place.clone();
                findings.push(finding);
            }
        }
    }
    findings
}

/// A finding for a reference that leads nowhere.
pub(in crate::job) fn dangling<'a>(text: &Text, kind: &'static str, known: impl Iterator<Item = &'a str>) -> Finding {
    let known: Vec<&str> = known.collect();
    let message = format!("there is no {kind} `{}`", text.value);
    let finding = Finding {
        missing: Some((kind, text.value.clone())),
        ..Finding::new(fault::REFERENCE_DANGLING, Severity::Error, text.span, message)
    };
    match nearest(&text.value, known.iter().copied()) {
        Some(near) => finding.help(format!("did you mean `{near}`?")),
        None if known.is_empty() => finding.help(format!("no {kind} is defined there")),
        None => finding.help(format!("known: {}", listed(&known))),
    }
}

/// The first few names, and how many more there are.
fn listed(known: &[&str]) -> String {
    const SHOWN: usize = 12;
    let text = known.iter().take(SHOWN).copied().collect::<Vec<_>>().join(", ");
    match known.len().saturating_sub(SHOWN) {
        0 => text,
        more => format!("{text} and {more} more"),
    }
}
