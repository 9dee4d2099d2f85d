//! Text that a builder wrote: its `{{ values }}` filled in, before the rest is read as Markdown.
//!
//! A filled-in value is never read as Markdown: it enters as a mark that is replaced after the Markdown was
//! understood, so `#30` or `*` in a value print as themselves, also inside code.

use std::cell::RefCell;
use std::fmt::Write;
use std::ops::Range;
use std::sync::LazyLock;

use minijinja::value::Serde;
use minijinja::{Environment, Error, ErrorKind, Output, State, UndefinedBehavior, Value};

use super::bounds::{Bounded, LONGEST_TEXT, NO_END, TEXT_FUEL, with_room};
use super::markdown;
use crate::text::{is_printable, unprintable_words};

/// What is wrong in a text, with its place as bytes of that text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextFault {
    /// First byte.
    pub offset: usize,
    /// Number of bytes.
    pub len: usize,
    /// One sentence.
    pub message: String,
}

/// A text with its values taken out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Filled {
    /// Markdown with a mark for each value.
    pub(super) markdown: String,
    /// The values, in the order of their marks.
    pub(super) values: Vec<String>,
}

/// First and last character of a mark: private-use code points, which no font of the paper prints.
pub(super) const MARK_OPEN: char = '\u{E000}';
/// See [`MARK_OPEN`].
pub(super) const MARK_CLOSE: char = '\u{E001}';

thread_local! {
    static VALUES: RefCell<Vec<String>> = const { RefCell::new(Vec::new()) };
}

static TEXTS: LazyLock<Environment<'static>> = LazyLock::new(|| {
    let mut texts = Environment::new();
    texts.set_undefined_behavior(UndefinedBehavior::Strict);
    texts.set_debug(true);
    texts.set_formatter(write_mark);
    texts.set_fuel(Some(TEXT_FUEL));
    // What it holds can be nested without end, and everything that walks it gives up.
    texts.remove_global("namespace");
    texts
});

fn write_mark(out: &mut Output<'_>, state: &mut State<'_, '_>, value: &Value) -> Result<(), Error> {
    let mut text = String::new();
    if !value.is_none() && !value.is_undefined() {
        let written = write!(Bounded::new(&mut text, LONGEST_TEXT), "{value}");
        written.map_err(|_| Error::new(ErrorKind::OutOfFuel, NO_END))?;
    }
    // Values are kept apart from what the engine writes and pays for.
    state.consume_fuel(text.len() as u64 / 64 + 1)?;
    let at = VALUES.with_borrow_mut(|values| {
        // A value that a text put together from others may hold their marks.
        let text = with_values(&text, values);
        values.push(text);
        values.len() - 1
    });
    write!(out, "{MARK_OPEN}{at}{MARK_CLOSE}").map_err(Error::from)
}

/// A piece of text with its marks replaced by what they stand for.
pub(super) fn with_values(text: &str, values: &[String]) -> String {
    let mut whole = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(MARK_OPEN) {
        whole.push_str(before);
        let (mark, after) = after.split_once(MARK_CLOSE).unwrap_or((after, ""));
        let value = mark.parse::<usize>().ok().and_then(|at| values.get(at));
        whole.push_str(value.map_or("", String::as_str));
        rest = after;
    }
    whole.push_str(rest);
    whole
}

/// Fills in the values of a text.
pub(super) fn fill(text: &str, values: &Value) -> Result<Filled, TextFault> {
    if let Some((offset, found)) = text.char_indices().find(|(_, c)| matches!(*c, MARK_OPEN | MARK_CLOSE)) {
        let message = format!("the character U+{:04X} is private and cannot be printed", u32::from(found));
        return Err(TextFault { offset, len: found.len_utf8(), message });
    }
    if text.len() > LONGEST_TEXT {
        let message = format!("the text has {} bytes; the most is {LONGEST_TEXT}", text.len());
        return Err(TextFault { offset: 0, len: text.len(), message });
    }
    let filled = with_room(text.len(), || {
        VALUES.with_borrow_mut(Vec::clear);
        let markdown = TEXTS.render_named_str("text", text, values.clone()).map_err(|error| fault_of(text, &error))?;
        Ok(Filled { markdown, values: VALUES.take() })
    });
    filled.unwrap_or_else(|failure| {
        Err(TextFault { offset: 0, len: text.len(), message: format!("the text cannot be read: {failure}") })
    })
}

fn fault_of(text: &str, error: &Error) -> TextFault {
    // An error without a place is one of the whole text.
    let range = error.range().map_or(0..text.len(), |range| whole_expression(text, range));
    let what = error.detail().map_or_else(|| error.kind().to_string(), str::to_owned);
    // The engine's place should fit its own text; an odd one leaves the name out and keeps the message.
    let written = text.get(range.clone()).unwrap_or_default();
    let message = match error.kind() {
        ErrorKind::OutOfFuel => format!("this text cannot be filled in: {NO_END}"),
        ErrorKind::UndefinedError => format!("`{written}` is not a value of this traveler"),
        _ => what,
    };
    TextFault { offset: range.start, len: range.len(), message }
}

/// The place of an error with the start of its expression: the engine names only the last parts of `joint.J1.count`.
pub(super) fn whole_expression(text: &str, range: Range<usize>) -> Range<usize> {
    let part = |c: char| c.is_alphanumeric() || matches!(c, '_' | '.' | '[' | ']' | '"' | '\'' | '-');
    let end = range.end.min(text.len());
    // As above: an odd place is the beginning of the text.
    let before = text.get(..range.start.min(end)).unwrap_or_default();
    let start = if text.get(range.start..).is_some_and(|wrong| wrong.starts_with(['.', '['])) {
        before.trim_end_matches(part).len()
    } else {
        before.len()
    };
    start..end
}

/// What in a text would not print: values that do not exist, broken `{{ }}`.
///
/// # Errors
/// With the fault and its place.
pub fn check_text(text: &str, values: &serde_json::Value) -> Result<(), TextFault> {
    let filled = fill(text, &Value::from(Serde(values)))?;
    let mut all = std::iter::once(&filled.markdown).chain(&filled.values);
    // What is written is asked where it is read; an expression can make more of it.
    let made = |own: &String| own.chars().find(|c| !matches!(*c, MARK_OPEN | MARK_CLOSE) && !is_printable(*c));
    match all.find_map(made) {
        None => Ok(()),
        Some(c) => {
            Err(TextFault { offset: 0, len: text.len(), message: format!("the text makes {}", unprintable_words(c)) })
        }
    }
}

/// A picture that a text shows.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct PictureUse {
    /// The path as the text names it, values filled in.
    pub path: String,
    /// First byte of the picture in the text as written.
    pub offset: usize,
    /// Number of bytes.
    pub len: usize,
}

/// The pictures that a text shows; none where its values cannot be filled in.
#[must_use]
pub fn pictures_of(text: &str, values: &serde_json::Value) -> Vec<PictureUse> {
    let Ok(filled) = fill(text, &Value::from(Serde(values))) else { return Vec::new() };
    let written: Vec<Range<usize>> = markdown::pictures(text).map(|(_, range)| range).collect();
    let shown: Vec<String> =
        markdown::pictures(&filled.markdown).map(|(path, _)| with_values(&path, &filled.values)).collect();
    // A value or a loop may bring a picture that is not written as one: then the whole text is its place.
    let same = written.len() == shown.len();
    let place = |at: usize| if same { written[at].clone() } else { 0..text.len() };
    shown
        .into_iter()
        .enumerate()
        .map(|(at, path)| PictureUse { path, offset: place(at).start, len: place(at).len() })
        .collect()
}
