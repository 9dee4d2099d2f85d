//! What the numbers of ISO and DIN fasteners have in common: names on European boxes, `M6x30-8.8`, property classes.
//!
//! It knows no family; what a document is stands in the family's own file.

use super::number::{Parts, Undecoded};
use super::table::{Sourced, Table};
use super::thread::{Thread, metric_thread};
use crate::units::{Length, Unit};

/// What stands before `ISO` on a box where a body has taken an ISO standard over unchanged.
const ADOPTED: [&str; 5] = ["DINENISO", "BSENISO", "NFENISO", "ENISO", "DINISO"];

/// A document's name without the bodies that took it over: `DINENISO4014` is `ISO4014`.
pub(super) fn plain_document(name: String) -> String {
    let digits = ADOPTED.iter().find_map(|prefix| name.strip_prefix(prefix));
    match digits.filter(|digits| digits.starts_with(|c: char| c.is_ascii_digit())) {
        Some(digits) => format!("ISO{digits}"),
        None => name,
    }
}

/// The documents of inch-series aerospace rivets (their titles).
const INCH_SERIES: [&str; 3] = ["EN6080", "EN6081", "EN6101"];

/// What to write for a number that names no document of the tables, where it is known what it is.
pub(super) fn help_for(standard: &str, rest: &str) -> Option<&'static str> {
    if INCH_SERIES.contains(&standard) {
        return Some(
            "it is an inch series measured in millimetres: its 3.2 is the 1/8 in rivet; call that one by its MS number where \
             the drawing gives one, or give a [[fastener]] entry in build.toml",
        );
    }
    let thread = metric_thread(standard).is_some_and(|_| rest.is_empty() || rest.starts_with('X'));
    thread.then_some(
        "a thread names no part: write the standard before it, as in ISO 4014-M6x30, ISO 7040-M6 or ISO 7089-6",
    )
}

/// A row that stands for a document, as ISO 4014.
pub(super) trait Document {
    /// Its number without blanks: `ISO4014`.
    fn number(&self) -> &str;
}

/// The documents of a table.
pub(super) fn documents<D: Document>(table: &'static Table<D>) -> impl Iterator<Item = &'static str> {
    table.rows.iter().map(|row| row.number())
}

/// Reads a number of one of a table's documents; nothing for a number of another one.
pub(super) fn decode<D: Document, T>(
    table: &'static Table<D>,
    parts: &Parts,
    read: impl FnOnce(&Parts, &'static Sourced<D>) -> Result<T, Undecoded>,
) -> Option<Result<T, Undecoded>> {
    let document = table.rows.iter().find(|row| row.number() == parts.standard)?;
    Some(read(parts, document))
}

/// Thread, length and what follows: `M6X30-8.8`.
pub(super) struct Designation<'a> {
    /// The thread; none where the number names the document alone.
    pub(super) thread: Option<&'static Thread>,
    /// Length, where one is written.
    pub(super) length: Option<Length>,
    /// Property class or steel group, without its dash: `8.8`, `A2-70`.
    pub(super) class: &'a str,
}

/// Reads what follows a document; nothing where it is no such designation.
///
/// `M8X1X30` is a fine thread, `M8X30` a coarse one with a length: a number below 4 behind the diameter is a pitch.
pub(super) fn designation(rest: &str) -> Option<Designation<'_>> {
    if rest.is_empty() {
        return Some(Designation { thread: None, length: None, class: "" });
    }
    let (size, class) = rest.split_once('-').unwrap_or((rest, ""));
    let mut pieces = size.split('X');
    let diameter = pieces.next()?;
    let second = pieces.next();
    let third = pieces.next();
    if pieces.next().is_some() || !diameter.starts_with('M') {
        return None;
    }
    let is_pitch = |text: &str| millimetres(text).is_some_and(|length| length < Length::from_microns(4_000));
    let (thread, length) = match (second, third) {
        (Some(pitch), Some(length)) => (metric_thread(&format!("{diameter}X{pitch}")), Some(length)),
        (Some(pitch), None) if is_pitch(pitch) => (metric_thread(&format!("{diameter}X{pitch}")), None),
        (length, None) => (metric_thread(diameter), length),
        (None, Some(_)) => return None,
    };
    let length = match length {
        Some(text) => Some(millimetres(text)?),
        None => None,
    };
    let plain = class.len() <= 12 && class.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '.' | '-'));
    plain.then_some(())?;
    Some(Designation { thread: Some(thread?), length, class })
}

/// Millimetres as a number writes them: `30`, `1.6`.
pub(super) fn millimetres(text: &str) -> Option<Length> {
    let is_number =
        text.starts_with(|c: char| c.is_ascii_digit()) && text.bytes().all(|b| matches!(b, b'0'..=b'9' | b'.'));
    let length = is_number.then(|| Length::parse(&format!("{text} mm"), Unit::Mm).ok()).flatten()?;
    (length > Length::ZERO && length <= Length::from_microns(1_000_000)).then_some(length)
}
