//! Metric hardware against the pages that the tables name, and the names that stand on European boxes.

use shophead::hardware::{
    BlindRivet, Bolt, CotterPin, Fastener, Head, Metal, Nut, NutKind, Sureness, Thread, Washer, WasherKind,
    cotter_size, decode, holes_for, nominal_hole, thread,
};
use shophead::units::Length;

use super::{blind, bolt, fastener, inch};

fn mm(text: &str) -> Length {
    inch(&format!("{text} mm"))
}

fn nut(call: &str) -> Nut {
    match fastener(call) {
        Fastener::Nut(nut) => nut,
        other => panic!("{call} is no nut but {other:?}"),
    }
}

fn washer(call: &str) -> Washer {
    match fastener(call) {
        Fastener::Washer(washer) => washer,
        other => panic!("{call} is no washer but {other:?}"),
    }
}

fn pin(call: &str) -> CotterPin {
    match fastener(call) {
        Fastener::CotterPin(pin) => pin,
        other => panic!("{call} is no cotter pin but {other:?}"),
    }
}

#[test]
fn threads_are_known_by_their_names() {
    for (written, name, diameter, pitch) in [
        ("M6", "M6", "6", "1"),
        ("m6", "M6", "6", "1"),
        ("M 6", "M6", "6", "1"),
        ("M6x1", "M6", "6", "1"),
        ("M6 × 1.0", "M6", "6", "1"),
        ("M8", "M8", "8", "1.25"),
        ("M8x1.25", "M8", "8", "1.25"),
        ("M8x1", "M8x1", "8", "1"),
        ("M10x1.25", "M10x1.25", "10", "1.25"),
    ] {
        let found = thread(written).unwrap();
        assert_eq!((found.name.as_str(), found.diameter, found.pitch()), (name, mm(diameter), mm(pitch)), "{written}");
        assert!(found.is_metric() && found.sixteenths().is_none() && found.code().is_empty());
    }
    for unknown in ["M6x0.9", "M", "6", "Mx1", "M-6", "M6x", "M1000000"] {
        assert_eq!(thread(unknown).map(|thread| &thread.name), None, "{unknown}");
    }
    assert!(!thread("10-32").unwrap().is_metric());
    assert_ne!(thread("M5"), thread("10-32"));
}

/// Reference pages of ISO 4014: b is 14 16 18 22 26 30 from M4 to M12, the shank of product grade A 3.82 to 4, 5.82 to 6.
/// l - b is where the thread begins at the latest; five pitches less is full shank, from memory.
#[test]
fn a_bolt_tells_where_its_thread_begins() {
    for (call, length, from, shank) in [
        ("ISO 4014-M6x30", "30", "12", Some("7")),
        ("ISO 4014-M6x40-8.8", "40", "22", Some("17")),
        ("ISO 4014-M8x50", "50", "28", Some("21.75")),
        ("ISO 4014-M5x25", "25", "9", Some("5")),
        ("ISO 4014-M10x45", "45", "19", Some("11.5")),
        ("ISO 4014-M6x130", "130", "106", Some("101")),
        ("ISO 4017-M6x20", "20", "0", None),
        ("DIN 931 M6x30", "30", "12", Some("7")),
        ("DIN 933 M6x20", "20", "0", None),
    ] {
        let found = bolt(call);
        assert_eq!(found.length.as_ref().unwrap().value, mm(length), "{call}");
        let starts = found.thread_starts().unwrap();
        assert_eq!((starts.value, starts.basis.sureness), (mm(from), Sureness::B), "{call}");
        assert_eq!(found.grip.as_ref().map(|grip| grip.value), shank.map(mm), "{call}");
        assert!(found.grip.is_none_or(|grip| grip.from_memory()), "{call}: five pitches are from memory");
        assert!(!found.drilled_shank && !found.drilled_head, "{call}");
    }
    assert_eq!(bolt("ISO 4014-M14x60").thread_from, None, "no page was read for M14");
    assert!(bolt("ISO 4017-M6x20").is_threaded_to_head() && !bolt("ISO 4014-M6x30").is_threaded_to_head());
}

