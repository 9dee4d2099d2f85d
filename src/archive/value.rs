//! Values of the archive's lines: each type's one way of being written.
//!
//! A value that reads back differently from how it was written is refused by the record that holds it.

use crate::calendar::{Day, Moment};
use crate::ident::{Digest, SheetCode};
use crate::words::{Word, words};

pub use crate::words::{Capacity, Class, Disposition, Stops};

/// A type that stands on one line.
pub trait Value: Sized {
    /// What the form is, for messages and for the page that explains the archive.
    fn form() -> String;
    /// The text.
    fn written(&self) -> String;
    /// The value of a text.
    fn read(text: &str) -> Option<Self>;
}

impl Value for String {
    fn form() -> String {
        "text".to_owned()
    }
    fn written(&self) -> String {
        self.clone()
    }
    fn read(text: &str) -> Option<Self> {
        (!text.is_empty()).then(|| text.to_owned())
    }
}

impl Value for u32 {
    fn form() -> String {
        "a whole number".to_owned()
    }
    fn written(&self) -> String {
        self.to_string()
    }
    fn read(text: &str) -> Option<Self> {
        text.parse().ok()
    }
}

impl Value for bool {
    fn form() -> String {
        "yes or no".to_owned()
    }
    fn written(&self) -> String {
        if *self { "yes".into() } else { "no".into() }
    }
    fn read(text: &str) -> Option<Self> {
        match text {
            "yes" => Some(true),
            "no" => Some(false),
            _ => None,
        }
    }
}

impl<T: Word> Value for T {
    fn form() -> String {
        match Self::WORDS {
            [all @ .., last] if !all.is_empty() => format!("{} or {last}", all.join(", ")),
            words => words.join(", "),
        }
    }
    fn written(&self) -> String {
        self.word().to_owned()
    }
    fn read(text: &str) -> Option<Self> {
        Self::parse(text)
    }
}

impl Value for Day {
    fn form() -> String {
        "a day such as 2026-03-02".to_owned()
    }
    fn written(&self) -> String {
        self.to_string()
    }
    fn read(text: &str) -> Option<Self> {
        Self::parse(text)
    }
}

impl Value for Moment {
    fn form() -> String {
        "a time such as 2026-03-02T19:30".to_owned()
    }
    fn written(&self) -> String {
        self.in_record()
    }
    fn read(text: &str) -> Option<Self> {
        Self::parse(text)
    }
}

impl Value for SheetCode {
    fn form() -> String {
        "a sheet code".to_owned()
    }
    fn written(&self) -> String {
        self.to_string()
    }
    fn read(text: &str) -> Option<Self> {
        Self::parse(text).ok()
    }
}

impl Value for Digest {
    fn form() -> String {
        "a SHA-256 in 64 hexadecimal digits".to_owned()
    }
    fn written(&self) -> String {
        self.hex()
    }
    fn read(text: &str) -> Option<Self> {
        Self::parse_hex(text)
    }
}

/// Number of an entry of the ledger, counted from one, written with six digits at least.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EntryNumber(pub u32);

impl std::fmt::Display for EntryNumber {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:06}", self.0)
    }
}

impl Value for EntryNumber {
    fn form() -> String {
        "an entry's number such as 000012".to_owned()
    }
    fn written(&self) -> String {
        self.to_string()
    }
    fn read(text: &str) -> Option<Self> {
        let plain = text.len() >= 6 && text.bytes().all(|b| b.is_ascii_digit());
        plain.then(|| text.parse().ok().map(Self)).flatten()
    }
}

/// A file of the archive: its digest, the ending of its name, its size.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct BlobRef {
    /// SHA-256 of the bytes.
    pub digest: Digest,
    /// Ending of the file's name, small letters and digits.
    pub ending: String,
    /// Number of bytes.
    pub size: u64,
}

impl BlobRef {
    /// The reference to bytes; an ending that is not one to eight letters and digits becomes `bin`.
    #[must_use]
    pub fn of(bytes: &[u8], ending: &str) -> Self {
        let ending = ending.to_ascii_lowercase();
        let ending = if is_ending(&ending) { ending } else { "bin".to_owned() };
        Self { digest: Digest::of_bytes(bytes), ending, size: bytes.len() as u64 }
    }

