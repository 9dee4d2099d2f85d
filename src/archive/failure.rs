//! Why the archive could not be read or written: a disk, a permission, another writer, a damaged end of the ledger.
//!
//! Damage that leaves the rest usable is not a failure; `verify` lists it.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use crate::disk;

/// Why the archive could not be read or written.
#[derive(Debug)]
pub enum Failure {
    /// The disk said no.
    Disk(disk::Failure),
    /// Another program writes.
    Busy {
        /// The archive.
        path: PathBuf,
    },
    /// What should be recorded cannot be.
    Refused(String),
    /// The end of the ledger is damaged, so that nothing can follow it.
    Damaged(String),
}

impl Failure {
    /// Names what was being done when the disk said no.
    pub(super) fn disk(doing: &'static str, path: &Path) -> impl FnOnce(io::Error) -> Self {
        move |cause| Self::Disk(disk::Failure::of(doing, path)(cause))
    }
}

impl From<disk::Failure> for Failure {
    fn from(failure: disk::Failure) -> Self {
        Self::Disk(failure)
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Disk(failure) => failure.fmt(f),
            Self::Busy { path } => {
                write!(
                    f,
                    "another program is writing to the archive {}; try again when it has finished",
                    path.display()
                )
            }
            Self::Refused(why) => f.write_str(why),
            Self::Damaged(what) => write!(f, "the archive cannot be continued: {what}; `archive verify` tells more"),
        }
    }
}

impl std::error::Error for Failure {}
