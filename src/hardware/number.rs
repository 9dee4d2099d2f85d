//! Part numbers as text: as written, in parts, and what to say of one that is wrong.
//!
//! The ground on which every family reads its numbers; it knows no family and no table.

use super::kit::KitFastener;

/// A part number as written, and in its usual form.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Call {
    /// As the builder wrote it.
    pub text: String,
    /// In the usual form: capitals, no spaces.
    pub usual: String,
    /// The kit-supplied fastener behind it, where no standard covers it.
    pub kit: Option<KitFastener>,
}

impl Call {
    pub(super) fn of(text: &str, usual: String) -> Self {
        Self { text: text.trim().to_owned(), usual, kit: None }
    }

    pub(super) fn kit(text: &str, kit: &KitFastener) -> Self {
        Self { text: text.trim().to_owned(), usual: kit.id.clone(), kit: Some(kit.clone()) }
    }
}

/// Why a part number does not decode.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Undecoded {
    /// One sentence: which part of the number is wrong.
    pub message: String,
    /// What would decode.
    pub help: Option<String>,
    /// Key of the source that gives the number its form; none where the number names no document of the tables.
    pub source: Option<&'static str>,
}

impl std::fmt::Display for Undecoded {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.message)
    }
}

impl std::error::Error for Undecoded {}

/// A part number taken apart as far as its standard.
#[derive(Debug, Clone, Copy)]
pub(super) struct Parts<'a> {
    /// As written.
    pub(super) text: &'a str,
    /// Document, as in `MS20470`.
    pub(super) standard: &'a str,
    /// What follows the document, without a leading dash.
    pub(super) rest: &'a str,
}

impl Parts<'_> {
    /// A fault in this number; `what` follows the number in the sentence.
    pub(super) fn fault(&self, what: &str, help: impl Into<String>, source: &'static str) -> Undecoded {
        Undecoded { source: Some(source), ..self.unlisted(what, help) }
    }

    /// The fault of a number that names no document of the tables: nothing says how it is built.
    pub(super) fn unlisted(&self, what: &str, help: impl Into<String>) -> Undecoded {
        Undecoded { message: format!("`{}` {what}", clip(self.text.trim())), help: Some(help.into()), source: None }
    }
}

/// Keeps a message on one line however long the text is.
pub(super) fn clip(text: &str) -> String {
    const LONGEST: usize = 60;
    let plain = || text.chars().map(|c| if c.is_control() { ' ' } else { c });
    if text.chars().count() <= LONGEST { plain().collect() } else { plain().take(LONGEST).chain(['…']).collect() }
}

/// Splits after the leading letters.
pub(super) fn split_letters(text: &str) -> (&str, &str) {
    text.split_at(text.find(|c: char| !c.is_ascii_alphabetic()).unwrap_or(text.len()))
}

/// Splits after the leading digits.
pub(super) fn split_digits(text: &str) -> (&str, &str) {
    text.split_at(text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len()))
}

/// A whole number written with at most six digits.
pub(super) fn whole_number(digits: &str) -> Option<i64> {
    let plain = (1..=6).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| digits.parse().ok()).flatten()
}