#[test]
fn the_names_on_european_boxes_are_read() {
    for (written, usual) in [
        ("ISO 4014-M6x30", "ISO4014-M6X30"),
        ("ISO 4014 M6x30-8.8", "ISO4014-M6X30-8.8"),
        ("EN ISO 4014-M6x30-8.8", "ISO4014-M6X30-8.8"),
        ("DIN EN ISO 4014 - M6 x 30 - 8.8", "ISO4014-M6X30-8.8"),
        ("DIN EN ISO 4017-M8x1x20", "ISO4017-M8X1X20"),
        ("DIN 931 M6x30", "DIN931-M6X30"),
        ("DIN 933-M6x20-A2-70", "DIN933-M6X20-A2-70"),
        ("ISO 7040-M6", "ISO7040-M6"),
        ("DIN EN ISO 7040-M6-8", "ISO7040-M6-8"),
        ("DIN 985-M6", "DIN985-M6"),
        ("ISO 7089-6", "ISO7089-6"),
        ("ISO 7089-6-200HV", "ISO7089-6-200HV"),
        ("ISO 7089-M6", "ISO7089-6"),
        ("DIN 125-A6.4", "DIN125-A6"),
        ("DIN 125-6.4", "DIN125-6"),
        ("ISO 1234-1.6x16", "ISO1234-1.6X16"),
        ("DIN 94-1.6x16", "DIN94-1.6X16"),
        ("EN ISO 15981-4x6", "ISO15981-4X6"),
        ("DIN EN ISO 15977-4x8", "ISO15977-4X8"),
        ("ISO 15977-4.8x10", "ISO15977-4.8X10"),
        ("ISO 15977-4-8", "ISO15977-4X8"),
        ("ISO 15983-3.2x8", "ISO15983-3.2X8"),
        ("ISO 15979-4x8", "ISO15979-4X8"),
        ("DIN 7337-4x8", "DIN7337-4X8"),
    ] {
        let found = fastener(written);
        assert_eq!(found.usual_call(), usual, "{written}");
        assert_eq!(decode(usual, &[]).unwrap().usual_call(), usual, "{usual} is read again");
    }
    assert_eq!(bolt("DIN 933-M6x20-A2-70").metal, Some(Metal::Stainless));
    assert_eq!(bolt("ISO 4014-M6x30-8.8").class.as_deref(), Some("8.8"));
}

#[test]
fn what_is_no_such_number_says_what_would_be() {
    for (written, wrong, help) in [
        ("M6x30", "is not in the tables", "ISO 4014-M6x30"),
        ("M6", "is not in the tables", "names no part"),
        ("EN 6081-3.2x8", "is not in the tables", "inch series measured in millimetres"),
        ("EN 6101-3.2x8", "is not in the tables", "1/8 in rivet"),
        ("ISO 4014-M6.5x30", "unknown thread or length", "ISO 4014-M6x30-8.8"),
        ("ISO 4014", "names no thread", "ISO 4014-M6x30-8.8"),
        ("ISO 4014-M6x0", "unknown thread or length", "ISO 4014-M6x30-8.8"),
        ("ISO 7040-M6x20", "unknown thread", "ISO 7040-M6-8"),
        ("ISO 7089-7", "unknown size", "3, 4, 5, 6"),
        ("ISO 1234-1.7x16", "unknown size", "1.6x16"),
        ("ISO 15977-7x10", "diameter that the standard does not list", "mm"),
        ("ISO 1051-3x8", "is not in the tables", "[[fastener]]"),
    ] {
        let fault = decode(written, &[]).expect_err(written);
        assert!(fault.message.contains(wrong), "{written}: {}", fault.message);
        assert!(fault.help.as_ref().is_some_and(|said| said.contains(help)), "{written}: {:?}", fault.help);
    }
}

