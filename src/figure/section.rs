//! The section through a joint at a stated scale: layers, what is formed in them, the fastener. Its words stand beside it.
//!
//! Layers, holes, shanks, washers, grips, shop heads and hexagons are to scale; outlines that no table gives are drawn by
//! eye, and the figure's notes name them.

mod body;
mod bolt;
mod layers;

use super::{At, Drawing, Line, Scale, Space, centi};
use crate::units::Length;
use crate::words::Preparation;

/// What the section shows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SectionOf {
    /// Layers, manufactured-head side first.
    pub layers: Vec<LayerOf>,
    /// Diameter of the final hole.
    pub hole: Length,
    /// The fastener.
    pub body: Body,
}

/// One layer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LayerOf {
    /// Thickness.
    pub thickness: Length,
    /// What is done to it around the hole.
    pub preparation: Preparation,
}

/// A manufactured head.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Top {
    /// Stands on the sheet; drawn by eye.
    Protruding,
    /// A hexagon: width across flats and height.
    Hexagon(Length, Length),
    /// Let into the sheet: diameter at the surface, 82 degrees.
    Flush82(Length),
    /// Let into the sheet: diameter at the surface, 100 degrees.
    Flush100(Length),
    /// Let into the sheet: diameter at the surface, 120 degrees.
    Flush120(Length),
}

/// A fastener.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Body {
    /// A solid rivet as driven.
    Solid {
        /// Shank.
        diameter: Length,
        /// Manufactured head.
        top: Top,
        /// Shop head: diameter and height.
        shop: (Length, Length),
    },
    /// A blind rivet as pulled.
    Blind {
        /// Shank.
        diameter: Length,
        /// Manufactured head.
        top: Top,
    },
    /// A bolt or a screw.
    Bolt {
        /// Shank.
        diameter: Length,
        /// Head; a protruding one that is no hexagon is drawn by eye.
        top: Top,
        /// Plain part of the shank, where known.
        grip: Option<Length>,
        /// Length under the head, over all for a flush one, where known.
        length: Option<Length>,
        /// Washers under the head, from the head on.
        head_washers: Vec<Washer>,
        /// Washers under the nut, from the structure on.
        nut_washers: Vec<Washer>,
        /// Nut, where there is one.
        nut: Option<Nut>,
    },
}

/// A washer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Washer {
    /// Thickness.
    pub thickness: Length,
    /// Outside diameter; where not known, drawn by eye and wider than what stands on it.
    pub outer: Option<Length>,
}

/// What holds a bolt.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Nut {
    /// A nut, and whether it takes a cotter pin.
    Loose {
        /// Whether a pin goes through it.
        pinned: bool,
        /// Width across flats and height; drawn by eye where not known.
        size: Option<(Length, Length)>,
    },
    /// A nutplate.
    Plate,
}

/// Tangents of half the cone's angle, in millionths: 41, 50 and 60 degrees, for heads of 82, 100 and 120. A cone loses that much
/// radius over one unit of depth, so that no sine or cosine is needed at run time.
const TAN_41: i64 = 869_287;
const TAN_50: i64 = 1_191_754;
const TAN_60: i64 = 1_732_051;

impl Top {
    /// Radius and depth of the cone from the surface down to a hole of radius `hole`; none for a protruding head.
    fn cone(self, hole: Length) -> Option<Cone> {
        let (diameter, tangent) = match self {
            Self::Protruding | Self::Hexagon(..) => return None,
            Self::Flush82(diameter) => (diameter, TAN_41),
            Self::Flush100(diameter) => (diameter, TAN_50),
            Self::Flush120(diameter) => (diameter, TAN_60),
        };
        let radius = diameter.fraction(1, 2).max(hole);
        Some(Cone { radius, tangent })
    }
}

/// A cone around the fastener's axis.
#[derive(Debug, Clone, Copy)]
struct Cone {
    /// Radius at the surface.
    radius: Length,
    /// Tangent of half its angle, in millionths.
    tangent: i64,
}

impl Cone {
    /// Depth at which it has narrowed to a radius.
    fn depth_to(self, radius: Length) -> Length {
        if radius >= self.radius { Length::ZERO } else { (self.radius - radius).fraction(1_000_000, self.tangent) }
    }

    /// Radius at a depth.
    fn radius_at(self, depth: Length) -> Length {
        (self.radius - depth.fraction(self.tangent, 1_000_000)).max(Length::ZERO)
    }
}

