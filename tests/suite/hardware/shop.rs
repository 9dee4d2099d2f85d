//! What a shop has: the usual ladder of its unit, and what its owner says instead.

use shophead::hardware::{Fastener, Shop, decode};
use shophead::units::{DrillName, Length, NamedDrills, Size, Unit};

use super::inch;

fn mm(text: &str) -> Length {
    Length::parse(text, Unit::Mm).unwrap()
}

fn rivet(call: &str) -> Fastener {
    decode(call, &[]).unwrap()
}

/// A metric shop of some drills.
fn shop(drills: &[&str]) -> Shop {
    let drills = drills.iter().map(|drill| Size::parse(drill, Unit::Mm).unwrap()).collect();
    Shop::of(Unit::Mm, drills, vec![mm("1.0"), mm("0.5"), mm("0.8")], vec![mm("4.0"), mm("3.2")])
}

/// Common practice: a #40 pilot, and the 64th below the reamer.
#[test]
fn an_inch_shop_has_the_drills_of_the_trade() {
    let usual = Shop::usual(Unit::Inch);
    assert_eq!(usual.pilot().length, inch("#40"));
    assert_eq!(usual.under(inch("0.190")).unwrap().length, inch("11/64"));
    assert_eq!(usual.next_rivet(inch("1/8")), Some(inch("5/32")));
    assert_eq!(usual.next_rivet(inch("3/8")), None);
    assert_eq!(usual.sheets_beside(inch("0.033")), (Some(inch("0.032")), Some(inch("0.036"))));
    assert_eq!(usual.sheets_beside(inch("0.300")), (Some(inch("0.250")), None));
    assert_eq!(usual.named_drills(), NamedDrills::Every);
    let hole = usual.usual_hole(&rivet("MS20470AD4"), None).unwrap();
    assert_eq!(hole.value.length, inch("#30"));
}

/// Common practice: jobber drills come in tenths of a millimetre, and a reamer takes two of them.
#[test]
fn a_metric_shop_drills_in_tenths() {
    let usual = Shop::usual(Unit::Mm);
    assert_eq!(usual.pilot().length, mm("2.5"));
    assert_eq!(usual.under(mm("6.0")).unwrap().length, mm("5.8"));
    // The table accepts 3.25 to 3.35 mm; its nominal drill is #30, 3.264 mm.
    let hole = usual.usual_hole(&rivet("MS20470AD4"), None).unwrap();
    assert_eq!(hole.value.length, mm("3.3"));
    assert_eq!(usual.next_rivet(mm("3.2")), Some(mm("4.0")));
    assert_eq!(usual.next_rivet(inch("1/8")), Some(mm("4.0")), "3.2 mm is the 1/8 in rivet");
    assert_eq!(usual.sheets_beside(mm("0.7")), (Some(mm("0.6")), Some(mm("0.8"))));
    assert_eq!(usual.named_drills(), NamedDrills::Only(Vec::new()));
}

#[test]
fn what_the_owner_has_comes_first() {
    let own = shop(&["5.7", "3.4", "#30", "2.3"]);
    assert_eq!(own.pilot().length, mm("2.3"), "the largest that is not above the usual one");
    assert_eq!(own.under(mm("6.0")).unwrap().length, mm("5.7"));
    assert_eq!(own.under(mm("2.0")), None, "no drill is so small");
    assert_eq!(own.next_rivet(mm("3.2")), Some(mm("4.0")));
    assert_eq!(own.next_rivet(mm("4.0")), Some(mm("4.8")), "beyond the owner's largest the usual ones go on");
    assert_eq!(own.sheets_beside(mm("0.7")), (Some(mm("0.5")), Some(mm("0.8"))));
    assert_eq!(own.named_drills(), NamedDrills::Only(vec![DrillName::Number(30)]));
    assert_eq!(own.usual_hole(&rivet("MS20470AD4"), None).unwrap().value.length, inch("#30"));
    // 3.4 mm is accepted by no row: the table's own size stands.
    let other = shop(&["3.4"]).usual_hole(&rivet("MS20470AD4"), None).unwrap();
    assert_eq!(other.value.length, inch("#30"));
    assert_eq!(shop(&["4.1"]).pilot().length, mm("4.1"), "the smallest that there is");
}
