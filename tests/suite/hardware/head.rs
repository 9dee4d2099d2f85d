//! Shop heads, flush heads, countersinks and dimples against the sources' rows.

use shophead::hardware::{
    Fastener, FlushHead, Head, Sureness, countersink_minimum, dimple_limits, flush_head, flush_screw_head,
    published_countersink_minimums, published_shop_heads, shop_head,
};
use shophead::units::{Length, Ratio};

use super::{fastener, inch, near, rivet};

/// AC 43.13-1B Figure 4-6 (1.5 D x 0.5 D), MIL-R-47196A Table III (1.3 D x 0.4 D), MIL-HDBK-5H 8.1.2 (1.3 D x 0.3 D).
#[test]
fn published_heads_are_multiples_of_the_diameter() {
    for dash in [2, 3, 4, 5, 6, 8] {
        let d = Length::from_64ths(2 * dash);
        let rows = published_shop_heads(d);
        assert_eq!(rows.len(), 3, "three sources for dash {dash}");
        for row in rows {
            let (wide, high) = match &*row.basis.source {
                "AC-F4-6" | "WW2" => (1_500, 500),
                "M47196-Q" => (1_300, 400),
                "H5H" => (1_300, 300),
                other => panic!("no such source of heads: {other}"),
            };
            near(row.diameter, d.times(Ratio(wide)), 10);
            near(row.height, d.times(Ratio(high)), 10);
        }
    }
}

/// MIL-R-47196A Table III as quoted: greatest height .050 for 3/32 and .070 for 1/8; larger sizes rest on memory.
#[test]
fn greatest_heights_are_the_two_that_were_read() {
    let most = |d: &str| shop_head(inch(d), None).most_height.unwrap();
    assert_eq!((most("3/32").value, most("3/32").from_memory()), (inch("0.050"), false));
    assert_eq!((most("1/8").value, most("1/8").from_memory()), (inch("0.070"), false));
    assert!(most("5/32").from_memory() && most("1/4").from_memory());
    assert!(shop_head(inch("3/8"), None).most_height.is_none());
}

/// MIL-HDBK-5H 8.1.2: 1.3 D, but 1.4 D for 7050.
#[test]
fn a_7050_rivet_needs_a_wider_head() {
    let d = inch("1/8");
    assert_eq!(shop_head(d, rivet("MS20470AD4").alloy).least_diameter.value, d.times(Ratio(1_300)));
    assert_eq!(shop_head(d, rivet("MS20470KE4").alloy).least_diameter.value, d.times(Ratio(1_400)));
    assert_eq!(shop_head(d, None).diameter.value, inch("0.1875"));
    assert_eq!(shop_head(d, None).height.value, inch("0.0625"));
    assert_eq!(shop_head(d, None).least_height.value, inch("0.050"));
}

/// A 100 degree cone: height = (head - shank) / 2 / tan 50 deg, tan 50 deg = 1.19175.
#[test]
fn flush_heads_are_100_degree_cones() {
    for (head, dashes) in [(Head::Flush100, vec![3, 4, 5, 6, 8]), (Head::FlushReduced100, vec![4, 5, 6, 8])] {
        for dash in dashes {
            let d = Length::from_64ths(2 * dash);
            let row = flush_head(d, head).unwrap();
            near(row.height, (row.diameter - d).fraction(50_000, 119_175), 7);
            assert!(row.floor.value <= row.height);
        }
    }
}

/// TM 9-2320-363-34-2 Table 3: countersinks .222-.228, .283-.289, .350-.356 around the head's diameter.
#[test]
fn countersink_diameters_are_those_of_the_manual() {
    for (d, low, high) in [("1/8", "0.222", "0.228"), ("5/32", "0.283", "0.289"), ("3/16", "0.350", "0.356")] {
        let row = flush_head(inch(d), Head::Flush100).unwrap();
        assert_eq!(row.countersink, Some((inch(low), inch(high))));
        assert!((inch(low)..=inch(high)).contains(&row.diameter));
        assert!(!row.basis.from_memory(), "the height backs an error");
    }
    let small = flush_head(inch("3/32"), Head::Flush100).unwrap();
    assert!(small.basis.from_memory());
    assert_eq!((small.floor.value, small.floor.from_memory()), (inch("0.032"), false));
}

