//! VERIFY: reads an archive and says exactly what is missing, changed, foreign or unfinished.
//!
//! It changes nothing, and it goes on after damage: what is sound is read, and the rest is named.

mod blobs;
mod facts;
mod ledger;
mod told;

use std::collections::BTreeSet;
use std::fmt;
use std::path::Path;

use super::failure::Failure;
use super::folder::{
    BLOBS, HEAD_NAME, LEDGER, LOCK, LOCK_NAME, README_NAME, READMES, UNFINISHED, names, read_if_there,
};
use super::head::Head;
use super::record::{Posting, Record};
use super::value::EntryNumber;
use crate::calendar::Moment;
use crate::ident::Digest;

/// How much is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Depth {
    /// The ledger and the head.
    Ledger,
    /// Every file.
    All,
}

/// What is wrong with a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum FlawKind {
    /// It should be there.
    Missing,
    /// Its bytes are not those that were archived.
    Changed,
    /// It does not belong there.
    Foreign,
    /// It is as it was archived, but says what other entries exclude.
    Contradicting,
    /// It is what an interrupted run left; nothing recorded is touched by it.
    Unfinished,
}

impl FlawKind {
    /// The word in messages and in JSON.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Missing => "missing",
            Self::Changed => "changed",
            Self::Foreign => "foreign",
            Self::Contradicting => "contradicting",
            Self::Unfinished => "unfinished",
        }
    }
}

/// Something that is not as it was archived.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Flaw {
    /// The file, seen from the archive's folder, with `/` between names.
    pub path: String,
    /// What is wrong with it.
    pub kind: FlawKind,
    /// One sentence.
    pub message: String,
}

impl fmt::Display for Flaw {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}: {}: {}", self.kind.word(), self.path, self.message)
    }
}

/// A posting of the ledger without its entries.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Posted {
    /// Name of its file.
    pub file: String,
    /// SHA-256 of its file.
    pub digest: Digest,
    /// Its first entry.
    pub first: EntryNumber,
    /// Its last entry.
    pub last: EntryNumber,
    /// When it was entered.
    pub entered: Moment,
    /// Why that time stands, although it lies before the posting before, or ahead of the clock.
    pub because: Option<String>,
    /// Digest of the typed file that it was made from.
    pub typed: Option<Digest>,
}

impl Posted {
    fn of(posting: &Posting, digest: Digest) -> Self {
        Self {
            file: posting.file_named(&digest),
            digest,
            first: posting.first,
            last: posting.last(),
            entered: posting.entered,
            because: posting.because.clone(),
            typed: posting.typed,
        }
    }
}

/// So many digits of a SHA-256 nobody hits by trying: 64 bits, while the eight in a file's name guard against accidents alone.
const SOME_DIGITS: usize = 16;

/// What was read of an archive.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Survey {
    /// Sound postings in their order.
    pub postings: Vec<Posted>,
    /// Sound records in their order.
    pub records: Vec<Record>,
    /// What is wrong, by path.
    pub flaws: Vec<Flaw>,
    /// Number of files that were read and found as archived.
    pub sound: usize,
    /// The head as read, where it could be.
    pub(super) head: Option<Head>,
    /// The ledger's last entry counts, but the head does not name it yet.
    pub(super) head_is_behind: bool,
    /// Files that an interrupted run left and that never counted.
    pub(super) leftovers: Vec<String>,
    /// Number and digest of the last record by the ledger itself.
    last: Head,
}

impl Survey {
    /// Whether nothing that was archived is missing, changed or foreign.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.flaws.iter().all(|flaw| flaw.kind == FlawKind::Unfinished)
    }

    /// Digest of the last record, to be written down elsewhere.
    #[must_use]
    pub const fn last(&self) -> Head {
        self.last
    }

    /// Name of the file in the ledger that holds an entry; nothing for one that was not read.
    #[must_use]
    pub fn file_of(&self, entry: EntryNumber) -> &str {
        let after = self.postings.partition_point(|posted| posted.first <= entry);
        let posted = after.checked_sub(1).map(|at| &self.postings[at]);
        // Only an entry that was read can be asked for in earnest.
        posted.filter(|posted| entry <= posted.last).map_or("", |posted| posted.file.as_str())
    }

    /// The posting of a digest, of which 16 digits or more are written; spaces in it do not count.
    ///
    /// # Errors
    /// What is wrong with the digest.
    pub fn posted(&self, written: &str) -> Result<Option<&Posted>, String> {
        let digits: String = written.split_whitespace().collect::<String>().to_ascii_lowercase();
        let hex = digits.bytes().all(|b| b.is_ascii_hexdigit());
        if !hex || !(SOME_DIGITS..=64).contains(&digits.len()) {
            return Err(format!(
                "`{written}` is no SHA-256: 64 hexadecimal digits, of which {SOME_DIGITS} at least are needed"
            ));
        }
        Ok(self.postings.iter().find(|posted| posted.digest.hex().starts_with(&digits)))
    }

    /// Whether an archive that was whole has the same postings still: nothing was recorded, nothing lost and nothing left
    /// half since it was read.
    pub(super) fn is_as_before(&self, root: &Path) -> Result<bool, Failure> {
        if self.postings.is_empty() || !self.flaws.is_empty() || self.head_is_behind || !self.leftovers.is_empty() {
            return Ok(false);
        }
        let head = read_if_there(&root.join(HEAD_NAME))?.and_then(|bytes| Head::parse(&bytes).ok());
        let listed: BTreeSet<String> = names(&root.join(LEDGER))?.into_iter().map(|listed| listed.name).collect();
        let known = |posted: &Posted| listed.contains(&posted.file);
        let same = listed.len() == self.postings.len() && self.postings.iter().all(known);
        Ok(same && head.is_some() && head == self.head)
    }

    /// Adds what was recorded since.
    pub(super) fn take(&mut self, posting: &Posting) {
        let digest = posting.digest();
        self.postings.push(Posted::of(posting, digest));
        self.records.extend(posting.records());
        self.last = Head { entries: posting.last().0, last: Some(digest) };
        self.head = Some(self.last);
    }

    fn flaw(&mut self, kind: FlawKind, path: impl Into<String>, message: impl Into<String>) {
        self.flaws.push(Flaw { path: path.into(), kind, message: message.into() });
    }

    /// The end that the next entry follows.
    pub(super) fn end(&self) -> Result<Head, String> {
        if self.head_is_behind {
            return Ok(self.last);
        }
        let Some(head) = self.head else {
            let lines = self.last.text().replace('\n', " / ");
            return Err(format!(
                "head.txt does not say where the ledger ends; if {:06} is its last entry, write these lines into it: {lines}",
                self.last.entries
            ));
        };
        let fits = head.entries > self.last.entries || head == self.last || self.is_damaged_end(head);
        if fits { Ok(head) } else { Err("head.txt and the end of the ledger do not fit together".to_owned()) }
    }

    /// Whether the head names a last entry whose file is there but damaged.
    fn is_damaged_end(&self, head: Head) -> bool {
        head.entries == self.last.entries && self.last.last.is_none()
    }
}

