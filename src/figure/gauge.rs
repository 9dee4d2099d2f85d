//! Paper gauges at 1:1: shop heads by width and height, holes by their limits.
//!
//! They help the eye to see a bad head from an arm's length; they replace no metal gauge, and the figure says so.

use super::{At, Drawing, Fill, Line, Scale, Type, centi, millimetres};
use crate::units::{Length, Style};

/// The shop head of one diameter.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HeadGauge {
    /// What it is for: `1/8 in rivets`.
    pub name: String,
    /// Calls of this packet that it serves.
    pub calls: String,
    /// Least and aimed-at width.
    pub diameter: (Length, Length),
    /// Least and aimed-at height.
    pub height: (Length, Length),
    /// Greatest height, where a source gives one.
    pub most_height: Option<Length>,
}

/// A hole with its limits.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HoleGauge {
    /// What it is for: `#30 for 1/8 rivets`.
    pub name: String,
    /// Smallest and largest.
    pub limits: (Length, Length),
}

const ROW: Length = millimetres(22);
const WIDTH: Length = millimetres(165);
/// A larger circle does not fit a row.
const LARGEST: Length = millimetres(18);

/// Draws a row for each gauge; `None` without any that fits.
#[must_use]
pub fn gauges(heads: &[HeadGauge], holes: &[HoleGauge], style: &Style) -> Option<Drawing> {
    let heads: Vec<&HeadGauge> = heads.iter().filter(|gauge| gauge.diameter.1 <= LARGEST).collect();
    let holes: Vec<&HoleGauge> = holes.iter().filter(|gauge| gauge.limits.1 <= LARGEST).collect();
    let rows = i64::try_from(heads.len() + holes.len().div_ceil(2)).ok().filter(|rows| *rows > 0)?;
    let mut drawing = Drawing::to_scale(WIDTH, ROW * rows + millimetres(8), "Gauges", Scale::LIFE);
    let mut top = Length::ZERO;
    for gauge in heads {
        draw_head(&mut drawing, gauge, top, style);
        top = top + ROW;
    }
    for pair in holes.chunks(2) {
        for (gauge, left) in pair.iter().zip([Length::ZERO, WIDTH.fraction(1, 2)]) {
            draw_hole(&mut drawing, gauge, At(left, top), style);
        }
        top = top + ROW;
    }
    drawing.scale_bar(At(Length::ZERO, top + millimetres(2)), style);
    let first = Drawing::measure_first(style);
    drawing.note(format!("{first}. Cut out or hold beside the head; judge a doubtful one with a metal gauge."));
    drawing.note("Circles: a head that covers the white is wide enough, one that covers the black ring has the width to aim at. Holes: the black ring reaches from the smallest to the largest hole.");
    Some(drawing)
}

/// A black disc with a white one in it: no line width blurs either size.
fn ring(drawing: &mut Drawing, centre: At, inner: Length, outer: Length) {
    drawing.circle(centre, outer.fraction(1, 2), Line::None, Fill::Black);
    drawing.circle(centre, inner.fraction(1, 2), Line::None, Fill::White);
}

fn draw_head(drawing: &mut Drawing, gauge: &HeadGauge, top: Length, style: &Style) {
    let middle = top + ROW.fraction(1, 2);
    ring(drawing, At(millimetres(9), middle), gauge.diameter.0, gauge.diameter.1);
    let bars = [("min", Some(gauge.height.0)), ("aim", Some(gauge.height.1)), ("max", gauge.most_height)];
    let mut x = millimetres(22);
    for (name, height) in bars {
        if let Some(height) = height {
            drawing.rectangle(At(x, middle - height), At(x + millimetres(10), middle), Line::None, Fill::Black);
            drawing.label(At(x + millimetres(5), middle + centi(360)), name, Type::small(millimetres(11)).centred());
        }
        x = x + millimetres(14);
    }
    let (x, room) = (millimetres(66), WIDTH - millimetres(66));
    let set = Type::small(room);
    drawing.label(At(x, middle - centi(560)), gauge.name.as_str(), set.bold().size(11));
    drawing.label(
        At(x, middle - centi(150)),
        format!("wide: min {}, aim {}", style.length(gauge.diameter.0), style.length(gauge.diameter.1)),
        set.size(9),
    );
    drawing.label(
        At(x, middle + centi(260)),
        format!("high: min {}, aim {}", style.length(gauge.height.0), style.length(gauge.height.1)),
        set.size(9),
    );
    let most = gauge.most_height.map(|most| format!("; high: max {}", style.length(most))).unwrap_or_default();
    drawing.label(At(x, middle + centi(670)), format!("{}{most}", gauge.calls), set);
}

fn draw_hole(drawing: &mut Drawing, gauge: &HoleGauge, corner: At, style: &Style) {
    let middle = corner.1 + ROW.fraction(1, 2);
    ring(drawing, At(corner.0 + millimetres(9), middle), gauge.limits.0, gauge.limits.1);
    let (x, set) = (corner.0 + millimetres(22), Type::small(WIDTH.fraction(1, 2) - millimetres(23)));
    drawing.label(At(x, middle - centi(350)), gauge.name.as_str(), set.bold().size(10));
    drawing.label(At(x, middle + centi(80)), format!("min {}", style.at_least(gauge.limits.0)), set.size(9));
    drawing.label(At(x, middle + centi(490)), format!("max {}", style.at_most(gauge.limits.1)), set.size(9));
}
