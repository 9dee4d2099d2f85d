//! Shear strengths recomputed, thin-sheet factors, rivets per inch.

use shophead::hardware::{
    CountTable, count_rivets, flush_shear_in, flush_shear_listed, nominal_hole, rivets_for_width, rivets_per_inch,
    single_shear, single_shear_in, solid_rivet_holes, thin_sheet_factor,
};
use shophead::job::Preparation;
use shophead::units::{Length, Ratio};

use super::{fastener, inch, rivet, written_rows};

/// MIL-HDBK-5J Table 8.1.2(b): ultimate shear = Fsu x pi / 4 x hole squared, within 0.5 %.
#[test]
fn shear_is_strength_times_the_area_of_the_nominal_hole() {
    let mut seen = 0;
    let dashes = [2_u16, 3, 4, 5, 6, 8];
    let values = written_rows("single_shear").into_iter().flat_map(|row| {
        let pounds = row["pounds"].as_array().unwrap().clone();
        let alloy = row["driven"].to_string();
        let ksi = row["ksi"].as_integer().unwrap();
        dashes
            .into_iter()
            .zip(pounds)
            .map(move |(dash, pounds)| (alloy.clone(), ksi, dash, pounds.as_integer().unwrap()))
    });
    for (alloy, ksi, dash, pounds) in values {
        let d = Length::from_32nds(dash);
        let hole = solid_rivet_holes(d).into_iter().find(|hole| hole.nominal).unwrap().size.length;
        let ten_thousandths = hole.nm() / Length::from_ten_thousandths(1).nm();
        // Milli-pounds: ksi x 1000 x pi / 4 x (n / 10 000) squared x 1000.
        let expected = i128::from(ksi) * 3_141_593 * i128::from(ten_thousandths * ten_thousandths) / 400_000_000;
        let printed = i128::from(pounds) * 1_000;
        assert!(
            (expected - printed).abs() * 200 <= printed.max(100_000),
            "{alloy} {d:?}: {expected} against {printed}"
        );
        seen += 1;
    }
    assert_eq!(seen, 36);
}

/// MIL-HDBK-5F as quoted: 217 lb for AD3, 388 lb for AD4.
#[test]
fn shear_of_2117_is_the_quoted_value() {
    for (call, pounds) in
        [("MS20470AD3", 217), ("MS20470AD4", 388), ("MS20470AD5", 596), ("MS20470AD6", 862), ("MS20470AD8", 1555)]
    {
        assert_eq!(single_shear(&rivet(call)).unwrap().value, pounds, "{call}");
    }
    assert_eq!(single_shear(&rivet("MS20470DD4")).unwrap().value, 532);
    assert_eq!(single_shear(&rivet("MS20470D4")).unwrap().value, 441, "the lower of the two tempers");
    assert_eq!(single_shear(&rivet("MS20470E4")).unwrap().value, 558);
    assert_eq!(single_shear(&rivet("MS20615-4M")), None);
    assert!(single_shear(&rivet("MS20470AD4")).unwrap().from_memory());
}

/// MIL-HDBK-5 8.1.2.1: the factor applies below t / D = .33, so it is one from there on and under one below.
#[test]
fn thin_sheet_factors_end_at_a_third_of_the_diameter() {
    for dash in [2, 3, 4, 5, 6, 8] {
        let d = Length::from_64ths(2 * dash);
        let mut last = Ratio(0);
        for sheet in [
            "0.016", "0.018", "0.020", "0.025", "0.032", "0.036", "0.040", "0.045", "0.050", "0.063", "0.071", "0.080",
            "0.090",
        ] {
            let Some(factor) = thin_sheet_factor(d, inch(sheet)) else { continue };
            assert!(factor.value >= last, "dash {dash} at {sheet}");
            last = factor.value;
            let full = inch(sheet) * 100 >= d * 33;
            assert_eq!(factor.value == Ratio(1_000), full, "dash {dash} at {sheet}: {}", factor.value);
        }
        assert_eq!(last, Ratio(1_000));
    }
    assert_eq!(thin_sheet_factor(inch("1/8"), inch("0.032")).unwrap().value, Ratio(964));
    assert_eq!(thin_sheet_factor(inch("1/4"), inch("0.051")).unwrap().value, Ratio(920), "the old gauge of .050");
    assert_eq!(thin_sheet_factor(inch("1/4"), inch("0.040")), None);
    assert_eq!(single_shear_in(&rivet("MS20470AD4"), inch("0.032")).unwrap().value, 374);
}

/// AC 43.13-1B Tables 4-10 and 4-11 as read, 4-9 as rebuilt from run-together text.
#[test]
fn rivets_per_inch_are_those_of_the_circular() {
    let count = |table, sheet: &str, d: &str| rivets_per_inch(table, inch(sheet), inch(d)).map(|count| count.value);
    assert_eq!(count(CountTable::T4_10, "0.032", "1/8"), Some(49));
    assert_eq!(count(CountTable::T4_10, "0.040", "1/8"), Some(62));
    assert_eq!(count(CountTable::T4_10, "0.051", "5/32"), Some(51));
    assert_eq!(count(CountTable::T4_10, "0.050", "5/32"), Some(51), "the modern name of .051");
    assert_eq!(count(CountTable::T4_10, "0.128", "1/4"), Some(49));
    assert_eq!(count(CountTable::T4_10, "0.016", "5/32"), None);
    assert_eq!(count(CountTable::T4_9, "0.032", "1/8"), Some(62));
    assert_eq!(count(CountTable::T4_9, "0.128", "3/16"), Some(112));
    assert_eq!(count(CountTable::T4_11, "0.032", "1/8"), Some(47));
    assert_eq!(count(CountTable::T4_11, "0.128", "1/4"), Some(35));
    assert_eq!(CountTable::of("2024-T3"), Some(CountTable::T4_9), "the larger count of the two tables");
    assert_eq!(CountTable::of("5052-H32"), Some(CountTable::T4_11));
    assert_eq!(CountTable::of("4130"), None);
}

