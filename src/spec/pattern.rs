//! Where the holes of a joint lie: rows at a pitch, or a list of places.
//!
//! It reads and lays out; it refuses a pattern that contradicts the joint's own count, edge or pitch.

use super::read::Table;
use super::section::JointSpec;
use crate::text::{Span, Spanned};
use crate::units::{Length, Size};

/// `pattern = { .. }`.
#[derive(Debug, Clone)]
pub struct PatternSpec {
    /// The whole table.
    pub span: Span,
    /// Distance of the first hole from the part's end.
    pub end: Option<Spanned<Size>>,
    /// Distance of the first row from the edge; absent: the joint's smallest edge distance.
    pub edge: Option<Spanned<Size>>,
    /// Distance from hole to hole in a row; absent: the joint's.
    pub pitch: Option<Spanned<Size>>,
    /// Whether every second row is moved on by half a pitch.
    pub stagger: Option<Spanned<bool>>,
    /// Each hole's distances from the end and from the edge, instead of rows.
    pub points: Vec<Spanned<(Size, Size)>>,
}

/// A hole's distances from the part's end and from its edge.
pub type HolePlace = (Length, Length);

pub(super) fn read(table: &mut Table<'_, '_>) -> PatternSpec {
    PatternSpec {
        span: table.span(),
        end: table.size("end"),
        edge: table.size("edge"),
        pitch: table.size("pitch"),
        stagger: table.flag("stagger"),
        points: table.size_pairs("points"),
    }
}

/// Reports a pattern that contradicts its joint.
pub(super) fn check(table: &mut Table<'_, '_>, joint: &JointSpec) {
    if let Some(Err(fault)) = hole_places(joint) {
        let span = joint.pattern.as_ref().map_or(joint.id.span, |pattern| pattern.span);
        table.reading.invalid(span, format!("`pattern`: {}", fault.message)).help = Some(fault.help);
    }
}

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

/// The places of a joint's holes in the order of their numbers, where it has a pattern.
#[must_use]
pub fn hole_places(joint: &JointSpec) -> Option<Result<Vec<HolePlace>, PatternFault>> {
    let pattern = joint.pattern.as_ref()?;
    let laid_out = if pattern.points.is_empty() { in_rows(joint, pattern) } else { as_listed(joint, pattern) };
    Some(laid_out.and_then(|places| agree(joint, places)))
}

fn as_listed(joint: &JointSpec, pattern: &PatternSpec) -> Result<Vec<HolePlace>, PatternFault> {
    if pattern.end.is_some() || pattern.edge.is_some() || pattern.pitch.is_some() || pattern.stagger.is_some() {
        return Err(fault(
            "`points` and rows exclude each other",
            format!("leave out the other keys beside `points`: {}", ROW_KEYS.join(", ")),
        ));
    }
    let (given, wanted) = (pattern.points.len(), joint.count.value);
    if usize::try_from(wanted) != Ok(given) {
        return Err(fault(
            format!("{given} points are given, but `count` is {wanted}"),
            "give one point for each fastener",
        ));
    }
    Ok(pattern.points.iter().map(|point| (point.value.0.length, point.value.1.length)).collect())
}

const ROW_KEYS: [&str; 4] = ["end", "edge", "pitch", "stagger"];

fn in_rows(joint: &JointSpec, pattern: &PatternSpec) -> Result<Vec<HolePlace>, PatternFault> {
    let end = pattern.end.ok_or_else(|| {
        fault("neither `end` nor `points` is given", "add `end = ...`, the first hole's distance from the part's end")
    })?;
    let edge = pattern.edge.or_else(|| joint.edge.iter().copied().min_by_key(|edge| edge.value.length));
    let edge = edge.ok_or_else(|| fault("no edge distance is given", "add `edge` here or to the joint"))?;
    let (count, rows) = (joint.count.value, joint.rows.map_or(1, |rows| rows.value));
    if count % rows != 0 {
        return Err(fault(format!("{count} fasteners do not make {rows} equal rows"), "list the holes as `points`"));
    }
    let per_row = count / rows;
    let pitch = pattern.pitch.or(joint.pitch).map(|pitch| pitch.value.length);
    let pitch = match pitch {
        Some(pitch) => pitch,
        None if per_row == 1 => Length::ZERO,
        None => return Err(fault("no pitch is given", "add `pitch` here or to the joint")),
    };
    let gap = match joint.row_gap {
        Some(gap) => gap.value.length,
        None if rows == 1 => Length::ZERO,
        None => return Err(fault("no row gap is given", "add `row-gap` to the joint")),
    };
    let staggered = pattern.stagger.is_some_and(|stagger| stagger.value);
    let place = |row: u32, hole: u32| {
        let moved = if staggered && row % 2 == 1 { pitch.fraction(1, 2) } else { Length::ZERO };
        (end.value.length + moved + pitch * i64::from(hole), edge.value.length + gap * i64::from(row))
    };
    Ok((0..rows).flat_map(|row| (0..per_row).map(move |hole| place(row, hole))).collect())
}

/// The joint's own smallest edge distance and pitch hold for the pattern too.
fn agree(joint: &JointSpec, places: Vec<HolePlace>) -> Result<Vec<HolePlace>, PatternFault> {
    let nearest = places.iter().map(|(along, across)| *along.min(across)).min();
    let edge = joint.edge.iter().map(|edge| edge.value.length).min();
    if let (Some(nearest), Some(edge)) = (nearest, edge)
        && nearest < edge
    {
        let message = format!(
            "a hole lies {} from edge or end, but the joint's smallest `edge` is {}",
            nearest.both(),
            edge.both()
        );
        return Err(fault(message, "correct whichever differs from the drawing"));
    }
    let mut sorted = places.clone();
    sorted.sort_unstable_by_key(|(along, across)| (*across, *along));
    if let Some(pair) = sorted.windows(2).find(|pair| pair[0] == pair[1]) {
        return Err(fault(
            format!("two holes lie at the same place, {} from the end", pair[0].0.both()),
            "give every hole its own place",
        ));
    }
    let same_row = sorted.windows(2).filter(|pair| pair[0].1 == pair[1].1).map(|pair| pair[1].0 - pair[0].0).min();
    if let (Some(closest), Some(pitch)) = (same_row, joint.pitch.map(|pitch| pitch.value.length))
        && closest < pitch
    {
        let message =
            format!("two holes of a row lie {} apart, but the joint's `pitch` is {}", closest.both(), pitch.both());
        return Err(fault(message, "correct whichever differs from the drawing"));
    }
    Ok(places)
}
