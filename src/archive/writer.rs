//! The one writer: it adds postings to an archive, each whole or not at all.
//!
//! A posting or file that is there never changes: each is written under a temporary name, down to the disk, and then
//! given a name that was free. A posting counts from the moment its file has its name, with all its entries, and not
//! before. Only `head.txt` is replaced, and the explaining page by a newer one. It judges nothing of what entries say.

use std::fs::File;
use std::path::{Path, PathBuf};

use super::blob::NewBlob;
use super::entry::Entry;
use super::failure::Failure;
use super::folder::{BLOBS, HEAD_NAME, LEDGER, README, README_NAME, READMES, read_blob, read_if_there, temporary};
use super::head::Head;
use super::record::{Posting, PostingForm, Record};
use super::value::{BlobRef, EntryNumber};
use super::verify::{Depth, Survey, survey};
use crate::calendar::Moment;
use crate::disk::{self, Disk, holder};
use crate::ident::Digest;

/// What is to be recorded in one go.
#[derive(Debug, Clone)]
pub struct NewPosting<'a> {
    /// When it is entered.
    pub entered: Moment,
    /// Why that time stands, although it lies before the last posting, or ahead of the clock.
    pub because: Option<String>,
    /// Digest of the typed file that it is made from.
    pub typed: Option<Digest>,
    /// The entries, one at least.
    pub entries: Vec<Entry>,
    /// The files that they name and the archive does not hold yet.
    pub blobs: Vec<NewBlob<'a>>,
}

impl NewPosting<'_> {
    /// Nothing yet.
    #[must_use]
    pub const fn at(entered: Moment) -> Self {
        Self { entered, because: None, typed: None, entries: Vec::new(), blobs: Vec::new() }
    }
}

/// The one writer of an archive; the lock is held as long as it lives.
#[derive(Debug)]
pub struct Writer {
    root: PathBuf,
    disk: Disk,
    _lock: File,
    survey: Survey,
    head: Head,
}

impl Writer {
    /// Takes up where the last writer stopped, or begins.
    pub(super) fn take_up(root: &Path, disk: Disk, lock: File, known: &Survey) -> Result<Self, Failure> {
        let mut writer =
            Self { root: root.to_owned(), disk, _lock: lock, survey: Survey::default(), head: Head::default() };
        writer.begin()?;
        writer.survey = if known.is_as_before(root)? { known.clone() } else { survey(root, Depth::Ledger)? };
        writer.tidy()?;
        Ok(writer)
    }

    /// What the ledger held, and what this writer has added.
    #[must_use]
    pub const fn survey(&self) -> &Survey {
        &self.survey
    }

    /// Number of the next entry.
    ///
    /// # Errors
    /// When the head says that there are as many entries as can be counted.
    pub fn next(&self) -> Result<EntryNumber, Failure> {
        let next = self.head.entries.checked_add(1).map(EntryNumber);
        next.ok_or_else(|| Failure::Damaged(format!("{HEAD_NAME} counts {} entries", self.head.entries)))
    }

    /// Records everything, or nothing.
    ///
    /// # Errors
    /// When there is no entry, one cannot be written in a record's form, one names a file that is neither given nor held,
    /// or the disk says no: then the archive is as it was.
    pub fn post(&mut self, new: &NewPosting<'_>) -> Result<Vec<Record>, Failure> {
        let posting = Posting {
            form: PostingForm::Two,
            first: self.next()?,
            previous: self.head.last,
            entered: new.entered,
            because: new.because.clone(),
            typed: new.typed,
            entries: new.entries.clone(),
        };
        check_form(&posting)?;
        self.check_blobs(&posting, &new.blobs)?;
        let mut made = Vec::new();
        if let Err(failure) = self.write(&posting, &new.blobs, &mut made) {
            self.undo(&made);
            return Err(failure);
        }
        self.survey.take(&posting);
        self.head = self.survey.last();
        Ok(posting.records().collect())
    }

