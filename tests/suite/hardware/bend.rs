//! Bend radii of Table 4-6 and set-back.

use shophead::hardware::{bend_alloys, bend_minimum, setback, standard_sheets};
use shophead::units::{Length, Ratio};

use super::{inch, near};

/// AC 43.13-1B Table 4-6: least multiple by column .016 .032 .064 .128 .182 .258, in thousandths.
#[test]
fn multiples_are_those_of_table_4_6() {
    let table = [
        ("2024-O", [0, 0, 0, 0, 0, 0]),
        ("2024-T3", [1500, 2000, 3000, 4000, 4000, 5000]),
        ("2024-T6", [2000, 3000, 3000, 4000, 5000, 6000]),
        ("5052-O", [0, 0, 0, 0, 0, 0]),
        ("5052-H32", [0, 0, 500, 500, 500, 500]),
        ("5052-H34", [0, 0, 500, 1500, 1500, 2000]),
        ("6061-O", [0, 0, 0, 0, 0, 0]),
        ("6061-T4", [0, 0, 500, 1000, 1500, 2500]),
        ("6061-T6", [0, 500, 1000, 1500, 2000, 3000]),
        ("7075-O", [0, 0, 0, 500, 1000, 1500]),
        ("7075-T6", [2000, 3000, 4000, 5000, 5000, 6000]),
    ];
    assert_eq!(bend_alloys().collect::<Vec<_>>(), table.map(|(alloy, _)| alloy));
    for (alloy, row) in table {
        for (column, multiple) in ["0.016", "0.032", "0.064", "0.128", "0.182", "0.258"].iter().zip(row) {
            let found = bend_minimum(alloy, inch(column)).unwrap();
            assert_eq!(found.value.multiples, (Ratio(multiple), Ratio(multiple)), "{alloy} at {column}");
            assert!(!found.from_memory());
        }
    }
}

/// The circular's own figures at .032: .064 for 2024-T3 and .096 for 7075-T6.
#[test]
fn least_radii_at_a_column() {
    assert_eq!(bend_minimum("2024-T3", inch("0.032")).unwrap().value.least, inch("0.064"));
    assert_eq!(bend_minimum("7075-T6", inch("0.032")).unwrap().value.least, inch("0.096"));
    assert_eq!(bend_minimum("2024-T3", inch("0.032")).unwrap().value.roomy, inch("0.128"));
}

#[test]
fn between_columns_both_multiples_are_given() {
    let between = bend_minimum("2024-T3", inch("0.040")).unwrap().value;
    assert_eq!((between.least, between.cautious), (inch("0.080"), inch("0.120")));
    let named = bend_minimum("2024-T3", inch("0.063")).unwrap().value;
    assert_eq!(named.least, named.cautious, ".063 is the column .064 under its modern name");
    assert_eq!(
        bend_minimum("2024-T3", inch("0.012")).unwrap().value.least,
        inch("0.018"),
        "thinner than the first column"
    );
    assert!(bend_minimum("2024-T3", inch("0.300")).is_none());
    assert!(bend_minimum("4130", inch("0.063")).is_none());
}

#[test]
fn alloys_are_found_under_their_usual_names() {
    for (name, plain) in [
        ("2024-T3 clad", "2024-T3"),
        ("Alclad 2024-T3", "2024-T3"),
        ("2024-0", "2024-O"),
        ("6061-t6", "6061-T6"),
        ("6061-T651", "6061-T6"),
        ("2024-T351", "2024-T3"),
    ] {
        assert_eq!(bend_minimum(name, inch("0.063")), bend_minimum(plain, inch("0.063")), "{name}");
        assert!(bend_minimum(name, inch("0.063")).is_some(), "{name}");
    }
}

#[test]
fn a_thicker_sheet_never_bends_tighter() {
    for alloy in bend_alloys() {
        let radii: Vec<Length> = standard_sheets()
            .filter_map(|sheet| bend_minimum(alloy, sheet))
            .map(|found| found.value.cautious)
            .collect();
        assert!(radii.is_sorted(), "{alloy}: {radii:?}");
    }
}

/// K of the set-back chart: 1 at 90, 0.41421 at 45, 2.4142 at 135 degrees.
#[test]
fn setback_follows_the_chart() {
    let corner = |angle: i64| setback(angle, inch("0.75"), inch("0.25")).unwrap();
    near(corner(90_000), inch("1"), 0);
    near(corner(45_000), inch("0.41421"), 1);
    near(corner(135_000), inch("2.4142"), 1);
    assert_eq!(setback(0, inch("1"), inch("0.1")), Some(Length::ZERO));
    assert_eq!(setback(180_000, inch("1"), inch("0.1")), None);
    assert_eq!(setback(-1, inch("1"), inch("0.1")), None);
}
