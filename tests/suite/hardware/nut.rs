//! Nuts, screws and nutplates: kind, column, limit, thread.

use shophead::hardware::{Fastener, Head, Metal, Nut, NutDuty, NutKind, Nutplate, Screw};
use shophead::units::Temperature;

use super::{fastener, inch};

fn nut(call: &str) -> Nut {
    match fastener(call) {
        Fastener::Nut(nut) => nut,
        other => panic!("{call} is no nut but {other:?}"),
    }
}

fn screw(call: &str) -> Screw {
    match fastener(call) {
        Fastener::Screw(screw) => screw,
        other => panic!("{call} is no screw but {other:?}"),
    }
}

fn nutplate(call: &str) -> Nutplate {
    match fastener(call) {
        Fastener::Nutplate(plate) => plate,
        other => panic!("{call} is no nutplate but {other:?}"),
    }
}

/// AC 43.13-1B Table 7-1 names AN365 and AN310 for tension, AN364 and AN320 for shear; par. 7-63 and 7-64 the kinds.
#[test]
fn nuts_have_the_kind_and_column_of_the_circular() {
    for (call, kind, duty, thread) in [
        ("AN310-3", NutKind::Castle, NutDuty::Tension, "10-32"),
        ("AN320-4", NutKind::Castle, NutDuty::Shear, "1/4-28"),
        ("AN315-3R", NutKind::Plain, NutDuty::Tension, "10-32"),
        ("AN316-4R", NutKind::Check, NutDuty::Shear, "1/4-28"),
        ("AN365-1032A", NutKind::SelfLockingFibre, NutDuty::Tension, "10-32"),
        ("MS20365-428", NutKind::SelfLockingFibre, NutDuty::Tension, "1/4-28"),
        ("MS21044N3", NutKind::SelfLockingFibre, NutDuty::Tension, "10-32"),
        ("AN364-524", NutKind::SelfLockingFibre, NutDuty::Shear, "5/16-24"),
        ("MS21083N4", NutKind::SelfLockingFibre, NutDuty::Shear, "1/4-28"),
        ("AN363-624", NutKind::SelfLockingMetal, NutDuty::Tension, "3/8-24"),
        ("MS21042-3", NutKind::SelfLockingMetal, NutDuty::Tension, "10-32"),
        ("MS21042-08", NutKind::SelfLockingMetal, NutDuty::Tension, "8-32"),
        ("MS17825-4", NutKind::SelfLockingCastle, NutDuty::Tension, "1/4-28"),
        ("MS17826-5", NutKind::SelfLockingCastle, NutDuty::Shear, "5/16-24"),
        ("AN340-8", NutKind::Plain, NutDuty::Tension, "8-32"),
        ("AN345-10", NutKind::Plain, NutDuty::Tension, "10-32"),
        ("AN340-10", NutKind::Plain, NutDuty::Tension, "10-24"),
    ] {
        let nut = nut(call);
        assert_eq!((nut.kind, nut.duty), (kind, duty), "{call}");
        assert_eq!(nut.thread.unwrap().name, thread, "{call}");
    }
}

/// AC 43.13-1B par. 7-64f: fibre and nylon lock nuts up to 250 F.
#[test]
fn fibre_nuts_have_their_temperature_limit() {
    let limit = nut("AN365-1032").temperature_limit.unwrap();
    assert_eq!((limit.value, limit.from_memory()), (Temperature::from_fahrenheit(250), false));
    assert!(nut("MS21042-3").temperature_limit.unwrap().value > Temperature::from_fahrenheit(250));
    assert!(nut("AN310-3").temperature_limit.is_none());
}

#[test]
fn kinds_know_what_locks_them() {
    assert!(NutKind::SelfLockingCastle.is_self_locking() && NutKind::SelfLockingCastle.is_castle());
    assert!(NutKind::Castle.is_castle() && !NutKind::Castle.is_self_locking());
    assert!(NutKind::SelfLockingFibre.is_self_locking() && NutKind::SelfLockingMetal.is_self_locking());
    assert!(!NutKind::Plain.is_self_locking() && !NutKind::Check.is_castle());
    assert!(nut("AN315-3L").left_hand && !nut("AN315-3R").left_hand);
    assert_eq!(nut("AN365D1032").metal, Some(Metal::Aluminium));
    assert_eq!(nut("AN310C4").metal, Some(Metal::Stainless));
}

#[test]
fn screws_decode_as_far_as_their_number_tells() {
    let structural = screw("AN525-10R8");
    assert_eq!(
        (structural.thread.unwrap().name.as_str(), structural.length, structural.structural),
        ("10-32", Some(inch("1/2")), true)
    );
    let flush = screw("AN507C832R6");
    assert_eq!(
        (flush.head, flush.thread.unwrap().name.as_str(), flush.metal),
        (Head::Flush100, "8-32", Some(Metal::Stainless))
    );
    let pan = screw("MS27039-1-08");
    assert_eq!((pan.thread.unwrap().name.as_str(), pan.length), ("10-32", None), "its second dash is not printed");
    assert!(!pan.describe(&crate::INCH).contains("grip"), "{}", pan.describe(&crate::INCH));
    assert_eq!(screw("MS27039-0806").thread.unwrap().name, "8-32");
    let unknown_size = screw("MS24694-S250");
    assert_eq!((unknown_size.diameter, unknown_size.thread.is_none(), unknown_size.head), (None, true, Head::Flush100));
    assert!(unknown_size.describe(&crate::INCH).contains("drawing's dash table"));
    assert!(screw("AN526-1032R8").basis.from_memory(), "screws are from memory");
}

