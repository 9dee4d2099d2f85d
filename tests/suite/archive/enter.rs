//! A step that is typed as number, id or `TRAVELER/step` is recorded under its id on the issued sheet, or refused.

use std::collections::BTreeMap;

use shophead::archive::{DiscrepancyOpened, EnterFacts, Entry, EntryNumber, TodayStep, enter};
use shophead::calendar::{Moment, When};
use shophead::ident::SheetCode;
use shophead::job::{Job, Order, State};
use shophead::plan::{BoardOptions, board};
use shophead::report::{Finding, Report};
use shophead::spec::read_evening;
use shophead::text::Files;
use shophead::words::PacketName;
use shophead::work::work_state;

use crate::build::signed::{Ledger, SPEC, edited, job, signer};
use crate::build::{job_of, text};

const NEW_STEP: &str = "[[step]]\nid = \"mark\"\ntitle = \"Mark\"\ndo = \"drill\"\njoints = [\"J1\"]\n\n";

/// The traveler with a step before all others, so that every number is another step's.
fn renumbered() -> Job {
    job(&edited("[[step]]\nid = \"open\"", &format!("{NEW_STEP}[[step]]\nid = \"open\"")))
}

fn begun() -> (Ledger, SheetCode) {
    let mut ledger = Ledger::default();
    ledger.issue(&job(SPEC), &[]);
    let code = ledger.state().in_force(&PacketName::new("T1", None)).unwrap().issued.sheet;
    (ledger, code)
}

/// Every step of some specs, as they number it today.
pub fn steps_of(job: &Job) -> BTreeMap<String, Vec<TodayStep>> {
    let step = |own: &shophead::job::Step| TodayStep {
        number: own.number,
        id: own.id.value.clone(),
        title: own.title.value.clone(),
    };
    job.travelers.iter().map(|own| (own.id.value.clone(), own.steps.iter().map(step).collect())).collect()
}

/// A fault as one line: the words under the mark, what is wrong, what would pass.
fn line(finding: &Finding, files: &Files) -> String {
    let help = finding.help.as_ref().map(|help| format!("; {help}")).unwrap_or_default();
    format!("{}: {}{help}", files.slice(finding.span), finding.message)
}

pub fn entered(ledger: &Ledger, text: &str) -> Result<(Vec<Entry>, Vec<String>), Vec<String>> {
    entered_with(ledger, text, &BTreeMap::new()).map(|(entries, remarks, _)| (entries, remarks))
}

/// Entries, remarks and doubts.
pub type WithDoubts = (Vec<Entry>, Vec<String>, Vec<String>);

pub fn entered_with(
    ledger: &Ledger,
    text: &str,
    today: &BTreeMap<String, Vec<TodayStep>>,
) -> Result<WithDoubts, Vec<String>> {
    let signers = [signer("B1")];
    let sheets: BTreeMap<_, _> = ledger.archived.clone();
    let facts = EnterFacts {
        signers: &signers,
        spaces: &["bay".to_owned()],
        sheets: &sheets,
        today,
        entered: Moment::parse("2026-03-20T20:00").unwrap(),
        next: EntryNumber(u32::try_from(ledger.records.len()).unwrap() + 1),
    };
    let (mut files, mut report) = (Files::default(), Report::default());
    let id = files.add("evening.toml", text);
    let typed = read_evening(id, &files, &mut report);
    assert!(report.findings.is_empty(), "{:?}", report.findings);
    let lines = |all: Vec<Finding>| all.iter().map(|own| line(own, &files)).collect::<Vec<_>>();
    match enter(&ledger.state(), &typed, &facts) {
        Ok(done) => Ok((done.entries.into_iter().map(|(entry, _)| entry).collect(), done.remarks, lines(done.doubts))),
        Err(faults) => Err(lines(faults)),
    }
}

