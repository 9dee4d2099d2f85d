//! Sheets of form 1: what they did not record fells nothing, they keep their codes, and they say what they lack.

use std::path::Path;

use shophead::archive::{Archive, Capacity, Form, SheetRequirement, Standing, State};
use shophead::job::{Job, resolve};
use shophead::report::Report;
use shophead::spec::load;
use shophead::text::Files;
use shophead::words::{ItemName, PacketName};
use shophead::work::{Archived, changes, outdated_sheets, reading_label, sheet_requirement_as, sheet_to_print};

use super::rib::{self, told};
use crate::build::signed::job_of;

/// Edits of facts that form 1 did not record.
const UNRECORDED: &[(&str, &str)] = &[
    ("Twist, aft end", "Twist, FORWARD end"),
    ("digital level", "water level"),
    ("steel stem", "soft plastic"),
    ("flush with the trailing edge", "1/8 above the trailing edge"),
    ("start = \"#40\"", "start = \"#41\""),
    ("structure = \"secondary\"", "structure = \"primary\""),
    ("edge = \"1.5 D\"", "edge = \"1.7 D\""),
];

#[test]
fn a_fact_that_an_older_sheet_did_not_record_fells_nothing() {
    let ledger = rib::all_signed_as(Form::One);
    let state = ledger.state();
    for (from, to) in UNRECORDED {
        let (project, spec) = (rib::PROJECT.replace(from, to), rib::SPEC.replace(from, to));
        let job = job_of(&project, &[&spec]);
        assert!(outdated_sheets(&job, &state).is_empty(), "{to}");
        let issued = state.in_force(&PacketName::new("T1", None)).unwrap().issued.sheet;
        assert_eq!(sheet_to_print(&job, &state, 0, None).code(), issued, "{to}: the code stays");
        if let Some(sheet) = rib::after(&ledger, &project, &spec) {
            assert_eq!(told(&sheet), "words", "{to}");
            assert!(sheet.not_recorded.contains(&"labels of readings"), "{to}: {:?}", sheet.not_recorded);
        }
    }
}

#[test]
fn a_revision_of_an_older_sheet_fells_only_what_it_recorded_and_says_what_it_did_not() {
    let ledger = rib::all_signed_as(Form::One);
    let spec = rib::SPEC.replace("Twist, aft end", "Twist, FORWARD end").replace("count = 6", "count = 5");
    let sheet = rib::after(&ledger, rib::PROJECT, &spec).unwrap();
    assert_eq!(told(&sheet), "open rework, sink rework, rivet rework, look look");
    let all = [
        "edges and spacing",
        "fit-up hardware",
        "form of heads",
        "holes as delivered",
        "instruments",
        "labels of readings",
        "numbers of kit hardware",
        "sources of kit hardware",
        "structure, limits and conditions of use",
        "texts of steps without joints",
    ];
    assert!(sheet.not_recorded.iter().all(|kind| all.contains(kind)), "{:?}", sheet.not_recorded);
    assert!(sheet.not_recorded.contains(&"labels of readings"));
}

#[test]
fn a_reading_is_told_under_the_label_under_which_it_was_read() {
    let label = |form: Form, spec: &str| {
        let ledger = rib::all_signed_as(form);
        let state = ledger.state();
        let sheet = &ledger.archived[&state.in_force(&PacketName::new("T1", None)).unwrap().issued.sheet];
        let signature = state.signatures_of(&ItemName::new("T1", None, "twist")).next().unwrap();
        reading_label(&job_of(rib::PROJECT, &[spec]), signature, sheet.step("twist"), "twist")
    };
    let renamed = rib::SPEC.replace("Twist, aft end", "Twist, FORWARD end");
    assert_eq!(label(Form::Two, rib::SPEC).as_deref(), Some("Twist, aft end"));
    assert_eq!(label(Form::Two, &renamed).as_deref(), Some("Twist, aft end"));
    // Form 1 kept only a digest of the step's words: where it still fits, today's label is the one of then.
    assert_eq!(label(Form::One, rib::SPEC).as_deref(), Some("Twist, aft end"));
    assert_eq!(label(Form::One, &renamed), None);
}

/// The demonstration as it lies in the repository, with its archive.
fn demo() -> (Job, State, Archived) {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
    let (mut files, mut report) = (Files::default(), Report::default());
    let spec = load(&root.join("build.toml"), &mut files, &mut report).unwrap();
    let job = resolve(spec, &mut report);
    let archive = Archive::at(root.join("archive"));
    let survey = archive.read().unwrap();
    assert_eq!(survey.flaws, []);
    let state = State::of(&survey.records);
    let read = |issue: &shophead::archive::Issue| {
        let bytes = archive.blob(&issue.issued.requirements).unwrap();
        (issue.issued.sheet, SheetRequirement::parse(&bytes).unwrap())
    };
    let archived = state.all_in_force().map(read).collect();
    (job, state, archived)
}

#[test]
fn the_demonstration_s_archive_stands_as_it_was() {
    let (job, state, archived) = demo();
    assert!(archived.len() >= 4);
    assert!(outdated_sheets(&job, &state).is_empty());
    assert_eq!(changes(&job, &state, &archived), []);
    let mut standing = 0;
    for (index, traveler) in job.travelers.iter().enumerate() {
        for hand in job.hands_of(index) {
            let packet = PacketName::new(traveler.id.value.as_str(), hand);
            let Some(issue) = state.in_force(&packet) else { continue };
            let sheet = sheet_to_print(&job, &state, index, hand);
            assert_eq!(sheet.code(), issue.issued.sheet, "an equal print keeps its code");
            // What was read from the archive is what the specs say, fact by fact, in the form of its day.
            let kept = &archived[&issue.issued.sheet];
            assert_eq!(kept.text(), sheet.text());
            assert_eq!(sheet, sheet_requirement_as(&job, index, hand, kept.form));
            let is_signed = |step: &&shophead::archive::StepRequirement| {
                let item = ItemName::new(traveler.id.value.as_str(), hand, step.id.as_str());
                matches!(state.standing(&item), Standing::Signed(_)) && state.is_signed(&item, Capacity::Done)
            };
            standing += sheet.steps.iter().filter(is_signed).count();
        }
    }
    // As many as the program before this form counted.
    assert_eq!(standing, 37);
}
