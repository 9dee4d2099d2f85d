//! Contradictions that no entry made by the rules can hold: each is named, in its file; an end that was written down shows
//! what was rewritten; a file with an absurd number costs nothing.

use shophead::archive::{
    Archive, Begun, Capacity, Cause, Class, Corrected, DiscrepancyClosed, DiscrepancyOpened, Disposition, Entry,
    EntryNumber, FlawKind, NewBlob, NewPosting, Reading, Signed, Stops, Struck,
};
use shophead::calendar::Moment;

use super::sample::moment;
use super::{append, scratch};
use crate::build::signed::{Ledger, SPEC, day, job};

/// An archive with a sheet, issued on the first of March.
fn archive() -> (tempfile::TempDir, Archive, Ledger) {
    let folder = scratch();
    let archive = Archive::at(folder.path());
    let mut ledger = Ledger::default();
    ledger.issue(&job(SPEC), &[]);
    let Entry::Issued(issued) = &ledger.records[0].entry else { panic!("a sheet was issued") };
    let sheet = &ledger.archived[&issued.sheet];
    let begun = Begun { aircraft: "Dunlin two-seat".into(), serial: None, registration: None };
    let mut issued = (**issued).clone();
    let blobs = vec![NewBlob::of(sheet.text().into_bytes(), "txt"), NewBlob::of(b"%PDF", "pdf")];
    issued.requirements = blobs[0].reference();
    issued.pdf = blobs[1].reference();
    let entries = vec![begun.into(), issued.into()];
    post(&archive, "2026-03-01T09:00", entries, blobs);
    (folder, archive, ledger)
}

fn post(archive: &Archive, entered: &str, entries: Vec<Entry>, blobs: Vec<NewBlob<'_>>) {
    let posting = NewPosting { entries, blobs, ..NewPosting::at(moment(entered)) };
    archive.writer().unwrap().post(&posting).unwrap();
}

fn signed(ledger: &Ledger, step: &str) -> Signed {
    let sheet = ledger.archived.values().next().unwrap();
    let requirement = sheet.step(step).unwrap().digest();
    let blank = Signed::blank(sheet.code(), step, "B1", "builder", day("2026-03-19"));
    Signed { traveler: "T1".into(), requirement, ..blank }
}

fn opened(number: &str) -> DiscrepancyOpened {
    DiscrepancyOpened {
        number: number.into(),
        cause: Cause::Reading,
        sheet: None,
        traveler: Some("T1".into()),
        hand: None,
        step: Some("level".into()),
        also: Vec::new(),
        space: None,
        joint: None,
        what: "not level".into(),
        should: None,
        is: Some("0.2".into()),
        stops: Stops::Step,
        class: Class::Major,
        photos: Vec::new(),
        by: "B1".into(),
        found: day("2026-03-19"),
    }
}

fn closed(number: &str) -> DiscrepancyClosed {
    DiscrepancyClosed {
        number: number.into(),
        disposition: Disposition::UseAsIs,
        authority: "designer".into(),
        reference: None,
        after: Vec::new(),
        as_built: Vec::new(),
        by: "B1".into(),
        on: day("2026-03-20"),
        looked: None,
    }
}

fn level(ledger: &Ledger, value: &str) -> Signed {
    Signed { readings: vec![Reading { id: "level".into(), value: value.into() }], ..signed(ledger, "level") }
}

fn corrected(entry: u32, field: &str, was: &str, now: &str) -> Corrected {
    let text = |text: &str| Some(text.to_owned());
    let (by, on, because) = ("B1".into(), day("2026-03-20"), "misread".into());
    Corrected { entry: EntryNumber(entry), field: field.into(), was: text(was), now: text(now), by, on, because }
}

fn struck(entry: u32) -> Struck {
    Struck { entry: EntryNumber(entry), by: "B1".into(), on: day("2026-03-20"), because: "mistyped".into() }
}

