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
    assert!(old.signed && old.pages == Some(7) && old.code != new.code);

    // One discrepancy for each step whose work is touched, with what should be and what is.
    assert_eq!(found.discrepancies.len(), 2);
    assert_eq!(found.discrepancies[0].number, "D-001");
    assert_eq!(found.discrepancies[0].cause, Cause::Change);
    assert_eq!(found.discrepancies[0].should.as_deref(), Some("joint J1 hole after this #29 (0.136 in)"));
    assert_eq!(found.act[1].discrepancy.as_deref(), Some("D-002"));

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
