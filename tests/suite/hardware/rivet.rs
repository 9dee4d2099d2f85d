//! Solid rivets: decoding, length against a stack, limits of the free shank, next size, substitutes.

use proptest::prelude::*;
use shophead::hardware::{
    Head, KeepCold, RIVET_DASHES, free_shank_limits, hole_fill, next_larger_rivet, reaches, rivet_alloys, within,
};
use shophead::units::{Length, Ratio};

use super::{fastener, inch, near, rivet};

#[test]
fn a_number_decodes_into_plain_words() {
    let universal = rivet("MS20470AD4-5");
    assert_eq!(universal.describe(&crate::INCH), "universal head, 2117-T4, 1/8 in dia, 5/16 in long");
    assert_eq!(
        (universal.head, universal.diameter, universal.length),
        (Head::Protruding, inch("1/8"), Some(inch("5/16")))
    );
    let flush = rivet("MS20426AD3-3.5");
    assert_eq!(flush.describe(&crate::INCH), "100 deg flush head, 2117-T4, 3/32 in dia, 7/32 in long over all");
    assert_eq!(flush.head, Head::Flush100);
    let reduced = rivet("NAS1097AD4-5");
    assert_eq!(reduced.head, Head::FlushReduced100);
    assert_eq!(rivet("MS20470AD4").length, None);
    assert!(fastener("MS20470AD4").lacks_length());
    assert_eq!(rivet("MS20470AD4").describe(&crate::INCH), "universal head, 2117-T4, 1/8 in dia");
}

#[test]
fn a_length_makes_a_full_call_of_a_family_and_diameter() {
    let family = rivet("MS20470AD4");
    assert_eq!(family.with_length(inch("5/16")).call.text, "MS20470AD4-5");
    assert_eq!(family.with_length(inch("11/32")).call.text, "MS20470AD4-5.5");
    assert_eq!(rivet("MS20470AD4-5.5").length, Some(inch("11/32")));
    let built = family.with_length(inch("11/32"));
    assert_eq!(built, rivet("MS20470AD4-5.5"));
}

/// NAVEDTRA 14018: length = stack + 1.5 D. The table lists the nearest half size, computed there by hand.
#[test]
fn the_preferred_length_is_the_nearest_to_the_stack_and_one_and_a_half_diameters() {
    let stacks = ["0.050", "0.064", "0.072", "0.104", "0.126", "0.188"];
    let table: [(u16, [&str; 6]); 4] = [
        (3, ["3", "3.5", "3.5", "4", "4.5", "5.5"]),
        (4, ["4", "4", "4", "4.5", "5", "6"]),
        (5, ["4.5", "5", "5", "5.5", "6", "7"]),
        (6, ["5.5", "5.5", "5.5", "6", "6.5", "7.5"]),
    ];
    for (dash, row) in table {
        let family = rivet(&format!("MS20470AD{dash}"));
        let hole = family.nominal_hole().unwrap().value.length;
        for (stack, expected) in stacks.iter().zip(row) {
            let lengths = family.lengths_for(inch(stack), hole);
            let calls: Vec<String> = lengths.iter().map(|length| family.with_length(*length).call.text).collect();
            let wanted = format!("MS20470AD{dash}-{expected}");
            let nearest_two = calls.iter().take(2).any(|call| *call == wanted);
            // .188 through 3/32 lies half-way between -5 and -5.5: either may come first.
            if (dash, *stack) == (3, "0.188") {
                assert!(nearest_two, "{calls:?}");
            } else {
                assert_eq!(calls.first(), Some(&wanted), "{dash} through {stack}: {calls:?}");
            }
        }
    }
}

/// Conflict 7 of the sources: AD4 through .072 takes -4 by the nearest size and -4.5 or -5 by the next size up.
#[test]
fn the_nearest_and_the_next_size_up_both_suit() {
    let family = rivet("MS20470AD4");
    let calls: Vec<String> = family
        .lengths_for(inch("0.072"), inch("#30"))
        .iter()
        .map(|length| family.with_length(*length).call.text)
        .collect();
    assert_eq!(calls, ["MS20470AD4-4", "MS20470AD4-4.5", "MS20470AD4-5"]);
}

/// 1.3 D x 0.4 D takes 0.676 D of shank, 1.5 D x 0.5 D takes 1.125 D: cylinder volumes over the shank's area.
#[test]
fn limits_of_the_free_shank_follow_from_the_heads() {
    let d = inch("1/8");
    let limits = free_shank_limits(d);
    let volume = |wide: i64, high: i64| Length::from_nm(d.nm() * wide * wide * high / 1_000_000_000);
    near(limits.enough.value, volume(1_300, 400), 1);
    assert!(limits.full.value > volume(1_500, 500), "1.25 D leaves something for the hole");
    assert_eq!(limits.full.value, inch("0.15625"));
    assert_eq!(limits.usual.value, inch("0.250"), "2.0 D: the next whole size up through two .032 at 3/32");
    assert_eq!(limits.most.value, inch("0.28125"));
    assert!(!limits.enough.from_memory() && !limits.most.from_memory(), "both back an error");
}

