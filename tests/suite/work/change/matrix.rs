//! The matrix: each class of change against not done, done with a tick only, done with a reading inside and outside
//! the new limits. The classes and what they do are common practice; the numbers are invented.

use crate::build::signed::{Ledger, SPEC, edited, job, job_of};
use shophead::work::{SheetChange, StepChange, Verdict, changes};

/// How far the work has come: steps in working order with the day of each.
const DAYS: &[(&str, &str)] = &[
    ("open", "2026-03-02"),
    ("deburr", "2026-03-03"),
    ("prime", "2026-03-04"),
    ("rivet", "2026-03-06"),
    ("bolt", "2026-03-07"),
    ("level", "2026-03-08"),
    ("look", "2026-03-09"),
    ("close", "2026-03-10"),
];

#[derive(Clone, Copy, PartialEq, Eq, Debug)]
enum Done {
    Nothing,
    Tick,
    Inside,
    Outside,
}

const ALL: [Done; 4] = [Done::Nothing, Done::Tick, Done::Inside, Done::Outside];

impl Done {
    /// The recorded level: inside means inside limits of 0.05 as well, outside only inside the old ones of 0.1.
    const fn level(self) -> Option<&'static str> {
        match self {
            Self::Nothing => None,
            Self::Tick => Some("N/A"),
            Self::Inside => Some("0.04"),
            Self::Outside => Some("0.08"),
        }
    }
}

fn ledger(done: Done) -> Ledger {
    let mut ledger = Ledger::default();
    ledger.issue(&job(SPEC), &[]);
    for (step, worked) in DAYS.iter().filter(|_| done != Done::Nothing) {
        let level = done.level().filter(|_| *step == "level");
        ledger.sign("T1", step, worked, level);
    }
    ledger
}

fn change(done: Done, after: &str) -> Option<SheetChange> {
    let ledger = ledger(done);
    let mut sheets = changes(&job(after), &ledger.state(), &ledger.archived);
    assert!(sheets.len() <= 1);
    sheets.pop()
}

fn step<'a>(sheet: &'a SheetChange, id: &str) -> &'a StepChange {
    sheet.steps.iter().find(|step| step.step == id).unwrap()
}

/// One class of change: its name, the edit, the steps that it touches, and what becomes of them in the four states.
struct Class {
    name: &'static str,
    after: String,
    touched: &'static [&'static str],
    becomes: [Verdict; 4],
}

