//! Bolts: the grip table, the worked examples of the part-number guide, cotter holes, threads.

use shophead::hardware::{Fastener, Metal, cotter_minimum, cotter_size, decode, thread, threads};
use shophead::units::Length;

use super::{bolt, fastener, inch, near};

/// Grip and length of one dash in one size, where it exists.
type Cell = Option<(&'static str, &'static str)>;

/// AN3 to AN6 grip and length table, rows as printed (three places); AN5-10 is printed 1.064 and must be 1.094.
#[test]
fn grips_and_lengths_are_those_of_the_table() {
    let table: [(i64, [Cell; 4]); 11] = [
        (3, [Some(("0.063", "0.469")), Some(("0.063", "0.469")), None, None]),
        (4, [Some(("0.125", "0.531")), Some(("0.063", "0.531")), Some(("0.063", "0.594")), None]),
        (5, [Some(("0.250", "0.656")), Some(("0.188", "0.656")), Some(("0.188", "0.719")), Some(("0.063", "0.703"))]),
        (6, [Some(("0.375", "0.781")), Some(("0.313", "0.781")), Some(("0.313", "0.844")), Some(("0.188", "0.828"))]),
        (7, [Some(("0.500", "0.906")), Some(("0.438", "0.906")), Some(("0.438", "0.969")), Some(("0.313", "0.953"))]),
        (10, [Some(("0.625", "1.031")), Some(("0.563", "1.031")), Some(("0.563", "1.094")), Some(("0.438", "1.078"))]),
        (11, [Some(("0.750", "1.156")), Some(("0.688", "1.156")), Some(("0.688", "1.219")), Some(("0.563", "1.203"))]),
        (12, [Some(("0.875", "1.281")), Some(("0.813", "1.281")), Some(("0.813", "1.344")), Some(("0.688", "1.328"))]),
        (13, [Some(("1.000", "1.406")), Some(("0.938", "1.406")), Some(("0.938", "1.469")), Some(("0.813", "1.453"))]),
        (14, [Some(("1.125", "1.531")), Some(("1.063", "1.531")), Some(("1.063", "1.594")), Some(("0.938", "1.578"))]),
        (20, [Some(("1.625", "2.031")), Some(("1.563", "2.031")), Some(("1.563", "2.094")), Some(("1.438", "2.078"))]),
    ];
    for (dash, row) in table {
        for (size, cell) in (3..).zip(row) {
            let call = format!("AN{size}-{dash}A");
            let Some((grip, length)) = cell else {
                assert!(decode(&call, &[]).is_err(), "{call} does not exist");
                continue;
            };
            let bolt = bolt(&call);
            near(bolt.grip.clone().unwrap().value, inch(grip), 6);
            near(bolt.length.clone().unwrap().value, inch(length), 6);
            assert!(!bolt.grip.unwrap().from_memory());
        }
    }
}

/// The part-number guide's worked examples: AN4-15A 1-3/16, AN6-20 1-7/16, AN5H-27A 2-7/16.
#[test]
fn worked_examples_of_the_part_number_guide() {
    for (call, grip, drilled_shank, drilled_head, thread) in [
        ("AN4-15A", "1-3/16", false, false, "1/4-28"),
        ("AN6-20", "1-7/16", true, false, "3/8-24"),
        ("AN5H-27A", "2-7/16", false, true, "5/16-24"),
    ] {
        let bolt = bolt(call);
        assert_eq!(bolt.grip.unwrap().value, inch(grip), "{call}");
        assert_eq!((bolt.drilled_shank, bolt.drilled_head), (drilled_shank, drilled_head), "{call}");
        assert_eq!(bolt.thread.unwrap().name, thread);
    }
    assert_eq!(bolt("AN4-7A").describe(&crate::INCH), "bolt, 1/4-28, grip 7/16 in, 29/32 in long, shank not drilled");
}

#[test]
fn letters_tell_metal_and_holes() {
    assert_eq!(bolt("AN4C-7").metal, Some(Metal::Stainless));
    assert_eq!(bolt("AN4DD-7A").metal, Some(Metal::Aluminium));
    assert_eq!(bolt("AN4-7").metal, Some(Metal::Steel));
    let both = bolt("AN4CH7A");
    assert!(both.drilled_head && !both.drilled_shank);
    assert!(bolt("NAS6204-10D").drilled_shank && bolt("NAS6204-10H").drilled_head);
}

/// NAS6203 to NAS6210: the dash is the grip in 1/16.
#[test]
fn a_nas_dash_is_the_grip_in_sixteenths() {
    let bolt = bolt("NAS6204-10");
    assert_eq!((bolt.grip.unwrap().value, bolt.thread.unwrap().name.as_str()), (inch("5/8"), "1/4-28"));
}

