//! A drawing register that went on while the travelers did not: which of them, and which steps of theirs.

use shophead::work::{Touched, register_touches};

use crate::build::signed::{Ledger, PROJECT, SPEC, edited, job_of};

/// What the register touches at a revision of `W-1`, with the deburring step signed.
fn touched(revision: &str, spec: &str) -> Vec<Touched> {
    let project = PROJECT.replace("revision = \"B\"", &format!("revision = \"{revision}\""));
    let job = job_of(&project, &[spec]);
    let mut ledger = Ledger::default();
    ledger.issue(&job, &[]);
    ledger.sign("T1", "deburr", "2026-03-03", None);
    register_touches(&job, &ledger.state())
}

#[test]
fn a_register_at_the_revision_that_is_cited_touches_nothing() {
    assert_eq!(touched("B", SPEC), []);
}

#[test]
fn a_sheet_that_a_traveler_cites_as_a_whole_touches_every_step_of_it() {
    let [own] = &touched("C", SPEC)[..] else { panic!("one traveler cites it") };
    assert_eq!((own.sheet.as_str(), own.cited.as_deref(), own.register.as_str()), ("W-1", Some("B"), "C"));
    let steps: Vec<&str> = own.steps.iter().map(|step| step.number.as_str()).collect();
    assert!(!own.by_view && steps == ["010", "020", "030", "040", "050", "060", "070", "080"], "{steps:?}");
    let signed: Vec<&str> = own.steps.iter().flat_map(|step| &step.signed).map(String::as_str).collect();
    assert_eq!(signed, ["B1, 2026-03-03"]);
}

#[test]
fn a_sheet_of_which_views_are_cited_touches_the_steps_that_cite_them() {
    let spec = edited("do = \"deburr\"\n", "do = \"deburr\"\ndrawings = [\"W-1 view A\"]\n");
    let [own] = &touched("C", &spec)[..] else { panic!("one traveler cites it") };
    let steps: Vec<(&str, &[String])> = own.steps.iter().map(|step| (step.step.as_str(), &step.views[..])).collect();
    assert!(own.by_view);
    assert_eq!(steps, [("deburr", &["W-1 view A".to_owned()][..])]);
}
