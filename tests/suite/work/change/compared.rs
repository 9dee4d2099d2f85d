//! Two readings that are compared, when their limits change after they were signed: made again with what was read.

use shophead::archive::{Reading, Signed};
use shophead::work::{Verdict, changes};

use crate::build::signed::{Ledger, day, edited, job, signed};

/// The level step with a second reading, which has this beside its unit.
fn spec(more: &str) -> String {
    let level = "records = [{ id = \"level\", label = \"Level\", unit = \"deg\", min = -0.1, max = 0.1 }]\n";
    let both = level.replace(" }]", &format!(" }}, {{ id = \"fore\", label = \"Fore\", unit = \"deg\"{more} }}]"));
    edited(level, &both)
}

/// What becomes of the level step, signed with these readings, and every reason.
fn becomes(before: &str, now: &str, (level, fore): (&str, &str)) -> (Verdict, Vec<String>) {
    let mut ledger = Ledger::default();
    ledger.issue(&job(&spec(before)), &[]);
    let issued = ledger.state().issues[0].issued.clone();
    let requirement = issued.steps.iter().find(|step| step.id == "level").unwrap().requirement;
    let read = |id: &str, value: &str| Reading { id: id.into(), value: value.into() };
    ledger.add(Signed {
        readings: vec![read("level", level), read("fore", fore)],
        ..signed(issued.sheet, "T1", "level", requirement, day("2026-03-08"))
    });
    let mut sheets = changes(&job(&spec(now)), &ledger.state(), &ledger.archived);
    let sheet = sheets.pop().unwrap();
    let step = sheet.steps.into_iter().find(|step| step.step == "level").unwrap();
    (step.verdict, step.reasons)
}

const WITHIN: &str = ", within = \"0.06 of level\"";
const NARROWER: &str = ", within = \"0.04 of level\"";

#[test]
fn a_changed_comparison_is_made_again_with_what_was_read() {
    let near = ("0.05", "0.02");
    let far = ("0.05", "0.00");
    for (before, now, read, verdict, reason) in [
        ("", WITHIN, near, Verdict::StandsByRecord, "Fore: within 0.06 of level, what was read keeps to it"),
        (WITHIN, NARROWER, near, Verdict::StandsByRecord, "Fore: within 0.04 of level, what was read keeps to it"),
        (WITHIN, NARROWER, far, Verdict::LookAgain, "Fore: within 0.04 of level, what was read does not keep to it"),
        (WITHIN, NARROWER, ("N/A", "0.02"), Verdict::LookAgain, "Fore: within 0.04 of level, to be compared now"),
        (NARROWER, WITHIN, near, Verdict::Stands, "Fore: within 0.06 of level, wider limits"),
        (WITHIN, "", near, Verdict::Stands, "Fore: no longer compared"),
    ] {
        assert_eq!(becomes(before, now, read), (verdict, vec![reason.to_owned()]), "{before} to {now}, {read:?}");
    }
}

#[test]
fn a_reading_that_another_signature_holds_is_compared_by_whoever_looks_again() {
    let elsewhere = ", within = \"0.06 of open/depth\"";
    let text = |more: &str| {
        let open = "text = \"Open the holes.\"\n";
        let depth = format!("{open}records = [{{ id = \"depth\", label = \"Depth\", unit = \"deg\" }}]\n");
        spec(more).replacen(open, &depth, 1)
    };
    let mut ledger = Ledger::default();
    ledger.issue(&job(&text("")), &[]);
    ledger.sign_reading("T1", "open", "2026-03-02", Some(("depth", "0.02")));
    ledger.sign_reading("T1", "level", "2026-03-08", Some(("fore", "0.02")));
    let sheet = changes(&job(&text(elsewhere)), &ledger.state(), &ledger.archived).pop().unwrap();
    let level = sheet.steps.iter().find(|step| step.step == "level").unwrap();
    assert_eq!(level.verdict, Verdict::LookAgain);
    assert_eq!(level.reasons, ["Fore: within 0.06 of open/depth, to be compared now"]);
}
