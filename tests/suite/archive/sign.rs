//! Signatures: what the paper would not have allowed is refused, readings outside open a discrepancy, corrections add.

use shophead::archive::{
    Capacity, Corrected, Entry, EntryNumber, Lost, Reading, Signed, Standing, Struck, Voided, correct, sign, strike,
};
use shophead::calendar::Moment;
use shophead::report::Report;
use shophead::spec::{DiscrepancySpec, read_evening};
use shophead::text::Files;
use shophead::words::{ItemName, PacketName};

use crate::build::signed::{Ledger, SPEC, day, job, signer};

fn entered() -> Moment {
    Moment::parse("2026-03-20T20:00").unwrap()
}

fn begun() -> Ledger {
    let mut ledger = Ledger::default();
    ledger.issue(&job(SPEC), &[]);
    ledger
}

fn signing(ledger: &Ledger, step: &str) -> Signed {
    let sheet = ledger.state().in_force(&PacketName::new("T1", None)).unwrap().issued.sheet;
    let blank = Signed::blank(sheet, step, "B1", "", day("2026-03-19"));
    Signed { minutes: Some(40), helpers: vec!["H1".into()], photos: vec!["12".into()], ..blank }
}

fn level(value: &str) -> Vec<Reading> {
    vec![Reading { id: "level".into(), value: value.into() }]
}

fn attempt(ledger: &Ledger, signing: &Signed) -> Result<(Vec<Entry>, Vec<String>), Vec<String>> {
    let sheet = ledger.archived.values().next().unwrap();
    sign(&ledger.state(), sheet, signing, &signer(&signing.by), entered())
        .map(|signings| (signings.entries, signings.remarks))
}

#[test]
fn a_signature_by_name_or_number_becomes_one_entry_and_the_step_is_done() {
    for named in ["open", "010", "10"] {
        let mut ledger = begun();
        let (entries, remarks) = attempt(&ledger, &signing(&ledger, named)).unwrap();
        assert_eq!((entries.len(), remarks.len()), (1, 0));
        for entry in entries {
            ledger.add(entry);
        }
        assert_eq!(ledger.state().standing(&ItemName::new("T1", None, "open")), Standing::Signed(EntryNumber(2)));
        assert_eq!(ledger.state().standing(&ItemName::new("T1", None, "deburr")), Standing::Open);
    }
}

#[test]
fn a_reading_outside_its_tolerance_opens_a_discrepancy_before_the_signature() {
    let ledger = begun();
    let outside = Signed { readings: level("0.2"), ..signing(&ledger, "level") };
    let (entries, remarks) = attempt(&ledger, &outside).unwrap();
    let (Entry::DiscrepancyOpened(opened), Entry::Signed(signed)) = (&entries[0], &entries[1]) else {
        panic!("{entries:?}")
    };
    assert_eq!(
        (opened.number.as_str(), opened.should.as_deref(), opened.is.as_deref()),
        ("D-001", Some("-0.1 to 0.1 deg"), Some("0.2"))
    );
    assert_eq!(signed.discrepancies, ["D-001"]);
    let opened = "discrepancy D-001 is opened: `level` of step `level` is outside its tolerance, is 0.2, should be -0.1 to 0.1 deg";
    assert_eq!(remarks, [opened]);
    for inside in ["0.1", "-0.1", "0", "N/A"] {
        let (entries, _) = attempt(&ledger, &Signed { readings: level(inside), ..signing(&ledger, "level") }).unwrap();
        assert_eq!(entries.len(), 1, "{inside}");
    }
}

