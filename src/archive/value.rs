//! Values of the archive's lines: each type's one way of being written.
//!
//! A value that reads back differently from how it was written is refused by the record that holds it.

use crate::calendar::{Day, Moment};
use crate::ident::{Digest, SheetCode};

/// A type that stands on one line.
pub trait Value: Sized {
    /// What the form is, for messages and for the page that explains the archive.
    const FORM: &'static str;
    /// The text.
    fn written(&self) -> String;
    /// The value of a text.
    fn read(text: &str) -> Option<Self>;
}

impl Value for String {
    const FORM: &'static str = "text";
    fn written(&self) -> String {
        self.clone()
    }
    fn read(text: &str) -> Option<Self> {
        (!text.is_empty()).then(|| text.to_owned())
    }
}

impl Value for u32 {
    const FORM: &'static str = "a whole number";
    fn written(&self) -> String {
        self.to_string()
    }
    fn read(text: &str) -> Option<Self> {
        text.parse().ok()
    }
}

impl Value for bool {
    const FORM: &'static str = "yes or no";
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

impl Value for Day {
    const FORM: &'static str = "a day such as 2026-03-02";
    fn written(&self) -> String {
        self.to_string()
    }
    fn read(text: &str) -> Option<Self> {
        Self::parse(text)
    }
}

impl Value for Moment {
    const FORM: &'static str = "a time such as 2026-03-02T19:30";
    fn written(&self) -> String {
        self.in_record()
    }
    fn read(text: &str) -> Option<Self> {
        Self::parse(text)
    }
}

impl Value for SheetCode {
    const FORM: &'static str = "a sheet code";
    fn written(&self) -> String {
        self.to_string()
    }
    fn read(text: &str) -> Option<Self> {
        Self::parse(text).ok()
    }
}

impl Value for Digest {
    const FORM: &'static str = "a SHA-256 in 64 hexadecimal digits";
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
    const FORM: &'static str = "an entry's number such as 000012";
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
    const FORM: &'static str = "the name of a file in blobs and its size in bytes";
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
    const FORM: &'static str = "id = value";
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
    const FORM: &'static str = "number, name and requirement's SHA-256";
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

macro_rules! words {
    ($(#[$about:meta])* $name:ident { $($(#[$doc:meta])* $variant:ident = $word:literal,)+ } $form:literal) => {
        $(#[$about])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[$doc])* $variant,)+ }

        impl $name {
            /// Every value.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            /// The word in records and on the command line.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self { $(Self::$variant => $word,)+ }
            }
        }

        impl Value for $name {
            const FORM: &'static str = $form;
            fn written(&self) -> String {
                self.word().to_owned()
            }
            fn read(text: &str) -> Option<Self> {
                Self::ALL.iter().copied().find(|value| value.word() == text)
            }
        }
    };
}

words! {
    /// What a signature is for.
    Capacity {
        /// The work was done.
        Done = "done",
        /// A hold point was released.
        Hold = "hold",
        /// A witness was there.
        Witness = "witness",
    }
    "done, hold or witness"
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
    "stands, read-through or by-record"
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
    "found, reading, change or visit"
}

words! {
    /// How far a discrepancy stops the work.
    Stops {
        /// The step.
        Step = "step",
        /// The zone: it may not close.
        Zone = "zone",
        /// Nothing.
        Nothing = "nothing",
    }
    "step, zone or nothing"
}

words! {
    /// How much a discrepancy weighs; whoever is not sure says major.
    Weight {
        /// Neither structure nor control, fuel, landing gear.
        Minor = "minor",
        /// Everything else.
        Major = "major",
    }
    "minor or major"
}

words! {
    /// What was decided about a discrepancy.
    Disposition {
        /// It stays as it is.
        UseAsIs = "use as is",
        /// Brought back to the drawing.
        Rework = "rework",
        /// Made acceptable, though not to the drawing.
        Repair = "repair",
        /// Thrown away.
        Scrap = "scrap",
        /// Sent back.
        Return = "return to supplier",
    }
    "use as is, rework, repair, scrap or return to supplier"
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
    const FORM: &'static str = "entry, how, step";
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
