//! Figures as plain data: marks at exact places in millimetres, measured from the figure's top left corner.
//!
//! Every place is computed in whole nanometres. A figure shows what the spec says; it decides no fit, and what it
//! cannot draw to scale it says in its notes.

mod pattern;
mod section;
mod whereabouts;

pub use pattern::{Hole, Strip, StripFault, strips};
pub use section::{Body, LayerOf, Nut, SectionOf, Top, Washer, section};
pub use whereabouts::{PatternSketch, pattern_sketch};

use serde::{Serialize, Serializer};

use crate::units::{Length, Style, Unit};

/// Room for a figure on the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Space {
    /// Width.
    pub width: Length,
    /// Height.
    pub height: Length,
}

/// A figure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Drawing {
    /// Width.
    #[serde(serialize_with = "mm")]
    pub width: Length,
    /// Height.
    #[serde(serialize_with = "mm")]
    pub height: Length,
    /// Scale, as `5:1`; absent where nothing is to scale.
    pub scale: Option<String>,
    /// Caption, with the scale where there is one.
    pub caption: String,
    /// What the figure does not show to scale, and how to use it.
    pub notes: Vec<String>,
    /// The marks, those behind first.
    pub marks: Vec<Mark>,
}

/// A place in a figure: to the right and down from its top left corner.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct At(#[serde(serialize_with = "mm")] pub Length, #[serde(serialize_with = "mm")] pub Length);

/// One mark of a figure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(tag = "mark", rename_all = "kebab-case")]
pub enum Mark {
    /// A row of straight lines and curves.
    Path {
        /// Where it starts.
        from: At,
        /// Its legs in order.
        legs: Vec<Leg>,
        /// Whether it ends where it started.
        closed: bool,
        /// The line.
        line: Line,
        /// The inside.
        fill: Fill,
    },
    /// A circle.
    Circle {
        /// Centre.
        centre: At,
        /// Radius to the middle of the line.
        #[serde(serialize_with = "mm")]
        radius: Length,
        /// The line.
        line: Line,
        /// The inside.
        fill: Fill,
    },
    /// A text on one line.
    Label {
        /// The end, the middle or the start of the text's foot, as `align` says.
        at: At,
        /// The text.
        text: String,
        /// Height of the type in points.
        size: u8,
        /// Whether it is bold.
        bold: bool,
        /// Where the text lies at its place.
        align: Align,
        /// Whether it is white on black.
        inverse: bool,
        /// Room for it; a longer text is cut and ends in dots.
        #[serde(serialize_with = "mm")]
        room: Length,
    },
}

/// One leg of a path.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(untagged)]
pub enum Leg {
    /// A straight line to a place.
    Straight([At; 1]),
    /// A curve to the last place, pulled towards the first two.
    Curve([At; 3]),
}

impl Leg {
    /// Where it ends.
    #[must_use]
    pub const fn end(&self) -> At {
        match self {
            Self::Straight([end]) | Self::Curve([_, _, end]) => *end,
        }
    }
}

/// How a line is drawn.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Line {
    /// Not at all.
    None,
    /// 0.25 mm.
    Thin,
    /// 0.25 mm, long dashes.
    Dashed,
    /// 0.25 mm, dots.
    Dotted,
    /// 0.35 mm.
    Middle,
    /// 0.7 mm.
    Thick,
}

/// How an inside is filled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fill {
    /// Not at all.
    None,
    /// White.
    White,
    /// Black.
    Black,
    /// Lines that rise.
    Rising,
    /// Lines that fall.
    Falling,
    /// Lines that rise, closer.
    RisingClose,
    /// Lines that fall, closer.
    FallingClose,
}

/// Where a text lies at its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Align {
    /// Starts there.
    Start,
    /// Is centred there.
    Middle,
    /// Ends there.
    End,
}

#[expect(clippy::trivially_copy_pass_by_ref, reason = "serde passes a field by reference")]
fn mm<S: Serializer>(length: &Length, out: S) -> Result<S::Ok, S::Error> {
    out.serialize_str(&length.mm_exact())
}

/// A length in hundredths of a millimetre.
pub(crate) const fn centi(n: i64) -> Length {
    Length::from_nm(n * 10_000)
}

/// A length in millimetres.
pub(crate) const fn millimetres(n: i64) -> Length {
    Length::from_nm(n * 1_000_000)
}

/// How a text of a figure is set.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Type {
    size: u8,
    bold: bool,
    align: Align,
    inverse: bool,
    room: Length,
}

impl Type {
    /// Captions: the smallest type of the paper.
    pub(crate) const fn small(room: Length) -> Self {
        Self { size: 8, bold: false, align: Align::Start, inverse: false, room }
    }

    pub(crate) const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    pub(crate) const fn size(self, size: u8) -> Self {
        Self { size, ..self }
    }

    pub(crate) const fn centred(self) -> Self {
        Self { align: Align::Middle, ..self }
    }

    pub(crate) const fn ending(self) -> Self {
        Self { align: Align::End, ..self }
    }
}

impl Drawing {
    pub(crate) fn new(width: Length, height: Length, caption: impl Into<String>) -> Self {
        Self { width, height, scale: None, caption: caption.into(), notes: Vec::new(), marks: Vec::new() }
    }