/// Entries that are made by the rules.
fn sound(ledger: &Ledger) -> Vec<Vec<Entry>> {
    let hold = Signed { capacity: Capacity::Hold, role: "technical counselor".into(), ..signed(ledger, "look") };
    let told = Signed { discrepancies: vec!["D-001".into()], ..level(ledger, "0.2") };
    let open = || signed(ledger, "open");
    vec![
        vec![hold.into(), opened("D-001").into(), told.into(), closed("D-001").into()],
        vec![open().into(), corrected(3, "by", "B1", "H1").into(), corrected(3, "by", "H1", "H2").into()],
        vec![
            open().into(),
            corrected(3, "by", "B1", "H1").into(),
            struck(4).into(),
            corrected(3, "by", "B1", "H2").into(),
        ],
        vec![
            opened("D-001").into(),
            corrected(3, "what", "not level", "out of level").into(),
            closed("D-001").into(),
            struck(5).into(),
            closed("D-001").into(),
        ],
    ]
}

/// What verify says of entries that no rule would have made.
fn cases(ledger: &Ledger) -> Vec<(Vec<Entry>, &'static str)> {
    let hold = Signed { capacity: Capacity::Hold, role: "technical counselor".into(), ..signed(ledger, "look") };
    let told = Signed { discrepancies: vec!["D-001".into()], ..level(ledger, "0.2") };
    let open = || signed(ledger, "open");
    vec![
        (
            vec![
                opened("D-001").into(),
                closed("D-001").into(),
                struck(4).into(),
                struck(5).into(),
                closed("D-001").into(),
            ],
            "discrepancy D-001 was closed before, by entry 000004",
        ),
        (vec![struck(3).into()], "there is no earlier entry 000003"),
        (
            vec![Signed { role: "builder".into(), ..hold }.into()],
            "the hold of step `look` is for the technical counselor; it is signed as builder",
        ),
        (
            vec![Signed { capacity: Capacity::Witness, ..open() }.into()],
            "the witness of step `open` is for nobody; it is signed as builder",
        ),
        (
            vec![level(ledger, "0.2").into()],
            "`level` of step `level` is 0.2, outside -0.1 to 0.1 deg, and opened no discrepancy",
        ),
        (vec![told.into()], "discrepancy D-001 was never opened"),
        (
            vec![Signed { capacity: Capacity::Stage, stage: Some("S1".into()), ..open() }.into()],
            "the stage of step `open` is for nobody; it is signed as builder",
        ),
        (vec![closed("D-009").into()], "discrepancy D-009 was never opened"),
        (vec![opened("D-001").into(), opened("D-001").into()], "discrepancy D-001 was opened before, by entry 000003"),
        (
            vec![opened("D-001").into(), closed("D-001").into(), closed("D-001").into()],
            "discrepancy D-001 was closed before, by entry 000004",
        ),
        (vec![Signed { worked: day("2026-02-27"), ..open() }.into()], "the work of 2026-02-27 is older than sheet"),
        (
            vec![Signed { worked: day("2026-03-27"), ..open() }.into()],
            "the work of 2026-03-27 is later than this entry, of 2026-03-20 20:00",
        ),
        (vec![Signed { traveler: "T2".into(), ..open() }.into()], " is of T1, not of T2"),
        (
            vec![Begun { aircraft: "Dunlin two-seat".into(), serial: None, registration: None }.into()],
            "the archive began before, with entry 000001",
        ),
        (vec![open().into(), corrected(3, "by", "H1", "H2").into()], "`by` of entry 000003 was B1, not H1"),
    ]
}

#[test]
fn what_contradicts_other_entries_is_named_in_its_file() {
    let (_folder, _, ledger) = archive();
    let sound = sound(&ledger).into_iter().map(|entries| (entries, ""));
    for (entries, said) in sound.chain(cases(&ledger)) {
        let (_folder, archive, _) = archive();
        post(&archive, "2026-03-20T20:00", entries, Vec::new());
        let survey = archive.verify().unwrap();
        let file = &survey.postings.last().unwrap().file;
        let flaws: Vec<String> = survey.flaws.iter().map(|flaw| flaw.message.clone()).collect();
        if said.is_empty() {
            assert!(flaws.is_empty(), "{flaws:?}");
            continue;
        }
        assert!(flaws.iter().any(|flaw| flaw.contains(said)), "{flaws:?} instead of {said}");
        let at = |flaw: &shophead::archive::Flaw| flaw.path.ends_with(file) && flaw.kind == FlawKind::Contradicting;
        assert!(survey.flaws.iter().all(at), "{:?}", survey.flaws);
    }
}

