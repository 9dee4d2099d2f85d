//! The step map: the traveler's steps in order, with holds, witness points, waits, and spaces that open and close.
//!
//! It shows the order of the spec; it does not judge it.

use super::{At, Drawing, Fill, Line, Type, cells_across, centi, millimetres, times};
use crate::units::Length;

/// One step on the map.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct MapStep {
    /// Operation number: `030`.
    pub number: String,
    /// What it does in a word: `drill`.
    pub word: String,
    /// Who must sign before work goes on.
    pub hold: Option<String>,
    /// Who is invited.
    pub witness: Option<String>,
    /// Spaces that it closes, by name.
    pub closes: Vec<String>,
    /// Spaces that it opens again.
    pub opens: Vec<String>,
    /// What must pass before the next step: `cure 24 h`.
    pub wait: Option<String>,
}

const CELL: Length = centi(1_880);
const ROW: Length = millimetres(21);
const RADIUS: Length = centi(400);

/// Draws the map, as many steps in a row as the width takes; `None` without steps.
#[must_use]
pub fn step_map(steps: &[MapStep], width: Length) -> Option<Drawing> {
    if steps.is_empty() {
        return None;
    }
    let across = cells_across(width, CELL);
    let wide = times(CELL, steps.len().min(across));
    let high = times(ROW, steps.len().div_ceil(across));
    let mut drawing = Drawing::new(wide, high, "Steps in order");
    for (index, step) in steps.iter().enumerate() {
        let column = index % across;
        let corner = At(times(CELL, column), times(ROW, index / across));
        if index > 0 && column == 0 {
            let centre = centre_of(corner);
            drawing.line(At(corner.0, centre.1), centre, Line::Middle);
        }
        if index + 1 < steps.len() {
            draw_way(&mut drawing, corner, step.wait.as_deref(), (index + 1) % across == 0);
        }
        draw_step(&mut drawing, step, corner);
    }
    write_notes(&mut drawing, steps);
    Some(drawing)
}

fn centre_of(corner: At) -> At {
    At(corner.0 + CELL.fraction(1, 2), corner.1 + centi(1_000))
}

/// The way to the next step: a line, through an hourglass where something must pass first.
fn draw_way(drawing: &mut Drawing, corner: At, wait: Option<&str>, row_ends: bool) {
    let centre = centre_of(corner);
    let end = if row_ends { centre.0 + CELL.fraction(1, 2) } else { centre.0 + CELL };
    drawing.line(At(centre.0, centre.1), At(end, centre.1), Line::Middle);
    if wait.is_some() {
        let (x, y) = (centre.0 + CELL.fraction(1, 2) - if row_ends { centi(150) } else { Length::ZERO }, centre.1);
        let (half, high) = (centi(130), centi(220));
        drawing.rectangle(At(x - half, y - high), At(x + half, y + high), Line::None, Fill::White);
        drawing.shape(&[At(x - half, y - high), At(x + half, y - high), At(x, y)], Line::Thin, Fill::Black);
        drawing.shape(&[At(x - half, y + high), At(x + half, y + high), At(x, y)], Line::Thin, Fill::White);
    }
}

fn draw_step(drawing: &mut Drawing, step: &MapStep, corner: At) {
    let centre = centre_of(corner);
    let line = if step.closes.is_empty() { Line::Middle } else { Line::Thick };
    drawing.circle(centre, RADIUS, line, Fill::White);
    let foot = At(centre.0, centre.1 + centi(105));
    drawing.label(foot, step.number.as_str(), Type::small(CELL).bold().centred().size(9));
    drawing.label(
        At(centre.0, centre.1 + RADIUS + centi(350)),
        step.word.as_str(),
        Type::small(CELL - centi(40)).centred(),
    );
    let space = match (step.closes.is_empty(), step.opens.is_empty()) {
        (false, _) => "CLOSES",
        (true, false) => "OPENS",
        (true, true) => "",
    };
    if !space.is_empty() {
        drawing.label(At(centre.0, centre.1 + RADIUS + centi(690)), space, Type::small(CELL).centred().bold());
    }
    draw_flag(drawing, step, At(centre.0, centre.1 - RADIUS));
}

/// A black octagon with H for a hold, a white diamond with W for a witness point, on the step's head.
fn draw_flag(drawing: &mut Drawing, step: &MapStep, foot: At) {
    let middle = At(foot.0, foot.1 - centi(290));
    let letter = At(middle.0, middle.1 + centi(105));
    let set = Type::small(centi(500)).bold().centred();
    if step.hold.is_some() {
        let (wide, narrow) = (centi(260), centi(108));
        let right = [(wide, narrow), (narrow, wide)];
        let quarter = |sx: i64, sy: i64, turned: bool| {
            let mut two = right.map(|(x, y)| At(middle.0 + x * sx, middle.1 + y * sy));
            if turned {
                two.reverse();
            }
            two
        };
        let corners =
            [quarter(1, 1, false), quarter(-1, 1, true), quarter(-1, -1, false), quarter(1, -1, true)].concat();
        drawing.shape(&corners, Line::None, Fill::Black);
        drawing.label(letter, "H", set.inverse());
    } else if step.witness.is_some() {
        let reach = centi(290);
        let corners = [
            At(middle.0, middle.1 - reach),
            At(middle.0 + reach, middle.1),
            At(middle.0, middle.1 + reach),
            At(middle.0 - reach, middle.1),
        ];
        drawing.shape(&corners, Line::Middle, Fill::White);
        drawing.label(letter, "W", set);
    }
}

/// Who, what and how long, in words.
fn write_notes(drawing: &mut Drawing, steps: &[MapStep]) {
    for step in steps {
        let mut words = Vec::new();
        words.extend(step.opens.iter().map(|space| format!("opens {space}")));
        words.extend(step.hold.iter().map(|who| format!("HOLD for {who}")));
        words.extend(step.witness.iter().map(|who| format!("WITNESS: {who} is invited")));
        words.extend(step.closes.iter().map(|space| format!("closes {space}")));
        words.extend(step.wait.iter().map(|wait| format!("then wait: {wait}")));
        if !words.is_empty() {
            drawing.note(format!("{} {}", step.number, words.join("; ")));
        }
    }
}