/// A discrepancy in a file of its own; `keys` say where it was found.
fn found(ledger: &Ledger, keys: &str) -> Result<(DiscrepancyOpened, Vec<String>), Vec<String>> {
    let text = format!("by = \"B1\"\non = 2026-03-19\n[[discrepancy]]\nwhat = \"long hole\"\n{keys}");
    let (entries, remarks) = entered(ledger, &text)?;
    match entries.as_slice() {
        [Entry::DiscrepancyOpened(opened)] => Ok(((**opened).clone(), remarks)),
        other => panic!("{other:?}"),
    }
}

fn sheet(code: SheetCode) -> String {
    format!("sheet = \"{code}\"\n")
}

#[test]
fn number_padded_number_id_and_traveler_with_step_are_the_same_step() {
    let (ledger, code) = begun();
    for typed in ["40", "\"40\"", "\"040\"", "\"rivet\"", "\"T1/rivet\"", "\"T1/040\""] {
        let (opened, _) = found(&ledger, &format!("{}step = {typed}", sheet(code))).unwrap();
        assert_eq!(opened.step.as_deref(), Some("rivet"), "{typed}");
        let signed = format!("by = \"B1\"\non = 2026-03-19\n[[sign]]\n{}step = {typed}", sheet(code));
        let (entries, _) = entered(&ledger, &signed).unwrap();
        assert!(
            matches!(entries.as_slice(), [Entry::Signed(signed)] if signed.step == "rivet"),
            "{typed}: {entries:?}"
        );
    }
    // Without a sheet the traveler says which.
    let (opened, _) = found(&ledger, "step = \"T1/40\"").unwrap();
    assert_eq!((opened.sheet, opened.traveler.as_deref()), (Some(code), Some("T1")));
    assert_eq!(opened.step.as_deref(), Some("rivet"));
}

#[test]
fn a_step_that_is_on_no_sheet_is_refused_with_what_there_is() {
    let (ledger, code) = begun();
    let has = format!("sheet {code} has no step `TYPED`; it has 010 open, 020 deburr, 030 prime, 040 rivet");
    let accepted = "accepted are the number on the sheet, the id, TRAVELER/step, and a range of them such as 010..070";
    for (typed, shown) in
        [("45", "45"), ("40.0", "40.0"), ("\"+40\"", "+40"), ("\"rivets\"", "rivets"), ("\"T2/rivet\"", "T2/rivet")]
    {
        let faults = found(&ledger, &format!("{}step = {typed}", sheet(code))).unwrap_err();
        let said = has.replace("TYPED", shown);
        assert!(
            faults.len() == 1 && faults[0].contains(&said) && faults[0].ends_with(accepted),
            "{faults:?}, expected {said}"
        );
        let signed = format!("by = \"B1\"\non = 2026-03-19\n[[sign]]\n{}step = {typed}", sheet(code));
        let faults = entered(&ledger, &signed).unwrap_err();
        assert!(faults.len() == 1 && faults[0].contains(&said), "{faults:?}, expected {said}");
    }
    for (keys, said) in [
        ("step = 40", "40: step `40` stands on no sheet; give `traveler` or `sheet` too, or type TRAVELER/step"),
        ("step = \"T2/40\"", "\"T2/40\": no sheet of `T2` is in force; did you mean `T1`?"),
    ] {
        let faults = found(&ledger, keys).unwrap_err();
        assert!(faults.len() == 1 && faults[0].contains(said), "{faults:?}, expected {said}");
    }
}

#[test]
fn without_a_sheet_a_traveler_of_both_hands_does_not_say_which() {
    let mut ledger = Ledger::default();
    ledger.issue(&job(&edited("title = \"Rib\"", "title = \"Rib\"\nhands = [\"left\", \"right\"]")), &[]);
    let faults = found(&ledger, "step = \"T1/40\"").unwrap_err();
    assert!(faults.len() == 1 && faults[0].contains("T1 left and on"), "{faults:?}");
    assert!(faults[0].ends_with("T1 right; say which with `hand`; or give the sheet too"), "{faults:?}");
}

