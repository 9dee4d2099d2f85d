//! A failure to print: what went wrong, in which template, at which place.
//!
//! It is about templates and layout; what is wrong with the builder's data is a finding and does not come here.

use std::fmt;

use serde::{Deserialize, Serialize};

/// Why a document could not be printed; shows the place with a caret where there is one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Failure {
    /// What is wrong.
    pub message: String,
    /// Where, if anywhere.
    pub place: Option<Place>,
}

/// A place in a template, or in the Typst text that was made from it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Place {
    /// The file's name.
    pub file: String,
    /// Line, counted from one.
    pub line: usize,
    /// Column of the first wrong character, counted from one.
    pub column: usize,
    /// How many characters are wrong.
    pub width: usize,
    /// The line's text.
    pub text: String,
}

/// Longest part of a line that is shown: generated lines can be thousands of characters.
const SHOWN: usize = 100;

impl Failure {
    /// A failure without a place.
    pub fn new(message: impl Into<String>) -> Self {
        Self { message: message.into(), place: None }
    }

    /// A failure at a byte range of a file's text.
    pub(super) fn at(message: impl Into<String>, file: &str, source: &str, range: std::ops::Range<usize>) -> Self {
        Self { message: message.into(), place: Some(Place::of(file, source, range)) }
    }
}

impl Place {
    fn of(file: &str, source: &str, range: std::ops::Range<usize>) -> Self {
        let mut start = range.start.min(source.len());
        while !source.is_char_boundary(start) {
            start -= 1;
        }
        // The first line has no line end before it.
        let line_start = source[..start].rfind('\n').map_or(0, |at| at + 1);
        let line_end = source[start..].find('\n').map_or(source.len(), |at| start + at);
        let wrong_end = range.end.clamp(start, line_end);
        // A range that ends inside a letter is shown by its beginning.
        let width = source.get(start..wrong_end).map_or(1, |wrong| wrong.chars().count().max(1));
        Self {
            file: file.to_owned(),
            line: source[..start].matches('\n').count() + 1,
            column: source[line_start..start].chars().count() + 1,
            width,
            text: source[line_start..line_end].to_owned(),
        }
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.message)?;
        let Some(place) = &self.place else { return Ok(()) };
        // The caret must stay under what it shows, so a long line is cut before and after it.
        let skipped = place.column.saturating_sub(SHOWN / 2).saturating_sub(1);
        let shown: String =
            place.text.chars().skip(skipped).take(SHOWN).map(|c| if c.is_control() { ' ' } else { c }).collect();
        let indent = " ".repeat(place.column - 1 - skipped);
        let carets = "^".repeat(place.width.min(SHOWN.saturating_sub(indent.len())).max(1));
        let margin = " ".repeat(place.line.to_string().len());
        write!(f, "\n{margin}--> {}:{}:{}\n", place.file, place.line, place.column)?;
        write!(f, "{margin} |\n{} | {shown}\n{margin} | {indent}{carets}", place.line)
    }
}

impl std::error::Error for Failure {}
