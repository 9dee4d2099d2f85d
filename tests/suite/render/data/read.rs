//! Which keys templates read: nothing is planned for paper that no paper shows.

use std::collections::{BTreeMap, BTreeSet};

use super::page::{Root, plain};
use super::structures::Structures;
use crate::build::shop::root;

/// Keys that no built-in template reads, by structure: they are in what `--format json` prints, for programs.
pub const FOR_PROGRAMS: &[(&str, &[&str])] = &[
    ("Access", &["id"]),
    ("ActLine", &["differences", "step", "verdict", "was"]),
    ("BookLine", &["entry", "late"]),
    ("Difference", &["aspect", "name"]),
    ("DiscrepancyLine", &["opened"]),
    ("DoneBy", &["entry"]),
    ("FileLine", &["entry"]),
    ("HoleSet", &["joint-id", "shop-head"]),
    ("LookOnPage", &["begun", "rivet", "set"]),
    ("Measured", &["id"]),
    ("PickLine", &["look-alikes", "needed", "single-use", "spare", "temporary", "uses"]),
    ("SheetInForce", &["of", "signed"]),
    ("StepLine", &["differences", "step", "verdict", "was"]),
];

pub fn is_for_programs(structure: &str, key: &str) -> bool {
    FOR_PROGRAMS.iter().any(|(name, keys)| *name == structure && keys.contains(&key))
}

/// A template with all that it includes and imports.
fn reached(template: &str) -> Vec<String> {
    let mut open = vec![template.to_owned()];
    let mut seen: BTreeSet<String> = BTreeSet::new();
    let mut texts = Vec::new();
    while let Some(name) = open.pop() {
        // Some libraries are made for each document.
        let Ok(text) = std::fs::read_to_string(root().join("templates").join(&name)) else { continue };
        if seen.insert(name) {
            let named = ["include \"", "import \""].into_iter().flat_map(|word| text.split(word).skip(1));
            open.extend(named.filter_map(|rest| Some(rest.split_once('"')?.0.to_owned())));
            texts.push(text);
        }
    }
    texts
}

/// Whether a text reads a key: behind a dot, by `["key"]` or `at("key"`, or by its bare name where a template is filled in.
fn reads(text: &str, key: &str) -> bool {
    let in_name = |c: char| c.is_ascii_alphanumeric() || c == '-' || c == '_';
    let has = |text: &str, bare: bool| {
        text.match_indices(key).any(|(at, _)| {
            let (before, after) = (&text[..at], &text[at + key.len()..]);
            let ends = !after.starts_with(in_name);
            let quoted = (before.ends_with("[\"") || before.ends_with("at(\"")) && after.starts_with('"');
            let alone = bare && !before.ends_with(in_name) && !before.ends_with(['.', '"']);
            quoted || ends && (before.ends_with('.') || alone)
        })
    };
    let filled_in = |open: &str, close: &str| {
        text.split(open).skip(1).any(|rest| has(rest.split_once(close).map_or(rest, |(inner, _)| inner), true))
    };
    has(text, false) || filled_in("{{", "}}") || filled_in("{%", "%}")
}

/// A structure and all that stand in it.
fn inside(structures: &Structures, name: &str) -> BTreeSet<String> {
    let mut open = vec![name.to_owned()];
    let mut all = BTreeSet::new();
    while let Some(name) = open.pop() {
        if structures.find(&name).is_some_and(|one| !one.fields.is_empty()) && all.insert(name.clone()) {
            open.extend(structures.fields(&name).iter().map(|field| plain(&field.form).to_owned()));
        }
    }
    all
}

/// Keys that none of the templates reads that are given their structure.
pub fn unread(structures: &Structures, roots: &[Root]) -> BTreeMap<String, BTreeSet<String>> {
    let mut texts: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for one in roots {
        let reached = reached(one.template);
        for structure in inside(structures, one.structure) {
            texts.entry(structure).or_default().extend(reached.iter().cloned());
        }
    }
    let of = |(structure, texts): (String, Vec<String>)| {
        let fields = structures.fields(&structure).into_iter().map(|field| field.name);
        let unread: BTreeSet<String> = fields.filter(|key| !texts.iter().any(|text| reads(text, key))).collect();
        (!unread.is_empty()).then_some((structure, unread))
    };
    texts.into_iter().filter_map(of).collect()
}

#[test]
fn what_reads_a_key_is_found() {
    for text in ["#fact(line.hole-size)", "{{ line[\"hole-size\"] }}", "line.at(\"hole-size\", default: none)"] {
        assert!(reads(text, "hole-size"), "{text}");
    }
    assert!(reads("{% if hole %}", "hole") && reads("#x({{ hole }})", "hole"));
    for text in ["#let hole = 1", "line.hole-size", "{{ line.whole }}", "say(\"hole\")", "{{ x }} hole {{ y }}"] {
        assert!(!reads(text, "hole"), "{text}");
    }
}
