//! What lies in an archive's folder: the names of its files, those whose every byte is known, and how they are read.
//!
//! It writes nothing and judges nothing.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::failure::Failure;
use super::value::BlobRef;
use crate::disk;

/// The page that explains an archive to a reader without this program.
pub const README: &str = include_str!("README-3.txt");
/// That page in every form that archives were begun with; the newest last.
pub(super) const READMES: [&str; 3] = [include_str!("README-1.txt"), include_str!("README-2.txt"), README];
/// What the lock's file says.
pub const LOCK: &str = "This file keeps two programs from writing at the same time. It holds nothing else.\n";

pub(super) const README_NAME: &str = "README.txt";
pub(super) const LOCK_NAME: &str = "lock.txt";
pub(super) const HEAD_NAME: &str = "head.txt";
pub(super) const LEDGER: &str = "ledger";
pub(super) const BLOBS: &str = "blobs";

/// Largest file that is read: more than is taken in.
const LARGEST: u64 = 512 << 20;

/// Ending of a file that is being written and does not count yet.
pub(super) const UNFINISHED: &str = ".unfinished";

/// Name of a file or folder, and whether it is a plain file.
pub(super) struct Listed {
    pub(super) name: String,
    pub(super) is_file: bool,
    pub(super) is_folder: bool,
}

/// The names in a folder, sorted; none where there is no folder.
pub(super) fn names(path: &Path) -> Result<Vec<Listed>, Failure> {
    let entries = match fs::read_dir(path) {
        Err(fault) if fault.kind() == std::io::ErrorKind::NotFound => return Ok(Vec::new()),
        other => other.map_err(Failure::disk("read", path))?,
    };
    let mut names = Vec::new();
    for entry in entries {
        let entry = entry.map_err(Failure::disk("read", path))?;
        let kind = entry.file_type().map_err(Failure::disk("read", path))?;
        names.push(Listed {
            name: entry.file_name().to_string_lossy().into_owned(),
            is_file: kind.is_file(),
            is_folder: kind.is_dir(),
        });
    }
    names.sort_by(|a, b| a.name.cmp(&b.name));
    Ok(names)
}

/// The temporary name beside a file.
pub(super) fn temporary(path: &Path) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(UNFINISHED);
    PathBuf::from(name)
}

/// Reads a file; absent where there is none.
pub(super) fn read_if_there(path: &Path) -> Result<Option<Vec<u8>>, Failure> {
    match disk::read(path, LARGEST) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(failure) if failure.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(failure) => Err(failure.into()),
    }
}

/// The bytes of a file that a record names.
pub(super) fn read_blob(root: &Path, blob: &BlobRef) -> Result<Vec<u8>, Failure> {
    let path = root.join(BLOBS).join(blob.file_name());
    let bytes = disk::read(&path, LARGEST)?;
    let same = BlobRef::of(&bytes, &blob.ending) == *blob;
    if same { Ok(bytes) } else { Err(Failure::Damaged(format!("{} is not what was archived", path.display()))) }
}
