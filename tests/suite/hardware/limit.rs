//! The named limits: the list in the code and the rows of the table are one to one, each with its kind of value.

use std::collections::BTreeSet;

use shophead::hardware::limit::{self, Force, LIMITS_BY_COLUMN, force_of};
use shophead::units::Ratio;

use super::{inch, written_rows};

#[test]
fn every_named_limit_is_one_row_and_every_row_is_named() {
    let named: BTreeSet<(String, String)> =
        LIMITS_BY_COLUMN.iter().map(|(name, column)| ((*name).to_owned(), (*column).to_owned())).collect();
    let mut written = BTreeSet::new();
    for row in written_rows("limit") {
        let name = row["limit"].as_str().unwrap().to_owned();
        let columns: Vec<&str> =
            ["times", "length", "count"].into_iter().filter(|column| row.contains_key(*column)).collect();
        assert_eq!(columns.len(), 1, "{name} has not one value");
        assert!(written.insert((name.clone(), columns[0].to_owned())), "{name} is written twice");
    }
    assert_eq!(named, written);
    assert_eq!(named.len(), LIMITS_BY_COLUMN.len(), "a name stands twice in the code");
}

/// Each number by the page that the rules cite for it; the grades say how well it was read.
#[test]
fn limits_are_those_of_their_sources() {
    for (limit, thousandths, source) in [
        (limit::rivet_edge(), 2_000, "AC-4-57c"),
        (limit::flush_rivet_edge(), 2_500, "FAA-HB"),
        (limit::bolt_edge(), 1_500, "TM-BD74"),
        (limit::bolt_edge_preferred(), 2_000, "TM-BD74"),
        (limit::edge_most(), 4_000, "AC65-15A"),
        (limit::pitch_in_one_row(), 3_000, "AC-4-57c"),
        (limit::pitch_in_two_rows(), 4_000, "AC-F4-5"),
        (limit::pitch_in_more_rows(), 3_000, "AC-F4-5"),
        (limit::pitch_usual(), 8_000, "NAV-547"),
        (limit::pitch_most(), 12_000, "TRADE"),
        (limit::row_gap(), 2_000, "TM-303"),
        (limit::row_gap_wanted(), 2_500, "TRADE"),
        (limit::stringer_leg(), 4_000, "AC-4-36"),
        (limit::tube_across(), 8_000, "AC-4-25"),
        (limit::rivet_in_sheet(), 3_000, "AC-4-27"),
        (limit::shop_head_least_wide(), 1_300, "H5H"),
        (limit::shop_head_least_wide_7050(), 1_400, "H5H"),
        (limit::shop_head_least_high(), 400, "M47196-Q"),
    ] {
        assert_eq!((limit.value, limit.basis.source.as_ref()), (Ratio(thousandths), source));
    }
    assert_eq!(limit::washers_most().value, inch("1/8"));
    assert!(limit::washers_most().from_memory());
    assert_eq!(limit::chamfer_most().value, inch("0.032"));
    assert_eq!((limit::oversize_share().value, limit::oversize_most().value), (20, 10));
}

#[test]
fn a_limit_carries_the_force_of_its_source() {
    for (name, force) in [
        ("rivet_edge", Force::Should),
        ("flush_rivet_edge", Force::Recommended),
        ("row_gap_wanted", Force::Must),
        ("shop_head_least_wide", Force::Shall),
        ("pitch_most", Force::CommonPractice),
        ("free_shank_usual", Force::Derived),
    ] {
        assert_eq!(force_of(name), Some(force), "{name}");
    }
    assert_eq!(force_of("no such limit"), None);
}