/// Reads an archive.
pub(super) fn survey(root: &Path, depth: Depth) -> Result<Survey, Failure> {
    let mut survey = Survey::default();
    let exists = root.try_exists().map_err(Failure::disk("read", root))?;
    if !exists {
        return Ok(survey);
    }
    read_top(root, &mut survey)?;
    ledger::read(root, &mut survey)?;
    blobs::note_unfinished(root, &mut survey)?;
    if depth == Depth::All {
        blobs::read(root, &mut survey)?;
        facts::check(root, &mut survey)?;
    }
    survey.flaws.sort();
    survey.flaws.dedup();
    survey.leftovers.sort();
    survey.leftovers.dedup();
    Ok(survey)
}

/// The fixed files and whatever else lies in the archive's folder.
fn read_top(root: &Path, survey: &mut Survey) -> Result<(), Failure> {
    for name in names(root)? {
        match name.name.as_str() {
            LEDGER | BLOBS if name.is_folder => {}
            README_NAME | LOCK_NAME | HEAD_NAME if name.is_file => {}
            other
                if name.is_file
                    && other.strip_suffix(UNFINISHED).is_some_and(|of| [README_NAME, HEAD_NAME].contains(&of)) =>
            {
                survey.flaw(FlawKind::Unfinished, other, "an interrupted run left it; the next entry removes it");
                survey.leftovers.push(other.to_owned());
            }
            other => survey.flaw(FlawKind::Foreign, other, "the archive has no such file"),
        }
    }
    let begun = read_if_there(&root.join(README_NAME))?.is_some() || !names(&root.join(LEDGER))?.is_empty();
    let gap = if begun { FlawKind::Missing } else { FlawKind::Unfinished };
    fixed(root, README_NAME, &READMES, gap, survey)?;
    match read_if_there(&root.join(LOCK_NAME))? {
        Some(bytes) if bytes.is_empty() => {
            survey.flaw(FlawKind::Unfinished, LOCK_NAME, "it is empty; the next entry fills it");
        }
        _ => fixed(root, LOCK_NAME, &[LOCK], gap, survey)?,
    }
    for folder in [LEDGER, BLOBS] {
        if !root.join(folder).is_dir() {
            survey.flaw(gap, folder, "the folder is not there");
        }
    }
    match read_if_there(&root.join(HEAD_NAME))?.map(|bytes| Head::parse(&bytes)) {
        None => survey.flaw(gap, HEAD_NAME, "it is not there, so that entries lost at the end would not show"),
        Some(Err(fault)) => survey.flaw(FlawKind::Changed, HEAD_NAME, fault.to_string()),
        Some(Ok(head)) => survey.head = Some(head),
    }
    Ok(())
}

/// A file whose every byte is known, in one of several forms.
fn fixed(root: &Path, name: &str, forms: &[&str], gap: FlawKind, survey: &mut Survey) -> Result<(), Failure> {
    let Some(bytes) = read_if_there(&root.join(name))? else {
        survey.flaw(gap, name, "it is not there");
        return Ok(());
    };
    let same = |form: &&str| bytes.iter().zip(form.as_bytes()).take_while(|(read, known)| read == known).count();
    // The form that it is nearest to tells where it differs; there is always one.
    let nearest = forms.iter().map(same).max().unwrap_or(0);
    if forms.iter().any(|form| form.as_bytes() == bytes) {
        survey.sound += 1;
    } else {
        survey.flaw(FlawKind::Changed, name, format!("its bytes differ from byte {} on", nearest + 1));
    }
    Ok(())
}

/// The first eight digits of a digest, as in file names.
fn digits(digest: &Digest) -> String {
    digest.hex()[..8].to_owned()
}
