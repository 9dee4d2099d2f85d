//! The archive's folder, and the one writer that appends to it.
//!
//! A record or file that is there never changes: each is written under a temporary name, down to the disk, and then
//! given a name that was free. Only `head.txt` is replaced. The writer judges nothing of what entries say.

use std::fs::{self, File, OpenOptions, TryLockError};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::entry::Entry;
use super::failure::Failure;
use super::file::{Disk, Watch, temporary};
use super::head::Head;
use super::record::Record;
use super::value::{BlobRef, EntryNumber};
use super::verify::{Depth, Survey, survey};
use crate::calendar::Moment;

/// The page that explains an archive to a reader without this program.
pub const README: &str = include_str!("README-1.txt");
/// What the lock's file says.
pub const LOCK: &str = "This file keeps two programs from writing at the same time. It holds nothing else.\n";

pub(super) const README_NAME: &str = "README.txt";
pub(super) const LOCK_NAME: &str = "lock.txt";
pub(super) const HEAD_NAME: &str = "head.txt";
pub(super) const LEDGER: &str = "ledger";
pub(super) const BLOBS: &str = "blobs";

/// How long a writer or `verify` waits between two looks at a busy archive.
const TURN: Duration = Duration::from_millis(50);
/// How often it looks: ten seconds in all.
const TURNS: u32 = 200;

/// An archive's folder; it may not exist yet.
#[derive(Debug, Clone)]
pub struct Archive {
    root: PathBuf,
    turns: u32,
}

impl Archive {
    /// The archive in a folder.
    #[must_use]
    pub fn at(root: impl Into<PathBuf>) -> Self {
        Self { root: root.into(), turns: TURNS }
    }

    /// The same archive, waited for only so many twentieths of a second when another program writes.
    #[must_use]
    pub fn waiting(mut self, turns: u32) -> Self {
        self.turns = turns;
        self
    }

    /// The folder.
    #[must_use]
    pub fn root(&self) -> &Path {
        &self.root
    }

    /// Whether anything is there.
    #[must_use]
    pub fn exists(&self) -> bool {
        self.root.join(LEDGER).is_dir() || self.root.join(README_NAME).is_file()
    }

    /// Every record, and what is wrong with the ledger; the files beside it are not read.
    ///
    /// # Errors
    /// When the disk cannot be read.
    pub fn read(&self) -> Result<Survey, Failure> {
        survey(&self.root, Depth::Ledger)
    }

    /// Everything, every file read and compared.
    ///
    /// # Errors
    /// When the disk cannot be read.
    pub fn verify(&self) -> Result<Survey, Failure> {
        let path = self.root.join(LOCK_NAME);
        // Without the file nobody can be writing by the rules; what is wrong with that is for the survey to say.
        let _lock = match File::open(&path) {
            Ok(file) => Some(self.wait(file, &path, File::try_lock_shared)?),
            Err(_) => None,
        };
        survey(&self.root, Depth::All)
    }

    /// The bytes of a file that a record names.
    ///
    /// # Errors
    /// When it cannot be read or its bytes are not the ones that were archived.
    pub fn blob(&self, blob: &BlobRef) -> Result<Vec<u8>, Failure> {
        let path = self.root.join(BLOBS).join(blob.file_name());
        let bytes = fs::read(&path).map_err(Failure::disk("read", &path))?;
        let same = BlobRef::of(&bytes, &blob.ending) == *blob;
        if same { Ok(bytes) } else { Err(Failure::Damaged(format!("{} is not what was archived", path.display()))) }
    }

    /// The one writer; waits up to ten seconds for another to finish.
    ///
    /// # Errors
    /// When another program goes on writing, the disk says no, or the end of the ledger is damaged.
    pub fn writer(&self) -> Result<Writer, Failure> {
        self.writer_watched(None)
    }

    /// The one writer, each of its steps watched, from the making of the folder on.
    ///
    /// # Errors
    /// As [`Archive::writer`].
    pub fn writer_watched(&self, watch: Option<Watch>) -> Result<Writer, Failure> {
        self.open_writer(watch, None)
    }

    /// The one writer of an archive that was read a moment ago: what is known is not read again, unless something was
    /// recorded, or left unfinished, meanwhile.
    ///
    /// # Errors
    /// As [`Archive::writer`].
    pub fn writer_after(&self, known: &Survey) -> Result<Writer, Failure> {
        self.open_writer(None, Some(known))
    }

