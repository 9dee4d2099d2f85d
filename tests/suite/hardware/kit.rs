//! Kit-supplied hardware: judged by the builder's own numbers.

use shophead::hardware::{Basis, Fastener, Head, KitFastener, Metal, Sureness, decode, holes_for, nominal_hole};
use shophead::words::FastenerKind;

use super::inch;

fn puller() -> KitFastener {
    KitFastener {
        hole: Some((inch("0.160"), inch("0.164"))),
        grip: Some((inch("0.020"), inch("0.125"))),
        material: "aluminium".to_owned(),
        source: "kit drawing H-2".to_owned(),
        ..KitFastener::new("K-PULL-5", FastenerKind::BlindRivet, inch("5/32"))
    }
}

#[test]
fn an_own_fastener_decodes_before_any_standard() {
    let found = decode(" k-pull-5 ", &[puller()]).unwrap();
    assert_eq!((found.call(), found.usual_call()), ("k-pull-5", "K-PULL-5"));
    assert_eq!(
        (found.diameter(), found.head(), found.metal()),
        (Some(inch("5/32")), Head::Protruding, Some(Metal::Aluminium))
    );
    let Fastener::BlindRivet(rivet) = &found else { panic!("a blind rivet") };
    assert_eq!(rivet.fits(inch("0.100")), Some(true));
    assert_eq!(rivet.fits(inch("0.126")), Some(false));
    assert!(!rivet.is_commercial(), "the kit's own drawing governs");
    assert!(rivet.fitting(inch("0.2")).is_none());
    assert!(!found.lacks_length());
}

#[test]
fn its_hole_carries_the_builders_source() {
    let found = decode("K-PULL-5", &[puller()]).unwrap();
    let holes = holes_for(&found);
    assert_eq!(holes.len(), 1);
    assert_eq!(holes[0].basis, Basis::given("kit drawing H-2"));
    assert_eq!((holes[0].basis.cite(), holes[0].basis.sureness), ("kit drawing H-2".to_owned(), Sureness::Given));
    assert!(!holes[0].basis.from_memory());
    assert_eq!(nominal_hole(&found).unwrap().value.length, inch("0.160"));
}

#[test]
fn every_kind_decodes_and_tells_its_word() {
    for kind in FastenerKind::ALL.iter().copied() {
        let word = kind.word();
        let mut own = KitFastener::new("X1", kind, inch("3/16"));
        own.thread = Some("10-32".to_owned());
        own.grip = Some((inch("0.5"), inch("0.5")));
        let found = decode("X1", std::slice::from_ref(&own)).unwrap();
        assert_eq!(found.kit(), Some(&own), "{word}");
        assert!(!found.describe(&crate::INCH).is_empty());
        match (&found, kind) {
            (Fastener::Bolt(bolt), FastenerKind::Bolt) => {
                assert_eq!(bolt.grip.as_ref().unwrap().value, inch("0.5"));
            }
            (Fastener::Washer(washer), FastenerKind::Washer) => assert_eq!(washer.bolt, Some(inch("3/16"))),
            (Fastener::Nut(_), FastenerKind::Nut)
            | (Fastener::Screw(_), FastenerKind::Screw)
            | (Fastener::Nutplate(_), FastenerKind::Nutplate) => {
                assert_eq!(found.thread().unwrap().name, "10-32");
            }
            (Fastener::SolidRivet(_), FastenerKind::SolidRivet)
            | (Fastener::BlindRivet(_), FastenerKind::BlindRivet) => {
                assert_eq!(found.diameter(), Some(inch("3/16")));
            }
            (Fastener::CotterPin(pin), FastenerKind::CotterPin) => {
                assert_eq!(pin.diameter.as_ref().map(|diameter| diameter.value), Some(inch("3/16")));
            }
            _ => panic!("{word} became {found:?}"),
        }
    }
}

#[test]
fn an_unknown_number_offers_an_own_one() {
    let fault = decode("K-PULL-4", &[puller()]).expect_err("not in the project");
    assert!(fault.help.unwrap_or_default().contains("[[fastener]]"));
}
