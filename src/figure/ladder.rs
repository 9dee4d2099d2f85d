//! The hole ladder: a hole as delivered, after each step, at its final size, and the next size that a repair would take.
//!
//! Circles are to one relative scale, each with the hole before it in dashes. It checks no order of sizes.

use super::{At, Drawing, Fill, Line, Scale, Space, Type, cells_across, centi, millimetres, times};
use crate::units::{Length, Size, Style};

/// One state of a hole.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rung {
    /// When the hole has this size: `as delivered`, `030 drill`, `next size`.
    pub when: String,
    /// The size; none where there is no hole yet.
    pub size: Option<Size>,
    /// Whether it is reamed: called by its decimal, for no drill makes it.
    pub reamed: bool,
    /// Whether this is the size in which the fastener goes.
    pub last: bool,
    /// Whether this is only what a repair would take.
    pub repair: bool,
}

const CELL: Length = millimetres(24);
const CIRCLE: Length = millimetres(12);

/// Draws the ladder, as many rungs beside each other as the width takes; `None` without any size.
#[must_use]
pub fn ladder(rungs: &[Rung], width: Length, style: &Style) -> Option<Drawing> {
    let largest = rungs.iter().filter_map(|rung| rung.size).map(|size| size.length).max()?;
    let scale = Scale::fitting(largest, largest, Space { width: CIRCLE, height: CIRCLE })?;
    let across = cells_across(width, CELL);
    let rows = rungs.len().div_ceil(across);
    let row_height = CIRCLE + centi(2_050);
    let columns = rungs.len().min(across);
    let (wide, high) = (times(CELL, columns), times(row_height, rows));
    let mut drawing = Drawing::to_scale(wide, high, "Hole sizes", scale);
    for (index, rung) in rungs.iter().enumerate() {
        let corner = At(times(CELL, index % across), times(row_height, index / across));
        let before = index.checked_sub(1).and_then(|before| rungs[before].size);
        draw_rung(&mut drawing, rung, before, corner, (scale, style));
        if index % across + 1 < across && rungs.get(index + 1).is_some_and(|next| !next.repair) {
            draw_arrow(&mut drawing, corner);
        }
    }
    Some(drawing)
}

fn draw_rung(drawing: &mut Drawing, rung: &Rung, before: Option<Size>, corner: At, (scale, style): (Scale, &Style)) {
    let middle = corner.0 + CELL.fraction(1, 2);
    let centre = At(middle, corner.1 + centi(450) + CIRCLE.fraction(1, 2));
    let when = Type::small(CELL - centi(100)).centred();
    drawing.label(At(middle, corner.1 + centi(320)), rung.when.as_str(), if rung.last { when.bold() } else { when });
    cross(drawing, centre, centi(120));
    let Some(size) = rung.size else {
        drawing.label(At(middle, corner.1 + CIRCLE + centi(1_000)), "no hole", Type::small(CELL).centred());
        return;
    };
    let line = match (rung.repair, rung.last) {
        (true, _) => Line::Dotted,
        (false, true) => Line::Thick,
        (false, false) => Line::Middle,
    };
    if let Some(before) = before.filter(|before| before.length < size.length) {
        drawing.circle(centre, scale.of(before.length).fraction(1, 2), Line::Dashed, Fill::None);
    }
    drawing.circle(centre, scale.of(size.length).fraction(1, 2), line, Fill::None);
    let name = Type::tool(CELL - centi(100)).centred();
    let first = style.first(size.length);
    let called = if rung.reamed { first.clone() } else { style.name(size) };
    // A reamer goes by its decimal; the fraction stands below it, as a drill's decimal does below its name.
    let below = if rung.reamed { style.short(size.length) } else { first };
    let below = Some(below).filter(|below| *below != called);
    drawing.label(At(middle, corner.1 + CIRCLE + centi(1_010)), called, name);
    let exact = Type::small(CELL - centi(50)).centred();
    for (line, number) in [below, style.second(size.length)].into_iter().flatten().enumerate() {
        let foot = corner.1 + CIRCLE + centi(1_430) + times(centi(360), line);
        drawing.label(At(middle, foot), number, exact);
    }
}

fn cross(drawing: &mut Drawing, at: At, arm: Length) {
    drawing.line(At(at.0 - arm, at.1), At(at.0 + arm, at.1), Line::Thin);
    drawing.line(At(at.0, at.1 - arm), At(at.0, at.1 + arm), Line::Thin);
}

/// A small arrow from one cell to the next.
fn draw_arrow(drawing: &mut Drawing, corner: At) {
    let (edge, y) = (corner.0 + CELL, corner.1 + centi(450) + CIRCLE.fraction(1, 2));
    drawing.line(At(edge - centi(300), y), At(edge + centi(100), y), Line::Middle);
    drawing.shape(
        &[At(edge + centi(300), y), At(edge, y - centi(120)), At(edge, y + centi(120))],
        Line::None,
        Fill::Black,
    );
}