#[test]
fn a_size_without_listed_lengths_has_no_grip() {
    let nine = bolt("AN9-12A");
    assert_eq!((nine.grip, nine.length, nine.thread.unwrap().name.as_str()), (None, None, "9/16-18"));
    // From memory: AN8-10 has a grip of 3/8; its length is not remembered.
    let eight = bolt("AN8-10A");
    let grip = eight.grip.unwrap();
    assert_eq!((grip.value, grip.from_memory(), eight.length), (inch("3/8"), true, None));
}

#[test]
fn the_dash_for_a_stack_reaches_through_and_leaves_thread_for_the_nut() {
    let best = |size: &str, stack: &str, head: &str, nut: &str| {
        let found = bolt(size).lengths_for(inch(stack), inch(head), inch(nut));
        found.first().map(|bolt| bolt.call.text.clone())
    };
    assert_eq!(best("AN3A", "0.375", "0", "0.063").as_deref(), Some("AN3-6A"));
    assert_eq!(best("AN3", "0.250", "0", "0.063").as_deref(), Some("AN3-5"));
    assert_eq!(best("AN4A", "0.500", "0.063", "0.063").as_deref(), Some("AN4-10A"));
    for bolt in bolt("AN4A").lengths_for(inch("0.500"), inch("0.063"), inch("0.063")) {
        let grip = bolt.grip.clone().unwrap().value;
        assert!(grip + bolt.thread.unwrap().pitch() + inch("0.0005") >= inch("0.563"), "{}", bolt.call.text);
        assert!(grip <= inch("0.626") + inch("0.0005"), "{}", bolt.call.text);
        assert_eq!(decode(&bolt.call.text, &[]), Ok(Fastener::Bolt(bolt)));
    }
    assert!(bolt("AN9A").lengths_for(inch("0.5"), inch("0"), inch("0.063")).is_empty(), "no grips are listed");
}

#[test]
fn a_family_is_fitted_to_its_stack() {
    let none = (Length::ZERO, inch("0.063"));
    assert_eq!(fastener("AN3A").fitted(inch("0.375"), None, none).unwrap().call(), "AN3-6A");
    assert_eq!(fastener("MS20470AD4").fitted(inch("0.072"), None, none).unwrap().call(), "MS20470AD4-4");
    assert_eq!(fastener("IFI114-4").fitted(inch("0.165"), None, none).unwrap().call(), "IFI114-43");
    assert!(fastener("AN310-3").fitted(inch("0.165"), None, none).is_none());
}

/// ASME B1.1: a number screw is 0.060 + 0.013 x number; other names give their own diameter.
#[test]
fn thread_names_tell_the_diameter() {
    for thread in threads().filter(|thread| !thread.is_metric()) {
        let (size, per_inch) = thread.name.rsplit_once('-').unwrap();
        assert_eq!(per_inch.parse().ok(), thread.per_inch, "{}", thread.name);
        let number = size.parse::<i64>().ok().filter(|n| (2..=12).contains(n));
        let expected = number.map_or_else(|| inch(size), |n| Length::from_mils(60 + 13 * n));
        assert_eq!(thread.diameter, expected, "{}", thread.name);
        near(thread.pitch() * i64::from(thread.per_inch.unwrap()), inch("1"), 1);
    }
    assert!(thread("10-32").is_some() && thread(" #10-32").is_some() && thread("10-33").is_none());
}

/// ASME B18.8.1: shanks .056-.060, .086-.090, .116-.120, gauge holes .078, .109, .141.
#[test]
fn cotter_pins_pass_their_gauge_holes() {
    for (d, low, high, hole) in
        [("1/16", "0.056", "0.060", "0.078"), ("3/32", "0.086", "0.090", "0.109"), ("1/8", "0.116", "0.120", "0.141")]
    {
        let size = cotter_size(inch(d)).unwrap().value;
        assert_eq!((size.shank_low, size.shank_high, size.gauge_hole), (inch(low), inch(high), inch(hole)));
    }
    for size in 3..=10 {
        let minimum = cotter_minimum(&bolt(&format!("AN{size}"))).unwrap();
        let (hole, pin) = minimum.value;
        assert!(cotter_size(pin).unwrap().value.shank_high < hole.length, "the pin passes the hole of AN{size}");
        assert!(minimum.from_memory());
    }
}

/// AN380: diameter in 1/32, length in 1/4; AN380-4-4 is MS24665-353, 1/8 x 1.
#[test]
fn cotter_numbers_tell_diameter_and_length() {
    let described = |call: &str| fastener(call).describe(&crate::INCH);
    assert_eq!(described("AN380-4-4"), "cotter pin, 1/8 in x 1 in");
    assert_eq!(described("MS24665-353"), "cotter pin, 1/8 in x 1 in");
    assert_eq!(described("AN380-2-2"), "cotter pin, 1/16 in x 1/2 in");
    let Fastener::CotterPin(read) = fastener("MS24665-353") else { panic!("a cotter pin") };
    let Fastener::CotterPin(remembered) = fastener("MS24665-132") else { panic!("a cotter pin") };
    assert!(!read.diameter.unwrap().from_memory() && remembered.diameter.unwrap().from_memory());
}
