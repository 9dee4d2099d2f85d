//! Prints: which layouts of which sheets the ledger tells apart, and the one that a page's code names.
//!
//! It guesses none: a page whose print nobody recorded has no places.

use super::State;
use crate::archive::{BlobRef, EntryNumber, Issued, KeptPage, Reprinted};
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
    /// How many pages were printed, where that was counted.
    pub pages: Option<u32>,
    /// Pages of earlier prints that stay in the packet with them.
    pub kept: Vec<KeptPage>,
}

impl Print {
    /// The print of a sheet that was issued; none where an older program did not tell its pages apart.
    pub(super) fn of_issued(entry: EntryNumber, own: &Issued) -> Option<Self> {
        let places = own.places.clone()?;
        Some(Self { entry, sheet: own.sheet, code: own.print?, places, pages: Some(own.pages), kept: own.kept.clone() })
    }

    /// The same of one that was printed once more.
    pub(super) fn of_reprinted(entry: EntryNumber, own: &Reprinted) -> Option<Self> {
        let places = own.places.clone()?;
        Some(Self { entry, sheet: own.sheet, code: own.print?, places, pages: own.pages, kept: own.kept.clone() })
    }
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

    pub(super) fn print(&mut self, print: Option<Print>) {
        self.prints.extend(print);
    }

    /// The print of a sheet that was made last, and since the sheet was issued last: what lies in its packet, with the pages that
    /// it kept.
    #[must_use]
    pub fn newest_print(&self, sheet: SheetCode) -> Option<&Print> {
        let issued = self.sheet(sheet)?.entry;
        self.prints.iter().rfind(|own| own.sheet == sheet && own.entry >= issued)
    }

    /// Whether two sheets lie in one packet: the boxes of both are on the same pages.
    #[must_use]
    pub fn share_a_packet(&self, one: SheetCode, other: SheetCode) -> bool {
        let own = self.newest_print(one).zip(self.newest_print(other));
        own.is_some_and(|(own, others)| own.code == others.code && own.kept == others.kept)
    }

    /// The sheets of which a print has pages, in the order in which they were recorded: of a packet of both hands two.
    #[must_use]
    pub fn sheets_of(&self, print: SheetCode) -> Vec<SheetCode> {
        let mut sheets: Vec<SheetCode> = Vec::new();
        for own in self.prints.iter().filter(|own| own.code == print) {
            if !sheets.contains(&own.sheet) {
                sheets.push(own.sheet);
            }
        }
        sheets
    }

    /// The print that the code of a page names; none where the code names no print, or one that nobody recorded, so that no
    /// box is ever looked for at the place that it has in another.
    #[must_use]
    pub fn print_of(&self, page: &PageCode) -> Option<&Print> {
        let own = |print: &&Print| Some(print.code) == page.print && print.sheet == page.sheet;
        self.prints.iter().find(own)
    }
}
