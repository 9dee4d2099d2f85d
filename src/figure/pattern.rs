//! Hole patterns at 1:1 as strips that serve as drill templates, with match marks where a strip goes on.
//!
//! A strip is only made where it fits the paper; it is never shrunk. It checks no edge distance: its arcs show it.

use super::{At, Drawing, Fill, Leg, Line, Mark, Scale, Space, Type, centi, millimetres};
use crate::units::{Length, Size, Style};
use crate::words::Direction;

/// A hole pattern.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Strip {
    /// What is printed on every strip: the joint, and the hand in which it is used.
    pub title: String,
    /// What is drilled through it: the first size.
    pub drill: String,
    /// What the edge is called.
    pub edge: String,
    /// What the end is called.
    pub end: String,
    /// What lies away from the edge on the aircraft.
    pub across: Option<Direction>,
    /// What lies away from the end on the aircraft.
    pub along: Option<Direction>,
    /// Holes in the order of their numbers.
    pub holes: Vec<Hole>,
    /// Final hole.
    pub hole: Size,
    /// Smallest edge distance, with the words for it: `2 D`.
    pub least: (String, Length),
    /// Edge distance that the next size would need, with its name: `5/32 in`.
    pub next: Option<(String, Length)>,
    /// Whether the pattern is seen from the other side: the other hand.
    pub mirrored: bool,
}

/// One hole of a pattern.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Hole {
    /// From the part's end.
    pub along: Length,
    /// From the part's edge.
    pub across: Length,
}

impl Strip {
    fn directions(&self) -> Option<String> {
        directions(self.across, self.along, self.mirrored)
    }
}

/// Which way a pattern lies on the aircraft: `↑ UP   OUTBOARD →`.
pub(super) fn directions(across: Option<Direction>, along: Option<Direction>, mirrored: bool) -> Option<String> {
    let up = across.map(|way| format!("↑ {}", way.word().to_uppercase()));
    let along = along.map(|way| {
        let word = way.word().to_uppercase();
        if mirrored { format!("← {word}") } else { format!("{word} →") }
    });
    let said: Vec<String> = up.into_iter().chain(along).collect();
    (!said.is_empty()).then(|| said.join("   "))
}

/// Why there is no strip.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StripFault {
    /// The pattern has no hole.
    Empty,
    /// The pattern is wider than the page's room.
    TooWide {
        /// Distance of the outermost row from the edge.
        across: Length,
    },
    /// Two holes in a row lie further apart than a strip is long.
    TooFarApart {
        /// The distance.
        gap: Length,
    },
    /// More strips than paper can be matched over.
    TooMany {
        /// How many it would take.
        strips: usize,
    },
}

impl StripFault {
    /// The fault in a sentence.
    #[must_use]
    pub fn words(&self, style: &Style) -> String {
        match self {
            Self::Empty => "No 1:1 strip: the pattern has no hole.".to_owned(),
            Self::TooWide { across } => format!(
                "No 1:1 strip: the outermost row lies {} from the edge, more than fits the page.",
                style.length(*across)
            ),
            Self::TooFarApart { gap } => {
                format!("No 1:1 strip: two holes lie {} apart, more than fits the page.", style.length(*gap))
            }
            Self::TooMany { strips } => format!(
                "No 1:1 strip: it would take {strips} strips; paper cannot be matched over more than {MOST_STRIPS}."
            ),
        }
    }
}

const MOST_STRIPS: usize = 12;

/// Names of the places where two strips meet.
const LETTERS: [u8; MOST_STRIPS] = *b"ABCDEFGHIJKL";

/// Room around the holes of a strip.
#[derive(Debug, Clone, Copy)]
struct Margins {
    /// Left and right of the outermost holes, and left of the part's end.
    side: Length,
    /// Above the outermost row: title, hole numbers, arcs.
    head: Length,
    /// Below the edge: arcs, its name, the scale bar.
    foot: Length,
    /// How far arcs reach below the edge.
    beyond: Length,
    /// The row farthest from the edge.
    across: Length,
    /// Foot of the lines of words on top.
    words: Length,
}

