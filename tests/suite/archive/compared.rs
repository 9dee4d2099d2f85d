//! Readings that are compared: judged when the second of them is entered, whichever that is.

use shophead::archive::{Entry, Reading, Signed, sign};
use shophead::calendar::Moment;
use shophead::words::PacketName;

use crate::build::signed::{Ledger, day, edited, job, signer};

const LEVEL: &str = "records = [{ id = \"level\", label = \"Level\", unit = \"deg\", min = -0.1, max = 0.1 }]\n";

/// A sheet whose level and deburring steps measure what is compared.
fn begun() -> Ledger {
    let again = format!("{LEVEL}[[step]]\nid = \"again\"\ntitle = \"Level again\"\ndo = \"level\"\nrecords = [\n");
    let again = again + "{ id = \"left\", label = \"Left\", unit = \"deg\", within = \"0.06 of level/level\" },\n";
    let again = again
        + "{ id = \"pin\", label = \"Pin\", unit = \"in\" }, { id = \"bore\", label = \"Bore\", unit = \"in\" }]\n";
    let again = again + "fit = { bore = \"bore\", pin = \"pin\", interference = [\"0.0005\", \"0.0015\"] }\n";
    let mut ledger = Ledger::default();
    ledger.issue(&job(&edited(LEVEL, &again)), &[]);
    ledger
}

/// Signs a step with its readings; what is wrong with them, as the discrepancies that it opens say it.
fn opened(ledger: &mut Ledger, step: &str, readings: &[(&str, &str)]) -> Vec<(String, String, String)> {
    let state = ledger.state();
    let sheet = state.in_force(&PacketName::new("T1", None)).unwrap().issued.sheet;
    let readings = readings.iter().map(|(id, value)| Reading { id: (*id).into(), value: (*value).into() });
    let signing = Signed { readings: readings.collect(), ..Signed::blank(sheet, step, "B1", "", day("2026-03-19")) };
    let entered = Moment::parse("2026-03-20T20:00").unwrap();
    let signings = sign(&state, &ledger.archived[&sheet], &signing, &signer("B1"), entered).unwrap();
    let mut found = Vec::new();
    for entry in signings.entries {
        if let Entry::DiscrepancyOpened(own) = &entry {
            found.push((own.what.clone(), own.should.clone().unwrap(), own.is.clone().unwrap()));
        }
        ledger.add(entry);
    }
    found
}

const GOOD_FIT: [(&str, &str); 2] = [("pin", "0.5010"), ("bore", "0.5000")];

fn again(left: &str) -> Vec<(&str, &str)> {
    [[("left", left)].as_slice(), &GOOD_FIT].concat()
}

#[test]
fn a_reading_is_compared_when_the_second_of_the_two_is_entered() {
    let apart = |one: &str, other: &str| {
        (
            "`left` and `level/level` of step `again` are not as they should be to each other".to_owned(),
            "left within 0.06 deg of level/level".to_owned(),
            format!("{one} and {other}"),
        )
    };
    let mut ledger = begun();
    assert_eq!(opened(&mut ledger, "level", &[("level", "0.05")]), []);
    assert_eq!(opened(&mut ledger, "again", &again("-0.02")), [apart("-0.02", "0.05")]);
    let mut ledger = begun();
    assert_eq!(opened(&mut ledger, "again", &again("-0.02")), [], "the other was not read yet");
    assert_eq!(opened(&mut ledger, "level", &[("level", "0.05")]), [apart("-0.02", "0.05")]);
    let mut ledger = begun();
    opened(&mut ledger, "level", &[("level", "0.05")]);
    assert_eq!(opened(&mut ledger, "again", &again("-0.01")), [], "exactly the limit");
    let mut ledger = begun();
    opened(&mut ledger, "level", &[("level", "N/A")]);
    assert_eq!(opened(&mut ledger, "again", &again("9")), [], "nothing to compare with");
}

#[test]
fn the_interference_of_a_press_fit_follows_from_two_readings() {
    for (pin, is_good) in [("0.5005", true), ("0.5015", true), ("0.5004", false), ("0.5016", false), ("0.4990", false)]
    {
        let mut ledger = begun();
        let found = opened(&mut ledger, "again", &[("left", "0"), ("pin", pin), ("bore", "0.5000")]);
        assert_eq!(found.is_empty(), is_good, "{pin}: {found:?}");
        if let Some((_, should, is)) = found.first() {
            assert_eq!(should, "pin 0.0005 to 0.0015 in more than bore");
            assert_eq!(*is, format!("{pin} and 0.5000"));
        }
    }
}
