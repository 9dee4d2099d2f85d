//! Files that were read: their text, spans in it, and the line and column of a byte.
//!
//! It holds text; it opens nothing and understands nothing of what the text says.

mod glyphs;

use std::borrow::Cow;

/// A file among [`Files`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FileId(u32);

/// A range of bytes of one file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The file.
    pub file: FileId,
    /// First byte.
    pub start: usize,
    /// First byte after.
    pub end: usize,
}

/// A value and the place where it was written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Spanned<T> {
    /// The value.
    pub value: T,
    /// Where it stands.
    pub span: Span,
}

impl<T> Spanned<T> {
    /// The same place with another value.
    pub fn map<U>(self, change: impl FnOnce(T) -> U) -> Spanned<U> {
        Spanned { value: change(self.value), span: self.span }
    }

    /// A borrow of the value at the same place.
    pub const fn as_ref(&self) -> Spanned<&T> {
        Spanned { value: &self.value, span: self.span }
    }
}

#[derive(Debug, Clone)]
struct File {
    path: String,
    text: String,
    line_starts: Vec<usize>,
}

/// All files of one run, in the order in which they were added.
#[derive(Debug, Clone, Default)]
pub struct Files {
    files: Vec<File>,
}

/// Line and column, both counted from one; the column counts characters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Position {
    /// Line.
    pub line: usize,
    /// Column.
    pub column: usize,
}

impl Files {
    /// Adds a file under the path by which messages name it.
    ///
    /// # Panics
    /// When four thousand million files were added.
    pub fn add(&mut self, path: impl Into<String>, text: impl Into<String>) -> FileId {
        let text = text.into();
        let breaks = text.bytes().enumerate().filter(|(_, b)| *b == b'\n').map(|(at, _)| at + 1);
        let line_starts = std::iter::once(0).chain(breaks).collect();
        self.files.push(File { path: path.into(), text, line_starts });
        FileId(u32::try_from(self.files.len() - 1).expect("a run reads fewer files than a u32 counts"))
    }

    fn file(&self, id: FileId) -> &File {
        &self.files[id.0 as usize]
    }

    /// The path by which messages name the file.
    #[must_use]
    pub fn path(&self, id: FileId) -> &str {
        &self.file(id).path
    }

    /// The file's text.
    #[must_use]
    pub fn text(&self, id: FileId) -> &str {
        &self.file(id).text
    }

    /// Number of files.
    #[must_use]
    pub fn len(&self) -> usize {
        self.files.len()
    }

    /// Whether nothing was read.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.files.is_empty()
    }

    /// The text of a span; empty where the span does not fit the file.
    #[must_use]
    pub fn slice(&self, span: Span) -> &str {
        self.text(span.file).get(span.start..span.end).unwrap_or_default()
    }

    /// Line and column of a span's start.
    #[must_use]
    pub fn position(&self, span: Span) -> Position {
        let file = self.file(span.file);
        let at = span.start.min(file.text.len());
        let line = file.line_starts.partition_point(|start| *start <= at);
        let start = file.line_starts[line - 1];
        // A place inside a letter counts as the beginning of its line.
        Position { line, column: file.text.get(start..at).map_or(1, |head| head.chars().count() + 1) }
    }

    /// The first byte of the line in which `at` stands, and the first byte after its text.
    #[must_use]
    pub fn line_bounds(&self, id: FileId, at: usize) -> (usize, usize) {
        let file = self.file(id);
        let line = file.line_starts.partition_point(|start| *start <= at.min(file.text.len()));
        let start = file.line_starts[line - 1];
        let end = file.line_starts.get(line).map_or(file.text.len(), |next| next - 1);
        (start, end)
    }
}

/// The first character that the paper's fonts cannot print, with its byte.
#[must_use]
pub fn unprintable(text: &str) -> Option<(usize, char)> {
    text.char_indices().find(|(_, c)| !is_printable(*c))
}

/// What is wrong with a character that the paper's fonts cannot print.
#[must_use]
pub fn unprintable_words(c: char) -> String {
    format!("U+{:04X}, which the paper's fonts cannot print", u32::from(c))
}

/// Most letters of one text that is recorded: more than a page has room for.
pub const MOST_LETTERS: usize = 4_000;

/// What is wrong with a text that is too long to be recorded.
#[must_use]
pub fn too_long(text: &str) -> Option<String> {
    let letters = text.chars().count();
    (letters > MOST_LETTERS).then(|| format!("{letters} letters; the most is {MOST_LETTERS}"))
}

/// What stands on paper in the place of a character that the fonts cannot print: its code in brackets, `[U+2705]`.
#[must_use]
pub fn stand_in(c: char) -> String {
    format!("[U+{:04X}]", u32::from(c))
}

/// Whether a character is printed as it is, or is white space that paper makes its own.
#[must_use]
pub fn is_printable(c: char) -> bool {
    matches!(c, '\n' | '\t' | '\r') || has_glyph(c)
}

/// A text as a terminal may show it: of control characters only line feeds and tabs go through, the others are spelled
/// out, `\u{1b}`, and so is what turns the direction of writing round.
#[must_use]
pub fn without_controls(text: &str) -> Cow<'_, str> {
    let turns = |c: char| matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let is_raw = |c: char| c.is_control() && !matches!(c, '\n' | '\t') || turns(c);
    if !text.contains(is_raw) {
        return Cow::Borrowed(text);
    }
    text.chars().map(|c| if is_raw(c) { c.escape_unicode().to_string() } else { c.to_string() }).collect()
}

fn has_glyph(c: char) -> bool {
    let code = u32::from(c);
    let after = glyphs::GLYPHS.partition_point(|(first, _)| *first <= code);
    after > 0 && code <= glyphs::GLYPHS[after - 1].1
}