#[test]
fn what_the_paper_would_not_have_allowed_is_refused_with_the_reason() {
    let ledger = begun();
    let base = |step: &str| signing(&ledger, step);
    let hold = Signed { capacity: Capacity::Hold, ..base("look") };
    let cases: Vec<(Signed, &str)> = vec![
        (base("rivets"), "has no step `rivets`; it has 010 open, 020 deburr"),
        (base("level"), "step `level` has no value for `level`; write the value or N/A"),
        (
            Signed { readings: level("about right"), ..base("level") },
            "`level` is `about right`, expected a number or N/A",
        ),
        (Signed { readings: level("0"), ..base("open") }, "step `open` has no record `level`; it has none"),
        (hold.clone(), "the hold of step `look` is for the technical counselor; B1 signs as builder"),
        (Signed { step: "open".into(), ..hold }, "step `open` asks for no hold"),
        (
            Signed { worked: day("2026-03-22"), ..base("open") },
            "the work is dated 2026-03-22, which is after today, 2026-03-20",
        ),
        (Signed { worked: day("2026-02-28"), ..base("open") }, "the work of 2026-02-28 is older than sheet"),
        (
            Signed { discrepancies: vec!["D-009".into()], ..base("open") },
            "there is no discrepancy D-009; open it first",
        ),
    ];
    for (signing, said) in cases {
        let faults = attempt(&ledger, &signing).unwrap_err();
        assert!(faults.len() == 1 && faults[0].contains(said), "{faults:?}, expected {said}");
    }
    let counselor = Signed { capacity: Capacity::Hold, by: "TC1".into(), ..base("look") };
    assert_eq!(attempt(&ledger, &counselor).unwrap().0.len(), 1);
}

#[test]
fn a_step_is_signed_once_and_a_back_dated_entry_is_marked() {
    let mut ledger = begun();
    let old = Signed { worked: day("2026-03-10"), ..signing(&ledger, "open") };
    let (entries, remarks) = attempt(&ledger, &old).unwrap();
    assert_eq!(remarks, ["the work is 10 days older than this entry; the record says so"]);
    let Entry::Signed(signed) = &entries[0] else { panic!("{entries:?}") };
    assert_eq!(signed.late, Some(10));
    ledger.add(entries[0].clone());
    let again = attempt(&ledger, &old).unwrap();
    assert_eq!(again, (Vec::new(), vec!["step `open` is signed so already (entry 000002)".to_owned()]));
    let faults = attempt(&ledger, &Signed { worked: day("2026-03-11"), ..old }).unwrap_err();
    assert!(
        faults[0].contains("was signed by B1 on 2026-03-10 (entry 000002); correct that entry or strike it out"),
        "{faults:?}"
    );
}

#[test]
fn void_and_lost_sheets_are_not_signed_but_lost_ones_can_be_put_together_again() {
    let mut ledger = begun();
    let sheet = signing(&ledger, "open").sheet;
    ledger.add(Lost { sheet, by: "B1".into(), on: day("2026-03-18"), because: "not in the binder".into() });
    let faults = attempt(&ledger, &Signed { sheet, ..signing(&ledger, "open") }).unwrap_err();
    assert!(faults[0].contains("is lost; say from what the signature is put together again"));
    let again = Signed { reconstructed: Some("photo 12".into()), ..signing(&ledger, "open") };
    assert_eq!(attempt(&ledger, &again).unwrap().0.len(), 1);
    ledger.add(Voided { sheet, by: "B1".into(), on: day("2026-03-19"), because: "the rib is built anew".into() });
    assert!(ledger.state().in_force(&PacketName::new("T1", None)).is_none());
    let faults = attempt(&ledger, &Signed { sheet, ..again }).unwrap_err();
    assert!(faults[0].contains("is void: the rib is built anew"));
}

fn correction(field: &str, now: Option<&str>) -> Corrected {
    Corrected {
        entry: EntryNumber(2),
        field: field.into(),
        was: None,
        now: now.map(str::to_owned),
        by: "B1".into(),
        on: day("2026-03-20"),
        because: "misread".into(),
    }
}