/// TM 9-2320-363-34-2 Table 4: .040 .050 .064 .072; its .072 for 1/4 cannot be right and is not used.
#[test]
fn countersink_minimums_keep_every_source() {
    let used = |d: &str, head| countersink_minimum(inch(d), head).unwrap().value;
    for (d, sheet) in [("3/32", "0.040"), ("1/8", "0.050"), ("5/32", "0.063"), ("3/16", "0.071"), ("1/4", "0.100")] {
        assert_eq!(used(d, Head::Flush100), inch(sheet));
        assert!(used(d, Head::Flush100) > flush_head(inch(d), Head::Flush100).unwrap().height, "thicker than the head");
    }
    for (d, sheet) in [("3/32", "0.032"), ("1/8", "0.040"), ("5/32", "0.050"), ("3/16", "0.063"), ("1/4", "0.071")] {
        assert_eq!(used(d, Head::FlushReduced100), inch(sheet));
    }
    let quarter = published_countersink_minimums(inch("1/4"), Head::Flush100);
    assert!(quarter.iter().any(|(row, used)| row.value == inch("0.072") && row.basis.source == "TM-363" && !used));
    assert!(countersink_minimum(inch("1/8"), Head::Protruding).is_none());
}

/// AC 65-15A: dimpling works best up to .040.
#[test]
fn dimples_have_their_limits() {
    let (best, most) = dimple_limits();
    assert_eq!((best.value, best.basis.sureness), (inch("0.040"), Sureness::A));
    assert_eq!((most.value, most.from_memory()), (inch("0.063"), true));
}

fn screw_head(call: &str) -> Option<FlushHead> {
    let Fastener::Screw(screw) = fastener(call) else { panic!("{call} is a screw") };
    flush_screw_head(&screw)
}

/// ASME B18.6.3, 100 degree flat heads: .225/.049 .279/.060 .332/.072 .385/.083 .507/.110 for 4, 6, 8, 10 and 1/4, over sharp
/// corners; the cone's own height, (head - screw) / 2 / tan 50 deg, comes out within .003 at 100 and .006 at 82 degrees.
#[test]
fn flush_screw_heads_are_those_of_the_standard() {
    for (call, diameter, height) in [
        ("AN507-440R6", "0.225", "0.049"),
        ("AN507-632R6", "0.279", "0.060"),
        ("AN507-832R8", "0.332", "0.072"),
        ("AN507-1032R8", "0.385", "0.083"),
        ("AN507-428R8", "0.507", "0.110"),
    ] {
        let head = screw_head(call).unwrap();
        assert_eq!((head.diameter, head.height), (inch(diameter), inch(height)), "{call}");
        assert_eq!((&*head.basis.source, head.basis.sureness), ("B18.6.3", Sureness::B), "{call}");
        near(head.height, (head.diameter - fastener(call).diameter().unwrap()).fraction(50_000, 119_175), 30);
    }
    // 82 degrees: .225/.067 .279/.083 .332/.100 .385/.116 .507/.153; tan 41 deg = .86929.
    for (call, diameter, height) in [
        ("AN505-4R6", "0.225", "0.067"),
        ("AN505-8R8", "0.332", "0.100"),
        ("AN510-10R8", "0.385", "0.116"),
        ("AN510-416R8", "0.507", "0.153"),
    ] {
        let head = screw_head(call).unwrap();
        assert_eq!((head.diameter, head.height), (inch(diameter), inch(height)), "{call}");
        assert_eq!(fastener(call).head().degrees(), Some(82), "{call}");
        near(head.height, (head.diameter - fastener(call).diameter().unwrap()).fraction(50_000, 86_929), 60);
    }
    let structural = screw_head("AN509-10R8").unwrap();
    assert!(structural.basis.from_memory() && structural.height == inch("0.083"), "the same cone, from memory");
    assert!(screw_head("AN525-10R8").is_none() && screw_head("AN507").is_none());
}

/// A structural repair manual as quoted: .050 for 6-32 and 8-32, .063 for 10-32, .071 for 1/4-28 and 5/16-24.
#[test]
fn flush_screws_have_the_sheets_of_a_manual() {
    for (call, sheet) in [
        ("AN507-632R6", "0.050"),
        ("AN509-8R8", "0.050"),
        ("AN507-1032R8", "0.063"),
        ("AN509-10R8", "0.063"),
        ("AN509-416R8", "0.071"),
        ("AN509-516R8", "0.071"),
    ] {
        let head = screw_head(call).unwrap();
        assert_eq!((head.floor.value, &*head.floor.basis.source), (inch(sheet), "SRM-Q"), "{call}");
        assert!(head.floor.value < head.height, "{call}: the head comes through");
    }
    let small = screw_head("AN507-440R6").unwrap();
    assert_eq!(small.floor.value, small.height, "no manual was found");
}
