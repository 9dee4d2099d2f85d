//! DISK: the only writing to the disk: files that are there whole or not at all, folders, and what goes again; and the
//! reading of files that somebody else made.
//!
//! A file is written under a temporary name, down to the disk, and only then gets its own. Nothing is overwritten unless
//! that is asked for, and no link that somebody planted is followed. Every single step can be watched, so that tests can
//! stop the program, or let the disk fail, before each of them. It knows nothing of what the files say.

mod read;

use std::fmt;
use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU32, Ordering};

pub use read::{TYPED, open, read, read_text};

/// Called before each step with what is about to be done, and to which file; an error is taken for the disk's.
pub type Watch = Arc<dyn Fn(&'static str, &Path) -> io::Result<()> + Send + Sync>;

/// What the disk did not do.
#[derive(Debug)]
pub struct Failure {
    doing: &'static str,
    path: PathBuf,
    cause: io::Error,
}

impl Failure {
    /// Names what was being done when the system said no.
    pub fn of(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> Self {
        move |cause| Self { doing, path: path.to_owned(), cause }
    }
}

impl Failure {
    /// The kind of the system's error.
    #[must_use]
    pub fn kind(&self) -> io::ErrorKind {
        self.cause.kind()
    }

    /// What the system, or the reader, says is wrong.
    #[must_use]
    pub const fn cause(&self) -> &io::Error {
        &self.cause
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "cannot {} {}: {}", self.doing, self.path.display(), self.cause)
    }
}

impl std::error::Error for Failure {}

/// What becomes of a file that has the name already.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Taken {
    /// It is replaced.
    Replace,
    /// It stays, and writing fails.
    Keep,
}

/// Writes step by step.
#[derive(Clone, Default)]
pub struct Disk {
    watch: Option<Watch>,
}

impl fmt::Debug for Disk {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(if self.watch.is_some() { "a disk that is watched" } else { "the disk" })
    }
}

impl Disk {
    /// A disk whose every step is watched.
    #[must_use]
    pub fn watched(watch: Watch) -> Self {
        Self { watch: Some(watch) }
    }

    /// One step.
    ///
    /// # Errors
    /// When the system, or who watches, says no.
    pub fn step<T>(&self, doing: &'static str, path: &Path, act: impl FnOnce() -> io::Result<T>) -> Result<T, Failure> {
        let seen = self.watch.as_ref().map_or(Ok(()), |watch| watch(doing, path));
        seen.and_then(|()| act()).map_err(Failure::of(doing, path))
    }

    /// Writes bytes to a file that does not count yet, down to the disk; what an interrupted run left there goes.
    ///
    /// # Errors
    /// When the system says no.
    pub fn write_temporary(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
        let mut file = self.step("create", path, || create_anew(path))?;
        let (first, rest) = bytes.split_at(bytes.len() / 2);
        self.step("write", path, || file.write_all(first))?;
        self.step("go on writing", path, || file.write_all(rest))?;
        self.step("write down to the disk", path, || file.sync_all())
    }

    /// Writes a file that is there whole or not at all: under another name first, which goes again should anything fail.
    ///
    /// # Errors
    /// When the system says no, writing does, or the name is taken and what has it stays.
    pub fn put<E: From<Failure>>(
        &self,
        path: &Path,
        taken: Taken,
        write: impl FnOnce(&mut File) -> Result<(), E>,
    ) -> Result<(), E> {
        let folder = holder(path);
        self.sweep(folder)?;
        if taken == Taken::Keep && path.symlink_metadata().is_ok() {
            Err(there_already(path))?;
        }
        let (part, mut file) = self.step("write", path, || begin_part(folder))?;
        let written = write(&mut file).and_then(|()| Ok(self.finish_part(&file, &part, path, taken)?));
        if written.is_err() {
            // The failure that led here is the one to report.
            let _ = self.remove(&part);
        }
        written
    }

    fn finish_part(&self, file: &File, part: &Path, path: &Path, taken: Taken) -> Result<(), Failure> {
        self.step("write down to the disk", path, || file.sync_all())?;
        if taken == Taken::Replace {
            self.replace(part, path)?;
        } else if self.link(part, path)? {
            self.remove(part)?;
        } else {
            return Err(there_already(path));
        }
        self.sync_folder(holder(path))
    }

    /// Removes what interrupted runs left of their files; whoever writes one still holds its lock.
    fn sweep(&self, folder: &Path) -> Result<(), Failure> {
        let names = fs::read_dir(folder).map_err(Failure::of("read the folder", folder))?.flatten();
        for entry in names.filter(|entry| is_part(&entry.file_name().to_string_lossy())) {
            let is_file = entry.file_type().is_ok_and(|kind| kind.is_file());
            let file = is_file.then(|| File::open(entry.path()).ok()).flatten();
            if file.as_ref().is_some_and(|file| file.try_lock().is_ok()) {
                self.remove(&entry.path())?;
            }
        }
        Ok(())
    }

