//! Blind rivets: grip ranges of the manual and the standard, and the code that fits.

use proptest::prelude::*;
use shophead::hardware::{BlindFamily, Fastener, Head, commercial_blind_for, decode};
use shophead::units::Length;

use super::{blind, inch};

/// TM 10-5410-221-14/1 Table 4-3.
#[test]
fn commercial_grips_are_those_of_the_manual() {
    for (code, low, high) in [
        ("32", "0.020", "0.125"),
        ("34", "0.126", "0.250"),
        ("41", "0.020", "0.062"),
        ("42", "0.063", "0.125"),
        ("43", "0.126", "0.187"),
        ("44", "0.188", "0.250"),
        ("45", "0.251", "0.312"),
        ("46", "0.313", "0.375"),
        ("48", "0.376", "0.500"),
        ("52", "0.020", "0.125"),
        ("53", "0.126", "0.187"),
        ("54", "0.188", "0.250"),
        ("56", "0.251", "0.375"),
        ("84", "0.125", "0.250"),
        ("86", "0.251", "0.375"),
        ("88", "0.376", "0.500"),
        ("812", "0.626", "0.750"),
    ] {
        let rivet = blind(&format!("IFI114-{code}"));
        assert_eq!(rivet.grip, Some((inch(low), inch(high))), "code {code}");
        assert!(!rivet.basis.from_memory());
        assert!(rivet.is_commercial());
    }
    assert!(blind("IFI114-64").basis.from_memory(), "the 3/16 rows are from memory");
}

/// The code itself: diameter in 1/32, greatest grip in 1/16.
#[test]
fn a_code_tells_its_greatest_grip() {
    for code in [
        "32", "34", "41", "42", "43", "44", "45", "46", "48", "52", "53", "54", "56", "62", "64", "66", "68", "84",
        "86", "88", "812",
    ] {
        let sixteenths: i64 = code[1..].parse().unwrap();
        let (_, high) = blind(&format!("IFI114-{code}")).grip.unwrap();
        assert!(Length::from_64ths(4 * sixteenths).distance(high) <= inch("0.001"), "code {code}");
    }
}

/// ISO 15981:2002 Table 1, millimetres.
#[test]
fn iso_grips_are_those_of_the_standard() {
    for (call, low, high) in [
        ("2.4x6", "0.5 mm", "3 mm"),
        ("3x5", "0.5 mm", "1.5 mm"),
        ("3.2x8", "3.5 mm", "5 mm"),
        ("4x10", "5 mm", "6.5 mm"),
        ("4.8x12", "6 mm", "8 mm"),
        ("5x30", "20 mm", "25 mm"),
        ("6x16", "6 mm", "10 mm"),
        ("6.4x30", "18 mm", "23 mm"),
        ("4x25", "16.5 mm", "21 mm"),
    ] {
        assert_eq!(blind(&format!("ISO 15981-{call}")).grip, Some((inch(low), inch(high))), "{call}");
    }
    assert!(decode("ISO 15981-2.4x5", &[]).is_err(), "a dash in the standard's table");
}

/// The greatest-grip dash of the MS20600 numbers, from memory.
#[test]
fn a_military_number_ends_in_its_greatest_grip() {
    let rivet = blind("MS20600AD4-3");
    assert_eq!((rivet.grip, rivet.family), (Some((inch("1/8"), inch("3/16"))), BlindFamily::Military));
    assert!(rivet.basis.from_memory() && !rivet.is_commercial());
    assert_eq!(blind("MS20601B5-2").head, Head::Flush100);
    assert_eq!(rivet.fitting(inch("0.2")).unwrap().call.text, "MS20600AD4-4");
}

#[test]
fn the_code_that_fits_a_stack_is_found() {
    let found = commercial_blind_for(inch("0.165"), inch("1/8"), Head::Protruding).unwrap();
    assert_eq!((found.code.as_deref(), found.call.text.as_str()), (Some("43"), "IFI114-43"));
    assert_eq!(
        commercial_blind_for(inch("0.1255"), inch("1/8"), Head::Protruding).unwrap().code.as_deref(),
        Some("42"),
        "slack on the gap between two rows"
    );
    assert_eq!(commercial_blind_for(inch("0.900"), inch("1/8"), Head::Protruding), None);
    let flush = commercial_blind_for(inch("0.165"), inch("1/8"), Head::Flush120).unwrap();
    assert_eq!(flush.call.text, "IFI114-43 FLUSH");
    let family = blind("IFI114-4 grade 10");
    assert_eq!((family.grip, family.fits(inch("0.1"))), (None, None));
    assert_eq!(family.fitting(inch("0.100")).unwrap().call.text, "IFI114-42 GRADE 10");
    assert_eq!(blind("ISO15981-4").fitting(inch("6 mm")).unwrap().call.text, "ISO15981-4X10");
}

/// IFI-114 strengths, from memory: grade 10, 1/8: 120 lb shear, 150 lb tension.
#[test]
fn strength_needs_a_grade_and_is_from_memory() {
    let strength = blind("IFI114-42 grade 10").strength().unwrap();
    assert_eq!(strength.value, (120, 150, "lb"));
    assert!(strength.from_memory());
    assert_eq!(blind("IFI114-42").strength(), None);
}

proptest! {
    #[test]
    fn whatever_is_proposed_fits_and_decodes_to_itself(mils in 20_i64..500, dash in prop::sample::select(vec![3_i64, 4, 5, 6, 8])) {
        let (stack, d) = (Length::from_mils(mils), Length::from_64ths(2 * dash));
        if let Some(found) = commercial_blind_for(stack, d, Head::Protruding) {
            prop_assert_eq!(found.fits(stack), Some(true));
            prop_assert_eq!(decode(&found.call.text, &[]), Ok(Fastener::BlindRivet(found)));
        }
    }
}