    /// A drawing whose caption ends with its scale.
    pub(crate) fn to_scale(width: Length, height: Length, caption: &str, scale: Scale) -> Self {
        Self { scale: Some(scale.to_string()), ..Self::new(width, height, format!("{caption}, {scale}")) }
    }

    pub(crate) fn note(&mut self, text: impl Into<String>) {
        self.notes.push(text.into());
    }

    /// Whether every mark lies inside the frame.
    ///
    /// Sizes that no part has (a flush head a hundred times as wide as its rivet) reach further than the room that was
    /// reckoned for them; such a drawing is left out rather than drawn over its neighbours.
    pub(crate) fn stays_in_its_frame(&self) -> bool {
        let inside =
            |at: &At| at.0 >= Length::ZERO && at.0 <= self.width && at.1 >= Length::ZERO && at.1 <= self.height;
        self.marks.iter().all(|mark| match mark {
            Mark::Path { from, legs, .. } => inside(from) && legs.iter().all(|leg| inside(&leg.end())),
            Mark::Circle { centre, radius, .. } => {
                inside(&At(centre.0 - *radius, centre.1 - *radius))
                    && inside(&At(centre.0 + *radius, centre.1 + *radius))
            }
            Mark::Label { at, .. } => inside(at),
        })
    }

    pub(crate) fn line(&mut self, from: At, to: At, line: Line) {
        self.marks.push(Mark::Path { from, legs: vec![Leg::Straight([to])], closed: false, line, fill: Fill::None });
    }

    /// An open row of straight lines.
    pub(crate) fn lines(&mut self, places: &[At], line: Line) {
        if let Some((from, rest)) = places.split_first() {
            let legs = rest.iter().map(|at| Leg::Straight([*at])).collect();
            self.marks.push(Mark::Path { from: *from, legs, closed: false, line, fill: Fill::None });
        }
    }

    /// A closed shape with straight sides.
    pub(crate) fn shape(&mut self, corners: &[At], line: Line, fill: Fill) {
        if let Some((from, rest)) = corners.split_first() {
            let legs = rest.iter().map(|at| Leg::Straight([*at])).collect();
            self.marks.push(Mark::Path { from: *from, legs, closed: true, line, fill });
        }
    }

    /// A rectangle from its top left to its bottom right corner.
    pub(crate) fn rectangle(&mut self, from: At, to: At, line: Line, fill: Fill) {
        self.shape(&[from, At(to.0, from.1), to, At(from.0, to.1)], line, fill);
    }

    pub(crate) fn circle(&mut self, centre: At, radius: Length, line: Line, fill: Fill) {
        self.marks.push(Mark::Circle { centre, radius, line, fill });
    }

    /// A text whose foot stands at a place.
    pub(crate) fn label(&mut self, at: At, text: impl Into<String>, set: Type) {
        let Type { size, bold, align, inverse, room } = set;
        self.marks.push(Mark::Label { at, text: text.into(), size, bold, align, inverse, room });
    }

    /// What to do with the scale bars before a figure at 1:1 is trusted.
    pub(crate) const fn measure_first(style: &Style) -> &'static str {
        if style.both { "Measure both bars with a steel rule first" } else { "Measure the bar with a steel rule first" }
    }

    /// A bar of a known length in each unit of the project, to be measured before the figure is trusted; `at` is its top left corner.
    pub(crate) fn scale_bar(&mut self, at: At, style: &Style) {
        let (foot, tick) = (at.1 + centi(250), centi(250));
        let bars =
            [(Unit::Mm, millimetres(50), "50 mm", at.1, -1), (Unit::Inch, Length::from_mils(2_000), "2 in", foot, 1)];
        for (_, length, name, y, way) in bars.into_iter().filter(|(unit, ..)| style.shows(*unit)) {
            self.line(At(at.0, y), At(at.0 + length, y), Line::Middle);
            for end in [at.0, at.0 + length] {
                self.line(At(end, y), At(end, y + tick * way), Line::Thin);
            }
            self.label(At(at.0 + length + centi(100), y + centi(100 + 120 * way)), name, Type::small(millimetres(12)));
        }
    }
}

impl std::ops::Add for At {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0, self.1 + other.1)
    }
}

/// How many times larger than life a figure is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Scale {
    times: i64,
    over: i64,
}

/// Scales, largest first.
const SCALES: [Scale; 10] = [
    Scale { times: 10, over: 1 },
    Scale { times: 8, over: 1 },
    Scale { times: 6, over: 1 },
    Scale { times: 5, over: 1 },
    Scale { times: 4, over: 1 },
    Scale { times: 3, over: 1 },
    Scale { times: 2, over: 1 },
    Scale { times: 1, over: 1 },
    Scale { times: 1, over: 2 },
    Scale { times: 1, over: 5 },
];

impl Scale {
    /// 1:1.
    pub(crate) const LIFE: Self = Self { times: 1, over: 1 };

    /// The largest scale at which a width and a height fit their room.
    pub(crate) fn fitting(width: Length, height: Length, room: Space) -> Option<Self> {
        SCALES.into_iter().find(|scale| scale.of(width) <= room.width && scale.of(height) <= room.height)
    }

    /// A length at this scale.
    pub(crate) fn of(self, length: Length) -> Length {
        length.fraction(self.times, self.over)
    }
}

impl std::fmt::Display for Scale {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}:{}", self.times, self.over)
    }
}