#[test]
fn counts_grow_with_the_sheet_and_shrink_with_the_rivet() {
    for table in [CountTable::T4_9, CountTable::T4_10, CountTable::T4_11] {
        let sheets = [
            "0.016", "0.020", "0.025", "0.032", "0.036", "0.040", "0.051", "0.064", "0.081", "0.091", "0.102", "0.128",
        ];
        for d in ["3/32", "1/8", "5/32", "3/16", "1/4"] {
            let column: Vec<i64> = sheets
                .iter()
                .filter_map(|sheet| rivets_per_inch(table, inch(sheet), inch(d)))
                .map(|count| count.value)
                .collect();
            assert!(column.is_sorted() && !column.is_empty(), "{table:?} {d}: {column:?}");
        }
        for sheet in sheets {
            let row: Vec<i64> = ["3/32", "1/8", "5/32", "3/16", "1/4"]
                .iter()
                .filter_map(|d| rivets_per_inch(table, inch(sheet), inch(d)))
                .map(|count| count.value)
                .collect();
            assert!(row.iter().rev().is_sorted(), "{table:?} {sheet}: {row:?}");
        }
    }
}

/// AC 43.13-1B Figure 4-20: .6 x 6.2 = 3.72, 4, 60 % = 2.4, 3; 2.0 x 6.2 = 12.4, 13, 60 % = 7.8, 8.
#[test]
fn the_worked_example_of_the_circular() {
    assert_eq!(rivets_for_width(62, inch("0.6"), 60), 3);
    assert_eq!(rivets_for_width(62, inch("2.0"), 60), 8);
    assert_eq!(rivets_for_width(62, inch("2.0"), 100), 13);
    assert_eq!(rivets_for_width(49, inch("10"), 100), 49);
}

/// MIL-HDBK-5F as quoted: 3/32 in .032, 178 lb countersunk and 217 lb dimpled.
#[test]
fn a_countersunk_rivet_in_thin_sheet_carries_less_than_a_dimpled_one() {
    let of = |call: &str, sheet: &str, preparation| {
        flush_shear_in(&rivet(call), inch(sheet), preparation).map(|found| (found.value.pounds, found.value.sheet))
    };
    let (cut, formed) = (Preparation::Countersink, Preparation::Dimple);
    for (sheet, countersunk) in [("0.032", 178), ("0.040", 193), ("0.063", 216)] {
        assert_eq!(of("MS20426AD3", sheet, cut), Some((countersunk, inch(sheet))));
        assert_eq!(of("MS20426AD3", sheet, formed), Some((217, inch(sheet))));
    }
    // A sheet between two: that of the thinner one, which a thicker sheet does not fall below.
    assert_eq!(of("MS20426AD3", "0.050", cut), Some((193, inch("0.040"))));
    assert_eq!(of("MS20426AD3", "0.125", cut), Some((216, inch("0.063"))));
    // The page quotes 1/8 in .040 dimpled alone; of thinner sheet, other diameters and other alloys it says nothing.
    assert_eq!(of("MS20426AD4", "0.040", formed), Some((388, inch("0.040"))));
    for (call, sheet, preparation) in [
        ("MS20426AD4", "0.040", cut),
        ("MS20426AD4", "0.032", formed),
        ("MS20426AD3", "0.025", cut),
        ("MS20426AD5", "0.063", cut),
        ("MS20426DD4", "0.063", formed),
        ("MS20470AD3", "0.032", formed),
    ] {
        assert_eq!(of(call, sheet, preparation), None, "{call} in {sheet}");
    }
    assert_eq!(
        flush_shear_listed(&crate::INCH),
        "3/32 in rivets in sheet of 0.032, 0.040, 0.063 in; 1/8 in rivets in sheet of 0.040 in dimpled"
    );
}

/// AC 43.13-1B par. 4-58g: clad 2024-T3, .032, 10 in, 1/8 2117-T4, single lap: Table 4-10, 37 rivets.
#[test]
fn clad_sheet_is_counted_by_its_own_table() {
    let sheets = [inch("0.032"); 2];
    let counts = count_rivets(&rivet("MS20470AD4"), &sheets, inch("10"), Some("clad 2024-T3"), &crate::INCH).unwrap();
    let said: Vec<_> = counts.iter().map(|count| (count.table, count.single_lap)).collect();
    assert_eq!(said, [("4-10", 37)]);
}

#[test]
fn the_hole_does_not_raise_the_strength() {
    assert_eq!(crate::INCH.name(nominal_hole(&fastener("MS20470AD5")).unwrap().value), "#21");
    assert_eq!(single_shear(&rivet("MS20470AD5-5")).unwrap().value, 596, "one value for #22, #21 and #20");
}
