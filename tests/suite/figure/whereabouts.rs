//! Where joints lie: patterns of holes in small keep their proportions and their side; none is no figure.

use shophead::figure::{PatternSketch, pattern_sketch};
use shophead::units::Length;
use shophead::words::Direction;

use super::{assert_inside, circles, labels, length};

fn sketch(mirrored: bool) -> PatternSketch {
    PatternSketch {
        joint: "J1".into(),
        edge: "rear flange".into(),
        end: "root".into(),
        across: Some(Direction::Up),
        along: Some(Direction::Outboard),
        places: ["0.5", "1.5", "2.5"].map(|along| (length(along), length("0.4"))).into(),
        mirrored,
    }
}

#[test]
fn a_pattern_in_small_keeps_its_proportions_and_the_other_hand_is_its_mirror() {
    let [own, other] = [false, true].map(|mirrored| pattern_sketch(&[sketch(mirrored)]).unwrap());
    assert_eq!(labels(&own), ["J1", "↑ UP   OUTBOARD →", "rear flange; left: root"]);
    assert_eq!(labels(&other), ["J1", "↑ UP   ← OUTBOARD", "rear flange; right: root"]);
    assert_inside(&own);
    assert_inside(&other);
    for ((at, _), (mirror, _)) in circles(&own).into_iter().zip(circles(&other)) {
        assert_eq!((at.0 + mirror.0, at.1), (own.width - Length::from_microns(2_000) + Length::ZERO, mirror.1));
    }
    let across: Vec<Length> = circles(&own).iter().map(|(at, _)| at.0).collect();
    let gap = |at: usize| across[at + 1] - across[at];
    assert!(gap(0).distance(gap(1)) < Length::from_microns(1), "holes at equal gaps stay so");
}

#[test]
fn many_patterns_stand_in_rows_inside_the_page_and_none_is_no_figure() {
    assert_eq!(pattern_sketch(&[]), None);
    let drawing = pattern_sketch(&[sketch(false), sketch(true), sketch(false), sketch(false)]).unwrap();
    assert_eq!(circles(&drawing).len(), 12);
    assert!(drawing.width <= super::ROOM.width, "{:?}", drawing.width);
    assert_inside(&drawing);
}

#[test]
fn holes_at_the_edge_itself_have_a_figure_too() {
    let flat = PatternSketch { places: vec![(Length::ZERO, Length::ZERO)], ..sketch(false) };
    assert_eq!(circles(&pattern_sketch(&[flat]).unwrap()).len(), 1);
}
