//! Names: no id, whatever is in it, changes a verdict; what was only renamed keeps its signatures; what nobody can
//! tell is asked.

use proptest::prelude::*;
use shophead::archive::{Form, SheetRequirement, Standing};
use shophead::job::Job;
use shophead::words::ItemName;
use shophead::work::{SheetChange, Verdict, changes, sheet_requirement_as};

use super::rib::{self, told};
use crate::build::signed::{Ledger, SPEC, edited, job, job_of};

/// A text as TOML writes it.
fn quoted(id: &str) -> String {
    format!("\"{}\"", id.replace('\\', "\\\\").replace('"', "\\\"").replace('\n', "\\n"))
}

/// Two joints of one stack, each riveted by a step of its own.
fn two_joints(ids: [&str; 2], counts: [u32; 2], hole: &str) -> Job {
    let [first, second] = ids.map(quoted);
    job_of(
        "[aircraft]\nname = \"Dunlin two-seat\"\n",
        &[&format!(
            "[traveler]\nid = \"T1\"\ntitle = \"Rib\"\nrevision = \"A\"\n\
            [[part]]\nid = \"P1\"\nname = \"Skin\"\nthickness = \"0.032\"\n[[part]]\nid = \"P2\"\nname = \"Rib\"\nthickness = \"0.040\"\n\
            [[joint]]\nid = {first}\nstack = [\"P1\", \"P2\"]\nfastener = \"MS20470AD4-4\"\ncount = {}\nholes = {{ final = \"{hole}\" }}\n\
            [[joint]]\nid = {second}\nstack = [\"P1\", \"P2\"]\nfastener = \"MS20470AD4-4\"\ncount = {}\nholes = {{ final = \"#30\" }}\n\
            [[step]]\nid = \"open\"\ntitle = \"Open\"\ndo = \"drill\"\njoints = [{first}, {second}]\n\
            [[step]]\nid = \"rivet-a\"\ntitle = \"Rivet\"\ndo = \"rivet\"\njoints = [{first}]\n\
            [[step]]\nid = \"rivet-b\"\ntitle = \"Rivet\"\ndo = \"rivet\"\njoints = [{second}]\n",
            counts[0], counts[1]
        )],
    )
}

fn signed(job: &Job, form: Form, steps: &[&str]) -> Ledger {
    let mut ledger = Ledger::default();
    ledger.issue_as(job, &[], form);
    for step in steps {
        ledger.sign("T1", step, "2026-03-05", None);
    }
    ledger
}

fn only(job: &Job, ledger: &Ledger) -> SheetChange {
    let mut sheets = changes(job, &ledger.state(), &ledger.archived);
    assert_eq!(sheets.len(), 1);
    sheets.swap_remove(0)
}

#[test]
fn a_comma_in_a_joints_id_drops_no_rivet_from_the_count() {
    for form in Form::ALL {
        for first in ["J1", "J1, upper", "J1, 2", "J1 = 2", "a \"b\" count"] {
            let ledger = signed(&two_joints([first, "J2"], [24, 10], "#30"), form, &[]);
            let sheet = only(&two_joints([first, "J2"], [30, 12], "#30"), &ledger);
            assert_eq!(sheet.hardware, [("MS20470AD4-4".to_owned(), 8)], "{form:?} {first}");
        }
    }
}

#[test]
fn a_word_of_a_requirement_in_an_id_makes_no_other_joint_s_work_done_again() {
    for form in Form::ALL {
        for ids in [["JA", "JB"], ["rear hole row A", "rear hole row B"], ["row, 1", "row, 2"], ["a layer 1", "a"]] {
            let ledger = signed(&two_joints(ids, [8, 8], "#30"), form, &["open", "rivet-a", "rivet-b"]);
            let sheet = only(&two_joints(ids, [8, 8], "#29"), &ledger);
            let again = |step: &str| sheet.steps.iter().find(|own| own.step == step).unwrap().then_again.clone();
            assert_eq!(again("open"), ["rivet-a"], "{form:?} {ids:?}");
            assert!(again("rivet-a").is_empty(), "{form:?} {ids:?}");
            assert_eq!(told(&sheet), "open rework, rivet-a rework", "{form:?} {ids:?}");
        }
    }
}

/// Every id of a small traveler: two parts, two joints, a space, a reading, three steps.
const PLAIN: [&str; 9] = ["P1", "P2", "J1", "J2", "bay", "gap", "open", "rivet", "close"];

/// What is edited.
const EDITS: [(&str, &str); 6] = [
    ("\"#30\"", "\"#29\""),
    ("count = 8", "count = 9"),
    ("\"Gap at the bar\"", "\"Gap at the rib\""),
    ("\"0.35\"", "\"0.40\""),
    ("thickness = \"0.040\"", "thickness = \"0.050\""),
    ("max = 0.03", "max = 0.01"),
];

