//! Files that go into the archive with entries: held in memory, or read once more when they are written.
//!
//! A file that changes between its two readings is refused. It writes nothing.

use std::borrow::Cow;
use std::io::Read;
use std::path::PathBuf;

use super::failure::Failure;
use super::value::BlobRef;
use crate::disk;

/// A file to be archived with an entry.
#[derive(Debug, Clone)]
pub struct NewBlob<'a> {
    reference: BlobRef,
    bytes: Bytes<'a>,
}

#[derive(Debug, Clone)]
enum Bytes<'a> {
    Held(Cow<'a, [u8]>),
    At(PathBuf),
}

impl<'a> NewBlob<'a> {
    /// Bytes, with the ending of the file's name.
    #[must_use]
    pub fn of(bytes: impl Into<Cow<'a, [u8]>>, ending: &str) -> Self {
        let bytes = bytes.into();
        Self { reference: BlobRef::of(&bytes, ending), bytes: Bytes::Held(bytes) }
    }

    /// A file that was read before: many large ones need not be held at once.
    #[must_use]
    pub const fn at(path: PathBuf, reference: BlobRef) -> Self {
        Self { reference, bytes: Bytes::At(path) }
    }

    /// How an entry names it.
    #[must_use]
    pub fn reference(&self) -> BlobRef {
        self.reference.clone()
    }

    /// Its bytes.
    pub(super) fn bytes(&self) -> Result<Cow<'_, [u8]>, Failure> {
        let path = match &self.bytes {
            Bytes::Held(bytes) => return Ok(Cow::Borrowed(bytes)),
            Bytes::At(path) => path,
        };
        let mut bytes = Vec::new();
        let file = disk::open(path)?;
        // One byte more than there should be, so that a file that has grown is found without reading all of it.
        file.take(self.reference.size + 1).read_to_end(&mut bytes).map_err(Failure::disk("read", path))?;
        if BlobRef::of(&bytes, &self.reference.ending) == self.reference {
            Ok(Cow::Owned(bytes))
        } else {
            Err(Failure::Refused(format!("{} was changed while it was added", path.display())))
        }
    }
}
