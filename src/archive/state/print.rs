//! Prints: which layouts of which sheets the ledger tells apart, and the one that a page's code names.
//!
//! It guesses none: a page whose print nobody recorded has no places.

use super::State;
use crate::archive::{BlobRef, EntryNumber};
use crate::ident::{PageCode, SheetCode};

/// A print of a sheet whose pages can be told from those of any other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Print {
    /// The entry that records it.
    pub entry: EntryNumber,
    /// The sheet.
    pub sheet: SheetCode,
    /// What its page codes say.
    pub code: SheetCode,
    /// Where its boxes are, and what stands on which page.
    pub places: BlobRef,
}

impl State {
    pub(super) fn print(
        &mut self,
        entry: EntryNumber,
        sheet: SheetCode,
        code: Option<SheetCode>,
        places: Option<&BlobRef>,
    ) {
        if let (Some(code), Some(places)) = (code, places) {
            self.prints.push(Print { entry, sheet, code, places: places.clone() });
        }
    }

    /// The print that the code of a page names; none where the code names no print, or one that nobody recorded, so that no
    /// box is ever looked for at the place that it has in another.
    #[must_use]
    pub fn print_of(&self, page: &PageCode) -> Option<&Print> {
        let own = |print: &&Print| Some(print.code) == page.print && print.sheet == page.sheet;
        self.prints.iter().find(own)
    }
}