fn with_ids(ids: &[String], edit: Option<usize>) -> Job {
    let id = |at: usize| quoted(&ids[at]);
    let (p1, p2, j1, j2, bay) = (id(0), id(1), id(2), id(3), id(4));
    let (gap, open, rivet, close) = (id(5), id(6), id(7), id(8));
    let project = format!("[aircraft]\nname = \"Dunlin two-seat\"\n[[space]]\nid = {bay}\nname = \"Bay\"\n");
    let spec = format!(
        "[traveler]\nid = \"T1\"\ntitle = \"Rib\"\nrevision = \"A\"\n\
        [[part]]\nid = {p1}\nname = \"Skin\"\nmaterial = \"2024-T3\"\nthickness = \"0.032\"\n\
        [[part]]\nid = {p2}\nname = \"Rib\"\nthickness = \"0.040\"\n\
        [[joint]]\nid = {j1}\nstack = [{p1}, {p2}]\nfastener = \"MS20470AD4-4\"\ncount = 8\nholes = {{ final = \"#30\" }}\nedge = \"0.35\"\n\
        [[joint]]\nid = {j2}\nstack = [{p1}, {p2}]\nfastener = \"MS20470AD4-5\"\ncount = 6\n\
        [[step]]\nid = {open}\ntitle = \"Open\"\ndo = \"drill\"\njoints = [{j1}, {j2}]\nparts = [{p1}]\nspaces = [{bay}]\n\
        [[step]]\nid = {rivet}\ntitle = \"Rivet\"\ndo = \"rivet\"\njoints = [{j1}]\n\
        records = [{{ id = {gap}, label = \"Gap at the bar\", unit = \"in\", max = 0.03 }}]\n\
        [[step]]\nid = {close}\ntitle = \"Close\"\ndo = \"close\"\ncloses = [{bay}]\n"
    );
    let spec = edit.map_or_else(|| spec.clone(), |at| spec.replacen(EDITS[at].0, EDITS[at].1, 1));
    job_of(&project, &[&spec])
}

/// What one edit does: verdicts, what is to be done again, hardware; steps by their place.
type Judged = (Vec<Verdict>, Vec<Vec<usize>>, Vec<(String, i64)>);

/// What every edit does.
fn verdicts(ids: &[String], form: Form) -> Vec<Judged> {
    let before = with_ids(ids, None);
    let mut ledger = Ledger::default();
    ledger.issue_as(&before, &[], form);
    for (step, worked) in [(6, "2026-03-02"), (7, "2026-03-03"), (8, "2026-03-04")] {
        let read = Some((ids[5].as_str(), "0.02")).filter(|_| step == 7);
        ledger.sign_reading("T1", &ids[step], worked, read);
    }
    // Read from its text, as a command does.
    for sheet in ledger.archived.values_mut() {
        *sheet = SheetRequirement::parse(sheet.text().as_bytes()).unwrap();
    }
    let place = |id: &String| ids.iter().position(|own| own == id).unwrap();
    let judged = |edit| -> Judged {
        let mut sheets = changes(&with_ids(ids, Some(edit)), &ledger.state(), &ledger.archived);
        let Some(sheet) = sheets.pop() else { return (Vec::new(), Vec::new(), Vec::new()) };
        let verdicts = sheet.steps.iter().map(|step| step.verdict).collect();
        let again = sheet.steps.iter().map(|step| step.then_again.iter().map(place).collect()).collect();
        (verdicts, again, sheet.hardware)
    };
    (0..EDITS.len()).map(judged).collect()
}

fn plain() -> Vec<String> {
    PLAIN.iter().map(|id| (*id).to_owned()).collect()
}

#[test]
fn the_plain_ids_give_these_verdicts() {
    let found = verdicts(&plain(), Form::NEWEST);
    let rework: Vec<usize> =
        found.iter().map(|(own, ..)| own.iter().filter(|own| **own == Verdict::ReworkOrAsk).count()).collect();
    assert_eq!(rework, [2, 2, 0, 1, 2, 0]);
    assert_eq!(found[2].0[1], Verdict::LookAgain);
    assert_eq!(found[5].0[1], Verdict::LookAgain);
    assert_eq!(found[1].2, [("MS20470AD4-4".to_owned(), 1)]);
}

/// Whether form 1 could be read at all: it wrote ` = ` in a name as `=`, once over.
fn was_readable(ids: &[String]) -> bool {
    ids.iter().all(|id| !id.replace(" = ", "=").contains(" = "))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, ..ProptestConfig::default() })]
    #[test]
    fn no_id_changes_a_verdict(
        ids in proptest::collection::hash_set("[a-zJ,:;\"'=#0-9\u{e9}]([a-zJ ,:;\"'=#0-9\n]{0,10}[a-z,:\"'=#0-9])?", 9),
        more in 0_usize..9,
    ) {
        let mut ids: Vec<String> = ids.into_iter().collect();
        ids.rotate_left(more);
        for form in Form::ALL.into_iter().filter(|form| *form == Form::Two || was_readable(&ids)) {
            prop_assert_eq!(verdicts(&ids, form), verdicts(&plain(), form));
        }
    }

    #[test]
    fn any_requirement_reads_back(
        ids in proptest::collection::hash_set("[a-z,:\"'=#0-9]([a-z ,:\"'=#0-9\n]{0,10}[a-z,:\"'=#0-9])?", 9),
    ) {
        let ids: Vec<String> = ids.into_iter().collect();
        let job = with_ids(&ids, None);
        let sheet = sheet_requirement_as(&job, 0, None, Form::Two);
        prop_assert_eq!(SheetRequirement::parse(sheet.text().as_bytes()), Ok(sheet));
        // Form 1 keeps at least its digests.
        prop_assume!(was_readable(&ids));
        let sheet = sheet_requirement_as(&job, 0, None, Form::One);
        prop_assert_eq!(SheetRequirement::parse(sheet.text().as_bytes()).map(|own| own.code()), Ok(sheet.code()));
    }
}