    /// Name of the file among the blobs.
    #[must_use]
    pub fn file_name(&self) -> String {
        format!("{}.{}", self.digest.hex(), self.ending)
    }
}

fn is_ending(text: &str) -> bool {
    (1..=8).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit())
}

impl Value for BlobRef {
    fn form() -> String {
        "the name of a file in blobs and its size in bytes".to_owned()
    }
    fn written(&self) -> String {
        format!("{} {}", self.file_name(), self.size)
    }
    fn read(text: &str) -> Option<Self> {
        let (name, size) = text.split_once(' ')?;
        let (digest, ending) = name.split_once('.')?;
        let digest = Digest::parse_hex(digest)?;
        is_ending(ending).then_some(())?;
        Some(Self { digest, ending: ending.to_owned(), size: size.parse().ok()? })
    }
}

/// A value that was read at the bench: what was measured, and the number as written on the paper.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Reading {
    /// Id of the record in the spec.
    pub id: String,
    /// As written, with its unit only if the spec gives none.
    pub value: String,
}

impl Value for Reading {
    fn form() -> String {
        "id = value".to_owned()
    }
    fn written(&self) -> String {
        format!("{} = {}", self.id, self.value)
    }
    fn read(text: &str) -> Option<Self> {
        let (id, value) = text.split_once(" = ")?;
        let full = !id.is_empty() && !value.is_empty();
        full.then(|| Self { id: id.to_owned(), value: value.to_owned() })
    }
}

/// One step of an issued sheet: its number on paper, its name and the digest of what it requires.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct IssuedStep {
    /// Number on paper.
    pub number: u32,
    /// Stable name.
    pub id: String,
    /// Digest of the requirement.
    pub requirement: Digest,
}

impl Value for IssuedStep {
    fn form() -> String {
        "number, name and requirement's SHA-256".to_owned()
    }
    fn written(&self) -> String {
        format!("{:03} {} {}", self.number, self.id, self.requirement.hex())
    }
    fn read(text: &str) -> Option<Self> {
        let (number, rest) = text.split_once(' ')?;
        let (id, digest) = rest.rsplit_once(' ')?;
        let plain = number.len() >= 3 && number.bytes().all(|b| b.is_ascii_digit()) && !id.is_empty();
        plain.then_some(())?;
        Some(Self { number: number.parse().ok()?, id: id.to_owned(), requirement: Digest::parse_hex(digest)? })
    }
}

words! {
    /// How an earlier signature goes on under a new issue.
    Carry {
        /// It stands.
        Stands = "stands",
        /// It stands after one read-through of the change note.
        ReadThrough = "read-through",
        /// It stands because the recorded number meets the new limit.
        ByRecord = "by-record",
    }
}

words! {
    /// How a discrepancy came up.
    Cause {
        /// Somebody found it.
        Found = "found",
        /// A reading lies outside its tolerance.
        Reading = "reading",
        /// A change of the plans met work that was done.
        Change = "change",
        /// A visitor found it.
        Visit = "visit",
    }
}

/// A signature that goes on under a new issue.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Carried {
    /// The signature's entry.
    pub entry: EntryNumber,
    /// Why it goes on.
    pub how: Carry,
    /// The step on the new sheet.
    pub step: String,
}

impl Value for Carried {
    fn form() -> String {
        "entry, how, step".to_owned()
    }
    fn written(&self) -> String {
        format!("{} {} {}", self.entry, self.how.word(), self.step)
    }
    fn read(text: &str) -> Option<Self> {
        let (entry, rest) = text.split_once(' ')?;
        let (how, step) = rest.split_once(' ')?;
        (!step.is_empty()).then_some(())?;
        Some(Self { entry: EntryNumber::read(entry)?, how: Carry::read(how)?, step: step.to_owned() })
    }
}

/// A page of an earlier print that stays in the packet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct KeptPage {
    /// The print.
    pub print: SheetCode,
    /// The page in that print, counted from one.
    pub page: u32,
}

impl Value for KeptPage {
    fn form() -> String {
        "print and page".to_owned()
    }
    fn written(&self) -> String {
        format!("{} {}", self.print, self.page)
    }
    fn read(text: &str) -> Option<Self> {
        let (print, page) = text.split_once(' ')?;
        let page = page.parse().ok().filter(|page| *page > 0)?;
        Some(Self { print: SheetCode::parse(print).ok()?, page })
    }
}