    /// Gives a finished temporary file its name, which no file has yet.
    ///
    /// `Ok(false)`: the name is taken.
    ///
    /// # Errors
    /// When the system says no.
    pub fn link(&self, temporary: &Path, path: &Path) -> Result<bool, Failure> {
        self.step("give its name to", path, || match fs::hard_link(temporary, path) {
            Ok(()) => Ok(true),
            Err(fault) if fault.kind() == io::ErrorKind::AlreadyExists => Ok(false),
            // A file system without hard links: the lock keeps other writers out, so that looking first is enough.
            Err(_) if !path.try_exists()? => fs::rename(temporary, path).map(|()| true),
            Err(fault) => Err(fault),
        })
    }

    /// Puts a finished temporary file in the place of another.
    ///
    /// # Errors
    /// When the system says no.
    pub fn replace(&self, temporary: &Path, path: &Path) -> Result<(), Failure> {
        self.step("replace", path, || fs::rename(temporary, path))
    }

    /// Removes a file that may not be there.
    ///
    /// # Errors
    /// When the system says no.
    pub fn remove(&self, path: &Path) -> Result<(), Failure> {
        self.step("remove", path, || match fs::remove_file(path) {
            Err(fault) if fault.kind() == io::ErrorKind::NotFound => Ok(()),
            other => other,
        })
    }

    /// Makes a folder that may exist, with those above it.
    ///
    /// # Errors
    /// When the system says no.
    pub fn folder(&self, path: &Path) -> Result<(), Failure> {
        let missing: Vec<&Path> = path.ancestors().take_while(|folder| !is_there(folder)).collect();
        self.step("make the folder", path, || fs::create_dir_all(path))?;
        missing.into_iter().try_for_each(|made| self.sync_folder(holder(made)))
    }

    /// Writes a folder's names down to the disk.
    ///
    /// # Errors
    /// When the system says no.
    pub fn sync_folder(&self, path: &Path) -> Result<(), Failure> {
        self.step("write down to the disk the folder", path, || sync_names(path))
    }
}

fn there_already(path: &Path) -> Failure {
    Failure::of("write", path)(io::Error::new(io::ErrorKind::AlreadyExists, "it is there already and is left as it is"))
}

/// Beginning and ending of the name of a file that is being written.
const PART: (&str, &str) = (".shophead-", ".part");

/// Files begun in this run, so that no two have one name.
static BEGUN: AtomicU32 = AtomicU32::new(0);

fn is_part(name: &str) -> bool {
    name.starts_with(PART.0) && name.ends_with(PART.1)
}

/// A new file that no other run takes for one that was left.
fn begin_part(folder: &Path) -> io::Result<(PathBuf, File)> {
    loop {
        let nth = BEGUN.fetch_add(1, Ordering::Relaxed);
        let path = folder.join(format!("{}{}-{nth}{}", PART.0, std::process::id(), PART.1));
        let file = match File::create_new(&path) {
            Err(fault) if fault.kind() == io::ErrorKind::AlreadyExists => continue,
            other => other?,
        };
        // A file system without locks sweeps nothing. Whoever swept before the lock was there took the file away.
        let _ = file.lock();
        if path.try_exists()? {
            return Ok((path, file));
        }
    }
}

/// A new file in the place of one that an interrupted run left, or of a link that would lead elsewhere.
fn create_anew(path: &Path) -> io::Result<File> {
    match File::create_new(path) {
        Err(fault) if fault.kind() == io::ErrorKind::AlreadyExists => {
            fs::remove_file(path)?;
            File::create_new(path)
        }
        other => other,
    }
}

/// The empty path above a relative one is the folder in which the program runs.
fn is_there(folder: &Path) -> bool {
    folder.as_os_str().is_empty() || folder.exists()
}

#[cfg(unix)]
fn sync_names(path: &Path) -> io::Result<()> {
    File::open(path)?.sync_all()
}

/// Elsewhere a folder cannot be opened as a file; the system writes its names in its own time.
#[cfg(not(unix))]
fn sync_names(_: &Path) -> io::Result<()> {
    Ok(())
}

/// The folder that holds a file or folder.
#[must_use]
pub fn holder(path: &Path) -> &Path {
    path.parent().filter(|parent| !parent.as_os_str().is_empty()).unwrap_or(Path::new("."))
}
