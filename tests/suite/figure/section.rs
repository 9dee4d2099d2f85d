//! The section: to scale, inside their frame, absent where a fact is missing.

use proptest::prelude::*;
use shophead::figure::{At, Body, Fill, LayerOf, Leg, Mark, Nut, SectionOf, Space, Top, Washer, section};
use shophead::units::Length;
use shophead::words::Preparation;

use super::{assert_inside, length, mm};

fn layer(thickness: &str, preparation: Preparation) -> LayerOf {
    LayerOf { thickness: length(thickness), preparation }
}

/// An MS20470AD4 or MS20426AD4 through two layers.
fn riveted(top: Top, preparations: [Preparation; 2]) -> SectionOf {
    SectionOf {
        layers: vec![layer("0.032", preparations[0]), layer("0.040", preparations[1])],
        hole: length("#30"),
        body: Body::Solid { diameter: length("1/8"), top, shop: (length("3/16"), length("1/16")) },
    }
}

/// As on the card of a joint.
const ROOM: Space = Space { width: mm(44), height: mm(36) };

/// Corners of every filled shape of a kind.
fn filled(drawing: &shophead::figure::Drawing, wanted: Fill) -> Vec<Vec<At>> {
    let all = drawing.marks.iter().filter_map(|mark| match mark {
        Mark::Path { from, legs, fill, .. } if *fill == wanted => {
            Some(std::iter::once(*from).chain(legs.iter().map(Leg::end)).collect())
        }
        _ => None,
    });
    all.collect()
}

/// Width and height of a set of places.
fn extent(places: &[At]) -> (Length, Length) {
    let spread = |pick: fn(&At) -> Length| {
        let values = places.iter().map(pick);
        values.clone().max().unwrap() - values.min().unwrap()
    };
    (spread(|at| at.0), spread(|at| at.1))
}

#[test]
fn layers_and_shop_head_are_to_the_scale_that_is_printed() {
    let drawing = section(&riveted(Top::Protruding, [Preparation::Plain; 2]), ROOM).unwrap();
    assert_eq!(drawing.scale.as_deref(), Some("5:1"));
    for (fill, thickness) in [(Fill::Rising, "0.032"), (Fill::Falling, "0.040")] {
        let halves = filled(&drawing, fill);
        assert_eq!(halves.len(), 2, "a layer has two halves beside the hole");
        for half in halves {
            assert_eq!(extent(&half).1, length(thickness) * 5);
        }
    }
    let halves = filled(&drawing, Fill::Rising);
    let inner = |half: &Vec<At>, left: bool| {
        let edges = half.iter().map(|at| at.0);
        if left { edges.max().unwrap() } else { edges.min().unwrap() }
    };
    let (right, left) = (inner(&halves[0], false), inner(&halves[1], true));
    assert_eq!(right - left, length("#30") * 5, "the hole has its final size");
    assert_inside(&drawing);
}

#[test]
fn a_dimpled_layer_hangs_down_as_far_as_the_cone_of_the_head_is_deep() {
    // Half the cone's angle is 50 degrees: depth = (head - hole) / 2 / tan 50 = 0.04050 in for 0.225 and 0.1285.
    let drawing = section(&riveted(Top::Flush100(length("0.225")), [Preparation::Dimple; 2]), ROOM).unwrap();
    let times = drawing.scale.clone().unwrap().split(':').next().unwrap().parse::<i64>().unwrap();
    let lower = filled(&drawing, Fill::Falling);
    let depth = extent(&lower[0]).1 - length("0.040") * times;
    let expected = Length::from_nm(1_028_000) * times;
    assert!(depth.distance(expected) < Length::from_nm(1_000 * times), "{depth:?} for {expected:?}");
    assert_inside(&drawing);
}

