//! The layers of a section, each with its cone where it is dimpled or countersunk.
//!
//! A dimpled sheet is drawn as thick on its cone as beside it, so that layers that are dimpled together nest.

use super::{Bench, Cone, SectionOf};
use crate::figure::{Fill, Leg, Line, Mark};
use crate::units::Length;
use crate::words::Preparation;

/// Fills that tell neighbours apart: the lines of two that touch never run on.
const FILLS: [Fill; 4] = [Fill::Rising, Fill::Falling, Fill::RisingClose, Fill::FallingClose];

pub(super) fn draw(bench: &mut Bench<'_>, of: &SectionOf) {
    let hole = of.hole.fraction(1, 2);
    let mut cone = of.cone();
    let mut z = Length::ZERO;
    let mut upward = false;
    for (index, layer) in of.layers.iter().enumerate() {
        let sides = if upward && layer.preparation == Preparation::Dimple {
            Sides::dimpled_upward(cone, hole, z, layer.thickness, bench.half)
        } else {
            Sides::of(layer.preparation, cone, hole, z, layer.thickness, bench.half)
        };
        sides.draw(bench, FILLS[index % FILLS.len()]);
        upward |= layer.preparation == Preparation::CountersinkBoth;
        if layer.preparation == Preparation::Countersink {
            cone.radius = cone.radius_at(layer.thickness).max(hole);
        }
        z = z + layer.thickness;
    }
}

/// Upper and lower side of the right half of a layer, from the sheet's end to the hole.
struct Sides {
    upper: Vec<(Length, Length)>,
    lower: Vec<(Length, Length)>,
}

impl Sides {
    fn of(preparation: Preparation, cone: Cone, hole: Length, z: Length, thickness: Length, half: Length) -> Self {
        let foot = z + thickness;
        let flat = |z| vec![(half, z), (hole, z)];
        match preparation {
            Preparation::Plain => Self { upper: flat(z), lower: flat(foot) },
            Preparation::Dimple => {
                let lip = cone.depth_to(hole);
                let side = |z: Length| vec![(half, z), (cone.radius, z), (hole, z + lip)];
                Self { upper: side(z), lower: side(foot) }
            }
            Preparation::CountersinkBoth => {
                let depth = cone.depth_to(hole).min(thickness.fraction(1, 2));
                let end = cone.radius_at(depth).max(hole);
                Self {
                    upper: vec![(half, z), (cone.radius, z), (end, z + depth)],
                    lower: vec![(half, foot), (cone.radius, foot), (end, foot - depth)],
                }
            }
            Preparation::Countersink => {
                let depth = cone.depth_to(hole).min(thickness);
                let end = cone.radius_at(depth).max(hole);
                Self {
                    upper: vec![(half, z), (cone.radius, z), (end, z + depth)],
                    lower: vec![(half, foot), (end, foot)],
                }
            }
        }
    }

    /// A layer whose dimple reaches up into the one above it.
    fn dimpled_upward(cone: Cone, hole: Length, z: Length, thickness: Length, half: Length) -> Self {
        let lip = cone.depth_to(hole);
        let side = |z: Length| vec![(half, z), (cone.radius, z), (hole, z - lip)];
        Self { upper: side(z), lower: side(z + thickness) }
    }

    /// Fills both halves and draws all but the sheets' ends, which go on outside the figure.
    fn draw(&self, bench: &mut Bench<'_>, fill: Fill) {
        let outline: Vec<(Length, Length)> = self.upper.iter().chain(self.lower.iter().rev()).copied().collect();
        for half in [outline.clone(), Bench::mirrored(&outline)] {
            let places = bench.place(&half);
            let Some((from, rest)) = places.split_first() else { continue };
            let legs: Vec<Leg> = rest.iter().map(|at| Leg::Straight([*at])).collect();
            bench.drawing.marks.push(Mark::Path { from: *from, legs, closed: true, line: Line::None, fill });
            bench.drawing.lines(&places, Line::Middle);
        }
    }
}