#[test]
fn hole_fill_is_the_ring_around_the_shank() {
    // .125 stack, .1285 hole, .125 shank: .125 x (.1285 squared - .125 squared) / .125 squared = .0071.
    near(hole_fill(inch("0.125"), inch("#30"), inch("1/8")), inch("0.0071"), 1);
    assert_eq!(hole_fill(inch("0.125"), inch("1/8"), inch("1/8")), Length::ZERO);
    assert_eq!(
        hole_fill(inch("0.125"), inch("0.100"), inch("1/8")),
        Length::ZERO,
        "a hole under the shank takes nothing"
    );
}

#[test]
fn the_next_larger_size_follows_the_dashes() {
    for pair in RIVET_DASHES.windows(2) {
        let (one, next) = (Length::from_64ths(2 * i64::from(pair[0])), Length::from_64ths(2 * i64::from(pair[1])));
        assert_eq!(next_larger_rivet(one), Some(next));
    }
    assert_eq!(rivet("MS20470AD6-6").next_larger(), Some(inch("1/4")));
    assert_eq!(next_larger_rivet(inch("3/8")), None);
}

/// AC 43.13-1B par. 4-57b: 2117 for 2017 up to 3/16, or for 2024 up to 5/32, one size larger.
#[test]
fn substitutes_follow_the_circular() {
    let verdict = |new: &str, old: &str| rivet(new).substitutes(&rivet(old)).map(|graded| graded.value);
    assert_eq!(verdict("MS20470AD5-5", "MS20470D4-5"), Some(true));
    assert_eq!(verdict("MS20470AD4-5", "MS20470D4-5"), Some(false), "same size");
    assert_eq!(verdict("MS20470AD8-5", "MS20470D6-5"), Some(true));
    assert_eq!(verdict("MS20470AD10-5", "MS20470D8-5"), Some(false), "over 3/16");
    assert_eq!(verdict("MS20470AD6-5", "MS20470DD5-5"), Some(true));
    assert_eq!(verdict("MS20470AD8-5", "MS20470DD6-5"), Some(false), "over 5/32");
    assert_eq!(verdict("MS20470AD5-5", "MS20470AD4-5"), None, "the same alloy is no substitute");
    assert_eq!(verdict("MS20470A5-5", "MS20470AD4-5"), None, "the source does not speak of it");
}

/// AC 43.13-1B par. 7-2: 1100 is non-structural; par. 4-57d: DD in all sizes and D over 3/16 are kept cold.
#[test]
fn alloys_carry_their_use_and_their_cold_box() {
    assert!(!rivet("MS20470A4-4").alloy.unwrap().structural);
    assert!(rivet("MS20470AD4-4").alloy.unwrap().structural);
    assert!(rivet("MS20470DD3-4").is_kept_cold());
    assert!(!rivet("MS20470D6-6").is_kept_cold());
    assert!(rivet("MS20470D8-6").is_kept_cold());
    assert!(!rivet("MS20470AD8-6").is_kept_cold());
    assert_eq!(rivet_alloys().filter(|alloy| alloy.keep_cold == KeepCold::All).count(), 1);
    assert!(rivet_alloys().all(|alloy| shophead::hardware::find_source(&alloy.basis().source).is_some()));
}

proptest! {
    #[test]
    fn every_proposed_length_keeps_within_the_limits(place in 0_usize..8, mils in 20_i64..800, over in 0_i64..80) {
        let dash = RIVET_DASHES[place];
        let family = rivet(&format!("MS20470AD{dash}"));
        let (d, stack) = (family.diameter, Length::from_mils(mils));
        let hole = d + Length::from_ten_thousandths(over);
        let limits = free_shank_limits(d);
        for length in family.lengths_for(stack, hole) {
            let free = length - stack;
            prop_assert!(reaches(free, limits.full.value) && within(free, limits.usual.value));
            prop_assert!(reaches(free, limits.enough.value + hole_fill(stack, hole, d)));
            prop_assert_eq!(family.with_length(length).free_shank(stack), Some(free));
        }
    }

    #[test]
    fn a_usual_stack_always_has_a_length(place in 1_usize..8, share in 250_i64..2_000) {
        let family = rivet(&format!("MS20470AD{}", RIVET_DASHES[place]));
        let stack = family.diameter.times(Ratio(share));
        prop_assert!(!family.lengths_for(stack, family.nominal_hole().unwrap().value.length).is_empty());
    }
}
