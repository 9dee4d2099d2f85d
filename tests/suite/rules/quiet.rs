//! One fault, one finding: what only follows from an entry that could not be read is not said.

use shophead::rules::{FIRE_WHERE_NOTHING_STANDS, RULES, check};

use crate::build::shop::{TRAVELER, job_of};

const PROJECT: &str = "[aircraft]\nname = \"Dunlin\"\n[[space]]\nid = \"bay\"\nname = \"Bay\"\n";

/// A second traveler that stands on the first.
const AFTER: &str = "[traveler]\nid = \"B-9\"\ntitle = \"t\"\nrevision = \"A\"\nafter = [\"B-1\"]\n[[step]]\nid = \"level\"\ntitle = \"t\"\ndo = \"level\"\nneeds = [\"B-1/rivet\"]\n";

/// The rules that fire where one piece of the traveler is another, errors and warnings.
fn fired(from: &str, to: &str) -> Vec<&'static str> {
    assert!(TRAVELER.contains(from), "`{from}` is not in the traveler");
    fired_by(PROJECT, &TRAVELER.replacen(from, to, 1))
}

fn fired_by(project: &str, traveler: &str) -> Vec<&'static str> {
    let (job, _, mut report) = job_of(project, &[traveler, AFTER]);
    check(&job, &mut report);
    let mut rules: Vec<&'static str> = report.findings.iter().map(|finding| finding.rule).collect();
    rules.sort_unstable();
    rules
}

#[test]
fn a_sound_traveler_has_no_finding() {
    assert_eq!(fired_by(PROJECT, TRAVELER), [""; 0]);
}

#[test]
fn a_fault_of_one_value_is_one_finding() {
    for (from, to, expected) in [
        ("count = 8", "count = \"8\"", "value-invalid"),
        ("count = 8\n", "", "value-invalid"),
        ("id = \"J1\"", "id = 1", "value-invalid"),
        ("fastener = \"MS20470AD4-5\"", "fastener = 470", "value-invalid"),
        ("stack = [\"B-2\", \"B-3\"]", "stack = \"B-2\"", "value-invalid"),
        ("stack = [\"B-2\", \"B-3\"]", "stack = [\"B-2\", \"B-33\"]", "reference-dangling"),
        ("start = \"3/32\"", "start = \"3/32 inches\"", "value-invalid"),
        ("do = \"drill\"", "do = \"drll\"", "value-invalid"),
        ("do = \"rivet\"", "do = \"\"", "value-invalid"),
        ("joints = [\"J1\"]", "joints = \"J1\"", "value-invalid"),
        ("joints = [\"J1\"]", "joint = [\"J1\"]", "key-unknown"),
        ("joints = [\"J1\"]", "joints = [\"J2\"]", "reference-dangling"),
        ("id = \"rivet\"", "id = [\"rivet\"]", "value-invalid"),
        ("id = \"B-2\"", "id = 2", "value-invalid"),
        ("name = \"Web\"", "name = 3", "value-invalid"),
        ("title = \"Bracket on web\"", "title = 1", "value-invalid"),
        ("id = \"B-1\"", "id = 1", "value-invalid"),
        ("[traveler]", "[travler]", "key-unknown"),
        ("[traveler]", "[traveler", "spec-unreadable"),
    ] {
        let rules = fired(from, to);
        assert!(rules.contains(&expected), "{to}: {rules:?}");
        let others: Vec<&&str> = rules.iter().filter(|rule| !["value-invalid", expected].contains(rule)).collect();
        assert!(others.is_empty(), "{to}: {rules:?}");
        // A table whose heading is wrong is missing as well.
        assert!(rules.len() == 1 || to == "[travler]" || to == "[traveler", "{to}: {rules:?}");
    }
}

#[test]
fn what_a_fault_does_not_explain_is_said_beside_it() {
    let second = "\n[[joint]]\nid = \"J2\"\nstack = [\"B-2\", \"B-3\"]\nfastener = \"MS20470AD4-5\"\ncount = 2\nholes = { final = \"#30\" }\nedge = \"0.2\"\n";
    let faulty = format!("{}{second}", TRAVELER.replacen("count = 8", "count = \"8\"", 1));
    let rules = fired_by(PROJECT, &faulty);
    assert!(rules.contains(&"edge-distance-short"), "{rules:?}");
    let wrong =
        TRAVELER.replacen("pitch = \"0.75\"", "pitch = \"wide\"", 1).replacen("edge = \"0.35\"", "edge = \"0.2\"", 1);
    assert_eq!(fired_by(PROJECT, &wrong), ["edge-distance-short", "value-invalid"]);
    let other =
        TRAVELER.replacen("count = 8", "count = \"8\"", 1).replacen("joints = [\"J1\"]", "joints = [\"J7\"]", 1);
    assert_eq!(fired_by(PROJECT, &other), ["reference-dangling", "value-invalid"], "J7 was never written");
}

#[test]
fn entries_of_the_project_file_explain_as_well() {
    let traveler = TRAVELER.replacen("do = \"rivet\"", "do = \"rivet\"\nspaces = [\"bay\"]", 1);
    assert_eq!(fired_by(PROJECT, &traveler), [""; 0]);
    assert_eq!(fired_by(&PROJECT.replace("name = \"Bay\"", "name = 3"), &traveler), ["value-invalid"]);
    let kit = "[[fastener]]\nid = \"K-1\"\nkind = \"blind-rivet\"\ndiameter = 5\nsource = \"kit\"\n";
    let traveler = TRAVELER.replacen("MS20470AD4-5", "K-1", 1);
    let kit = format!("{PROJECT}{}", kit.replace("diameter = 5", "diameter = true"));
    assert!(!fired_by(&kit, &traveler).contains(&"fastener-unknown"));
    assert!(fired_by(PROJECT, &traveler).contains(&"fastener-unknown"));
}

#[test]
fn the_list_names_rules_that_exist() {
    for name in FIRE_WHERE_NOTHING_STANDS {
        assert!(RULES.iter().any(|rule| rule.name == *name), "{name}");
    }
}
