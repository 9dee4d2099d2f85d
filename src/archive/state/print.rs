//! Prints: which layouts of which sheets the ledger tells apart, and the one that a page's code names.
//!
//! It guesses none: a page whose print nobody recorded has no places.

use super::State;
use crate::archive::{BlobRef, EntryNumber, KeptPage};
use crate::calendar::Day;
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
    /// The sheet on which a signature counts that was written on a page of another: the one in force, where pages of that other
    /// stay in the packet, the step requires the same, and the work was done since; else the sheet itself.
    #[must_use]
    pub fn counts_on(&self, sheet: SheetCode, step: &str, worked: Day) -> SheetCode {
        let now = || {
            let (issue, old) = self.step_named(Some(sheet), step).ok()?;
            let now = &self.in_force(&issue.issued.packet())?.issued;
            let stays = |kept: &KeptPage| self.prints.iter().any(|own| own.code == kept.print && own.sheet == sheet);
            let same = now.steps.iter().any(|own| own.id == old.id && own.requirement == old.requirement);
            let counts = now.sheet != sheet && same && worked >= now.printed && now.kept.iter().any(stays);
            counts.then_some(now.sheet)
        };
        // Nothing else is in force for it: it counts where it stands.
        now().unwrap_or(sheet)
    }

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