/// Reference pages of ISO 4032, ISO 4035 and DIN 934; an open table of ISO 7040 and ISO 10511 with ASME B18.16.3M; a page of
/// DIN 985. ISO 7040 and DIN 985 are two nuts.
#[test]
fn nuts_have_the_heights_of_their_own_standards() {
    for (call, kind, least, most) in [
        ("ISO 4032-M6", NutKind::Plain, "4.9", "5.2"),
        ("ISO 4035-M6", NutKind::Plain, "2.9", "3.2"),
        ("DIN 934-M6", NutKind::Plain, "4.7", "5"),
        ("ISO 7040-M5", NutKind::SelfLockingFibre, "6.22", "6.8"),
        ("ISO 7040-M6", NutKind::SelfLockingFibre, "7.42", "8"),
        ("ISO 7040-M8", NutKind::SelfLockingFibre, "8.92", "9.5"),
        ("ISO 10511-M8", NutKind::SelfLockingFibre, "6.18", "6.76"),
        ("DIN 985-M5", NutKind::SelfLockingFibre, "4.7", "5"),
        ("DIN 985-M6", NutKind::SelfLockingFibre, "5.7", "6"),
        ("DIN 985-M8", NutKind::SelfLockingFibre, "7.64", "8"),
    ] {
        let found = nut(call);
        let height = found.height.unwrap();
        assert_eq!((found.kind, height.value), (kind, (mm(least), mm(most))), "{call}");
        assert!(!height.from_memory(), "{call}");
    }
    assert!(nut("ISO 7040-M6").kind.is_self_locking() && nut("ISO 7035-M6").kind.is_castle());
    assert_eq!(nut("DIN 982-M6").height, None, "no page was read");
    assert!(nut("ISO 7040-M6").temperature_limit.unwrap().from_memory());
}

#[test]
fn old_din_numbers_name_what_took_their_place_and_in_what_it_differs() {
    for (old, new, differs) in [
        ("DIN 931 M6x30-8.8", "ISO4014-M6X30-8.8", "across flats"),
        ("DIN 933 M6x20", "ISO4017-M6X20", "across flats"),
        ("DIN 934-M6-8", "ISO4032-M6-8", "lower"),
        ("DIN 985-M6", "ISO10511-M6", "ISO 7040 is higher"),
        ("DIN 125-A6.4", "ISO7089-6", "ISO 7090"),
        ("DIN 7337-4x8", "ISO15977 to ISO15984", "pair of materials"),
    ] {
        let found = fastener(old);
        assert_eq!(found.superseded_by().as_deref(), Some(new), "{old}");
        assert!(found.successor_differs().unwrap().contains(differs), "{old}: {:?}", found.successor_differs());
    }
    assert_eq!(fastener("DIN 94-1.6x16").superseded_by().as_deref(), Some("ISO1234-1.6X16"));
    assert_eq!(fastener("ISO 4014-M6x30").superseded_by(), None);
}

/// Three pages of ISO 7089 and DIN 125: 5.3/10/1, 6.4/12/1.6, 8.4/16/1.6.
#[test]
fn washers_are_those_of_the_pages() {
    for (call, bolt, inner, outer, thickness) in [
        ("ISO 7089-5", "5", "5.3", "10", "1"),
        ("ISO 7089-6", "6", "6.4", "12", "1.6"),
        ("DIN 125-A8.4", "8", "8.4", "16", "1.6"),
        ("ISO 7090-10", "10", "10.5", "20", "2"),
    ] {
        let found = washer(call);
        assert_eq!(found.bolt, Some(mm(bolt)), "{call}");
        assert_eq!(found.diameters.unwrap().value, (mm(inner), mm(outer)), "{call}");
        let thick = found.thickness.unwrap();
        assert_eq!((thick.value, thick.basis.sureness), (mm(thickness), Sureness::B), "{call}");
    }
    assert!(washer("DIN 9021-6.4").thickness.unwrap().from_memory());
    let lock = washer("DIN 127-6");
    assert_eq!((lock.kind, lock.thickness), (WasherKind::SpringLock, None));
    assert_eq!(&*washer("DIN 127-6").basis().source, "ISO-DWG");
}

/// ISO 1234: 1.6 is 1.3 to 1.4 thick, 2 is 1.7 to 1.8, 2.5 is 2.1 to 2.3, 3.2 is 2.7 to 2.9; the nominal diameter is the hole's.
#[test]
fn cotter_pins_are_called_by_their_hole() {
    for (d, low, high) in [("1.6", "1.3", "1.4"), ("2", "1.7", "1.8"), ("2.5", "2.1", "2.3"), ("3.2", "2.7", "2.9")] {
        let size = cotter_size(mm(d)).unwrap().value;
        assert_eq!((size.shank_low, size.shank_high, size.gauge_hole), (mm(low), mm(high), mm(d)));
    }
    let found = pin("ISO 1234-1.6x16");
    assert_eq!((found.diameter.unwrap().value, found.length.unwrap().value), (mm("1.6"), mm("16")));
}