/// A rename alone: the words that are replaced everywhere, and what is said of it.
const RENAMES: &[(&str, &str, &str)] = &[
    ("\"J1\"", "\"J9\"", "joint J1 is now J9"),
    ("\"P3\"", "\"P33\"", "part P3 is now P33"),
    ("\"bay\"", "\"aft-bay\"", "space bay is now aft-bay"),
    ("\"twist\", label", "\"torsion\", label", "record twist is now torsion"),
    ("\"deburr\"\ntitle", "\"burrs\"\ntitle", "step deburr is now burrs"),
];

#[test]
fn what_was_only_renamed_keeps_every_signature_and_is_said() {
    for form in Form::ALL {
        for (from, to, said) in RENAMES {
            let ledger = rib::all_signed_as(form);
            let (project, spec) = (rib::PROJECT.replace(from, to), rib::SPEC.replace(from, to));
            let sheet = rib::after(&ledger, &project, &spec).unwrap();
            assert_eq!(told(&sheet), "new sheet, all stands", "{form:?} {said}");
            let renamed: Vec<String> = sheet.renamed.iter().map(shophead::work::Renamed::words).collect();
            assert_eq!(renamed, [*said]);
            assert!(sheet.steps.iter().any(|step| step.reasons.contains(&(*said).to_owned())), "{said}");
            assert_eq!(sheet.carried.len(), sheet.steps.len(), "{said}");
        }
    }
}

#[test]
fn a_renamed_step_is_signed_under_its_new_name_also_after_the_next_revision() {
    let mut ledger = rib::all_signed_as(Form::NEWEST);
    let mut spec = rib::SPEC.to_owned();
    for (from, to) in [("\"deburr\"\ntitle", "\"burrs\"\ntitle"), ("revision = \"A\"", "revision = \"B\"")] {
        spec = spec.replace(from, to);
        let sheet = rib::after(&ledger, rib::PROJECT, &spec).unwrap();
        ledger.issue(&job_of(rib::PROJECT, &[&spec]), &sheet.carried);
        let state = ledger.state();
        assert!(matches!(state.standing(&ItemName::new("T1", None, "burrs")), Standing::Signed(_)), "{to}");
        assert!(!matches!(state.standing(&ItemName::new("T1", None, "deburr")), Standing::Signed(_)), "{to}");
    }
}

#[test]
fn a_name_that_two_new_things_may_have_taken_is_asked_and_nothing_is_guessed() {
    let twin = "[[joint]]\nid = \"J8\"\nstack = [\"P1\", \"P2\"]\nfastener = \"MS20470AD4-4\"\ncount = 8\nholes = { final = \"#30\" }\nedge = \"0.35\"\n\n[[joint]]\nid = \"J2\"";
    let after = SPEC
        .replace("\"J1\"", "\"J9\"")
        .replace("[[joint]]\nid = \"J2\"", twin)
        .replace("joints = [\"J9\"]", "joints = [\"J9\", \"J8\"]");
    let mut ledger = Ledger::default();
    ledger.issue(&job(SPEC), &[]);
    for step in ["open", "deburr", "rivet", "look"] {
        ledger.sign("T1", step, "2026-03-05", None);
    }
    let sheet = only(&job(&after), &ledger);
    assert!(sheet.renamed.is_empty());
    for step in sheet.steps.iter().filter(|step| step.done.is_some()) {
        assert_eq!(step.verdict, Verdict::WhichOne, "{}: {:?}", step.step, step.reasons);
        let said = "joint J1 is gone and J8, J9 require the same: which of them is it now?";
        assert_eq!(step.reasons, [said], "{}", step.step);
    }
    assert!(sheet.carried.is_empty(), "nothing is carried on a guess");

    // Two that are alike and gone, one that is new: asked as well.
    let one_left = edited("[[joint]]\nid = \"J2\"", twin).replace("joints = [\"J1\"]", "joints = [\"J1\", \"J8\"]");
    let mut ledger = Ledger::default();
    ledger.issue(&job(&one_left), &[]);
    ledger.sign("T1", "open", "2026-03-05", None);
    let sheet = only(&job(&SPEC.replace("\"J1\"", "\"J9\"")), &ledger);
    assert_eq!(sheet.steps[0].verdict, Verdict::WhichOne, "{:?}", sheet.steps[0].reasons);
}
