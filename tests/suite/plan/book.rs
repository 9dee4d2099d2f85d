//! The build record: every signature once, readings with their unit, names, the days, what is left.

use serde_json::Value;
use shophead::archive::{Capacity, Entry, Head, Struck};
use shophead::plan::{BookFacts, Thumbnails, book};

use crate::build::signed::{Ledger, PROJECT, SPEC, day, job_of};

const SIGNERS: &str = "[[signer]]\ninitials = \"B1\"\nname = \"First of the shop\"\nrole = \"builder\"\n";

/// What the template is given, with the steps of a rib signed on several days, one of them late and one struck out.
fn page() -> Value {
    let job = job_of(&format!("{PROJECT}{SIGNERS}"), &[SPEC]);
    let mut ledger = Ledger::default();
    ledger.issue(&job, &[]);
    for (step, worked, late, capacity, value) in [
        ("open", "2026-03-02", None, Capacity::Done, None),
        ("deburr", "2026-03-02", Some(2), Capacity::Done, None),
        ("prime", "2026-03-05", None, Capacity::Done, None),
        ("level", "2026-05-08", Some(41), Capacity::Done, Some("0.04")),
        ("look", "2026-05-09", None, Capacity::Hold, None),
    ] {
        let entry = ledger.sign("T1", step, worked, value);
        let own = ledger.records.iter_mut().find(|own| own.number == entry).unwrap();
        let Entry::Signed(signed) = &mut own.entry else { panic!("{step} is a signature") };
        signed.late = late;
        signed.capacity = capacity;
        if step == "prime" {
            ledger.add(Struck { entry, because: "the wrong sheet".into(), by: "B1".into(), on: day("2026-03-06") });
        }
    }
    let facts = BookFacts { sheets: &ledger.archived, head: Head::default(), on: day("2026-06-01"), tasks: None };
    book(&job, &ledger.state(), &facts).document(&job, None, Thumbnails::new()).data
}

fn texts(value: &Value) -> Vec<&str> {
    value.as_array().unwrap().iter().map(|own| own.as_str().unwrap()).collect()
}

#[test]
fn every_signature_stands_once_in_the_record() {
    let page = page();
    let lines = page["assemblies"][0]["lines"].as_array().unwrap();
    let looks = page["looks"].as_array().unwrap();
    let steps: Vec<&str> = lines.iter().chain(looks).map(|line| line["step"].as_str().unwrap()).collect();
    assert_eq!(steps, ["010 Open the holes", "020 Deburr", "030 Prime", "060 Level", "070 Look"]);
    assert_eq!(lines[2]["struck"], true, "what was struck out is shown as that");
    assert_eq!(page["assemblies"][0]["own"]["lines"].as_array().unwrap().len(), 0);
    // The days tell what was worked on, without what was struck out, and name nobody.
    let days = page["days"].as_array().unwrap();
    let told: Vec<(&str, &str, Vec<&str>)> = days
        .iter()
        .map(|own| (own["day"].as_str().unwrap(), own["time"].as_str().unwrap(), texts(&own["work"])))
        .collect();
    assert_eq!(told, [("2026-03-02", "1 h", vec!["T1 010, 020"]), ("2026-05-08", "30 min", vec!["T1 060"])]);
}

#[test]
fn readings_have_units_and_only_very_late_entries_say_so_themselves() {
    let page = page();
    let assembly = &page["assemblies"][0];
    assert_eq!(texts(&assembly["lines"][3]["readings"]), ["Level 0.04 deg (limits -0.1 to 0.1 deg)"]);
    assert_eq!(texts(&assembly["lines"][1]["remarks"]), Vec::<&str>::new());
    assert_eq!(texts(&assembly["lines"][3]["remarks"]), ["entered 41 days after the work"]);
    assert_eq!(texts(&assembly["notes"]), ["Entered at most 41 days after the work."]);
}

#[test]
fn the_first_pages_tell_who_when_how_far_and_what_is_left() {
    let page = page();
    let front = &page["front"];
    let fact = |word: &str| {
        let mut facts = front["facts"].as_array().unwrap().iter();
        facts.find(|fact| fact[0] == word).unwrap()[1].as_str().unwrap().to_owned()
    };
    assert_eq!((fact("work begun").as_str(), fact("last work").as_str()), ("2026-03-02", "2026-05-09"));
    assert_eq!(fact("finished"), "not yet: 5 steps not signed");
    assert_eq!(
        (front["people"][0]["name"].as_str(), front["people"][0]["initials"].as_str()),
        (Some("First of the shop"), Some("B1"))
    );
    assert!(
        front["ledger"].as_str().unwrap().contains("SHA-256") && !page["foot"].as_str().unwrap().contains("SHA-256")
    );
    assert_eq!((page["bars"][0]["part"].as_u64(), page["bars"][0]["whole"].as_u64()), (Some(3), Some(8)));
    let months: Vec<(&str, u64)> = page["months"]
        .as_array()
        .unwrap()
        .iter()
        .map(|own| (own["name"].as_str().unwrap(), own["part"].as_u64().unwrap()))
        .collect();
    assert_eq!(months, [("2026-03", 60), ("2026-04", 0), ("2026-05", 60)], "a month without work is a month too");
    assert_eq!(texts(&page["left"]), ["5 steps in 1 assembly, by the specs' own estimate 1 h 56 min"]);
}
