//! A DISCREPANCY AS IT WAS WRITTEN DOWN: what should be, what is, and the decision, in the words of every document that
//! repeats them.
//!
//! It decides nothing, and says on whose word the decision rests.

use crate::archive::{DiscrepancyClosed, DiscrepancyOpened};
use crate::phrase::{self, say};

/// What should be and what is, as far as written.
pub(super) fn sides(opened: &DiscrepancyOpened) -> Vec<String> {
    let sides = [(say!("should be"), &opened.should), (say!("is"), &opened.is)];
    sides.into_iter().filter_map(|(word, text)| Some(format!("{word}: {}", text.as_ref()?))).collect()
}

/// What was decided, on whose word, and who wrote it down when.
pub(super) fn decided(closed: &DiscrepancyClosed) -> String {
    let reference = closed.reference.as_ref().map(|text| format!(", {text}")).unwrap_or_default();
    say!(
        "{disposition} on the word of {authority}{reference}; {by} {on}",
        disposition = phrase::word(closed.disposition.word()),
        authority = closed.authority,
        reference,
        by = closed.by,
        on = closed.on
    )
}