#[test]
fn a_number_that_is_also_an_id_is_refused() {
    let mut ledger = Ledger::default();
    ledger.issue(&job(&edited("id = \"deburr\"", "id = \"10\"")), &[]);
    let code = *ledger.archived.keys().next().unwrap();
    let faults = found(&ledger, &format!("{}step = 10", sheet(code))).unwrap_err();
    assert!(faults.len() == 1 && faults[0].contains(": 010 open, 020 10; type the other name"), "{faults:?}");
    let (opened, _) = found(&ledger, &format!("{}step = 20", sheet(code))).unwrap();
    assert_eq!(opened.step.as_deref(), Some("10"));
}

#[test]
fn a_number_is_that_of_the_sheet_and_not_of_the_specs_of_today() {
    let (mut ledger, old) = begun();
    ledger.issue(&renumbered(), &[]);
    let new = ledger.state().in_force(&PacketName::new("T1", None)).unwrap().issued.sheet;
    assert_ne!(new, old);
    let (opened, _) = found(&ledger, &format!("{}step = 40", sheet(new))).unwrap();
    assert_eq!(opened.step.as_deref(), Some("prime"));
    let (opened, _) = found(&ledger, "step = \"T1/40\"").unwrap();
    assert_eq!((opened.sheet, opened.step.as_deref()), (Some(new), Some("prime")));
    let (opened, remarks) = found(&ledger, &format!("{}step = 40", sheet(old))).unwrap();
    assert_eq!(opened.step.as_deref(), Some("rivet"));
    let said = format!("`40` is step 040 rivet of sheet {old}, which {new} replaced");
    assert!(remarks.iter().any(|remark| remark.ends_with(&said)), "{remarks:?}");
    // A step that is no longer there would stop nothing.
    ledger.issue(&job(&edited("id = \"rivet\"", "id = \"set\"")), &[]);
    let faults = found(&ledger, &format!("{}step = 40", sheet(old))).unwrap_err();
    assert!(faults.len() == 1 && faults[0].contains("has no such step; it has 010 open"), "{faults:?}");
}

#[test]
fn a_discrepancy_that_is_typed_by_number_holds_its_step() {
    let (mut ledger, code) = begun();
    let job = job(SPEC);
    let order = Order::of(&job);
    let now = When::parse("2026-03-20T18:00").unwrap().earliest;
    let options = BoardOptions { now, minutes: 600, alone: false };
    let before = board(&job, &order, &work_state(&job, &ledger.state(), State::default()), options);
    assert!(before.ready.iter().any(|row| row.step == "T1/open"));
    let (opened, _) = found(&ledger, &format!("{}step = 10", sheet(code))).unwrap();
    ledger.add(opened);
    let state = work_state(&job, &ledger.state(), State::default());
    let held: Vec<String> = state.discrepancies[0].items.iter().map(|item| job.item_name(*item)).collect();
    assert_eq!(held, ["T1/open"]);
    let after = board(&job, &order, &state, options);
    assert!(!after.ready.iter().any(|row| row.step == "T1/open"));
    assert_eq!(after.discrepancies[0].steps, ["T1/open"]);
}

#[test]
fn another_travelers_joint_is_one_that_the_step_names() {
    let keys = "fastener = \"MS20470AD4-4\"\ncount = 12\nholes = { final = \"#30\" }";
    let own = text::traveler("FUS-10", "")
        + &text::skin_and_rib()
        + &text::joint("J1", &["P1", "P2"], keys)
        + &text::joint("J2", &["P1", "P2"], keys)
        + &text::step("drill", "drill", "joints = [\"J1\", \"J2\"]")
        + &text::step("rivet", "rivet", "joints = [\"J1\"]");
    let other = text::traveler("WING-10", "")
        + &text::step("look", "inspect", "")
        + &text::step("rivet-on", "rivet", "joints = [\"FUS-10/J2\"]");
    let mut ledger = Ledger::default();
    ledger.issue(&job_of(text::DUNLIN, &[own, other]).0, &[]);
    let code = ledger.state().in_force(&PacketName::new("WING-10", None)).unwrap().issued.sheet;
    let at = |step: &str, joint: &str| found(&ledger, &format!("{}{step}joint = \"{joint}\"\n", sheet(code)));
    for step in ["step = \"rivet-on\"\n", ""] {
        let (opened, _) = at(step, "FUS-10/J2").unwrap();
        assert_eq!(opened.joint.as_deref(), Some("FUS-10/J2"));
    }
    let why = |step: &str, joint: &str| at(step, joint).unwrap_err().concat();
    let near = "did you mean `FUS-10/J2`?";
    assert_eq!(
        why("step = 20\n", "FUS-10/J1"),
        format!("\"FUS-10/J1\": step 020 rivet-on of sheet {code} has no joint `FUS-10/J1`; it has FUS-10/J2; {near}")
    );
    assert_eq!(
        why("step = 10\n", "FUS-10/J2"),
        format!(
            "\"FUS-10/J2\": step 010 look of sheet {code} has no joint `FUS-10/J2`; it has none; \
             another traveler's joint is named as the step names it"
        )
    );
    let whole = why("", "FUS-10/left/J2");
    assert!(whole.contains(&format!(": sheet {code} has no joint `FUS-10/left/J2`; it has FUS-10/J2")), "{whole}");
}