/// Threads by dash of the MS drawings, from memory: they say so, and no page was found.
#[test]
fn threads_by_dash_are_remembered_and_say_so() {
    for (call, thread) in [
        ("MS24693-S3", "4-40"),
        ("MS24693-C26", "6-32"),
        ("MS24693-S52", "8-32"),
        ("MS24693-S272", "10-32"),
        ("MS24693-C293", "1/4-28"),
        ("MS24694-S5", "8-32"),
        ("MS24694-S50", "10-32"),
        ("MS24694-S100", "1/4-28"),
        ("MS35206-245", "8-32"),
        ("MS35207-263", "10-32"),
        ("MS51957-28", "6-32"),
        ("MS51958-63", "10-32"),
    ] {
        let found = screw(call);
        assert_eq!(found.thread.unwrap().name, thread, "{call}");
        assert!(found.thread_basis.as_ref().unwrap().from_memory(), "{call}");
        assert!(
            found.describe(&crate::INCH).contains(&format!("{thread} (from memory)")),
            "{}",
            found.describe(&crate::INCH)
        );
    }
    assert_eq!(screw("MS24693-C272").metal, Some(Metal::Stainless));
    assert_eq!(screw("AN525-10R8").thread_basis, None, "its number tells the thread");
}

/// AC 43.13-1B par. 7-15 and 7-16: AN509 is structural; AN505, AN507, AN510, AN515 and AN520 are for nonstructural use.
#[test]
fn the_mark_of_a_screw_has_its_own_source() {
    for (call, structural, source) in [
        ("AN509-10R8", true, "AC-7-14"),
        ("AN505-8R8", false, "AC-7-14"),
        ("AN507-832R8", false, "AC-7-14"),
        ("AN510-10R8", false, "AC-7-14"),
        ("AN515-10R8", false, "AC-7-14"),
        ("AN520-10R8", false, "AC-7-14"),
        ("AN525-10R8", true, "SCREW-Q"),
        ("AN526-1032R8", false, "SCREW-Q"),
        ("MS27039-1-08", true, "MS27039"),
        ("MS24693-S272", false, "AN-DWG"),
    ] {
        let found = screw(call);
        assert_eq!((found.structural, &*found.structural_basis.source), (structural, source), "{call}");
    }
}

/// AC 43.13-1B Table 7-1: 8-32, 10-24 and 1/4-20 are coarse, 8-36, 10-32 and 1/4-28 fine; ASME B1.1: 4-40 and 6-32 are
/// coarse, 4-48 and 6-40 fine. A call's thread is that of its series, whatever table it came from.
#[test]
fn screws_and_their_nuts_have_the_thread_of_their_series() {
    let coarse = [("4", "4-40"), ("6", "6-32"), ("8", "8-32"), ("10", "10-24"), ("416", "1/4-20"), ("516", "5/16-18")];
    let fine = [("4", "4-48"), ("6", "6-40"), ("8", "8-36"), ("10", "10-32"), ("416", "1/4-28"), ("516", "5/16-24")];
    for (numbers, sizes) in
        [(["AN500", "AN515", "AN505", "AN340"], coarse), (["AN501", "AN520", "AN510", "AN345"], fine)]
    {
        for number in numbers {
            for (size, thread) in sizes {
                let call = format!("{number}-{size}");
                let found = fastener(&call);
                assert_eq!(found.thread().unwrap().name, thread, "{call}");
                let said = found.describe(&crate::INCH);
                let (series, other) = if sizes == coarse { ("coarse", "fine") } else { ("fine", "coarse") };
                assert!(said.contains(series) && !said.contains(other), "{call}: {said}");
            }
        }
    }
    for (call, thread) in [
        ("AN515-10R8", "10-24"),
        ("AN520-8R8", "8-36"),
        ("AN509-8R8", "8-32"),
        ("AN509-10R10", "10-32"),
        ("AN509-416R12", "1/4-28"),
        ("AN525-832R8", "8-32"),
        ("AN525-416R9", "1/4-28"),
        ("AN526C632R8", "6-32"),
    ] {
        assert_eq!(fastener(call).thread().unwrap().name, thread, "{call}");
    }
    for call in ["AN515-1032R8", "AN520-832R8", "AN507-10R8", "AN345-832"] {
        assert!(shophead::hardware::decode(call, &[]).is_err(), "{call} is of the other series");
    }
}

#[test]
fn nutplates_tell_thread_and_lugs_and_an_unsure_rivet_pitch() {
    let fixed = nutplate("MS21047L3");
    assert_eq!((fixed.thread.unwrap().name.as_str(), fixed.lugs, fixed.floating), ("10-32", 2, false));
    let pitch = fixed.rivet_pitch.unwrap();
    assert!(pitch.from_memory() && pitch.value == inch("0.688"));
    assert!(nutplate("MS21059-4").floating);
    assert_eq!(nutplate("MS21051-08").lugs, 1);
    assert_eq!(nutplate("MS21051-08").rivet_pitch, None);
}
