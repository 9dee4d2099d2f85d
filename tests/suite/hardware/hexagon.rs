//! Hexagons: widths across flats and heights, each beside its source; washers wider than what stands on them.

use shophead::hardware::{Fastener, Hexagon, hexagon_head, hexagon_nut};
use shophead::units::Length;

use super::{fastener, inch};

const fn microns(n: i64) -> Length {
    Length::from_microns(n)
}

fn hexagon(call: &str) -> Option<Hexagon> {
    match fastener(call) {
        Fastener::Bolt(bolt) => hexagon_head(&bolt),
        Fastener::Nut(nut) => hexagon_nut(&nut),
        other => panic!("{call} is neither bolt nor nut but {other:?}"),
    }
    .map(|found| found.value)
}

/// A reference page of the AN bolts gives 0.438, 0.500 and 0.562 across flats for AN4, AN5 and AN6; AN3 takes a 3/8 wrench,
/// from memory. A supplier's page of prevailing-torque nuts gives 3/8, 7/16, 1/2 and 9/16 for 10-32, 1/4, 5/16 and 3/8.
#[test]
fn inch_hexagons_have_the_width_of_their_wrench() {
    let cases = [
        ("AN3-5A", "0.375"),
        ("AN4-6A", "0.4375"),
        ("AN5-7A", "0.500"),
        ("AN6-10A", "0.5625"),
        ("NAS6204-6", "0.4375"),
        ("MS21044N3", "0.375"),
        ("MS21044N4", "0.4375"),
        ("AN365-524A", "0.500"),
        ("AN310-6", "0.5625"),
    ];
    for (call, across) in cases {
        assert_eq!(hexagon(call).map(|hexagon| hexagon.across), Some(inch(across)), "{call}");
    }
}

/// Two pages of ISO 4014 give s and k of 8 and 3.5 for M5, 13 and 5.3 for M8, 16 and 6.4 for M10; DIN 931 has s of 17 for M10, from
/// memory. The nut's height is that of its own table.
#[test]
fn metric_hexagons_are_those_of_their_standard() {
    for (call, across, height) in [
        ("ISO 4014-M5x30-8.8", 8_000, 3_500),
        ("ISO 4014-M8x40-8.8", 13_000, 5_300),
        ("DIN 931-M10x50-8.8", 17_000, 6_400),
    ] {
        let found = hexagon(call).unwrap();
        assert_eq!((found.across, found.height), (microns(across), microns(height)), "{call}");
    }
    let nut = hexagon("ISO 4032-M6-8").unwrap();
    assert_eq!((nut.across, nut.height), (microns(10_000), microns(5_200)));
}

#[test]
fn what_is_no_hexagon_has_none() {
    for call in ["AN23-11", "AN42-7", "AN350-1032"] {
        assert_eq!(hexagon(call), None, "{call}");
    }
}

#[test]
fn the_usual_washer_is_wider_than_the_bolt_head_and_the_nut_on_it() {
    for (bolt, nut, washer) in [
        ("AN3-5A", "AN310-3", "NAS1149F0363P"),
        ("AN4-6A", "MS21044N4", "NAS1149F0463P"),
        ("AN5-7A", "AN310-5", "NAS1149F0563P"),
        ("AN6-10A", "AN310-6", "NAS1149F0663P"),
        ("ISO 4014-M6x30-8.8", "ISO 7040-M6-8", "ISO 7089-6"),
    ] {
        let Fastener::Washer(its) = fastener(washer) else { panic!("{washer} is no washer") };
        let outer = its.diameters.unwrap().value.1;
        for call in [bolt, nut] {
            assert!(hexagon(call).unwrap().across < outer, "{call} on {washer}");
        }
    }
}