    fn check_blobs(&self, posting: &Posting, blobs: &[NewBlob<'_>]) -> Result<(), Failure> {
        let given: Vec<BlobRef> = blobs.iter().map(NewBlob::reference).collect();
        for blob in posting.blobs() {
            if !given.contains(blob) {
                read_blob(&self.root, blob)?;
            }
        }
        Ok(())
    }

    fn at(&self, name: &str) -> PathBuf {
        self.root.join(name)
    }

    /// The steps of one posting; `made` collects what must go again should one of them fail.
    fn write(&self, posting: &Posting, blobs: &[NewBlob<'_>], made: &mut Vec<PathBuf>) -> Result<(), Failure> {
        let ledger = self.at(LEDGER);
        let unfinished = temporary(&ledger.join(posting.first.to_string()));
        made.push(unfinished.clone());
        let text = posting.text();
        let digest = Digest::of_bytes(text.as_bytes());
        self.disk.write_temporary(&unfinished, text.as_bytes())?;
        // The names are written down before the files beside it are, so that these can always be told to be its own.
        self.disk.sync_folder(&ledger)?;
        for blob in blobs {
            self.put_blob(blob, made)?;
        }
        if !blobs.is_empty() {
            self.disk.sync_folder(&self.at(BLOBS))?;
        }
        let head = self.at(HEAD_NAME);
        let next = Head { entries: posting.last().0, last: Some(digest) };
        made.push(temporary(&head));
        self.disk.write_temporary(&temporary(&head), next.text().as_bytes())?;
        let path = ledger.join(posting.file_named(&digest));
        if !self.disk.link(&unfinished, &path)? {
            return Err(Failure::Damaged(format!("{} is there already", path.display())));
        }
        made.push(path);
        self.disk.sync_folder(&ledger)?;
        self.disk.replace(&temporary(&head), &head)?;
        // From here on the posting counts: what still fails leaves nothing but a file that the next writer removes.
        let _ = self.disk.sync_folder(&self.root);
        let _ = self.disk.remove(&unfinished);
        Ok(())
    }

    fn put_blob(&self, blob: &NewBlob<'_>, made: &mut Vec<PathBuf>) -> Result<(), Failure> {
        let path = self.at(BLOBS).join(blob.reference().file_name());
        let there = path.try_exists().map_err(Failure::disk("read", &path))?;
        if there {
            return read_blob(&self.root, &blob.reference()).map(|_| ());
        }
        made.push(temporary(&path));
        self.disk.write_temporary(&temporary(&path), &blob.bytes()?)?;
        if self.disk.link(&temporary(&path), &path)? {
            made.push(path.clone());
        }
        Ok(self.disk.remove(&temporary(&path))?)
    }

    /// Takes away what a failed posting has written; newest first, so that the posting goes before its files.
    fn undo(&self, made: &[PathBuf]) {
        for path in made.iter().rev() {
            // The failure that led here is the one to report.
            let _ = self.disk.remove(path);
        }
    }

    /// Makes the archive's fixed files where they are missing from a new archive.
    fn begin(&self) -> Result<(), Failure> {
        let has_readme = self.at(README_NAME).try_exists().map_err(Failure::disk("read", &self.root))?;
        if has_readme {
            return Ok(());
        }
        let root = &self.root;
        // Also where the folder is there: whoever made it may have been stopped before its name was down on the disk.
        self.disk.sync_folder(holder(root))?;
        for folder in [LEDGER, BLOBS] {
            self.disk.folder(&root.join(folder))?;
        }
        self.put_fixed(HEAD_NAME, &Head::default().text())?;
        self.put_fixed(README_NAME, README)?;
        Ok(self.disk.sync_folder(root)?)
    }

    fn put_fixed(&self, name: &str, text: &str) -> Result<(), Failure> {
        self.put(name, text, |temporary, path| {
            self.disk.link(temporary, path)?;
            self.disk.remove(temporary)
        })
    }

    fn put_over(&self, name: &str, text: &str) -> Result<(), Failure> {
        self.put(name, text, |temporary, path| self.disk.replace(temporary, path))
    }

    fn put(
        &self,
        name: &str,
        text: &str,
        give: impl FnOnce(&Path, &Path) -> Result<(), disk::Failure>,
    ) -> Result<(), Failure> {
        let path = self.at(name);
        let unfinished = temporary(&path);
        let put = self.disk.write_temporary(&unfinished, text.as_bytes()).and_then(|()| give(&unfinished, &path));
        if put.is_err() {
            self.undo(&[unfinished]);
        }
        Ok(put?)
    }

    /// Finishes a posting that counts, removes what never did. A page that an older program wrote gives way to today's,
    /// which explains what this program writes.
    fn tidy(&mut self) -> Result<(), Failure> {
        self.head = self.survey.end().map_err(Failure::Damaged)?;
        if self.survey.head_is_behind {
            self.put_over(HEAD_NAME, &self.head.text())?;
            self.survey.head_is_behind = false;
        }
        let page = read_if_there(&self.at(README_NAME))?;
        if page.is_some_and(|page| READMES[..READMES.len() - 1].iter().any(|old| old.as_bytes() == page)) {
            self.put_over(README_NAME, README)?;
        }
        for path in std::mem::take(&mut self.survey.leftovers) {
            self.disk.remove(&self.root.join(path))?;
        }
        Ok(())
    }
}

/// Refuses what would not read back as it is.
fn check_form(posting: &Posting) -> Result<(), Failure> {
    if posting.entries.is_empty() {
        return Err(Failure::Refused("there is nothing to record".to_owned()));
    }
    if Posting::parse(posting.text().as_bytes()).as_ref() == Ok(posting) {
        return Ok(());
    }
    let alone = |entry: &&Entry| {
        let one = Posting { entries: vec![(*entry).clone()], ..posting.clone() };
        Posting::parse(one.text().as_bytes()) != Ok(one)
    };
    // Where every entry reads back by itself, it is the reason for the time that does not.
    let what = posting.entries.iter().find(alone).map_or("posting", Entry::kind);
    let fault = "a value is empty or has a form that would not read back";
    Err(Failure::Refused(format!("this cannot be recorded as `{what}`: {fault}")))
}