/// Feet of the lines on top: title, drill, directions; below them the end's name.
const TITLE: Length = centi(320);
const DRILL: Length = centi(900);
const DIRECTIONS: Length = centi(1_480);
const END: Length = centi(400);

impl Margins {
    /// The margins of a pattern that has holes, the farthest of them `across` from the edge.
    fn of(strip: &Strip, across: Length) -> Self {
        let radius = strip.next.as_ref().map_or(strip.least.1, |(_, next)| strip.least.1.max(*next));
        // A quarter circle reaches 0.71 of its radius to either side.
        let beside = radius.fraction(71, 100) + millimetres(1);
        // Without a hole there would be no strip: a nearest one at the edge itself leaves the most room.
        let nearest = |pick: fn(&Hole) -> Length| strip.holes.iter().map(pick).min().unwrap_or(Length::ZERO);
        let past = |distance: Length| (radius - distance).max(Length::ZERO);
        let beyond = past(nearest(|hole| hole.across));
        let words = if strip.directions().is_none() { DRILL } else { DIRECTIONS } + END;
        Self {
            side: beside.max(past(nearest(|hole| hole.along)) + millimetres(1)).max(millimetres(8)),
            head: words + (beside + centi(130)).max(centi(830)),
            foot: centi(1_430) + beyond,
            beyond,
            across,
            words,
        }
    }
}

/// The strips of a pattern in order, each a figure of its own.
///
/// # Errors
/// Says why there are none where the pattern does not fit the room at 1:1.
pub fn strips(strip: &Strip, room: Space, style: &Style) -> Result<Vec<Drawing>, StripFault> {
    let across = strip.holes.iter().map(|hole| hole.across).max().ok_or(StripFault::Empty)?;
    let margins = Margins::of(strip, across);
    if margins.head + across + margins.foot > room.height {
        return Err(StripFault::TooWide { across });
    }
    let pieces = cut(strip, room.width - margins.side * 2)?;
    if pieces.len() > MOST_STRIPS {
        return Err(StripFault::TooMany { strips: pieces.len() });
    }
    Ok((0..pieces.len()).map(|index| Piece::of(strip, &pieces, index, margins, (room.width, style)).draw()).collect())
}

/// Cuts the pattern at holes: the last hole of a piece is the first of the next, so that strips are matched hole on hole and
/// no error of paper adds up. Each piece takes as many holes as fit.
fn cut(strip: &Strip, usable: Length) -> Result<Vec<(Length, Length)>, StripFault> {
    let mut places: Vec<Length> = strip.holes.iter().map(|hole| hole.along).collect();
    places.sort_unstable();
    places.dedup();
    let (mut pieces, mut from, mut next) = (Vec::new(), Length::ZERO, 0);
    loop {
        let fits = places[next..].iter().take_while(|place| **place - from <= usable).count();
        let to = match fits {
            0 => return Err(StripFault::TooFarApart { gap: places[next] - from }),
            fits => places[next + fits - 1],
        };
        pieces.push((from, to));
        next += fits;
        if next == places.len() {
            return Ok(pieces);
        }
        from = to;
    }
}

/// One strip while it is drawn.
struct Piece<'a> {
    strip: &'a Strip,
    from: Length,
    to: Length,
    index: usize,
    count: usize,
    edge: Length,
    margins: Margins,
    room: Length,
    style: &'a Style,
    drawing: Drawing,
}

