//! One file of the ledger: a posting, the entries that were recorded in one go, after the digest of the file before.
//!
//! The bytes are defined here and nowhere else, line by line; a posting whose bytes are not exactly those that this
//! file would write for what they say is refused. It opens no file.

use super::entry::Entry;
use super::line::{Lines, Reader, TextFault, line_of};
use super::older;
use super::value::{BlobRef, EntryNumber};
use crate::calendar::Moment;
use crate::ident::Digest;

/// First line of every posting.
pub const TITLE: &str = "shophead record 2";

/// What stands for the digest before the first posting.
const NONE_BEFORE: &str = "none";

/// An entry with its number and its time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Record {
    /// Its number; the first is 1.
    pub number: EntryNumber,
    /// When it was entered, which is not when the work was done.
    pub entered: Moment,
    /// What it says.
    pub entry: Entry,
}

impl Entry {
    /// Every file that the entry names.
    #[must_use]
    pub fn blobs(&self) -> Vec<&BlobRef> {
        match self {
            Self::Issued(issued) => {
                let optional = [&issued.spec, &issued.project, &issued.places];
                [&issued.pdf, &issued.requirements].into_iter().chain(optional.into_iter().flatten()).collect()
            }
            Self::Reprinted(reprinted) => std::iter::once(&reprinted.pdf).chain(&reprinted.places).collect(),
            Self::Imported(imported) => vec![&imported.file],
            Self::Added(added) => vec![&added.file],
            Self::Noticed(notice) => notice.pdf.iter().chain(&notice.data).collect(),
            _ => Vec::new(),
        }
    }
}

impl Record {
    /// Its lines without those that it shares with others of its posting: `number`, `kind`, the kind's lines, `end`.
    #[must_use]
    pub fn text(&self) -> String {
        let mut lines = Lines::default();
        write(&mut lines, self.number, &self.entry, |_| {});
        lines.finish()
    }
}

/// The forms that postings were written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PostingForm {
    /// The first.
    One,
    /// Today's.
    Two,
}

/// What was recorded in one go: it counts as a whole, or not at all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Posting {
    /// The form of its bytes.
    pub form: PostingForm,
    /// Number of its first entry.
    pub first: EntryNumber,
    /// Digest of the posting before it; absent for the first.
    pub previous: Option<Digest>,
    /// When it was entered.
    pub entered: Moment,
    /// Why that time stands, although it lies before the posting before, or ahead of the clock.
    pub because: Option<String>,
    /// Digest of the typed file that it was made from.
    pub typed: Option<Digest>,
    /// Its entries, one at least.
    pub entries: Vec<Entry>,
}

impl Posting {
    /// The bytes: UTF-8, line feeds, in this order: title; `number`, `previous`, `entered`, `time-because` and `typed` where they
    /// are needed, `kind`, the kind's lines, `end`; then each further entry: `number`, `kind`, the kind's lines, `end`.
    #[must_use]
    pub fn text(&self) -> String {
        let mut lines = Lines::titled(TITLE);
        for (number, entry) in self.numbered() {
            write(&mut lines, number, entry, |lines| {
                if number == self.first {
                    lines.line("previous", &self.previous.map_or_else(|| NONE_BEFORE.to_owned(), |own| own.hex()));
                    lines.one("entered", &self.entered);
                    lines.maybe("time-because", &self.because).maybe("typed", &self.typed);
                }
            });
        }
        let text = lines.finish();
        match self.form {
            PostingForm::One => older::as_then(&text),
            PostingForm::Two => text,
        }
    }

    /// The digest that the next posting names.
    #[must_use]
    pub fn digest(&self) -> Digest {
        Digest::of_bytes(self.text().as_bytes())
    }

    /// Number of its last entry.
    #[must_use]
    pub fn last(&self) -> EntryNumber {
        self.numbered().last().map_or(self.first, |(number, _)| number)
    }

    /// Name of its file: number of its first entry, that of the last where it has several, and the first eight digits of
    /// its digest.
    #[must_use]
    pub fn file_name(&self) -> String {
        self.file_named(&self.digest())
    }

    /// Name of its file, its digest being known.
    pub(super) fn file_named(&self, digest: &Digest) -> String {
        let digits = &digest.hex()[..8];
        let first = self.first;
        let last = self.last();
        if first == last { format!("{first}-{digits}.txt") } else { format!("{first}-{last}-{digits}.txt") }
    }

