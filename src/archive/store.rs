//! The archive's folder: read, verified, and locked for the one writer that adds to it.
//!
//! Whoever wants to write waits in line. It reads without a lock, and writes nothing but the lock's file.

use std::fs::{File, OpenOptions, TryLockError};
use std::io::Write;
use std::path::{Path, PathBuf};
use std::time::Duration;

use super::failure::Failure;
use super::folder::{HEAD_NAME, LEDGER, LOCK, LOCK_NAME, Listed, README_NAME, names, read_blob, read_if_there};
use super::head::Head;
use super::record::PostingName;
use super::value::BlobRef;
use super::verify::{Depth, Survey, survey};
use super::writer::Writer;
use crate::disk::{self, Disk};

/// How long a writer or `verify` waits between two looks at a busy archive.
const TURN: Duration = Duration::from_millis(20);
/// How often it looks: five minutes in all, for somebody may be printing a whole build.
const TURNS: u32 = 15_000;

/// An archive's folder; it may not exist yet.
#[derive(Debug, Clone)]
pub struct Archive {
    root: PathBuf,
    turns: u32,
    disk: Disk,
}

impl Archive {
    /// The archive in a folder.
    #[must_use]
    pub fn at(root: impl Into<PathBuf>) -> Self {
        Self { root: root.into(), turns: TURNS, disk: Disk::default() }
    }

    /// The same archive, written through this disk.
    #[must_use]
    pub fn on(mut self, disk: Disk) -> Self {
        self.disk = disk;
        self
    }

    /// The same archive, looked at only so many times, fifty a second, while another program writes.
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

    /// Whether anything was ever recorded; what is left of a beginning that was interrupted does not count.
    #[must_use]
    pub fn exists(&self) -> bool {
        let is_posting = |listed: &Listed| PostingName::parse(&listed.name).is_some();
        // What cannot be read is no reason to begin anew: it is taken for an archive, and reading it tells more.
        let named = names(&self.root.join(LEDGER)).map_or(true, |all| all.iter().any(is_posting));
        let head = read_if_there(&self.root.join(HEAD_NAME)).ok().flatten().map(|bytes| Head::parse(&bytes));
        let counts = match head {
            Some(head) => !head.is_ok_and(|head| head.entries == 0),
            // The page is written after the head: where it stands alone, the head is lost.
            None => self.root.join(README_NAME).exists(),
        };
        named || counts
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
        let _lock = match disk::open(&path) {
            Ok(file) => Some(self.wait(file, &path, File::try_lock_shared, &mut || {})?),
            Err(_) => None,
        };
        survey(&self.root, Depth::All)
    }

    /// The bytes of a file that a record names.
    ///
    /// # Errors
    /// When it cannot be read or its bytes are not the ones that were archived.
    pub fn blob(&self, blob: &BlobRef) -> Result<Vec<u8>, Failure> {
        read_blob(&self.root, blob)
    }

    /// The one writer; waits in line for another to finish, five minutes at most.
    ///
    /// # Errors
    /// When another program goes on writing, the disk says no, or the end of the ledger is damaged.
    pub fn writer(&self) -> Result<Writer, Failure> {
        self.writer_in_line(&Survey::default(), || {})
    }

    /// The one writer; says once that it waits, where it must. The ledger is not read once more where it is as it is known.
    ///
    /// # Errors
    /// As [`Archive::writer`].
    pub fn writer_in_line(&self, known: &Survey, mut waits: impl FnMut()) -> Result<Writer, Failure> {
        self.disk.folder(&self.root)?;
        let lock = self.lock(&mut waits)?;
        Writer::take_up(&self.root, self.disk.clone(), lock, known)
    }

    fn wait(
        &self,
        file: File,
        path: &Path,
        lock: impl Fn(&File) -> Result<(), TryLockError>,
        waits: &mut dyn FnMut(),
    ) -> Result<File, Failure> {
        for turn in 0..=self.turns {
            match lock(&file) {
                Ok(()) => return Ok(file),
                Err(TryLockError::WouldBlock) if turn == self.turns => break,
                Err(TryLockError::WouldBlock) => {
                    if turn == 0 {
                        waits();
                    }
                    std::thread::sleep(TURN);
                }
                Err(TryLockError::Error(cause)) => return Err(Failure::disk("lock", path)(cause)),
            }
        }
        Err(Failure::Busy { path: self.root.clone() })
    }

    fn lock(&self, waits: &mut dyn FnMut()) -> Result<File, Failure> {
        let path = self.root.join(LOCK_NAME);
        let open = || OpenOptions::new().read(true).append(true).create(true).open(&path);
        let file = self.disk.step("open", &path, open)?;
        let mut file = self.wait(file, &path, File::try_lock, waits)?;
        let length = file.metadata().map_err(Failure::disk("read", &path))?.len();
        if length == 0 {
            self.disk.step("write", &path, || file.write_all(LOCK.as_bytes()))?;
        }
        Ok(file)
    }
}