impl<'a> Piece<'a> {
    fn of(
        strip: &'a Strip,
        pieces: &[(Length, Length)],
        index: usize,
        margins: Margins,
        (room, style): (Length, &'a Style),
    ) -> Self {
        let (from, to) = pieces[index];
        let width = to - from + margins.side * 2;
        let edge = margins.head + margins.across;
        // The scale bar and its name need their room even where the strip is short.
        let drawing = Drawing::to_scale(width.max(millimetres(75)), edge + margins.foot, "Hole pattern", Scale::LIFE);
        Self { strip, from, to, index, count: pieces.len(), edge, margins, room, style, drawing }
    }

    /// Where a place of the pattern lies on the strip.
    fn at(&self, along: Length, across: Length) -> At {
        // The edge is below, so that `across` runs up the page; the other hand is the same pattern with left and right changed.
        let x = self.margins.side + along - self.from;
        let x = if self.strip.mirrored { self.drawing.width - x } else { x };
        At(x, self.edge - across)
    }

    fn draw(mut self) -> Drawing {
        self.draw_edges();
        let inside = |hole: &Hole| (self.from..=self.to).contains(&hole.along);
        let shown: Vec<(usize, Hole)> =
            self.strip.holes.iter().copied().enumerate().filter(|(_, hole)| inside(hole)).collect();
        for (number, hole) in &shown {
            self.draw_hole(*number + 1, *hole);
            self.draw_reach(*hole);
        }
        self.draw_matches();
        self.draw_words(&shown);
        self.drawing
    }

    /// The edge of the part along the foot, running a little past the holes; on the first strip the part's end too.
    fn draw_edges(&mut self) {
        let first = self.index == 0;
        let left = if first { Length::ZERO } else { self.from - centi(600) };
        let right = self.to + centi(600);
        let (from, to) = (self.at(left, Length::ZERO), self.at(right, Length::ZERO));
        self.drawing.line(from, to, Line::Thick);
        if first {
            let foot = self.at(Length::ZERO, Length::ZERO);
            self.drawing.line(foot, At(foot.0, self.margins.words), Line::Thick);
            let set = Type::small(self.drawing.width.fraction(1, 2)).bold();
            let (edge, set) =
                if self.strip.mirrored { (self.drawing.width, set.ending()) } else { (Length::ZERO, set) };
            self.drawing.label(At(edge, self.margins.words - centi(80)), self.strip.end.to_uppercase(), set);
        }
    }

    /// Centre mark, final hole and number.
    fn draw_hole(&mut self, number: usize, hole: Hole) {
        let centre = self.at(hole.along, hole.across);
        let radius = self.strip.hole.length.fraction(1, 2);
        // The cross stands out of the hole's circle, so that the centre is still seen when the hole is punched.
        let arm = radius + centi(150);
        self.drawing.line(At(centre.0 - arm, centre.1), At(centre.0 + arm, centre.1), Line::Thin);
        self.drawing.line(At(centre.0, centre.1 - arm), At(centre.0, centre.1 + arm), Line::Thin);
        self.drawing.circle(centre, radius, Line::Thin, Fill::None);
        // The number stands up and right of the circle: three quarters of the radius each way is just outside it.
        let foot = At(centre.0 + radius.fraction(3, 4) + centi(30), centre.1 - radius.fraction(3, 4) - centi(30));
        self.drawing.label(foot, number.to_string(), Type::small(millimetres(8)));
    }

    /// Arcs that show the edge distance towards the edge, and at the first place towards the end.
    fn draw_reach(&mut self, hole: Hole) {
        // Only the hole nearest to the edge of its column, and nearest to the end of its row, can come too close.
        let nearest = self.strip.holes.iter().filter(|other| other.along == hole.along).map(|other| other.across).min();
        let first = self.strip.holes.iter().filter(|other| other.across == hole.across).map(|other| other.along).min();
        let next = self.strip.next.as_ref().map(|(_, radius)| (*radius, Line::Dotted));
        for (radius, line) in [Some((self.strip.least.1, Line::Dashed)), next].into_iter().flatten() {
            if nearest == Some(hole.across) {
                self.draw_arc(hole, radius, false, line);
            }
            if first == Some(hole.along) && self.index == 0 {
                self.draw_arc(hole, radius, true, line);
            }
        }
    }

    /// A quarter of a circle towards the edge or the end, as one curve.
    fn draw_arc(&mut self, hole: Hole, radius: Length, to_end: bool, line: Line) {
        // A quarter circle is drawn by a curve to 0.03 per cent with pulls of 0.55228 r along its ends' tangents; in
        // millionths of the radius from the centre: the ends 0.707107, the pulls 0.316583 and 1.097631.
        let part = |n: i64| radius.fraction(n, 1_000_000);
        let place = |side: i64, down: i64| {
            let (along, across) = if to_end { (part(down), part(side)) } else { (part(side), part(down)) };
            self.at(hole.along - along, hole.across - across)
        };
        let from = place(-707_107, 707_107);
        let legs = vec![Leg::Curve([place(-316_583, 1_097_631), place(316_583, 1_097_631), place(707_107, 707_107)])];
        self.drawing.marks.push(Mark::Path { from, legs, closed: false, line, fill: Fill::None });
    }

    /// Where this strip meets its neighbours: a line through the shared hole, with the letter of the match.
    fn draw_matches(&mut self) {
        let before = (self.index > 0).then(|| (self.from, self.index - 1));
        let after = (self.index + 1 < self.count).then_some((self.to, self.index));
        for (along, match_index) in [before, after].into_iter().flatten() {
            let foot = self.at(along, Length::ZERO);
            let head = At(foot.0, self.margins.words + centi(20));
            self.drawing.line(At(foot.0, foot.1 + centi(300)), head, Line::Dashed);
            for (tip, way) in [(foot, 1), (head, -1)] {
                let y = tip.1 + centi(200) * way;
                self.drawing.shape(
                    &[tip, At(tip.0 - centi(120), y), At(tip.0 + centi(120), y)],
                    Line::None,
                    Fill::Black,
                );
            }
            let letter = char::from(LETTERS[match_index % LETTERS.len()]);
            self.drawing.label(
                At(foot.0 + centi(150), foot.1 + centi(370)),
                format!("match {letter}"),
                Type::small(millimetres(20)).bold(),
            );
        }
    }

    fn draw_words(&mut self, shown: &[(usize, Hole)]) {
        let range = hole_runs(shown.iter().map(|(index, _)| index + 1));
        let of = if self.count > 1 { format!(", strip {} of {}", self.index + 1, self.count) } else { String::new() };
        let title = format!("{}{of}: {range}", self.strip.title);
        self.drawing.label(At(Length::ZERO, TITLE), title, Type::small(self.room).bold().size(9));
        self.drawing.label(At(Length::ZERO, DRILL), self.strip.drill.clone(), Type::small(self.room).bold().size(13));
        if let Some(words) = self.strip.directions() {
            self.drawing.label(At(Length::ZERO, DIRECTIONS), words, Type::small(self.room).bold().size(13));
        }
        let middle = self.at((self.from + self.to).fraction(1, 2), Length::ZERO);
        self.drawing.label(
            At(middle.0, middle.1 + self.margins.beyond + centi(480)),
            self.strip.edge.to_uppercase(),
            Type::small(self.drawing.width).bold().centred(),
        );
        self.drawing.scale_bar(At(self.margins.side, self.edge + self.margins.beyond + centi(840)), self.style);
        if self.index == 0 {
            self.write_notes();
        }
    }

    fn write_notes(&mut self) {
        let first = Drawing::measure_first(self.style);
        let which = if self.style.both { "either" } else { "it" };
        self.drawing
            .note(format!("{first}; where {which} is off by more than the rule's finest line, do not use the strip."));
        let (words, least) = &self.strip.least;
        self.drawing.note(format!(
            "Dashed arc: {} ({words}), the smallest edge distance. It may touch the edge, not cross it.",
            self.style.length(*least)
        ));
        if let Some((name, next)) = &self.strip.next {
            self.drawing
                .note(format!("Dotted arc: {}, what the next size ({name}) would need.", self.style.length(*next)));
        }
        if self.count > 1 {
            self.drawing
                .note("Lay strips over each other so that the hole and the edge at equal letters lie on each other.");
        }
    }
}

/// `holes 1 to 8, 19 to 26`; a pattern whose numbers do not run along the strip is only counted.
fn hole_runs(numbers: impl Iterator<Item = usize>) -> String {
    const MOST_RUNS: usize = 4;
    let mut runs: Vec<(usize, usize)> = Vec::new();
    let mut count = 0;
    for number in numbers {
        count += 1;
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == number => *last = number,
            _ => runs.push((number, number)),
        }
    }
    let run =
        |(first, last): &(usize, usize)| if first == last { first.to_string() } else { format!("{first} to {last}") };
    match (count, runs.len()) {
        (1, _) => format!("hole {}", runs.iter().map(run).collect::<String>()),
        (_, n) if n <= MOST_RUNS => format!("holes {}", runs.iter().map(run).collect::<Vec<_>>().join(", ")),
        _ => format!("{count} holes"),
    }
}
