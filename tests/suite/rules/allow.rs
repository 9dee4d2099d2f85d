//! What `[[allow]]` accepts and what it leaves standing.

use shophead::report::Severity;

use super::{judge, one_joint};

const SHORT: &str = "fastener = \"MS20470AD4-4\"\nedge = \"0.22\"\npitch = \"0.75\"\nstructure = \"secondary\"\naccess = \"both sides\"";

fn with(entry: &str) -> String {
    format!("{}{entry}\nbecause = \"letter of 2026-02-11\"\n", one_joint(["0.032", "0.040"], SHORT))
}

#[test]
fn an_accepted_error_keeps_its_weight_and_no_longer_stops() {
    let judged = judge(&[("t.toml", &with("[[allow]]\nrule = \"edge-distance-short\"\njoint = \"J1\""))]);
    let finding = judged.report.findings.iter().find(|finding| finding.rule == "edge-distance-short").unwrap();
    assert_eq!(finding.severity, Severity::Error);
    assert_eq!(finding.allowed.as_deref(), Some("letter of 2026-02-11"));
    assert!(!judged.report.stops());
    assert_eq!(judged.lines(), Vec::<String>::new());
}

#[test]
fn without_an_entry_it_stops() {
    let judged = judge(&[("t.toml", &one_joint(["0.032", "0.040"], SHORT))]);
    assert!(judged.report.stops());
}

#[test]
fn an_entry_holds_in_its_own_traveler_only() {
    let other = one_joint(["0.032", "0.040"], SHORT).replace("id = \"T\"", "id = \"U\"");
    let judged = judge(&[("t.toml", &with("[[allow]]\nrule = \"edge-distance-short\"")), ("u.toml", &other)]);
    let standing: Vec<_> = judged.standing().map(|finding| (finding.rule, finding.place.traveler.as_deref())).collect();
    assert_eq!(standing, [("edge-distance-short", Some("U"))]);
}

#[test]
fn two_travelers_of_one_id_do_not_accept_for_each_other() {
    let twin = one_joint(["0.032", "0.040"], SHORT);
    let judged = judge(&[("t.toml", &with("[[allow]]\nrule = \"edge-distance-short\"")), ("twin.toml", &twin)]);
    let standing = judged.of("edge-distance-short");
    assert_eq!(standing.len(), 1);
    assert_eq!(judged.files.path(standing[0].span.file), "twin.toml");
}

#[test]
fn an_unused_entry_says_what_was_probably_meant() {
    let judged = judge(&[("t.toml", &with("[[allow]]\nrule = \"edge-distance-shrt\""))]);
    let unused = judged.of("allow-unused");
    assert_eq!(unused.len(), 1);
    assert_eq!(unused[0].help.as_deref(), Some("did you mean `edge-distance-short`?"));
    assert!(judged.report.stops());
}

#[test]
fn what_was_found_while_reading_cannot_be_accepted() {
    let judged = judge(&[("t.toml", &with("[[allow]]\nrule = \"key-unknown\""))]);
    assert_eq!(
        judged.of("allow-unused")[0].message,
        "`key-unknown` cannot be allowed: it is not a judgement of this traveler's joints, steps or parts"
    );
}

#[test]
fn an_entry_for_a_joint_that_does_not_exist_is_one_finding_not_two() {
    let judged = judge(&[("t.toml", &with("[[allow]]\nrule = \"edge-distance-short\"\njoint = \"J9\""))]);
    assert_eq!(judged.of("reference-dangling").len(), 1);
    assert!(judged.of("allow-unused").is_empty());
}