    fn open_writer(&self, watch: Option<Watch>, known: Option<&Survey>) -> Result<Writer, Failure> {
        let mut disk = Disk::default();
        if let Some(watch) = watch {
            disk.watch(watch);
        }
        disk.folder(&self.root)?;
        let lock = self.lock()?;
        let mut writer =
            Writer { archive: self.clone(), disk, _lock: lock, survey: Survey::default(), head: Head::default() };
        writer.begin()?;
        writer.survey = match known {
            Some(known) if known.holds_still(&self.root)? => known.clone(),
            _ => self.read()?,
        };
        writer.take_up()?;
        Ok(writer)
    }

    fn wait(&self, file: File, path: &Path, lock: impl Fn(&File) -> Result<(), TryLockError>) -> Result<File, Failure> {
        for _ in 0..self.turns {
            match lock(&file) {
                Ok(()) => return Ok(file),
                Err(TryLockError::WouldBlock) => std::thread::sleep(TURN),
                Err(TryLockError::Error(cause)) => return Err(Failure::disk("lock", path)(cause)),
            }
        }
        match lock(&file) {
            Ok(()) => Ok(file),
            Err(TryLockError::WouldBlock) => Err(Failure::Busy { path: self.root.clone() }),
            Err(TryLockError::Error(cause)) => Err(Failure::disk("lock", path)(cause)),
        }
    }

    fn lock(&self) -> Result<File, Failure> {
        let path = self.root.join(LOCK_NAME);
        let opened = OpenOptions::new().read(true).append(true).create(true).open(&path);
        let file = opened.map_err(Failure::disk("open", &path))?;
        let mut file = self.wait(file, &path, File::try_lock)?;
        let length = file.metadata().map_err(Failure::disk("read", &path))?.len();
        if length == 0 {
            file.write_all(LOCK.as_bytes()).map_err(Failure::disk("write", &path))?;
        }
        Ok(file)
    }
}

/// A file to be archived with an entry.
#[derive(Debug, Clone, Copy)]
pub struct NewBlob<'a> {
    /// Its bytes.
    pub bytes: &'a [u8],
    /// Ending of its name.
    pub ending: &'a str,
}

impl NewBlob<'_> {
    /// How an entry names it.
    #[must_use]
    pub fn reference(&self) -> BlobRef {
        BlobRef::of(self.bytes, self.ending)
    }
}

/// The one writer of an archive; the lock is held as long as it lives.
pub struct Writer {
    archive: Archive,
    disk: Disk,
    _lock: File,
    survey: Survey,
    head: Head,
}

impl Writer {
    /// What the ledger held, and what this writer has added.
    #[must_use]
    pub const fn survey(&self) -> &Survey {
        &self.survey
    }

    /// Number of the next entry.
    #[must_use]
    pub const fn next(&self) -> EntryNumber {
        EntryNumber(self.head.entries + 1)
    }

