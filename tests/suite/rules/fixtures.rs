//! Every rule against its fixtures: the exact set of lines and rules, over all rules.

use std::collections::BTreeSet;
use std::path::PathBuf;

use shophead::report::{Colour, Report, render_human};
use shophead::rules::{RULES, Rule};

use super::{Judged, judge};

const KINDS: [&str; 3] = ["fires", "passes", "limit"];

fn folder(rule: &Rule) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/rules").join(rule.family).join(rule.name)
}

fn read(rule: &Rule, kind: &str) -> String {
    let path = folder(rule).join(kind).with_extension("toml");
    std::fs::read_to_string(&path).unwrap_or_else(|failure| panic!("{}: {failure}", path.display()))
}

/// Lines with `# fires: a, b` at their end.
fn marks(text: &str) -> BTreeSet<(usize, String)> {
    let mut marks = BTreeSet::new();
    for (index, line) in text.lines().enumerate() {
        let Some((_, names)) = line.split_once("# fires:") else { continue };
        marks.extend(names.split(',').map(|name| (index + 1, name.trim().to_owned())));
    }
    marks
}

fn found(judged: &Judged) -> BTreeSet<(usize, String)> {
    judged.standing().map(|finding| (judged.files.position(finding.span).line, finding.rule.to_owned())).collect()
}

fn judge_fixture(rule: &Rule, kind: &str) -> (Judged, String) {
    let text = read(rule, kind);
    (judge(&[(&format!("{kind}.toml"), &text)]), text)
}

#[test]
fn every_fixture_gives_exactly_what_it_marks() {
    let mut faults = Vec::new();
    for rule in RULES {
        for kind in KINDS {
            let (judged, text) = judge_fixture(rule, kind);
            let (expected, found) = (marks(&text), found(&judged));
            if expected != found {
                let missing: Vec<_> = expected.difference(&found).collect();
                let beyond: Vec<_> = found.difference(&expected).collect();
                faults.push(format!("{}/{kind}.toml: missing {missing:?}, beyond {beyond:?}", rule.name));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn fixtures_are_of_the_kind_that_their_name_says() {
    for rule in RULES {
        let own = |kind: &str| marks(&read(rule, kind)).iter().filter(|(_, name)| name == rule.name).count();
        assert!(own("fires") > 0, "{}/fires.toml has no line on which the rule fires", rule.name);
        assert!(marks(&read(rule, "passes")).is_empty(), "{}/passes.toml must be silent under all rules", rule.name);
        let limit = read(rule, "limit");
        assert!(own("limit") > 0, "{}/limit.toml has nothing on the far side of the limit", rule.name);
        assert!(limit.starts_with("# "), "{}/limit.toml does not begin with what the limit is", rule.name);
    }
}

#[test]
fn the_expected_diagnostics_are_fresh() {
    let mut stale = Vec::new();
    for rule in RULES {
        let (judged, _) = judge_fixture(rule, "fires");
        let findings = judged.report.findings.iter().filter(|finding| finding.rule == rule.name).cloned().collect();
        let text =
            render_human(&Report { findings, travelers: judged.report.travelers, ..Report::default() }, &judged.files, Colour::Plain);
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
