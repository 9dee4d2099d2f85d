//! A text that somebody types, on the command line or as an answer, before it is recorded or printed.
//!
//! It judges letters and their number; what the text says is for whoever asked.

use crate::text::{too_long, unprintable, unprintable_words};

/// A text of the command line that is recorded or printed.
///
/// # Errors
/// Refuses what the paper could not show.
pub(super) fn on_paper(written: &str) -> Result<String, String> {
    if let Some(said) = too_long(written) {
        return Err(format!("it has {said}"));
    }
    match unprintable(written) {
        None => Ok(written.to_owned()),
        Some((_, c)) => Err(format!("it holds {}", unprintable_words(c))),
    }
}
