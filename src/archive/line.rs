//! Lines `key: value`, the whole grammar of the archive's text files.
//!
//! It writes and reads lines; which keys a record has is said in `entry`.

use std::fmt::{self, Write as _};

use super::value::Value;

/// What is wrong with a text file of the archive: the line and one sentence.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TextFault {
    /// Line, counted from one; zero where it is about the whole file.
    pub line: usize,
    /// What is wrong.
    pub message: String,
}

impl TextFault {
    pub(super) fn new(line: usize, message: impl Into<String>) -> Self {
        Self { line, message: message.into() }
    }
}

impl fmt::Display for TextFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.line == 0 { f.write_str(&self.message) } else { write!(f, "line {}: {}", self.line, self.message) }
    }
}

impl std::error::Error for TextFault {}

/// Writes a value so that it stays on its line.
fn escape(value: &str, out: &mut String) {
    for c in value.chars() {
        match c {
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            c if c.is_control() || matches!(c, '\u{2028}' | '\u{2029}' | '\u{feff}') => {
                let _ = write!(out, "\\u{{{:x}}}", u32::from(c));
            }
            c => out.push(c),
        }
    }
}

/// Reads what [`escape`] wrote.
fn unescape(written: &str) -> Option<String> {
    let mut value = String::with_capacity(written.len());
    let mut rest = written;
    while let Some(at) = rest.find('\\') {
        value.push_str(&rest[..at]);
        rest = &rest[at + 1..];
        if let Some(after) = rest.strip_prefix('\\') {
            value.push('\\');
            rest = after;
        } else if let Some(after) = rest.strip_prefix('n') {
            value.push('\n');
            rest = after;
        } else {
            let (code, after) = rest.strip_prefix("u{")?.split_once('}')?;
            value.push(char::from_u32(u32::from_str_radix(code, 16).ok()?)?);
            rest = after;
        }
    }
    value.push_str(rest);
    Some(value)
}

/// Lines in the making.
#[derive(Debug, Clone, Default)]
pub struct Lines {
    text: String,
}

impl Lines {
    /// Lines that begin with a title.
    #[must_use]
    pub fn titled(title: &str) -> Self {
        Self { text: format!("{title}\n") }
    }

    /// One line.
    pub fn line(&mut self, key: &str, value: &str) -> &mut Self {
        self.text.push_str(key);
        self.text.push_str(": ");
        escape(value, &mut self.text);
        self.text.push('\n');
        self
    }

    /// A value that is always there.
    pub fn one<T: Value>(&mut self, key: &str, value: &T) -> &mut Self {
        self.line(key, &value.written())
    }

    /// A value that may be absent: no line then.
    pub fn maybe<T: Value>(&mut self, key: &str, value: &Option<T>) -> &mut Self {
        value.iter().fold(self, |lines, value| lines.one(key, value))
    }

    /// Any number of values, a line each, in their order.
    pub fn many<T: Value>(&mut self, key: &str, values: &[T]) -> &mut Self {
        values.iter().fold(self, |lines, value| lines.one(key, value))
    }

    /// The text.
    #[must_use]
    pub fn finish(self) -> String {
        self.text
    }
}

/// Lines being read, in order.
#[derive(Debug, Clone)]
pub struct Reader<'a> {
    lines: Vec<&'a str>,
    at: usize,
}

impl<'a> Reader<'a> {
    /// Starts after the title.
    ///
    /// # Errors
    /// When the text is not UTF-8, does not end with a line feed, or has another title.
    pub fn titled(bytes: &'a [u8], title: &str) -> Result<Self, TextFault> {
        let text = std::str::from_utf8(bytes)
            .map_err(|fault| TextFault::new(line_of(bytes, fault.valid_up_to()), "this is not UTF-8 text"))?;
        let whole = text
            .strip_suffix('\n')
            .ok_or_else(|| TextFault::new(text.lines().count(), "the text ends in the middle of a line"))?;
        let lines: Vec<&str> = whole.split('\n').collect();
        if lines[0] != title {
            return Err(TextFault::new(1, format!("the first line is `{}`, expected `{title}`", shorten(lines[0]))));
        }
        Ok(Self { lines, at: 1 })
    }

    /// Number of the line that comes next, counted from one.
    #[must_use]
    pub const fn line_number(&self) -> usize {
        self.at + 1
    }

    /// The next line as key and value, without going on.
    ///
    /// # Errors
    /// When the line is not `key: value`.
    pub fn peek(&self) -> Result<Option<(&'a str, String)>, TextFault> {
        let Some((key, written)) = self.split()? else { return Ok(None) };
        Ok(Some((key, self.value(written)?)))
    }

    /// The next line as key and value as written.
    fn split(&self) -> Result<Option<(&'a str, &'a str)>, TextFault> {
        let Some(line) = self.lines.get(self.at) else { return Ok(None) };
        line.split_once(": ").map(Some).ok_or_else(|| self.fault(format!("`{}` is not `key: value`", shorten(line))))
    }

    fn value(&self, written: &str) -> Result<String, TextFault> {
        unescape(written)
            .ok_or_else(|| self.fault(format!("`{}` has a backslash that means nothing", shorten(written))))
    }

    /// Goes on to the next line.
    pub const fn advance(&mut self) {
        self.at += 1;
    }

    /// A fault at the next line.
    #[must_use]
    pub fn fault(&self, message: impl Into<String>) -> TextFault {
        TextFault::new(self.line_number(), message)
    }

    /// A value that may be absent.
    ///
    /// # Errors
    /// When the value is not of the form that its key asks for.
    pub fn maybe<T: Value>(&mut self, key: &str) -> Result<Option<T>, TextFault> {
        // Keys are compared first: a record asks for many lines that it does not have.
        let Some((_, written)) = self.split()?.filter(|(found, _)| *found == key) else { return Ok(None) };
        let value = self.value(written)?;
        let value = T::read(&value)
            .ok_or_else(|| self.fault(format!("`{key}` is `{}`, expected {}", shorten(&value), T::form())))?;
        self.advance();
        Ok(Some(value))
    }

    /// A value that is always there.
    ///
    /// # Errors
    /// When it is missing or not of the form that its key asks for.
    pub fn one<T: Value>(&mut self, key: &str) -> Result<T, TextFault> {
        let found = self.split()?.map_or("the end", |(found, _)| found);
        self.maybe(key)?.ok_or_else(|| self.fault(format!("expected `{key}`, found `{}`", shorten(found))))
    }

    /// Every value of a key, in order.
    ///
    /// # Errors
    /// When one is not of the form that its key asks for.
    pub fn many<T: Value>(&mut self, key: &str) -> Result<Vec<T>, TextFault> {
        std::iter::from_fn(|| self.maybe(key).transpose()).collect()
    }

    /// Refuses anything that is left.
    ///
    /// # Errors
    /// When a line is left.
    pub fn finish(self) -> Result<(), TextFault> {
        match self.peek()? {
            None => Ok(()),
            Some((key, _)) => Err(self.fault(format!("`{}` does not belong here", shorten(key)))),
        }
    }
}

/// Line of a byte, counted from one.
pub(super) fn line_of(bytes: &[u8], at: usize) -> usize {
    bytes[..at].split(|b| *b == b'\n').count()
}

fn shorten(text: &str) -> String {
    let short: String = text.chars().take(60).collect();
    let short = short.escape_debug().to_string();
    if text.chars().nth(60).is_some() { format!("{short} ...") } else { short }
}
