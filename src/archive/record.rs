//! One record of the ledger: an entry with its number, the digest of the record before it, and its bytes.
//!
//! The bytes are defined here and nowhere else, line by line; a record whose bytes are not exactly those that this
//! file would write for what they say is refused. It opens no file.

use super::entry::Entry;
use super::line::{Lines, Reader, TextFault, line_of};
use super::value::EntryNumber;
use crate::calendar::Moment;
use crate::ident::Digest;

/// First line of every record.
pub const TITLE: &str = "shophead record 1";

/// What stands for the digest before the first record.
const NONE_BEFORE: &str = "none";

/// A record.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Record {
    /// Its number; the first is 1.
    pub number: EntryNumber,
    /// Digest of the record before it; absent for the first.
    pub previous: Option<Digest>,
    /// When it was entered, which is not when the work was done.
    pub entered: Moment,
    /// What it says.
    pub entry: Entry,
}

impl Record {
    /// The bytes: UTF-8, line feeds, in this order: title, `number`, `previous`, `entered`, `kind`, the kind's lines, `end`.
    #[must_use]
    pub fn text(&self) -> String {
        let mut lines = Lines::titled(TITLE);
        lines.one("number", &self.number);
        lines.line("previous", &self.previous.map_or_else(|| NONE_BEFORE.to_owned(), |digest| digest.hex()));
        lines.one("entered", &self.entered);
        lines.line("kind", self.entry.kind());
        self.entry.write(&mut lines);
        lines.one("end", &self.number);
        lines.finish()
    }

    /// The digest that the next record names.
    #[must_use]
    pub fn digest(&self) -> Digest {
        Digest::of_bytes(self.text().as_bytes())
    }

    /// Name of its file: number and the first eight digits of its digest.
    #[must_use]
    pub fn file_name(&self) -> String {
        file_name(self.number, &self.digest())
    }

    /// Reads the bytes of a record.
    ///
    /// # Errors
    /// When a byte is not as [`Record::text`] would write it.
    pub fn parse(bytes: &[u8]) -> Result<Self, TextFault> {
        let mut lines = Reader::titled(bytes, TITLE)?;
        let number = lines.one("number")?;
        let previous = lines.one::<String>("previous")?;
        let previous = match previous.as_str() {
            NONE_BEFORE => None,
            hex => Some(
                Digest::parse_hex(hex)
                    .ok_or_else(|| TextFault::new(3, "`previous` is neither `none` nor a SHA-256"))?,
            ),
        };
        let entered = lines.one("entered")?;
        let kind = lines.one::<String>("kind")?;
        let entry = Entry::read(&kind, &mut lines)?;
        if lines.one::<EntryNumber>("end")? != number {
            return Err(TextFault::new(lines.line_number() - 1, "`end` names another number than `number`"));
        }
        lines.finish()?;
        let record = Self { number, previous, entered, entry };
        let text = record.text();
        let differs = text.bytes().zip(bytes).position(|(own, read)| own != *read);
        if text.as_bytes() != bytes {
            let at = differs.unwrap_or_else(|| text.len().min(bytes.len()));
            return Err(TextFault::new(
                line_of(bytes, at),
                "the line is not written in the one form that a record has",
            ));
        }
        Ok(record)
    }
}

/// Name of a record's file.
#[must_use]
pub fn file_name(number: EntryNumber, digest: &Digest) -> String {
    format!("{number}-{}.txt", &digest.hex()[..8])
}

/// Number and digits of a file's name, where it is one of a record.
#[must_use]
pub fn parse_file_name(name: &str) -> Option<(EntryNumber, &str)> {
    let (number, digits) = name.strip_suffix(".txt")?.split_once('-')?;
    let plain = |text: &str| text.bytes().all(|b| b.is_ascii_digit() || (b'a'..=b'f').contains(&b));
    if !(digits.len() == 8 && plain(digits) && number.len() >= 6 && number.bytes().all(|b| b.is_ascii_digit())) {
        return None;
    }
    let number = EntryNumber(number.parse().ok()?);
    (number.to_string() == name[..name.len() - 13]).then_some((number, digits))
}