    /// Records an entry, with the files that it names and the archive does not hold yet.
    ///
    /// # Errors
    /// When the entry cannot be written in a record's form, names a file that is neither given nor held, or the disk
    /// says no: then the archive is as it was.
    pub fn append(
        &mut self,
        entered: Moment,
        entry: impl Into<Entry>,
        blobs: &[NewBlob<'_>],
    ) -> Result<Record, Failure> {
        let record = Record { number: self.next(), previous: self.head.last, entered, entry: entry.into() };
        let text = record.text();
        if Record::parse(text.as_bytes()).as_ref() != Ok(&record) {
            return Err(Failure::Refused(format!(
                "this cannot be recorded as `{}`: a value is empty or has a form that would not read back",
                record.entry.kind()
            )));
        }
        self.check_blobs(&record.entry, blobs)?;
        let mut made = Vec::new();
        let done = self.write(&record, &text, blobs, &mut made);
        if let Err(failure) = done {
            undo(&made);
            return Err(failure);
        }
        self.head = Head { entries: record.number.0, last: Some(record.digest()) };
        self.survey.records.push(record.clone());
        Ok(record)
    }

    fn check_blobs(&self, entry: &Entry, blobs: &[NewBlob<'_>]) -> Result<(), Failure> {
        let given: Vec<BlobRef> = blobs.iter().map(NewBlob::reference).collect();
        for blob in entry.blobs() {
            if !given.contains(blob) {
                self.archive.blob(blob)?;
            }
        }
        Ok(())
    }

    fn root(&self, name: &str) -> PathBuf {
        self.archive.root.join(name)
    }

    /// The steps of one entry; `made` collects what must go again should one of them fail.
    fn write(
        &mut self,
        record: &Record,
        text: &str,
        blobs: &[NewBlob<'_>],
        made: &mut Vec<PathBuf>,
    ) -> Result<(), Failure> {
        let ledger = self.root(LEDGER);
        let unfinished = temporary(&ledger.join(record.number.to_string()));
        made.push(unfinished.clone());
        self.disk.write_temporary(&unfinished, text.as_bytes())?;
        // The names are written down before the files beside the entry are, so that these can always be told to be its own.
        self.disk.sync_folder(&ledger)?;
        for blob in blobs {
            self.put_blob(blob, made)?;
        }
        let head = self.root(HEAD_NAME);
        let next = Head { entries: record.number.0, last: Some(record.digest()) };
        made.push(temporary(&head));
        self.disk.write_temporary(&temporary(&head), next.text().as_bytes())?;
        let path = ledger.join(record.file_name());
        if !self.disk.link(&unfinished, &path)? {
            return Err(Failure::Damaged(format!("{} is there already", path.display())));
        }
        made.push(path);
        self.disk.sync_folder(&ledger)?;
        self.disk.replace(&temporary(&head), &head)?;
        // From here on the entry counts: what still fails leaves nothing but a file that the next writer removes.
        let root = self.archive.root.clone();
        let _ = self.disk.sync_folder(&root);
        let _ = self.disk.remove(&unfinished);
        Ok(())
    }

    fn put_blob(&mut self, blob: &NewBlob<'_>, made: &mut Vec<PathBuf>) -> Result<(), Failure> {
        let folder = self.root(BLOBS);
        let path = folder.join(blob.reference().file_name());
        let there = path.try_exists().map_err(Failure::disk("read", &path))?;
        if there {
            return self.archive.blob(&blob.reference()).map(|_| ());
        }
        made.push(temporary(&path));
        self.disk.write_temporary(&temporary(&path), blob.bytes)?;
        if self.disk.link(&temporary(&path), &path)? {
            made.push(path.clone());
        }
        self.disk.sync_folder(&folder)?;
        self.disk.remove(&temporary(&path))
    }

    /// Makes the archive's fixed files where they are missing from a new archive.
    fn begin(&mut self) -> Result<(), Failure> {
        let has_readme = self.root(README_NAME).try_exists().map_err(Failure::disk("read", &self.archive.root))?;
        if has_readme {
            return Ok(());
        }
        let root = self.archive.root.clone();
        for folder in [LEDGER, BLOBS] {
            self.disk.folder(&root.join(folder))?;
        }
        self.put_fixed(HEAD_NAME, &Head::default().text())?;
        self.put_fixed(README_NAME, README)?;
        self.disk.sync_folder(&root)
    }

    fn put_fixed(&mut self, name: &str, text: &str) -> Result<(), Failure> {
        let path = self.root(name);
        self.disk.write_temporary(&temporary(&path), text.as_bytes())?;
        self.disk.link(&temporary(&path), &path)?;
        self.disk.remove(&temporary(&path))
    }

    /// Takes up where the last writer stopped: finishes an entry that counts, removes what never did.
    fn take_up(&mut self) -> Result<(), Failure> {
        self.head = self.survey.end().map_err(Failure::Damaged)?;
        if self.survey.head_is_behind {
            let path = self.root(HEAD_NAME);
            self.disk.write_temporary(&temporary(&path), self.head.text().as_bytes())?;
            self.disk.replace(&temporary(&path), &path)?;
            self.survey.head_is_behind = false;
        }
        for path in std::mem::take(&mut self.survey.leftovers) {
            self.disk.remove(&self.archive.root.join(path))?;
        }
        Ok(())
    }
}

/// Takes away what a failed entry has written; newest first, so that the entry goes before its files.
fn undo(made: &[PathBuf]) {
    for path in made.iter().rev() {
        // The failure that led here is the one to report.
        let _ = fs::remove_file(path);
    }
}

/// Reads a file; absent where there is none.
pub(super) fn read_if_there(path: &Path) -> Result<Option<Vec<u8>>, Failure> {
    match fs::read(path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(fault) if fault.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(fault) => Err(Failure::disk("read", path)(fault)),
    }
}
