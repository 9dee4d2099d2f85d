//! Rivets in a section: the manufactured head, the shank that fills the hole, the driven or pulled end.
//!
//! A shop head has the width and height given; a pulled end is drawn by eye. Places are half a section: to the right of
//! the axis and down from the surface of the stack, in the joint's own size; [`Half::draw`] mirrors and scales them.
//! `bolt` draws what a bolt has; each asks the other for its half of the drawing.

use super::{Bench, Body, Cone, SectionOf, Top, bolt};
use crate::figure::{At, Fill, Leg, Line, Mark};
use crate::units::Length;

impl Top {
    /// Half the width of the head.
    pub(super) fn half_width(self, diameter: Length) -> Length {
        match self {
            Self::Protruding => diameter,
            Self::Hexagon(across, _) => across.fraction(1, 2),
            Self::Flush82(head) | Self::Flush100(head) | Self::Flush120(head) => head.fraction(1, 2),
        }
    }

    /// Height of the head above the stack.
    pub(super) fn height(self, diameter: Length) -> Length {
        match self {
            // 0.43 D: about the height of a universal head, from memory; for drawing alone.
            Self::Protruding => diameter.fraction(43, 100),
            Self::Hexagon(_, height) => height,
            Self::Flush82(_) | Self::Flush100(_) | Self::Flush120(_) => Length::ZERO,
        }
    }
}

impl Body {
    /// Nominal shank diameter.
    #[must_use]
    pub const fn diameter(&self) -> Length {
        match self {
            Self::Solid { diameter, .. } | Self::Blind { diameter, .. } | Self::Bolt { diameter, .. } => *diameter,
        }
    }

    pub(super) const fn top(&self) -> Top {
        match self {
            Self::Solid { top, .. } | Self::Blind { top, .. } | Self::Bolt { top, .. } => *top,
        }
    }

    /// Half the width of the widest part.
    pub(super) fn half_width(&self) -> Length {
        let head = self.top().half_width(self.diameter());
        match self {
            Self::Solid { shop, .. } => head.max(shop.0.fraction(1, 2)),
            // A pulled end bulges to about 1.6 D; by eye.
            Self::Blind { diameter, .. } => head.max(diameter.fraction(4, 5)),
            Self::Bolt { .. } => head.max(bolt::half_width(self)),
        }
    }

    /// How far the fastener stands above and below the stack.
    pub(super) fn reach(&self, total: Length, hang: Length) -> (Length, Length) {
        let above = self.top().height(self.diameter());
        match self {
            Self::Solid { shop, .. } => (above, hang + shop.1),
            // The stub of the stem above the head and the bulb below; by eye.
            Self::Blind { diameter, .. } => (above + diameter.fraction(1, 4), hang + diameter.fraction(6, 5)),
            Self::Bolt { .. } => bolt::reach(self, total),
        }
    }

    /// What is drawn by eye.
    pub(super) fn by_eye(&self) -> Vec<String> {
        let head = self.top() == Top::Protruding;
        let rivet = match self {
            Self::Solid { .. } if head => "Outline of the manufactured head drawn by eye.",
            Self::Solid { .. } => return Vec::new(),
            Self::Blind { .. } if head => "Outlines of the head and of the pulled end drawn by eye.",
            Self::Blind { .. } => "Outline of the pulled end drawn by eye.",
            Self::Bolt { nut, .. } => return vec![bolt::by_eye(head, nut.as_ref())],
        };
        vec![rivet.to_owned()]
    }
}

pub(super) fn draw(bench: &mut Bench<'_>, of: &SectionOf, total: Length) {
    let hole = of.hole.fraction(1, 2);
    let foot = total + of.hang(total);
    // A driven shank fills its hole; a pulled one keeps its own diameter.
    let shank = if matches!(of.body, Body::Solid { .. }) { hole } else { of.body.diameter().fraction(1, 2) };
    let mut half = Half::starting(shank, of.body.top(), of.body.diameter());
    half.to(shank, foot);
    match &of.body {
        Body::Solid { shop: (diameter, height), .. } => {
            let wide = diameter.fraction(1, 2);
            // The side bulges to the full width: a curve reaches three quarters of the way to its pull.
            let (side, pull) = (wide.fraction(9, 10), wide.fraction(31, 30));
            half.to(side, foot);
            half.curve([
                (pull, foot + height.fraction(1, 4)),
                (pull, foot + height.fraction(3, 4)),
                (side, foot + *height),
            ]);
            half.to(Length::ZERO, foot + *height);
        }
        Body::Blind { diameter, .. } => {
            let (wide, end) = (diameter.fraction(4, 5), foot + diameter.fraction(23, 20));
            half.curve([
                (wide, foot + diameter.fraction(1, 10)),
                (wide, foot + diameter.fraction(3, 5)),
                (shank, foot + diameter.fraction(19, 20)),
            ]);
            half.curve([(shank, end), (diameter.fraction(3, 10), end), (Length::ZERO, end)]);
        }
        Body::Bolt { .. } => {}
    }
    half.draw(bench);
    if let Body::Blind { diameter, .. } = of.body {
        draw_stem(bench, diameter, of.body.top().height(diameter), foot);
    }
}

