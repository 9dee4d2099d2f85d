//! The keys of `pattern`: where the holes of a joint lie, as rows at a pitch or as a list of places.
//!
//! It lays out; it refuses a pattern that contradicts the joint's own count, edge or pitch.

use super::form::{Distance, Filled, Flag, SizePairs, Word};
use super::list::section;
use crate::units::{Length, Style};
use crate::words::Direction;

section! {
    /// Where the holes of a joint lie: `count` and `rows` of the joint in equal rows along an edge, or a list of
    /// points. It is seen from the manufactured-head side of the first hand of `hands`; the other hand is its mirror
    /// image.
    PatternSpec = "pattern" {
        /// Distance of the first hole from the part's end, along the edge. Needed unless `points` is given.
        end "end": may Distance => work,
        /// Distance of the first row from the edge. Default: the joint's smallest `edge`.
        edge "edge": may Distance => work,
        /// Distance from hole to hole in a row. Default: the joint's `pitch`.
        pitch "pitch": may Distance => work,
        /// Whether every second row is moved on by half a pitch.
        stagger "stagger": may Flag => work,
        /// Instead of rows, each hole as `[distance from the end, distance from the edge]`.
        points "points": any SizePairs => work,
        /// Name of the edge on the template. Default: `edge of the part`.
        edge_name "edge-name": may Filled => wording,
        /// Name of the end on the template. Default: `end`.
        end_name "end-name": may Filled => wording,
        /// What lies away from the edge on the aircraft, printed on the template with an arrow.
        across "across": may Word<Direction> => wording,
        /// What lies away from the end on the aircraft, printed on the template with an arrow.
        along "along": may Word<Direction> => wording,
    }
}

/// A hole's distances from the part's end and from its edge.
pub type HolePlace = (Length, Length);

/// Why a pattern cannot be laid out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PatternFault {
    /// One sentence.
    pub message: String,
    /// What would do.
    pub help: String,
}

fn fault(message: impl Into<String>, help: impl Into<String>) -> PatternFault {
    PatternFault { message: message.into(), help: help.into() }
}

/// What the joint itself says of its holes.
pub(super) struct Around {
    pub count: u32,
    pub rows: u32,
    /// The smallest edge distance.
    pub edge: Option<Length>,
    pub pitch: Option<Length>,
    pub row_gap: Option<Length>,
}

impl PatternSpec {
    /// The places of the holes in the order of their numbers.
    pub(super) fn places(&self, joint: &Around, style: &Style) -> Result<Vec<HolePlace>, PatternFault> {
        if let Some((across, along)) =
            self.across.zip(self.along).filter(|(one, other)| one.value.runs_with(other.value))
        {
            return Err(fault(
                format!(
                    "`across` is `{}` and `along` is `{}`: both run the same way",
                    across.value.word(),
                    along.value.word()
                ),
                "the edge and the end stand across each other: name one direction of each",
            ));
        }
        let places = if self.points.is_empty() { in_rows(joint, self) } else { as_listed(joint, self) };
        agree(joint, places?, style)
    }
}

fn as_listed(joint: &Around, pattern: &PatternSpec) -> Result<Vec<HolePlace>, PatternFault> {
    if pattern.end.is_some() || pattern.edge.is_some() || pattern.pitch.is_some() || pattern.stagger.is_some() {
        return Err(fault(
            "`points` and rows exclude each other",
            format!("leave out the other keys beside `points`: {}", ROW_KEYS.join(", ")),
        ));
    }
    let (given, wanted) = (pattern.points.len(), joint.count);
    if usize::try_from(wanted) != Ok(given) {
        return Err(fault(
            format!("{given} points are given, but `count` is {wanted}"),
            "give one point for each fastener",
        ));
    }
    Ok(pattern.points.iter().map(|point| point.value).collect())
}

const ROW_KEYS: [&str; 4] = ["end", "edge", "pitch", "stagger"];

fn in_rows(joint: &Around, pattern: &PatternSpec) -> Result<Vec<HolePlace>, PatternFault> {
    let end = pattern.end.ok_or_else(|| {
        fault("neither `end` nor `points` is given", "add `end = ...`, the first hole's distance from the part's end")
    })?;
    let edge = pattern.edge.map(|edge| edge.value).or(joint.edge);
    let edge = edge.ok_or_else(|| fault("no edge distance is given", "add `edge` here or to the joint"))?;
    let count = joint.count;
    let rows = joint.rows;
    if !count.is_multiple_of(rows) {
        return Err(fault(format!("{count} fasteners do not make {rows} equal rows"), "list the holes as `points`"));
    }
    let per_row = count / rows;
    let pitch = pattern.pitch.map(|pitch| pitch.value).or(joint.pitch);
    let pitch = match pitch {
        Some(pitch) => pitch,
        None if per_row == 1 => Length::ZERO,
        None => return Err(fault("no pitch is given", "add `pitch` here or to the joint")),
    };
    let gap = match joint.row_gap {
        Some(gap) => gap,
        None if rows == 1 => Length::ZERO,
        None => return Err(fault("no row gap is given", "add `row-gap` to the joint")),
    };
    let staggered = pattern.stagger.is_some_and(|stagger| stagger.value);
    let place = |row: u32, hole: u32| {
        let moved = if staggered && row % 2 == 1 { pitch.fraction(1, 2) } else { Length::ZERO };
        (end.value + moved + pitch * i64::from(hole), edge + gap * i64::from(row))
    };
    Ok((0..rows).flat_map(|row| (0..per_row).map(move |hole| place(row, hole))).collect())
}

/// The joint's own smallest edge distance and pitch hold for the pattern too.
fn agree(joint: &Around, places: Vec<HolePlace>, style: &Style) -> Result<Vec<HolePlace>, PatternFault> {
    let nearest = places.iter().map(|(along, across)| *along.min(across)).min();
    if let (Some(nearest), Some(edge)) = (nearest, joint.edge)
        && nearest < edge
    {
        let message = format!(
            "a hole lies {} from edge or end, but the joint's smallest `edge` is {}",
            style.length(nearest),
            style.length(edge)
        );
        return Err(fault(message, "correct whichever differs from the drawing"));
    }
    let mut sorted = places.clone();
    sorted.sort_unstable_by_key(|(along, across)| (*across, *along));
    if let Some(pair) = sorted.windows(2).find(|pair| pair[0] == pair[1]) {
        return Err(fault(
            format!("two holes lie at the same place, {} from the end", style.length(pair[0].0)),
            "give every hole its own place",
        ));
    }
    let same_row = sorted.windows(2).filter(|pair| pair[0].1 == pair[1].1).map(|pair| pair[1].0 - pair[0].0).min();
    if let (Some(closest), Some(pitch)) = (same_row, joint.pitch)
        && closest < pitch
    {
        let message = format!(
            "two holes of a row lie {} apart, but the joint's `pitch` is {}",
            style.length(closest),
            style.length(pitch)
        );
        return Err(fault(message, "correct whichever differs from the drawing"));
    }
    Ok(places)
}
