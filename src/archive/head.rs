//! `head.txt`: how many entries the ledger has and the digest of the last, so that a lost end shows.
//!
//! The only file of the archive that is replaced; it says nothing that the ledger does not say.

use super::line::{Lines, Reader, TextFault};
use crate::ident::Digest;

const TITLE: &str = "shophead head 1";
const NONE: &str = "none";

/// The end of the ledger.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Head {
    /// Number of entries.
    pub entries: u32,
    /// Digest of the last record.
    pub last: Option<Digest>,
}

impl Head {
    /// The bytes.
    #[must_use]
    pub fn text(&self) -> String {
        let mut lines = Lines::titled(TITLE);
        lines.one("entries", &self.entries);
        lines.line("last", &self.last.map_or_else(|| NONE.to_owned(), |digest| digest.hex()));
        lines.finish()
    }

    /// Reads the bytes.
    ///
    /// # Errors
    /// When a byte is not as [`Head::text`] would write it.
    pub fn parse(bytes: &[u8]) -> Result<Self, TextFault> {
        let mut lines = Reader::titled(bytes, TITLE)?;
        let entries = lines.one("entries")?;
        let last = lines.one::<String>("last")?;
        let last = match last.as_str() {
            NONE => None,
            hex => Some(
                Digest::parse_hex(hex).ok_or_else(|| TextFault::new(3, "`last` is neither `none` nor a SHA-256"))?,
            ),
        };
        lines.finish()?;
        let head = Self { entries, last };
        let same = head.text().as_bytes() == bytes && (entries == 0) == last.is_none();
        if same { Ok(head) } else { Err(TextFault::new(0, "the lines are not written in the one form that they have")) }
    }
}
