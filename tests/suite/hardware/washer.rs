//! Washers: thickness, size and metal from both forms of number.

use shophead::hardware::{Fastener, Metal, Washer, WasherKind};

use super::{fastener, inch};

fn washer(call: &str) -> Washer {
    match fastener(call) {
        Fastener::Washer(washer) => washer,
        other => panic!("{call} is no washer but {other:?}"),
    }
}

/// The part-number guide: AN960 is 1/16 thick, with L 1/32. NAS1149: F 03 63 P is steel, 3/16, .063.
#[test]
fn thickness_comes_from_the_number() {
    for (call, bolt, thickness) in [
        ("AN960-10", "0.190", "0.063"),
        ("AN960-10L", "0.190", "0.032"),
        ("AN960-416", "1/4", "0.063"),
        ("AN960-516L", "5/16", "0.032"),
        ("NAS1149F0363P", "0.190", "0.063"),
        ("NAS1149F0332P", "0.190", "0.032"),
        ("NAS1149D0432J", "1/4", "0.032"),
        ("NAS1149F0663P", "3/8", "0.063"),
        ("AN970-3", "0.190", "0.063"),
        ("AN970-4", "1/4", "0.063"),
    ] {
        let washer = washer(call);
        assert_eq!((washer.bolt, washer.thickness.unwrap().value), (Some(inch(bolt)), inch(thickness)), "{call}");
    }
    // NAS1149FN616P and FN816P: the last two digits are thousandths.
    for (call, thickness, successor) in [
        ("AN960-6L", "0.016", "NAS1149FN616P"),
        ("AN960-8L", "0.016", "NAS1149FN816P"),
        ("AN960-6", "0.032", "NAS1149FN632P"),
        ("AN960-8", "0.032", "NAS1149FN832P"),
    ] {
        assert_eq!(washer(call).thickness.unwrap().value, inch(thickness), "{call}");
        assert_eq!(fastener(call).superseded_by().as_deref(), Some(successor));
        assert_eq!(washer(successor).thickness.unwrap().value, inch(thickness), "{successor}");
    }
    assert!(!washer("AN960-10").thickness.unwrap().from_memory());
    assert!(!washer("NAS1149F0363P").thickness.unwrap().from_memory());
    assert!(washer("AN970-3").thickness.unwrap().from_memory());
}

#[test]
fn letters_tell_the_metal() {
    assert_eq!(washer("NAS1149F0363P").metal, Some(Metal::Steel));
    assert_eq!(washer("NAS1149D0363J").metal, Some(Metal::Aluminium));
    assert_eq!(washer("NAS1149C0363R").metal, Some(Metal::Stainless));
    assert_eq!(washer("AN960PD416").metal, Some(Metal::Aluminium));
    assert_eq!(washer("AN960C10L").metal, Some(Metal::Stainless));
}

#[test]
fn lock_washers_are_known_as_such() {
    for call in ["AN935-10", "AN935-8", "MS35338-43", "MS35338-42", "AN936-416"] {
        assert!(washer(call).is_lock(), "{call}");
        assert!(washer(call).basis().from_memory(), "{call}");
    }
    assert_eq!(washer("AN970-3").kind, WasherKind::LargeArea);
    assert!(!washer("AN960-10").is_lock());
    assert!(shophead::hardware::decode("AN935-10L", &[]).is_err(), "only AN960 has a thin form");
}