fn class(name: &'static str, after: String, touched: &'static [&'static str], done: Verdict) -> Class {
    Class { name, after, touched, becomes: [Verdict::Print, done, done, done] }
}

// A table, one entry a class: splitting it would hide what is missing.
#[allow(clippy::too_many_lines)]
fn classes() -> Vec<Class> {
    use Verdict::{LookAgain, Print, ReworkOrAsk, Stands, StandsAfterReading, StandsByRecord};
    let limits = "min = -0.1, max = 0.1";
    let level = "do = \"measure\"\n";
    let mut list = vec![
        class("words only", edited("Open the holes.", "Open all of the holes."), &["open"], Stands),
        class(
            "revision letter only",
            edited("revision = \"A\"", "revision = \"B\""),
            &["open", "level", "close"],
            Stands,
        ),
        class(
            "drawing view of a step",
            edited(level, "do = \"measure\"\ndrawings = [\"W-1 view B\"]\n"),
            &["level"],
            StandsAfterReading,
        ),
        class("limits widened", edited(limits, "min = -0.2, max = 0.1"), &["level"], Stands),
        class("limit dropped", edited(limits, "min = -0.1"), &["level"], Stands),
        class("unit changed", edited("unit = \"deg\"", "unit = \"mm\""), &["level"], LookAgain),
        class(
            "measurement added",
            edited("max = 0.1 }", "max = 0.1 }, { id = \"gap\", label = \"Gap\", unit = \"in\" }"),
            &["level"],
            LookAgain,
        ),
        class("hold added", edited(level, "do = \"measure\"\nhold = \"technical counselor\"\n"), &["level"], LookAgain),
        class("hold of another role", edited("\"technical counselor\"", "\"inspector\""), &["look"], LookAgain),
        class("hold dropped", edited("hold = \"technical counselor\"\n", ""), &["look"], Stands),
        class("photo added", edited(level, "do = \"measure\"\nphoto = \"before covering\"\n"), &["level"], LookAgain),
        class("cure shortened", edited("cure = \"24 h\"", "cure = \"12 h\""), &["prime"], Stands),
        class(
            "cure longer, but the next step waited for it",
            edited("cure = \"24 h\"", "cure = \"1 d\"\ncure-latest = \"7 d\""),
            &["prime"],
            StandsByRecord,
        ),
        class(
            "cure longer than the next step waited",
            edited("cure = \"24 h\"", "cure = \"3 d\""),
            &["prime"],
            LookAgain,
        ),
        class(
            "part thickness",
            edited("thickness = \"0.040\"", "thickness = \"0.050\""),
            &["open", "deburr", "rivet", "bolt"],
            ReworkOrAsk,
        ),
        class("hole size", edited("final = \"#30\"", "final = \"#29\""), &["open", "rivet"], ReworkOrAsk),
        class(
            "hole size, for the step that only looks",
            edited("final = \"#30\"", "final = \"#29\""),
            &["look"],
            LookAgain,
        ),
        class("number of fasteners", edited("count = 8", "count = 9"), &["open", "deburr", "rivet"], ReworkOrAsk),
        class("fastener", edited("MS20470AD4-4", "MS20470AD4-5"), &["rivet"], ReworkOrAsk),
        class("torque", edited("20-25 in-lb", "12-15 in-lb"), &["bolt"], ReworkOrAsk),
        class("kind of work", edited("do = \"deburr\"", "do = \"clean\""), &["deburr"], ReworkOrAsk),
        class(
            "must come after what came before",
            edited("id = \"level\"\n", "id = \"level\"\nneeds = [\"T1/prime\"]\n"),
            &["level"],
            Stands,
        ),
        class(
            "must come after what came later",
            edited("id = \"prime\"\n", "id = \"prime\"\nneeds = [\"T1/bolt\"]\n"),
            &["prime"],
            LookAgain,
        ),
        class(
            "needs a space that was open",
            edited("id = \"level\"\n", "id = \"level\"\nspaces = [\"bay\"]\n"),
            &["level"],
            Stands,
        ),
    ];
    list.push(Class {
        name: "limits narrowed",
        after: edited(limits, "min = -0.05, max = 0.05"),
        touched: &["level"],
        becomes: [Print, LookAgain, StandsByRecord, LookAgain],
    });
    list.push(Class {
        name: "limit added",
        after: edited(limits, "min = -0.1, max = 0.05"),
        touched: &["level"],
        becomes: [Print, LookAgain, StandsByRecord, LookAgain],
    });
    list
}

#[test]
fn each_class_of_change_against_each_state_of_the_step() {
    for class in classes() {
        for (done, expected) in ALL.into_iter().zip(class.becomes) {
            let sheet = change(done, &class.after).unwrap_or_else(|| panic!("{}: nothing is said of it", class.name));
            for id in class.touched {
                let step = step(&sheet, id);
                assert_eq!(step.verdict, expected, "{}, {done:?}, step {id}: {:?}", class.name, step.reasons);
                assert_eq!(step.done.is_some(), done != Done::Nothing);
                assert!(!step.reasons.is_empty() || done == Done::Nothing, "{}: no reason", class.name);
            }
        }
    }
}

#[test]
fn steps_that_a_change_does_not_touch_stand() {
    let untouched: &[(&str, String, &[&str])] = &[
        ("hole size", edited("final = \"#30\"", "final = \"#29\""), &["deburr", "prime", "bolt", "level", "close"]),
        ("fastener", edited("MS20470AD4-4", "MS20470AD4-5"), &["open", "deburr", "prime", "bolt", "level", "close"]),
        (
            "torque",
            edited("20-25 in-lb", "12-15 in-lb"),
            &["open", "deburr", "prime", "rivet", "level", "look", "close"],
        ),
        (
            "limits",
            edited("min = -0.1, max = 0.1", "min = 0.0, max = 0.01"),
            &["open", "deburr", "prime", "rivet", "bolt", "look", "close"],
        ),
    ];
    for (name, after, steps) in untouched {
        let sheet = change(Done::Inside, after).unwrap();
        for id in *steps {
            assert_eq!(step(&sheet, id).verdict, Verdict::Stands, "{name}: {id}: {:?}", step(&sheet, id).reasons);
        }
        let carried: Vec<&str> = sheet.carried.iter().map(|carried| carried.step.as_str()).collect();
        assert!(steps.iter().all(|id| carried.contains(id)), "{name}: {carried:?}");
    }
}

#[test]
fn a_drawing_revision_alone_asks_for_one_reading_of_every_signed_step() {
    let project = crate::build::signed::PROJECT.replace("revision = \"B\"", "revision = \"C\"");
    for done in ALL {
        let ledger = ledger(done);
        let after = job_of(&project, &[&edited("W-1:B", "W-1:C")]);
        let sheets = changes(&after, &ledger.state(), &ledger.archived);
        let expected = if done == Done::Nothing { Verdict::Print } else { Verdict::StandsAfterReading };
        assert!(sheets[0].steps.iter().all(|step| step.verdict == expected), "{done:?}");
        assert_eq!(sheets[0].drawings, [("W-1".to_owned(), "B".to_owned(), "C".to_owned())]);
    }
}

#[test]
fn a_comma_changes_nothing_but_the_words() {
    let sheet = change(Done::Inside, &edited("Open the holes.", "Open the holes, all.")).unwrap();
    assert!(!sheet.is_replaced(), "the code stays");
    assert!(sheet.steps.iter().all(|step| step.verdict == Verdict::Stands));
    assert_eq!(
        sheet.steps.iter().filter(|step| step.reworded).map(|step| step.step.as_str()).collect::<Vec<_>>(),
        ["open"]
    );
    assert!(change(Done::Inside, SPEC).is_none(), "and no change is no change");
}

const NEW_STEP: &str =
    "[[step]]\nid = \"stiffen\"\ntitle = \"Fit the stiffener\"\ndo = \"fit\"\nparts = [\"P2\"]\nspaces = [\"bay\"]\n\n";

#[test]
fn a_step_inserted_before_done_steps_is_a_retrofit_with_the_access_of_its_space() {
    let after = SPEC.replacen("[[step]]\nid = \"deburr\"", &format!("{NEW_STEP}[[step]]\nid = \"deburr\""), 1);
    let sheet = change(Done::Inside, &after).unwrap();
    let new = step(&sheet, "stiffen");
    assert_eq!(new.verdict, Verdict::Retrofit);
    assert_eq!(new.access[0].closed_by.as_deref(), Some("T1/close"));
    assert_eq!(new.access[0].closed_on.as_deref(), Some("2026-03-10"));
    assert_eq!(step(&change(Done::Nothing, &after).unwrap(), "stiffen").verdict, Verdict::Print);
    let last = format!("{SPEC}\n{}", NEW_STEP.replace("spaces = [\"bay\"]\n", ""));
    assert_eq!(
        step(&change(Done::Inside, &last).unwrap(), "stiffen").verdict,
        Verdict::Print,
        "nothing after it is done"
    );
}

#[test]
fn a_step_that_is_gone_keeps_its_record_and_asks() {
    let after =
        SPEC.replacen("[[step]]\nid = \"deburr\"\ntitle = \"Deburr\"\ndo = \"deburr\"\njoints = [\"J1\"]\n", "", 1);
    assert_ne!(after, SPEC);
    assert_eq!(step(&change(Done::Inside, &after).unwrap(), "deburr").verdict, Verdict::UndoOrKeep);
    assert_eq!(step(&change(Done::Nothing, &after).unwrap(), "deburr").verdict, Verdict::Drop);
}

#[test]
fn a_changed_order_stands_where_it_was_worked_so() {
    let bolt = "[[step]]\nid = \"bolt\"\ntitle = \"Bolt\"\ndo = \"bolt\"\njoints = [\"J2\"]\n\n";
    let moved =
        SPEC.replacen(bolt, "", 1).replacen("[[step]]\nid = \"rivet\"", &format!("{bolt}[[step]]\nid = \"rivet\""), 1);
    assert_ne!(moved, SPEC);
    let sheet = change(Done::Inside, &moved).unwrap();
    assert_eq!(step(&sheet, "rivet").verdict, Verdict::LookAgain, "bolting comes first now and was done a day later");
    assert_eq!(step(&sheet, "bolt").verdict, Verdict::Stands);
    // The other way round: the steps were worked in the order that holds now.
    let mut ledger = Ledger::default();
    ledger.issue(&job(&moved), &[]);
    for (step, worked) in DAYS {
        ledger.sign("T1", step, worked, Some("0").filter(|_| *step == "level"));
    }
    let sheets = changes(&job(SPEC), &ledger.state(), &ledger.archived);
    assert_eq!(step(&sheets[0], "bolt").verdict, Verdict::Stands);
    assert_eq!(step(&sheets[0], "bolt").reasons, ["the order changed; what comes first now was done first"]);
}

#[test]
fn a_traveler_that_is_gone_keeps_its_signatures_and_asks() {
    let ledger = ledger(Done::Inside);
    let sheets = changes(&job_of(crate::build::signed::PROJECT, &[]), &ledger.state(), &ledger.archived);
    assert_eq!(sheets[0].new, None);
    assert!(sheets[0].steps.iter().all(|step| step.verdict == Verdict::UndoOrKeep));
}