/// The broken stem inside a pulled rivet.
fn draw_stem(bench: &mut Bench<'_>, diameter: Length, head: Length, foot: Length) {
    let side = diameter.fraction(1, 4);
    let ends = (Length::ZERO - head, foot + diameter.fraction(7, 10));
    for x in [side, Length::ZERO - side] {
        bench.drawing.line(bench.at(x, ends.0), bench.at(x, ends.1), Line::Thin);
    }
    let (from, to) = (bench.at(Length::ZERO - side, ends.1), bench.at(side, ends.1));
    bench.drawing.line(from, to, Line::Thin);
}

/// The right half of an outline from the axis above to the axis below; the left half mirrors it.
pub(super) struct Half {
    start: (Length, Length),
    legs: Vec<[(Length, Length); 3]>,
    straight: Vec<bool>,
}

impl Half {
    /// The head, up to the shank under it.
    pub(super) fn starting(shank: Length, top: Top, diameter: Length) -> Self {
        let start = (Length::ZERO, Length::ZERO - top.height(diameter));
        let mut half = Self { start, legs: Vec::new(), straight: Vec::new() };
        match top.cone(shank) {
            Some(cone) => half.flush(cone, shank),
            None => half.dome(diameter, shank),
        }
        half
    }

    /// A flush head: level with the surface, then down its cone to where it has narrowed to the shank.
    fn flush(&mut self, cone: Cone, shank: Length) {
        self.to(cone.radius, Length::ZERO);
        self.to(shank, cone.depth_to(shank));
    }

    /// A protruding head: flat for the middle 0.8 D, then a curve down to its full width of 2 D at the surface.
    fn dome(&mut self, diameter: Length, shank: Length) {
        let height = Length::ZERO - Top::Protruding.height(diameter);
        self.to(diameter.fraction(2, 5), height);
        self.curve([(diameter.fraction(4, 5), height), (diameter, height.fraction(2, 3)), (diameter, Length::ZERO)]);
        self.to(shank, Length::ZERO);
    }

    pub(super) fn to(&mut self, x: Length, z: Length) {
        self.legs.push([(x, z); 3]);
        self.straight.push(true);
    }

    pub(super) fn curve(&mut self, places: [(Length, Length); 3]) {
        self.legs.push(places);
        self.straight.push(false);
    }

    /// Draws both halves as one outline, white inside.
    pub(super) fn draw(self, bench: &mut Bench<'_>) {
        let mirror = |(x, z): (Length, Length)| (Length::ZERO - x, z);
        let place = |bench: &Bench<'_>, (x, z): (Length, Length)| bench.at(x, z);
        let leg =
            |straight: bool, places: [At; 3]| if straight { Leg::Straight([places[2]]) } else { Leg::Curve(places) };
        let mut legs: Vec<Leg> = Vec::with_capacity(2 * self.legs.len());
        for (leg_places, straight) in self.legs.iter().zip(&self.straight) {
            legs.push(leg(*straight, leg_places.map(|at| place(bench, at))));
        }
        // The left half runs back from the last place to the first: each leg ends where the one before it began.
        for index in (0..self.legs.len()).rev() {
            let end = if index == 0 { self.start } else { self.legs[index - 1][2] };
            let [first, second, _] = self.legs[index];
            let places = [mirror(second), mirror(first), mirror(end)];
            legs.push(leg(self.straight[index], places.map(|at| place(bench, at))));
        }
        let from = place(bench, self.start);
        bench.drawing.marks.push(Mark::Path { from, legs, closed: true, line: Line::Middle, fill: Fill::White });
    }
}
