//! Holes: every listed size, nominal rows, and the bearing loads that prove the nominal drills.

use shophead::hardware::{
    RIVET_DASHES, Sureness, every_call, holes_for, largest_hole, nominal_hole, smallest_hole, solid_rivet_holes,
};
use shophead::units::Length;

use super::{fastener, inch};

/// MIL-HDBK-5J Table 8.1.2.1(a): unit bearing at 100 ksi is hole x sheet x 100 000, with the nominal drills.
#[test]
fn unit_bearing_loads_prove_the_nominal_drills() {
    for (dash, sheet, pounds) in [
        (4, "0.032", 411),
        (5, "0.040", 636),
        (6, "0.040", 764),
        (8, "0.080", 2056),
        (3, "0.032", 307),
        (10, "0.080", 2584),
        (12, "0.071", 2741),
    ] {
        let hole = nominal_hole(&fastener(&format!("MS20470AD{dash}"))).unwrap();
        assert_eq!(hole.basis.sureness, Sureness::ACalc);
        let square_nm = i128::from(hole.value.length.nm()) * i128::from(inch(sheet).nm());
        let inch_nm = i128::from(Length::from_mils(1_000).nm());
        let load = (square_nm * 100_000 + inch_nm * inch_nm / 2) / (inch_nm * inch_nm);
        assert_eq!(load, i128::from(pounds), "{dash} through {sheet}");
    }
}

/// The listed solid rivet holes: MIL-HDBK-5J nominal, the Army manual's ranges, the 1940s manual, handbook practice.
#[test]
fn solid_rivet_holes_are_those_of_the_sources() {
    let cases = [
        (2, "#51", vec!["#52", "#51"]),
        (3, "#41", vec!["#41", "#40"]),
        (4, "#30", vec!["#30"]),
        (5, "#21", vec!["#22", "#21", "#20"]),
        (6, "#11", vec!["#12", "#11", "#10"]),
        (8, "F", vec!["1/4 in", "F"]),
        (10, "P", vec!["P"]),
        (12, "W", vec!["W"]),
    ];
    for (dash, nominal, all) in cases {
        let family = fastener(&format!("MS20470AD{dash}"));
        assert_eq!(crate::INCH.name(nominal_hole(&family).unwrap().value), nominal);
        for size in all {
            let listed = holes_for(&family)
                .into_iter()
                .any(|hole| crate::INCH.name(hole.size) == size && hole.accepts(inch(size)));
            assert!(listed, "{size} for dash {dash}");
        }
    }
    let five = fastener("MS20470AD5");
    assert_eq!(smallest_hole(&five).unwrap().value, inch("#22"));
    assert_eq!(largest_hole(&five).unwrap().value, inch("0.164"));
    assert_eq!(largest_hole(&five).unwrap().basis.source, "TM-221");
}

#[test]
fn every_hole_is_as_large_as_its_rivet_and_every_diameter_has_one_nominal() {
    for dash in RIVET_DASHES {
        let d = Length::from_64ths(2 * i64::from(dash));
        let holes = solid_rivet_holes(d);
        assert_eq!(holes.iter().filter(|hole| hole.nominal).count(), 1, "dash {dash}");
        assert!(holes.iter().all(|hole| hole.low >= d && hole.low <= hole.high && hole.accepts(hole.size.length)));
    }
}

/// TM 10-5410-221-14/1 Table 4-3: a 5/32 blind rivet takes #20, never #21.
#[test]
fn a_blind_rivet_is_narrower_about_its_hole() {
    let holes = holes_for(&fastener("IFI114-52"));
    assert!(holes.iter().any(|hole| hole.accepts(inch("#20")) && hole.nominal));
    assert!(!holes.iter().any(|hole| hole.accepts(inch("#21"))));
    for (code, drill) in [("32", "#41"), ("43", "#30"), ("54", "#20"), ("62", "#11"), ("84", "F")] {
        let rivet = fastener(&format!("IFI114-{code}"));
        assert_eq!(crate::INCH.name(nominal_hole(&rivet).unwrap().value), drill);
    }
}

/// ISO 15981 holes, from memory: diameter + 0.1 to + 0.2 mm.
#[test]
fn an_iso_rivet_has_a_hole_in_millimetres() {
    let holes = holes_for(&fastener("ISO15981-4x10"));
    assert_eq!((holes[0].low, holes[0].high), (inch("4.1 mm"), inch("4.2 mm")));
    assert!(holes[0].basis.from_memory());
}

/// TM 1-1520-240-BD par. 2-5: AN3 .191-.197, AN4 .250-.257, AN5 .3125-.3195, AN6 .375-.382; AC par. 7-39: F, O, V.
#[test]
fn bolt_holes_are_those_of_the_manual_and_the_circular() {
    for (size, low, high, letter) in [
        ("AN3", "0.191", "0.197", None),
        ("AN4", "0.250", "0.257", Some("F")),
        ("AN5", "0.3125", "0.3195", Some("O")),
        ("AN6", "0.375", "0.382", Some("V")),
    ] {
        let holes = holes_for(&fastener(size));
        let nominal = holes.iter().find(|hole| hole.nominal).unwrap();
        assert_eq!((nominal.low, nominal.high), (inch(low), inch(high)), "{size}");
        assert_eq!(nominal.basis.source, "TM-BD74");
        if let Some(letter) = letter {
            assert!(
                holes.iter().any(|hole| crate::INCH.name(hole.size) == letter && hole.basis.source == "AC-7-39"),
                "{size}"
            );
        }
    }
    let close = fastener("NAS6204-10");
    assert!(nominal_hole(&close).is_none(), "a close-tolerance hole belongs to the drawing");
    assert!(!holes_for(&close).is_empty());
}

#[test]
fn no_unsure_row_is_nominal_and_every_listed_range_is_sound() {
    for call in every_call() {
        for hole in holes_for(&fastener(&call)) {
            assert!(!(hole.nominal && hole.basis.sureness == Sureness::D), "{call}");
            assert!(hole.low <= hole.high && hole.accepts(hole.size.length), "{call}: {hole:?}");
        }
    }
}