    /// Its entries, each by itself.
    pub fn records(&self) -> impl Iterator<Item = Record> + use<'_> {
        self.numbered().map(|(number, entry)| Record { number, entered: self.entered, entry: entry.clone() })
    }

    /// Its entries, each by itself.
    #[must_use]
    pub fn into_records(self) -> Vec<Record> {
        let numbers: Vec<EntryNumber> = self.numbered().map(|(number, _)| number).collect();
        let record = |(number, entry)| Record { number, entered: self.entered, entry };
        numbers.into_iter().zip(self.entries).map(record).collect()
    }

    /// Every file that its entries name.
    pub fn blobs(&self) -> impl Iterator<Item = &BlobRef> {
        self.entries.iter().flat_map(Entry::blobs)
    }

    fn numbered(&self) -> impl Iterator<Item = (EntryNumber, &Entry)> {
        // More than can be numbered is refused when it is read, and never asked for.
        let number = |at| EntryNumber(self.first.0.saturating_add(u32::try_from(at).unwrap_or(u32::MAX)));
        self.entries.iter().enumerate().map(move |(at, entry)| (number(at), entry))
    }

    /// Reads the bytes of a posting.
    ///
    /// # Errors
    /// When a byte is not as [`Posting::text`] would write it.
    pub fn parse(bytes: &[u8]) -> Result<Self, TextFault> {
        let older = std::str::from_utf8(bytes).ok().filter(|text| text.lines().next() == Some(older::TITLE));
        let form = if older.is_some() { PostingForm::One } else { PostingForm::Two };
        let renewed = older.map(|text| older::renewed(text, TITLE));
        let mut lines = Reader::titled(renewed.as_ref().map_or(bytes, String::as_bytes), TITLE)?;
        let first = lines.one("number")?;
        let previous = read_previous(&mut lines)?;
        let entered = lines.one("entered")?;
        let because = lines.maybe("time-because")?;
        let typed = lines.maybe("typed")?;
        let entries = vec![read(first, &mut lines)?];
        let mut posting = Self { form, first, previous, entered, because, typed, entries };
        while let Some(number) = lines.maybe::<EntryNumber>("number")? {
            if Some(number.0) != posting.last().0.checked_add(1) {
                return Err(TextFault::new(lines.line_number() - 1, "this is not the number after the one before"));
            }
            posting.entries.push(read(number, &mut lines)?);
        }
        lines.finish()?;
        let text = posting.text();
        if text.as_bytes() != bytes {
            let differs = text.bytes().zip(bytes).position(|(own, read)| own != *read);
            let line = line_of(bytes, differs.unwrap_or_else(|| text.len().min(bytes.len())));
            return Err(TextFault::new(line, "the line is not written in the one form that a record has"));
        }
        Ok(posting)
    }
}

/// The lines of one entry, with what stands between its number and its kind.
fn write(lines: &mut Lines, number: EntryNumber, entry: &Entry, between: impl FnOnce(&mut Lines)) {
    lines.one("number", &number);
    between(lines);
    lines.line("kind", entry.kind());
    entry.write(lines);
    lines.one("end", &number);
}

/// An entry from its kind to its end.
fn read(number: EntryNumber, lines: &mut Reader<'_>) -> Result<Entry, TextFault> {
    let kind = lines.one::<String>("kind")?;
    let entry = Entry::read(&kind, lines)?;
    let same = lines.one::<EntryNumber>("end")? == number;
    let fault = || TextFault::new(lines.line_number() - 1, "`end` names another number than `number`");
    if same { Ok(entry) } else { Err(fault()) }
}

fn read_previous(lines: &mut Reader<'_>) -> Result<Option<Digest>, TextFault> {
    let previous = lines.one::<String>("previous")?;
    if previous == NONE_BEFORE {
        return Ok(None);
    }
    let digest = Digest::parse_hex(&previous);
    digest.map(Some).ok_or_else(|| TextFault::new(3, "`previous` is neither `none` nor a SHA-256"))
}

/// A posting's file by its name: numbers of its first and last entry, and the digits of its digest.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PostingName {
    /// Number of its first entry.
    pub first: u32,
    /// Number of its last entry.
    pub last: u32,
    /// The first eight digits of its digest.
    pub digits: String,
}

impl PostingName {
    /// Reads a file's name, where it is one of a posting.
    #[must_use]
    pub fn parse(name: &str) -> Option<Self> {
        let (numbers, digits) = name.strip_suffix(".txt")?.rsplit_once('-')?;
        let hex = |b: u8| b.is_ascii_digit() || (b'a'..=b'f').contains(&b);
        let (first, last) = match numbers.split_once('-') {
            None => (number(numbers)?, number(numbers)?),
            Some((first, last)) => (number(first)?, number(last)?),
        };
        let fits = digits.len() == 8 && digits.bytes().all(hex) && (numbers.contains('-') == (first < last));
        fits.then(|| Self { first, last, digits: digits.to_owned() })
    }
}

/// A number as file names have it: six digits, more only where it needs them.
fn number(text: &str) -> Option<u32> {
    let plain = text.len() >= 6 && text.bytes().all(|b| b.is_ascii_digit());
    let number = plain.then(|| text.parse::<u32>().ok())??;
    (number > 0 && EntryNumber(number).to_string() == text).then_some(number)
}