#[test]
fn a_bolt_shows_hexagons_grip_washers_nut_and_pin_to_scale() {
    let washer = |thickness: &str| Washer { thickness: length(thickness), outer: Some(length("0.438")) };
    let of = SectionOf {
        layers: vec![layer("0.250", Preparation::Plain), layer("0.063", Preparation::Plain)],
        hole: length("0.191"),
        body: Body::Bolt {
            diameter: length("0.190"),
            top: Top::Hexagon(length("0.375"), length("0.125")),
            grip: Some(length("0.375")),
            length: Some(length("0.78125")),
            head_washers: vec![],
            nut_washers: vec![washer("0.063")],
            nut: Some(Nut::Loose { pinned: true, size: Some((length("0.376"), length("0.250"))) }),
        },
    };
    let drawing = section(&of, Space { width: mm(140), height: mm(90) }).unwrap();
    let times = drawing.scale.clone().unwrap().split(':').next().unwrap().parse::<i64>().unwrap();
    let washers = filled(&drawing, Fill::FallingClose);
    assert_eq!(extent(&washers[0]), (length("0.438") * times, length("0.063") * times));
    let white = filled(&drawing, Fill::White);
    assert!(white.iter().any(|shape| extent(shape) == (length("0.375") * times, length("0.125") * times)), "the head");
    let half_nut = ((length("0.376") - length("0.190")).fraction(1, 2) * times, length("0.250") * times);
    assert_eq!(white.iter().filter(|shape| extent(shape) == half_nut).count(), 2, "both halves of the nut");
    assert_eq!(drawing.notes, ["Thread depth not to scale."]);
    assert_inside(&drawing);
}

#[test]
fn a_washer_is_wider_than_what_stands_on_it_where_no_table_has_its_width() {
    let across = length("0.5625");
    let of = SectionOf {
        layers: vec![layer("0.250", Preparation::Plain)],
        hole: length("3/8"),
        body: Body::Bolt {
            diameter: length("3/8"),
            top: Top::Hexagon(across, length("0.214")),
            grip: None,
            length: None,
            head_washers: vec![Washer { thickness: length("0.063"), outer: None }],
            nut_washers: vec![],
            nut: Some(Nut::Loose { pinned: false, size: None }),
        },
    };
    let drawing = section(&of, Space { width: mm(140), height: mm(90) }).unwrap();
    let times = drawing.scale.clone().unwrap().split(':').next().unwrap().parse::<i64>().unwrap();
    let washers = filled(&drawing, Fill::FallingClose);
    assert!(extent(&washers[0]).0 > across * times, "{:?}", extent(&washers[0]));
    assert_eq!(drawing.notes, ["Outline of the nut drawn by eye; thread depth not to scale."]);
    assert_inside(&drawing);
}

#[test]
fn a_joint_without_layers_or_without_room_has_no_section() {
    let mut of = riveted(Top::Protruding, [Preparation::Plain; 2]);
    assert!(section(&of, Space { width: mm(80), height: mm(1) }).is_none());
    of.layers.clear();
    assert!(section(&of, ROOM).is_none());
}

proptest! {
    #[test]
    fn any_stack_is_drawn_inside_its_frame_or_not_at_all(
        thicknesses in proptest::collection::vec(1_i64..2_000, 0..9),
        hole in 10_i64..1_000,
        diameter in 10_i64..1_000,
        head in 0_i64..2_000,
        preparations in proptest::collection::vec(0_usize..3, 9),
        width in 1_i64..300,
        height in 1_i64..300,
    ) {
        let preparation = |n: usize| [Preparation::Plain, Preparation::Dimple, Preparation::Countersink][n];
        let layers = thicknesses.iter().zip(&preparations).map(|(t, n)| LayerOf {
            thickness: Length::from_mils(*t),
            preparation: preparation(*n),
        });
        let diameter = Length::from_mils(diameter);
        let of = SectionOf {
            layers: layers.collect(),
            hole: Length::from_mils(hole),
            body: Body::Solid {
                diameter,
                top: if head % 2 == 0 { Top::Protruding } else { Top::Flush100(Length::from_mils(head)) },
                shop: (diameter.fraction(3, 2), diameter.fraction(1, 2)),
            },
        };
        if let Some(drawing) = section(&of, Space { width: mm(width), height: mm(height) }) {
            prop_assert!(drawing.width <= mm(width) && drawing.height <= mm(height));
            assert_inside(&drawing);
        }
    }
}
