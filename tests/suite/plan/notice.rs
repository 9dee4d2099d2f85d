//! The notice: sheets out and in, what falls when a space is opened, hardware, discrepancies, and the state afterwards.

use shophead::archive::{Capacity, Cause, ReadThrough, Standing, Struck};
use shophead::plan::{NoticeFacts, notice};
use shophead::words::{ItemName, PacketName};
use shophead::work::{Spaces, Verdict, changes};

use crate::build::signed::{Ledger, SPEC, day, edited, job};

const ALL: &[(&str, &str)] = &[
    ("open", "2026-03-02"),
    ("deburr", "2026-03-03"),
    ("prime", "2026-03-04"),
    ("rivet", "2026-03-06"),
    ("bolt", "2026-03-07"),
    ("level", "2026-03-08"),
    ("look", "2026-03-09"),
    ("close", "2026-03-10"),
];

fn all_done() -> Ledger {
    let mut ledger = Ledger::default();
    ledger.issue(&job(SPEC), &[]);
    for (step, worked) in ALL {
        ledger.sign("T1", step, worked, Some("0.04").filter(|_| *step == "level"));
    }
    ledger
}

fn facts() -> NoticeFacts {
    NoticeFacts { on: day("2026-04-01"), source: Some("plan change 7".into()), by: "B1".into() }
}

#[test]
fn one_changed_hole_size_lets_exactly_the_right_signatures_fall() {
    let mut ledger = all_done();
    let after = job(&edited("final = \"#30\"", "final = \"#29\""));
    let sheets = changes(&after, &ledger.state(), &ledger.archived);
    let found = notice(&after, &ledger.state(), sheets, &facts());
    let act: Vec<(&str, Verdict)> =
        found.act.iter().map(|line| (line.change.step.as_str(), line.change.verdict)).collect();
    assert_eq!(act, [("open", Verdict::ReworkOrAsk), ("rivet", Verdict::ReworkOrAsk), ("look", Verdict::LookAgain)]);
    assert_eq!(found.act[0].change.then_again, ["deburr", "rivet", "look"]);
    let said = "joint J1 hole after this is now #29 (0.136 in), was #30 (0.1285 in)";
    assert_eq!(found.act[0].change.reasons, [said]);
    assert_eq!(found.stand, [("T1".to_owned(), 5)]);
    let (old, new) = (&found.remove[0], &found.insert[0]);
    assert!(old.signed && old.pages == Some(7) && old.codes != new.codes);

    // One discrepancy for the one cause, at every step whose work it touches, with what should be and what is.
    assert_eq!(found.discrepancies.len(), 1);
    let opened = &found.discrepancies[0];
    assert_eq!((opened.number.as_str(), opened.cause, opened.joint.as_deref()), ("D-001", Cause::Change, Some("J1")));
    assert_eq!((opened.step.as_deref(), opened.also.as_slice()), (Some("open"), ["rivet".to_owned()].as_slice()));
    assert!(opened.what.starts_with("steps 010, 040 were done to revision A: "), "{}", opened.what);
    let should = "joint J1 hole after this #29 (0.136 in); joint J1 hole #29 (0.136 in)";
    assert_eq!(opened.should.as_deref(), Some(should));
    let at: Vec<Option<&str>> = found.act.iter().map(|line| line.discrepancy.as_deref()).collect();
    assert_eq!(at, [Some("D-001"), Some("D-001"), None], "whoever only looks again writes none");

    // After the new sheet is issued, the state says the same as the notice.
    let carried = found.sheets[0].carried.clone();
    ledger.issue(&after, &carried);
    let state = ledger.state();
    for (step, _) in ALL {
        let fell = ["open", "rivet", "look"].contains(step);
        let standing = state.standing(&ItemName::new("T1", None, *step));
        assert_eq!(matches!(standing, Standing::Fallen(_)), fell, "{step}: {standing:?}");
        assert_eq!(matches!(standing, Standing::Signed(_)), !fell, "{step}: {standing:?}");
    }
    assert!(changes(&after, &state, &ledger.archived).is_empty(), "and there is nothing left to tell");
}

#[test]
fn the_closed_space_is_named_with_the_signatures_that_fall_when_it_is_opened() {
    let mut ledger = all_done();
    let after = job(&edited("final = \"#30\"", "final = \"#29\""));
    let state = ledger.state();
    let found = notice(&after, &state, changes(&after, &state, &ledger.archived), &facts());
    assert_eq!(found.reopenings.len(), 1);
    let reopening = &found.reopenings[0];
    assert_eq!(reopening.access.id, "bay");
    assert_eq!(reopening.wanted_by.len(), 3);
    let falls: Vec<&str> = reopening.falls.iter().map(|(_, step)| step.as_str()).collect();
    assert_eq!(falls, ["T1/look", "T1/close"], "the closing, and the last look into it");

    // When it is opened, those two are struck out, and the space is open.
    let before = job(SPEC);
    let spaces = Spaces::of(&before);
    let space = spaces.all().next().unwrap();
    assert!(spaces.access(&state, space).closed_by.is_some());
    for (entry, _) in spaces.closing_signatures(&state, space) {
        ledger.add(Struck { entry, by: "B1".into(), on: day("2026-04-02"), because: "the bay is opened again".into() });
    }
    let state = ledger.state();
    assert_eq!(spaces.access(&state, space).closed_by, None);
    assert_eq!(state.standing(&ItemName::new("T1", None, "close")), Standing::Open);
    assert!(!state.is_signed(&ItemName::new("T1", None, "look"), Capacity::Done));
}

