//! Every rule against its fixtures: the exact set of lines and rules, over all rules.
//!
//! A fixture is one traveler, `fires.toml`, or a folder, `fires/`, of travelers and perhaps a `build.toml` of its own.

use std::collections::BTreeSet;
use std::path::PathBuf;

use shophead::report::{Colour, Finding, Report, render_human};
use shophead::rules::{RULES, Rule};

use super::{Judged, judge_project};

const KINDS: [&str; 3] = ["fires", "passes", "limit"];

fn folder(rule: &Rule) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/rules").join(rule.family).join(rule.name)
}

/// The files of a fixture by name, sorted: one, or those of its folder.
fn read(rule: &Rule, kind: &str) -> Vec<(String, String)> {
    let (alone, many) = (folder(rule).join(kind).with_extension("toml"), folder(rule).join(kind));
    let text = |path: &PathBuf| {
        std::fs::read_to_string(path).unwrap_or_else(|failure| panic!("{}: {failure}", path.display()))
    };
    if !many.is_dir() {
        return vec![(format!("{kind}.toml"), text(&alone))];
    }
    assert!(!alone.exists(), "{}: a file and a folder for one fixture", alone.display());
    let mut files: Vec<(String, String)> = std::fs::read_dir(&many)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| (path.file_name().unwrap().to_string_lossy().into_owned(), text(&path)))
        .collect();
    files.sort();
    files
}

/// Lines with `# fires: a, b` at their end.
fn marks(files: &[(String, String)]) -> BTreeSet<(String, usize, String)> {
    let mut marks = BTreeSet::new();
    for (name, text) in files {
        for (index, line) in text.lines().enumerate() {
            let Some((_, names)) = line.split_once("# fires:") else { continue };
            marks.extend(names.split(',').map(|rule| (name.clone(), index + 1, rule.trim().to_owned())));
        }
    }
    marks
}

fn found(judged: &Judged) -> BTreeSet<(String, usize, String)> {
    let files = &judged.files;
    let place = |finding: &Finding| {
        (files.path(finding.span.file).to_owned(), files.position(finding.span).line, finding.rule.to_owned())
    };
    judged.standing().map(place).collect()
}

fn judge_fixture(rule: &Rule, kind: &str) -> (Judged, Vec<(String, String)>) {
    let files = read(rule, kind);
    let project = files
        .iter()
        .find(|(name, _)| name == "build.toml")
        .map_or(include_str!("../../rules/build.toml"), |(_, text)| text);
    let travelers: Vec<(&str, &str)> = files
        .iter()
        .filter(|(name, _)| name != "build.toml")
        .map(|(name, text)| (name.as_str(), text.as_str()))
        .collect();
    (judge_project(project, &travelers), files)
}

#[test]
fn every_fixture_gives_exactly_what_it_marks() {
    let mut faults = Vec::new();
    for rule in RULES {
        for kind in KINDS {
            let (judged, files) = judge_fixture(rule, kind);
            let (expected, found) = (marks(&files), found(&judged));
            if expected != found {
                let missing: Vec<_> = expected.difference(&found).collect();
                let beyond: Vec<_> = found.difference(&expected).collect();
                faults.push(format!("{}/{kind}: missing {missing:?}, beyond {beyond:?}", rule.name));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn fixtures_are_of_the_kind_that_their_name_says() {
    for rule in RULES {
        let own = |kind: &str| marks(&read(rule, kind)).iter().filter(|(_, _, name)| name == rule.name).count();
        assert!(own("fires") > 0, "{}/fires has no line on which the rule fires", rule.name);
        assert!(marks(&read(rule, "passes")).is_empty(), "{}/passes must be silent under all rules", rule.name);
        assert!(own("limit") > 0, "{}/limit has nothing on the far side of the limit", rule.name);
        let limit = read(rule, "limit");
        let first = limit.iter().find(|(name, _)| name != "build.toml").unwrap();
        assert!(first.1.starts_with("# "), "{}/limit does not begin with what the limit is", rule.name);
    }
}

#[test]
fn the_expected_diagnostics_are_fresh() {
    let mut stale = Vec::new();
    for rule in RULES {
        let (judged, _) = judge_fixture(rule, "fires");
        let findings = judged.report.findings.iter().filter(|finding| finding.rule == rule.name).cloned().collect();
        let text = render_human(
            &Report { findings, travelers: judged.report.travelers, ..Report::default() },
            &judged.files,
            Colour::Plain,
        );
        let path = folder(rule).join("fires.txt");
        if std::env::var_os("SHOPHEAD_BLESS").is_some() {
            std::fs::write(&path, &text).unwrap();
        }
        if std::fs::read_to_string(&path).unwrap_or_default() != text {
            stale.push(rule.name);
        }
    }
    assert!(stale.is_empty(), "run the tests with SHOPHEAD_BLESS=1 and read the change: {stale:?}");
}