#[test]
fn a_correction_is_a_new_entry_that_keeps_what_stood_there() {
    let mut ledger = begun();
    let entry = ledger.sign("T1", "level", "2026-03-08", Some("0.05"));
    assert_eq!(entry, EntryNumber(2));
    let Entry::Corrected(made) = correct(&ledger.state(), correction("reading level", Some("0.06"))).unwrap() else {
        panic!("a correction")
    };
    assert_eq!(made.was.as_deref(), Some("0.05"));
    ledger.add(*made);
    for (field, now) in [
        ("by", Some("H1")),
        ("worked", Some("2026-03-07")),
        ("minutes", None),
        ("helper", Some("H1; H2")),
        ("note", Some("cold")),
    ] {
        let entry = correct(&ledger.state(), correction(field, now)).unwrap();
        ledger.add(entry);
    }
    let state = ledger.state();
    let signature = &state.signatures[&EntryNumber(2)];
    assert_eq!(
        (signature.reading("level"), signature.signed.by.as_str(), signature.signed.minutes),
        (Some("0.06"), "H1", None)
    );
    assert_eq!(
        (signature.signed.worked, signature.signed.helpers.len(), signature.signed.note.as_deref()),
        (day("2026-03-07"), 2, Some("cold"))
    );
    assert_eq!(signature.corrections.len(), 6);
    assert!(
        matches!(&ledger.records[1].entry, Entry::Signed(signed) if signed.by == "B1"),
        "the record itself is as it was"
    );

    for (field, now, said) in [
        ("sheet", Some("x"), "`sheet` cannot be corrected"),
        ("worked", Some("yesterday"), "`worked` is `yesterday`, expected a day such as 2026-03-02"),
        ("worked", None, "`worked` cannot be left empty"),
        ("minutes", Some("an hour"), "`minutes` is `an hour`, expected a whole number"),
        ("by", Some("H1"), "`by` of entry 000002 says that already"),
    ] {
        let fault = correct(&state, correction(field, now)).unwrap_err();
        assert!(fault.contains(said), "{fault}");
    }
    assert!(
        correct(&state, Corrected { entry: EntryNumber(1), ..correction("by", Some("H1")) }).is_err(),
        "an issue is no signature"
    );
}

#[test]
fn a_struck_signature_no_longer_counts_and_the_step_can_be_signed_again() {
    let mut ledger = begun();
    ledger.sign("T1", "open", "2026-03-08", None);
    let struck =
        Struck { entry: EntryNumber(2), by: "B1".into(), on: day("2026-03-20"), because: "the other rib".into() };
    let entry = strike(&ledger.state(), struck.clone()).unwrap();
    ledger.add(entry);
    assert_eq!(ledger.state().standing(&ItemName::new("T1", None, "open")), Standing::Open);
    assert!(strike(&ledger.state(), struck).unwrap_err().contains("was struck out before"));
    assert!(correct(&ledger.state(), correction("by", Some("H1"))).is_err());
    assert!(attempt(&ledger, &signing(&ledger, "open")).is_ok());
}

#[test]
fn words_of_earlier_versions_are_read_in_what_is_typed_and_mean_the_same() {
    let today = "by = \"B1\"\n[[discrepancy]]\nwhat = \"x\"\nspace = \"bay\"\nstops = \"space\"\nclass = \"minor\"\n[[visit]]\nspaces = [\"bay\"]\n";
    let earlier = "by = \"B1\"\n[[discrepancy]]\nwhat = \"x\"\nzone = \"bay\"\nstops = \"zone\"\nweight = \"minor\"\n[[visit]]\nzones = [\"bay\"]\n";
    let read = |text: &str| {
        let (mut files, mut report) = (Files::default(), Report::default());
        let id = files.add("evening.toml", text);
        let typed = read_evening(id, &files, &mut report);
        let words = |own: &DiscrepancySpec| {
            (own.space.clone().map(|own| own.value), own.stops.map(|own| own.value), own.class.map(|own| own.value))
        };
        let spaces: Vec<String> = typed.visit[0].spaces.iter().map(|own| own.value.clone()).collect();
        (typed.discrepancy.iter().map(words).collect::<Vec<_>>(), spaces, report.findings)
    };
    let (found, spaces, findings) = read(today);
    assert_eq!((found.len(), spaces.len(), findings.len()), (1, 1, 0), "{findings:?}");
    assert_eq!(read(earlier), (found, spaces, findings));
    let (_, _, unknown) = read(&today.replace("stops = \"space\"", "stops = \"bay\""));
    assert_eq!(unknown[0].message, "`stops` is `bay`, which is none of its words");
    assert_eq!(unknown[0].help.as_deref(), Some("one of: step, space, nothing"));
    let (_, _, twice) = read(&today.replace("class =", "weight = \"minor\"\nclass ="));
    assert_eq!(twice[0].message, "`weight` and `class` are one key, and both are given");
}