#[test]
fn what_speaks_against_every_step_of_an_entry_is_said_once() {
    let (ledger, code) = begun();
    let sign = |on: &str, keys: &str| {
        entered(&ledger, &format!("by = \"B1\"\non = {on}\n[[sign]]\n{}{keys}", sheet(code))).unwrap_err()
    };
    let faults = sign("2026-02-01", "steps = [\"open\", \"deburr\"]\n");
    assert_eq!(faults.len(), 2, "{faults:?}");
    let faults = sign("2026-02-01", "steps = \"010..020\"\n");
    let [fault] = faults.as_slice() else { panic!("{faults:?}") };
    assert!(fault.starts_with("\"010..020\": the work of 2026-02-01 is older than sheet"), "{fault}");
    assert!(fault.contains("write a day from 2026-03-") && !fault.contains("except"), "{fault}");
}

#[test]
fn a_decimal_comma_is_refused_with_the_number_that_is_meant() {
    let (ledger, code) = begun();
    let text = format!(
        "by = \"B1\"\non = 2026-03-19\n[[sign]]\n{}steps = \"level\"\nreadings = {{ level = \"0,05\" }}\n",
        sheet(code)
    );
    let faults = entered(&ledger, &text).unwrap_err();
    assert!(faults[0].ends_with("is `0,05`, expected a number or N/A: with a point, 0.05"), "{faults:?}");
}

#[test]
fn readings_keep_the_zeros_that_were_typed() {
    let (mut files, mut report) = (Files::default(), Report::default());
    let text = "by = \"B1\"\non = 2026-03-20\n[[sign]]\nsheet = \"B0PEQ-3ENBN\"\nstep = 10\nminutes = 30\n\
         readings = { bore = 0.5000, drag = 6, gap = \"0.020\", toe = -0.10 }\n\
         [[sign]]\nsheet = \"B0PEQ-3ENBN\"\nstep = \"20\"\nphotos = [1.10]\n[sign.readings]\nlevel = 24.0\n";
    let id = files.add("evening.toml", text);
    let typed = read_evening(id, &files, &mut report);
    assert!(report.findings.is_empty(), "{:?}", report.findings);
    let read: Vec<(&str, &str)> = typed
        .sign
        .iter()
        .flat_map(|sign| &sign.readings)
        .map(|(name, value)| (name.value.as_str(), value.value.as_str()))
        .collect();
    assert_eq!(read, [("bore", "0.5000"), ("drag", "6"), ("gap", "0.020"), ("toe", "-0.10"), ("level", "24.0")]);
    assert_eq!(typed.sign[1].photos[0].value, "1.10");
    // A fault is shown at the place where it was typed.
    let id = files.add("evening.toml", "[[sign]]\nreadings = { bore = 0.5000 }\nstep = 10\nsheat = \"x\"\n");
    let _ = read_evening(id, &files, &mut report);
    assert_eq!(files.position(report.findings[0].span).line, 4);
    assert_eq!(report.findings[0].help.as_deref(), Some("did you mean `sheet`?"));
}
