//! Patterns of holes in small, a cell a joint: which edge they follow and which way that lies on the aircraft.
//!
//! Each pattern is in proportion and as large as its cell: nothing may be measured on it. How cells lie to each other says
//! nothing of the aircraft.

use super::pattern::directions;
use super::{At, Drawing, Fill, Line, Type, centi, millimetres};
use crate::units::Length;
use crate::words::Direction;

/// The pattern of one joint.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PatternSketch {
    /// Id of the joint.
    pub joint: String,
    /// What the edge is called.
    pub edge: String,
    /// What the end is called.
    pub end: String,
    /// What lies away from the edge on the aircraft.
    pub across: Option<Direction>,
    /// What lies away from the end on the aircraft.
    pub along: Option<Direction>,
    /// The holes: from the end, from the edge.
    pub places: Vec<(Length, Length)>,
    /// Whether it is seen from the other side: the other hand.
    pub mirrored: bool,
}

const CELL_WIDTH: Length = millimetres(54);
const CELL_HEIGHT: Length = millimetres(25);
/// Cells beside each other.
const ABREAST: usize = 3;
/// Where holes lie in a cell: from its left, from its top, and how wide and high.
const FIELD: (Length, Length, Length, Length) = (millimetres(2), centi(750), millimetres(48), centi(1_250));

/// The patterns in rows of three; nothing where there is none.
#[must_use]
pub fn pattern_sketch(sketches: &[PatternSketch]) -> Option<Drawing> {
    if sketches.is_empty() {
        return None;
    }
    let count = |n: usize| i64::try_from(n).ok();
    let (abreast, rows) = (count(ABREAST.min(sketches.len()))?, count(sketches.len().div_ceil(ABREAST))?);
    let mut drawing = Drawing::new(CELL_WIDTH * abreast, CELL_HEIGHT * rows, "Where the holes lie");
    for (at, sketch) in sketches.iter().enumerate() {
        let corner = At(CELL_WIDTH * count(at % ABREAST)?, CELL_HEIGHT * count(at / ABREAST)?);
        draw(&mut drawing, corner, sketch);
    }
    drawing.stays_in_its_frame().then_some(drawing)
}

fn draw(drawing: &mut Drawing, corner: At, sketch: &PatternSketch) {
    let (left, top, width, height) = FIELD;
    let farthest = |pick: fn(&(Length, Length)) -> Length| {
        // A pattern has a hole; a hole at the edge itself has no extent.
        sketch.places.iter().map(pick).max().unwrap_or_default().max(Length::from_nm(1))
    };
    let (along, across) = (farthest(|place| place.0), farthest(|place| place.1));
    // The larger of both decides, so that the pattern keeps its proportions.
    let wide = width.fraction(across.nm(), along.nm()) <= height;
    let (times, over) = if wide { (width, along) } else { (height, across) };
    let foot = top + height;
    let x = |place: Length| {
        let place = left + place.fraction(times.nm(), over.nm());
        corner.0 + if sketch.mirrored { CELL_WIDTH - place - millimetres(2) } else { place }
    };
    let y = |place: Length| corner.1 + foot - place.fraction(times.nm(), over.nm());
    let end = x(Length::ZERO);
    let far = corner.0 + if sketch.mirrored { Length::ZERO } else { CELL_WIDTH - millimetres(2) };
    drawing.lines(&[At(far, corner.1 + foot), At(end, corner.1 + foot), At(end, corner.1 + top)], Line::Thick);
    for (along, across) in &sketch.places {
        drawing.circle(At(x(*along), y(*across)), centi(60), Line::None, Fill::Black);
    }
    let words = At(corner.0 + centi(100), corner.1 + centi(450));
    drawing.label(words, sketch.joint.clone(), Type::small(millimetres(14)).bold().size(11));
    if let Some(way) = directions(sketch.across, sketch.along, sketch.mirrored) {
        drawing.label(words + At(millimetres(15), Length::ZERO), way, Type::small(millimetres(36)).bold());
    }
    let below = At(corner.0 + centi(200), corner.1 + foot + centi(360));
    let side = if sketch.mirrored { "right" } else { "left" };
    drawing.label(below, format!("{}; {side}: {}", sketch.edge, sketch.end), Type::small(CELL_WIDTH - millimetres(4)));
}