/// ISO 273 in two pages: M5 5.3 5.5 5.8, M6 6.4 6.6 7, M8 8.4 9 10. The plans' reamed fit stands beside them.
#[test]
fn holes_of_metric_bolts_are_reamed_or_those_of_iso_273() {
    for (call, sizes) in [
        ("ISO 4014-M5x30", ["5", "5.3", "5.5", "5.8"]),
        ("ISO 4014-M6x30", ["6", "6.4", "6.6", "7"]),
        ("ISO 4017-M8x30", ["8", "8.4", "9", "10"]),
    ] {
        let holes = holes_for(&fastener(call));
        assert_eq!(holes.iter().map(|hole| hole.size.length).collect::<Vec<_>>(), sizes.map(mm), "{call}");
        let nominal = nominal_hole(&fastener(call)).unwrap();
        assert_eq!((nominal.value.length, nominal.from_memory()), (mm(sizes[0]), true), "{call}");
        assert!(holes[1..].iter().all(|hole| !hole.basis.from_memory()), "{call}");
    }
}

#[test]
fn a_metric_bolt_takes_its_length_from_the_stack() {
    let fitted = |call: &str, stack: &str, nut: &str| {
        let found = fastener(call).fitted(mm(stack), None, (Length::ZERO, mm(nut)));
        found.map(|bolt| bolt.usual_call().to_owned())
    };
    assert!(fastener("ISO 4014-M6").lacks_length() && !fastener("ISO 4014-M6x30").lacks_length());
    // The thread of M6x30 begins at 12: it may stand one pitch in the stack, and the nut reaches it over a washer of 1.6.
    assert_eq!(fitted("ISO 4014-M6", "12", "1.6").as_deref(), Some("ISO4014-M6X30"));
    assert_eq!(fitted("ISO 4014-M6", "13", "1.6").as_deref(), Some("ISO4014-M6X30"));
    assert_eq!(
        fitted("ISO 4014-M6", "14", "1.6"),
        None,
        "the thread of 30 is in the hole, that of 35 out of the nut's reach"
    );
    assert_eq!(fitted("ISO 4014-M6-8.8", "17", "1.6").as_deref(), Some("ISO4014-M6X35-8.8"));
    // Threaded to the head: long enough for washer, the highest nut of the thread (8 mm) and one thread.
    assert_eq!(fitted("ISO 4017-M6", "8", "1.6").as_deref(), Some("ISO4017-M6X20"));
    assert_eq!(fitted("ISO 4017-M6", "10", "1.6").as_deref(), Some("ISO4017-M6X25"));
    assert_eq!(fitted("ISO 4014-M14", "12", "1.6"), None, "no page was read for M14");
}

#[test]
fn blind_rivets_of_other_materials_have_no_grip_but_their_own_words() {
    let of = |call: &str| -> BlindRivet { blind(call) };
    let steel = of("ISO 15977-4x8");
    assert_eq!((steel.diameter, steel.grip, steel.length), (mm("4"), None, Some(mm("8"))));
    assert!(!fastener("ISO 15977-4x8").lacks_length(), "it has a length; its grip is not listed");
    assert!(fastener("ISO 15977-4").fitted(mm("3"), None, (Length::ZERO, Length::ZERO)).is_none());
    assert_eq!(of("ISO 15983-3.2x8").material, "stainless steel");
    assert_eq!(of("ISO 15978-4x8").head, Head::Flush120);
    assert_eq!(of("ISO 15981-4x6").grip, Some((mm("1"), mm("3"))));
    let hole = &holes_for(&fastener("ISO 15977-4x8"))[0];
    assert_eq!((hole.low, hole.high), (mm("4.1"), mm("4.2")));
}

#[test]
fn unlike_threads_are_unlike() {
    let of = |call: &str| -> Option<&'static Thread> { fastener(call).thread() };
    assert_eq!(of("ISO 4014-M6x30"), of("ISO 7040-M6"));
    assert_ne!(of("ISO 4014-M6x30"), of("ISO 7040-M8"));
    assert_ne!(of("ISO 4014-M8x50"), of("ISO 7040-M8x1"));
    let bolt: Bolt = bolt("ISO 4014-M6x30");
    assert_eq!(bolt.thread.unwrap().name, "M6");
}
