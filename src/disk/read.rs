//! The one way in which files of somebody else come in: plain files alone, and no more of them than was asked for.
//!
//! A device, a pipe or a folder is refused before it is opened, for a pipe would wait for ever and a device never ends. What
//! the system says of a file's size is taken for what it was: a file that grows is read no further than the limit.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use super::Failure;

/// Largest text that somebody types in one file: an evening, a list, the tasks of a book.
pub const TYPED: u64 = 4 << 20;

/// Opens a plain file, also through a link.
///
/// # Errors
/// When there is none, it cannot be opened, or it is something else.
pub fn open(path: &Path) -> Result<File, Failure> {
    let opened = || {
        require_plain(&path.metadata()?)?;
        let file = File::open(path)?;
        require_plain(&file.metadata()?)?;
        Ok(file)
    };
    opened().map_err(Failure::of("read", path))
}

fn require_plain(about: &std::fs::Metadata) -> io::Result<()> {
    match about {
        about if about.is_file() => Ok(()),
        about if about.is_dir() => Err(io::Error::other("it is a folder, not a file")),
        _ => Err(io::Error::other("it is a pipe or a device, not a file")),
    }
}

/// The bytes of a plain file, `most` of them.
///
/// # Errors
/// As [`open`], and when the file has more.
pub fn read(path: &Path, most: u64) -> Result<Vec<u8>, Failure> {
    let file = open(path)?;
    let bounded = || {
        let stated = file.metadata()?.len();
        if stated > most {
            return Err(too_large(&format!("it has {stated} bytes"), most));
        }
        let mut bytes = Vec::new();
        file.take(most.saturating_add(1)).read_to_end(&mut bytes)?;
        if bytes.len() as u64 > most {
            return Err(too_large("it grew while it was read", most));
        }
        Ok(bytes)
    };
    bounded().map_err(Failure::of("read", path))
}

fn too_large(what: &str, most: u64) -> io::Error {
    io::Error::new(io::ErrorKind::FileTooLarge, format!("{what}; the most is {most}"))
}

/// The text of a plain file of at most `most` bytes.
///
/// # Errors
/// As [`read`], and when it is not UTF-8.
pub fn read_text(path: &Path, most: u64) -> Result<String, Failure> {
    String::from_utf8(read(path, most)?).map_err(|fault| {
        let at = fault.utf8_error().valid_up_to();
        let cause = format!("it is not UTF-8 text: byte {at} is not part of a character");
        Failure::of("read", path)(io::Error::new(io::ErrorKind::InvalidData, cause))
    })
}