#[test]
fn signatures_that_wait_for_a_reading_stand_after_it() {
    let mut ledger = all_done();
    let after = job(&edited("do = \"measure\"\n", "do = \"measure\"\ndrawings = [\"W-1 view B\"]\n"));
    let sheets = changes(&after, &ledger.state(), &ledger.archived);
    ledger.issue(&after, &sheets[0].carried);
    let state = ledger.state();
    assert!(matches!(state.standing(&ItemName::new("T1", None, "level")), Standing::AwaitsReading(_)));
    assert!(matches!(state.standing(&ItemName::new("T1", None, "rivet")), Standing::Signed(_)));

    // A second change before anybody read the first note does not let the reading be forgotten.
    let again = job(&edited("do = \"measure\"\n", "do = \"measure\"\ndrawings = [\"W-1 view B\"]\n")
        .replace("revision = \"A\"", "revision = \"B\""));
    let sheets = changes(&again, &state, &ledger.archived);
    let level = sheets[0].steps.iter().find(|step| step.step == "level").unwrap();
    assert_eq!(level.verdict, Verdict::StandsAfterReading);
    assert_eq!(level.reasons, ["the change note of the sheet before has not been read"]);

    let sheet = state.in_force(&PacketName::new("T1", None)).unwrap().issued.sheet;
    ledger.add(ReadThrough { sheet, by: "B1".into(), on: day("2026-04-02") });
    assert!(matches!(ledger.state().standing(&ItemName::new("T1", None, "level")), Standing::Signed(_)));
}

#[test]
fn two_causes_are_two_discrepancies_and_a_step_with_both_joins_them() {
    let ledger = all_done();
    let both = edited("count = 8", "count = 11").replace("count = 2", "count = 3");
    let after = job(&both);
    let found = notice(&after, &ledger.state(), changes(&after, &ledger.state(), &ledger.archived), &facts());
    let steps: Vec<(&str, usize)> =
        found.discrepancies.iter().map(|own| (own.step.as_deref().unwrap(), own.also.len())).collect();
    assert_eq!(steps, [("open", 2), ("bolt", 0)], "open, deburr and rivet are of J1, bolt is of J2");
    let said = "joint J1 has 11 fasteners now, 8 before: 3 more; 8 are done";
    assert_eq!(found.act[0].change.reasons, [said]);
    assert_eq!(found.discrepancies[0].is.as_deref(), Some("joint J1: 8 fasteners"));

    // The hole of a joint by step and the call are two sides; one step sees both.
    let after = job(&edited("final = \"#30\"", "final = \"#29\"").replace("MS20470AD4-4", "MS20470AD4-5"));
    let found = notice(&after, &ledger.state(), changes(&after, &ledger.state(), &ledger.archived), &facts());
    assert_eq!(found.discrepancies.len(), 1, "riveting is done to the old hole with the old rivet");
}

#[test]
fn a_reading_is_told_by_its_label_and_unit() {
    let ledger = all_done();
    let after = job(&edited("max = 0.1 }", "max = 0.05 }"));
    let found = notice(&after, &ledger.state(), changes(&after, &ledger.state(), &ledger.archived), &facts());
    let said = "Level: read as 0.04 deg, inside the narrower limits -0.1 to 0.05 deg";
    assert_eq!(found.by_record[0].change.reasons, [said]);
}

#[test]
fn hardware_is_told_by_how_much_it_changes() {
    let ledger = all_done();
    let after = job(&edited("count = 8", "count = 11").replace("AN3-3A", "AN3-4A"));
    let sheets = changes(&after, &ledger.state(), &ledger.archived);
    let found = notice(&after, &ledger.state(), sheets, &facts());
    assert_eq!(found.hardware, [("AN3-3A".to_owned(), -2), ("AN3-4A".to_owned(), 2), ("MS20470AD4-4".to_owned(), 3)]);
}

#[test]
fn an_older_revision_that_comes_back_does_not_bring_old_signatures_back() {
    let mut ledger = all_done();
    let after = job(&edited("final = \"#30\"", "final = \"#29\""));
    let sheets = changes(&after, &ledger.state(), &ledger.archived);
    ledger.issue(&after, &sheets[0].carried);
    let before = job(SPEC);
    let sheets = changes(&before, &ledger.state(), &ledger.archived);
    ledger.issue(&before, &sheets[0].carried);
    let state = ledger.state();
    assert!(matches!(state.standing(&ItemName::new("T1", None, "open")), Standing::Fallen(_)));
    assert!(matches!(state.standing(&ItemName::new("T1", None, "deburr")), Standing::Signed(_)));
}
