//! What a revision does to signed work: every class of change against every state of a step.

mod compared;
mod drawings;
mod edits;
mod matrix;
mod names;
mod old;
mod rib;
mod unread;

use shophead::archive::{Form, SheetRequirement};
use shophead::work::{sheet_requirement, sheet_requirement_as};

use crate::build::signed::{SPEC, edited, job};

#[test]
fn words_change_no_digest_and_no_code() {
    let (before, words) = (job(SPEC), job(&edited("Open the holes.", "Open the holes, all of them, with care.")));
    let (old, new) = (sheet_requirement(&before, 0, None), sheet_requirement(&words, 0, None));
    assert_eq!(old.code(), new.code());
    assert_ne!(old.step("open").unwrap().wording, new.step("open").unwrap().wording);
}

#[test]
fn a_size_changes_the_digests_of_the_steps_that_depend_on_it_and_of_no_other() {
    let (before, after) = (job(SPEC), job(&edited("final = \"#30\"", "final = \"#29\"")));
    let (old, new) = (sheet_requirement(&before, 0, None), sheet_requirement(&after, 0, None));
    let changed: Vec<&str> = old
        .steps
        .iter()
        .zip(&new.steps)
        .filter(|(old, new)| old.digest() != new.digest())
        .map(|(old, _)| old.id.as_str())
        .collect();
    assert_eq!(changed, ["open", "rivet", "look"]);
    assert_ne!(old.code(), new.code());
}

#[test]
fn requirements_of_a_step_are_these_lines_and_no_others() {
    let lines_of = |sheet: &SheetRequirement, id: &str| {
        let text = sheet.text();
        let start = text.find(&format!("step: {id}\n")).unwrap();
        let lines = text[start..].lines().skip(4).take_while(|line| !line.starts_with("sha256"));
        lines.collect::<Vec<_>>().join("\n")
    };
    let sheet = sheet_requirement_as(&job(SPEC), 0, None, Form::One);
    let expected = "work: do = drill\n\
        stack: joint J1 layer 1 = P1, 2024-T3, 812800 nm thick\n\
        stack: joint J1 layer 2 = P2, 2024-T3, 1016000 nm thick\n\
        size: joint J1 count = 8\n\
        size: joint J1 edge = 8890000 nm\n\
        size: joint J1 rows = 1\n\
        size: joint J1 hole after this = 3263900 nm\n\
        order: zone bay = open";
    assert_eq!(lines_of(&sheet, "open"), expected);
    let expected = "work: do = measure\n\
        tolerance: record level unit = deg\n\
        tolerance: record level min = -0.1\n\
        tolerance: record level max = 0.1";
    assert_eq!(lines_of(&sheet, "level"), expected);
    assert_eq!(sheet.code().to_string(), "B314Z-3YBPS", "the code of these requirements in form 1 is pinned");

    let sheet = sheet_requirement_as(&job(SPEC), 0, None, Form::Two);
    let expected = "work: do = drill\n\
        stack: joint \"J1\" layer 1 = part \"P1\", of \"2024-T3\", 812800 nm thick\n\
        stack: joint \"J1\" layer 2 = part \"P2\", of \"2024-T3\", 1016000 nm thick\n\
        size: joint \"J1\" count = 8\n\
        size: joint \"J1\" edge = 8890000 nm\n\
        size: joint \"J1\" rows = 1\n\
        size: joint \"J1\" hole after this = 3263900 nm\n\
        order: space \"bay\" = open";
    assert_eq!(lines_of(&sheet, "open"), expected);
    let expected = "work: do = measure\n\
        tolerance: record \"level\" label = Level\n\
        tolerance: record \"level\" unit = deg\n\
        tolerance: record \"level\" min = -0.1\n\
        tolerance: record \"level\" max = 0.1";
    assert_eq!(lines_of(&sheet, "level"), expected);
    assert_eq!(sheet.code().to_string(), "CS07S-WQD6B", "the code of these requirements in form 2 is pinned");

    let three = sheet_requirement_as(&job(SPEC), 0, None, Form::Three);
    let said = "the number of the joint says how many pieces go in";
    assert_eq!(lines_of(&three, "open"), lines_of(&sheet, "open"), "{said}");
    assert_eq!(three.code().to_string(), "22ASV-G0V7E", "the code of these requirements in form 3 is pinned");

    let newest = sheet_requirement(&job(SPEC), 0, None);
    assert_eq!(lines_of(&newest, "open"), lines_of(&three, "open"), "a step with joints names no procedure");
    assert_eq!(newest.code().to_string(), "BF4BD-AER6B", "the code of these requirements in form 4 is pinned");
}
