//! What identifies a requirement: a digest over fields written in a fixed form, and a short code that can be spoken.
//!
//! It defines bytes and codes; which fields make up a requirement is for `archive` and `work`. It knows no other module.

mod code;
mod page;

pub use code::{CodeFault, SheetCode};
pub use page::PageCode;

use sha2::{Digest as _, Sha256};

/// The first bytes of every requirement; a change of the form below changes the number.
const OPENING: &[u8] = b"shophead requirement 1\n";

const TEXT: u8 = b't';
const NUMBER: u8 = b'n';
const NOTHING: u8 = b'0';
const OPEN: u8 = b'(';
const CLOSE: u8 = b')';

/// The digest of a requirement: SHA-256 over the bytes that a [`Requirement`] writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Digest([u8; 32]);

impl Digest {
    /// The digest of bytes as they are, for files.
    #[must_use]
    pub fn of_bytes(bytes: &[u8]) -> Self {
        Self(Sha256::digest(bytes).into())
    }

    /// A digest that was made elsewhere.
    #[must_use]
    pub const fn of_sha256(sha256: [u8; 32]) -> Self {
        Self(sha256)
    }

    /// The 32 bytes.
    #[must_use]
    pub const fn bytes(&self) -> &[u8; 32] {
        &self.0
    }

    /// Sixty-four small hexadecimal digits.
    #[must_use]
    pub fn hex(&self) -> String {
        const DIGITS: &[u8; 16] = b"0123456789abcdef";
        let digit = |nibble: u8| char::from(DIGITS[usize::from(nibble)]);
        self.0.iter().flat_map(|byte| [digit(byte >> 4), digit(byte & 15)]).collect()
    }

    /// Reads what [`Digest::hex`] writes.
    #[must_use]
    pub fn parse_hex(text: &str) -> Option<Self> {
        let plain = text.len() == 64 && text.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b));
        let mut bytes = [0; 32];
        for (at, byte) in bytes.iter_mut().enumerate() {
            *byte = plain.then(|| u8::from_str_radix(text.get(at * 2..at * 2 + 2)?, 16).ok()).flatten()?;
        }
        Some(Self(bytes))
    }

    /// The short code that is printed, spoken and typed.
    #[must_use]
    pub fn code(&self) -> SheetCode {
        SheetCode::of(self)
    }
}

/// Writes a requirement's fields in order and gives their digest.
///
/// The bytes, all of them: the opening line `shophead requirement 1` with a line feed, then one record a field.
/// A record is the name (a length and that many bytes of UTF-8), one mark, and what the mark announces:
/// `t` a text (a length and the bytes), `n` a whole number (eight bytes, two's complement, most significant
/// first), `0` nothing, `(` the fields of a group up to its `)`; the closing record has an empty name.
/// A length is four bytes, most significant first. Texts are taken as they are: no case folding, no trimming.
#[derive(Debug, Clone)]
pub struct Requirement {
    bytes: Vec<u8>,
    depth: usize,
}

impl Default for Requirement {
    fn default() -> Self {
        Self::new()
    }
}

impl Requirement {
    /// A requirement without fields.
    #[must_use]
    pub fn new() -> Self {
        Self { bytes: OPENING.to_vec(), depth: 0 }
    }

    /// A text.
    pub fn text(&mut self, name: &str, value: &str) -> &mut Self {
        self.open_record(name, TEXT);
        self.length_and_bytes(value);
        self
    }

    /// A text that may be absent.
    pub fn some_text(&mut self, name: &str, value: Option<&str>) -> &mut Self {
        match value {
            Some(value) => self.text(name, value),
            None => self.nothing(name),
        }
    }

    /// A whole number.
    pub fn number(&mut self, name: &str, value: i64) -> &mut Self {
        self.open_record(name, NUMBER);
        self.bytes.extend(value.to_be_bytes());
        self
    }

    /// A group of fields; lists are groups, one after the other under the same name.
    pub fn group(&mut self, name: &str, fields: impl FnOnce(&mut Self)) -> &mut Self {
        self.open_record(name, OPEN);
        self.depth += 1;
        fields(self);
        self.depth -= 1;
        self.open_record("", CLOSE);
        self
    }

    /// The digest of what was written.
    #[must_use]
    pub fn digest(&self) -> Digest {
        debug_assert_eq!(self.depth, 0, "a group closes itself");
        Digest::of_bytes(&self.bytes)
    }

    /// The bytes themselves, for tests that pin them.
    #[must_use]
    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    fn nothing(&mut self, name: &str) -> &mut Self {
        self.open_record(name, NOTHING);
        self
    }

    fn open_record(&mut self, name: &str, mark: u8) {
        self.length_and_bytes(name);
        self.bytes.push(mark);
    }

    fn length_and_bytes(&mut self, text: &str) {
        let length =
            u32::try_from(text.len()).expect("spec files are limited to 32 MiB, so a text's length fits four bytes");
        self.bytes.extend(length.to_be_bytes());
        self.bytes.extend(text.as_bytes());
    }
}