#[test]
fn times_that_run_backwards_are_named_unless_they_give_a_reason() {
    for (because, said) in [
        (None, Some("it was entered on 2026-02-01 20:00, the entry before on 2026-03-01 09:00")),
        (Some("the clock was ahead"), None),
    ] {
        let (_folder, archive, _) = archive();
        let entries = vec![opened("D-001").into()];
        let because = because.map(str::to_owned);
        let posting = NewPosting { because, entries, ..NewPosting::at(moment("2026-02-01T20:00")) };
        archive.writer().unwrap().post(&posting).unwrap();
        let flaws = archive.verify().unwrap().flaws;
        assert_eq!(flaws.first().map(|flaw| flaw.message.as_str()), said);
        assert!(flaws.len() < 2);
    }
}

#[test]
fn an_end_that_was_written_down_tells_what_was_rewritten_after_it() {
    let (_folder, archive, _) = archive();
    let end = archive.verify().unwrap().last().last.unwrap().hex();
    post(&archive, "2026-03-20T20:00", vec![opened("D-001").into()], Vec::new());
    let survey = archive.verify().unwrap();
    let spaced = format!("{} {}", &end[..8].to_uppercase(), &end[8..16]);
    for written in [end.as_str(), &end[..16], &spaced] {
        assert_eq!(survey.posted(written).unwrap().unwrap().last, EntryNumber(2), "{written}");
    }
    let other = end.chars().rev().collect::<String>();
    assert_eq!(survey.posted(&other).unwrap(), None);
    for wrong in [&end[..15], "no digits at all, but long enough", ""] {
        assert!(survey.posted(wrong).unwrap_err().contains("is no SHA-256"), "{wrong}");
    }
}

#[test]
fn a_foreign_file_with_an_absurd_number_costs_nothing_and_stops_nothing() {
    for name in ["4294967295-00000000.txt", "000003-4294967295-00000000.txt", "000004-4294967294-00000000.txt"] {
        let (folder, archive, _) = archive();
        std::fs::write(folder.path().join("ledger").join(name), "x\n").unwrap();
        let flaws = archive.verify().unwrap().flaws;
        assert!(!flaws.is_empty() && flaws.len() <= 2, "{flaws:?}");
        assert!(flaws.iter().any(|flaw| flaw.path.ends_with(name)), "{flaws:?}");
    }
    let (folder, archive, _) = archive();
    std::fs::write(folder.path().join("ledger/4294967295-00000000.txt"), "x\n").unwrap();
    post(&archive, "2026-03-20T20:00", vec![opened("D-001").into()], Vec::new());
    let flaws: Vec<String> = archive.verify().unwrap().flaws.iter().map(ToString::to_string).collect();
    assert_eq!(flaws, ["foreign: ledger/4294967295-00000000.txt: it is no record, and the last entry is 000003"]);
}

#[test]
fn a_head_that_counts_as_far_as_can_be_counted_is_an_end_and_no_panic() {
    let (folder, archive, _) = archive();
    let digest = archive.read().unwrap().last().last.unwrap().hex();
    let head = format!("shophead head 1\nentries: {}\nlast: {digest}\n", u32::MAX);
    std::fs::write(folder.path().join("head.txt"), head).unwrap();
    assert!(!archive.verify().unwrap().is_whole());
    let entered = Moment::parse("2026-03-20T20:00").unwrap();
    let refused = archive.writer().and_then(|mut writer| append(&mut writer, entered, opened("D-001"), &[]));
    assert!(refused.unwrap_err().to_string().contains("head.txt counts 4294967295 entries"));
}
