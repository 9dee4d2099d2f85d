//! Figures: exact places in their data, and the same places in the PDF.

mod paper;
mod pattern;
mod section;
mod whereabouts;

use shophead::figure::{At, Drawing, Leg, Mark, Space};
use shophead::units::{Length, Size, Unit};

/// A size as a builder writes it.
fn size(text: &str) -> Size {
    Size::parse(text, Unit::Inch).unwrap()
}

fn length(text: &str) -> Length {
    size(text).length
}

const fn mm(n: i64) -> Length {
    Length::from_nm(n * 1_000_000)
}

const ROOM: Space = Space { width: mm(165), height: mm(160) };

/// Centres and radii of all circles.
pub fn circles(drawing: &Drawing) -> Vec<(At, Length)> {
    let all = drawing.marks.iter().filter_map(|mark| match mark {
        Mark::Circle { centre, radius, .. } => Some((*centre, *radius)),
        _ => None,
    });
    all.collect()
}

/// All texts, a line each.
pub fn labels(drawing: &Drawing) -> Vec<&str> {
    let all = drawing.marks.iter().filter_map(|mark| match mark {
        Mark::Label { text, .. } => Some(text.as_str()),
        _ => None,
    });
    all.collect()
}

/// Every place that a drawing uses, whatever the mark.
fn places(drawing: &Drawing) -> Vec<At> {
    let mut all = Vec::new();
    for mark in &drawing.marks {
        match mark {
            Mark::Path { from, legs, .. } => {
                all.push(*from);
                all.extend(legs.iter().map(Leg::end));
            }
            Mark::Circle { centre, radius, .. } => {
                all.push(At(centre.0 - *radius, centre.1 - *radius));
                all.push(At(centre.0 + *radius, centre.1 + *radius));
            }
            Mark::Label { at, .. } => all.push(*at),
        }
    }
    all
}

/// Nothing of a drawing lies outside its frame.
pub fn assert_inside(drawing: &Drawing) {
    for at in places(drawing) {
        let inside = |x: Length, most: Length| x >= Length::ZERO && x <= most;
        assert!(
            inside(at.0, drawing.width) && inside(at.1, drawing.height),
            "{}: {at:?} of {:?}",
            drawing.caption,
            (drawing.width, drawing.height)
        );
    }
}