/// Where the section lies on the figure: the axis, the surface of the stack and the scale.
struct Bench<'a> {
    drawing: &'a mut Drawing,
    axis: Length,
    surface: Length,
    scale: Scale,
    /// Half the width of the sheets as drawn.
    half: Length,
}

impl Bench<'_> {
    /// A place in the joint (from the axis, below the surface) on the figure.
    fn at(&self, x: Length, z: Length) -> At {
        At(self.axis + self.scale.of(x), self.surface + self.scale.of(z))
    }

    /// Places mirrored about the axis, in reverse, so that both halves make one outline.
    fn mirrored(half: &[(Length, Length)]) -> Vec<(Length, Length)> {
        half.iter().rev().map(|(x, z)| (Length::ZERO - *x, *z)).collect()
    }

    fn place(&self, places: &[(Length, Length)]) -> Vec<At> {
        places.iter().map(|(x, z)| self.at(*x, *z)).collect()
    }
}

/// Above and below the section: room for its axis and the thickest line.
const OVER: Length = centi(100);

/// Draws the section at the largest scale that fits; `None` where nothing fits or there is no layer.
#[must_use]
pub fn section(of: &SectionOf, room: Space) -> Option<Drawing> {
    let total: Length = of.layers.iter().map(|layer| layer.thickness).sum();
    if of.layers.is_empty() || total <= Length::ZERO {
        return None;
    }
    let (above, below) = of.body.reach(total, of.hang(total));
    let below = below.max(of.hang(total));
    // Sheets are drawn a little wider than head or hole, so that the cut through them is seen on both sides.
    let half = of.body.half_width().max(of.hole.fraction(1, 2)) + of.body.diameter().fraction(3, 8);
    let tall = above + total + below;
    let scale = Scale::fitting(half * 2, tall, Space { width: room.width - centi(2), height: room.height - OVER * 2 })?;
    // A hundredth of a millimetre on either side takes up what scaling rounds.
    let axis = scale.of(half) + centi(1);
    let surface = OVER + scale.of(above);
    let mut drawing = Drawing::to_scale(axis * 2, scale.of(tall) + OVER * 2, "Section", scale);
    let mut bench = Bench { drawing: &mut drawing, axis, surface, scale, half };
    layers::draw(&mut bench, of);
    match &of.body {
        Body::Solid { .. } | Body::Blind { .. } => body::draw(&mut bench, of, total),
        Body::Bolt { .. } => bolt::draw(&mut bench, of, total),
    }
    draw_axis(&mut bench, above, total + below);
    for note in of.body.by_eye() {
        drawing.note(note);
    }
    drawing.stays_in_its_frame().then_some(drawing)
}

/// The axis: a thin chain of dashes that stands out at both ends.
fn draw_axis(bench: &mut Bench<'_>, above: Length, below: Length) {
    let (top, foot) = (bench.at(Length::ZERO, Length::ZERO - above), bench.at(Length::ZERO, below));
    bench.drawing.line(At(top.0, top.1 - centi(80)), At(foot.0, foot.1 + centi(80)), Line::Dashed);
}

impl SectionOf {
    /// How far below the stack the driven end begins: under a dimple, or where the cone of the head is deeper than the stack.
    fn hang(&self, total: Length) -> Length {
        let depth = |cone: Cone| cone.depth_to(self.hole.fraction(1, 2));
        let lip = match self.layers.last().map(|layer| layer.preparation) {
            Some(Preparation::Dimple) if !self.is_flush_on_both_sides() => depth(self.cone()),
            _ => Length::ZERO,
        };
        let head = self.body.top().cone(self.hole.fraction(1, 2)).map_or(Length::ZERO, depth);
        lip.max(head - total)
    }

    /// Whether a layer takes a dimple from each side: those below it are dimpled upward.
    fn is_flush_on_both_sides(&self) -> bool {
        self.layers.iter().any(|layer| layer.preparation == Preparation::CountersinkBoth)
    }

    /// The cone of the head, or the one that a dimple or countersink is drawn with where the head is none.
    fn cone(&self) -> Cone {
        let hole = self.hole.fraction(1, 2);
        // 1.8 D: the usual head of a 100 degree rivet, from memory; for drawing alone.
        self.body
            .top()
            .cone(hole)
            .unwrap_or(Cone { radius: self.body.diameter().fraction(9, 10).max(hole), tangent: TAN_50 })
    }
}
