//! The only writing to the archive's disk: a new file that overwrites nothing, and the one file that is replaced.
//!
//! Every single step can be watched, so that tests can stop the program, or let the disk fail, before each of them.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use super::failure::Failure;

/// Ending of a file that is being written and does not count yet.
pub(super) const UNFINISHED: &str = ".unfinished";

/// Called before each step with what is about to be done, and to which file; an error is taken for the disk's.
pub type Watch = Box<dyn FnMut(&'static str, &Path) -> io::Result<()>>;

/// Writes step by step.
#[derive(Default)]
pub(super) struct Disk {
    watch: Option<Watch>,
}

impl Disk {
    pub(super) fn watch(&mut self, watch: Watch) {
        self.watch = Some(watch);
    }

    fn step<T>(&mut self, doing: &'static str, path: &Path, act: impl FnOnce() -> io::Result<T>) -> Result<T, Failure> {
        let seen = self.watch.as_mut().map_or(Ok(()), |watch| watch(doing, path));
        seen.and_then(|()| act()).map_err(Failure::disk(doing, path))
    }

    /// Writes bytes to a file that does not count yet, down to the disk; what an interrupted run left there goes.
    pub(super) fn write_temporary(&mut self, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
        let mut file = self.step("create", path, || File::create(path))?;
        let (first, rest) = bytes.split_at(bytes.len() / 2);
        self.step("write", path, || file.write_all(first))?;
        self.step("go on writing", path, || file.write_all(rest))?;
        self.step("write down to the disk", path, || file.sync_all())
    }

    /// Gives a finished temporary file its name, which no file has yet.
    ///
    /// `Ok(false)`: the name is taken.
    pub(super) fn link(&mut self, temporary: &Path, path: &Path) -> Result<bool, Failure> {
        self.step("give its name to", path, || match fs::hard_link(temporary, path) {
            Ok(()) => Ok(true),
            Err(fault) if fault.kind() == io::ErrorKind::AlreadyExists => Ok(false),
            // A file system without hard links: the lock keeps other writers out, so that looking first is enough.
            Err(_) if !path.try_exists()? => fs::rename(temporary, path).map(|()| true),
            Err(fault) => Err(fault),
        })
    }

    /// Puts a finished temporary file in the place of another.
    pub(super) fn replace(&mut self, temporary: &Path, path: &Path) -> Result<(), Failure> {
        self.step("replace", path, || fs::rename(temporary, path))
    }

    /// Removes a file that does not count.
    pub(super) fn remove(&mut self, path: &Path) -> Result<(), Failure> {
        self.step("remove", path, || match fs::remove_file(path) {
            Err(fault) if fault.kind() == io::ErrorKind::NotFound => Ok(()),
            other => other,
        })
    }

    /// Makes a folder that may exist.
    pub(super) fn folder(&mut self, path: &Path) -> Result<(), Failure> {
        self.step("make the folder", path, || fs::create_dir_all(path))
    }

    /// Writes a folder's names down to the disk.
    pub(super) fn sync_folder(&mut self, path: &Path) -> Result<(), Failure> {
        self.step("write down to the disk the folder", path, || sync_names(path))
    }
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

/// The temporary name beside a file.
pub(super) fn temporary(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(UNFINISHED);
    PathBuf::from(name)
}
