//! What the records said up to a place in the ledger: sheets, discrepancies, what was corrected and struck out.
//!
//! It takes one record after the other and looks at none twice, so that a long ledger takes no longer than its length. What
//! they make of the work is folded in `state`.

use std::collections::{BTreeMap, BTreeSet};

use crate::archive::entry::{Corrected, DiscrepancyOpened, Entry, Issued};
use crate::archive::record::Record;
use crate::archive::state::Signature;
use crate::archive::value::EntryNumber;
use crate::ident::SheetCode;

/// A discrepancy.
pub(super) struct Known<'a> {
    /// The entry that opened it.
    pub entry: EntryNumber,
    /// What was opened.
    pub opened: &'a DiscrepancyOpened,
    /// The entry that closed it last.
    closed: Option<EntryNumber>,
}

/// What the records so far say.
#[derive(Default)]
pub(super) struct Told<'a> {
    before: &'a [Record],
    sheets: BTreeMap<SheetCode, &'a Issued>,
    discrepancies: BTreeMap<&'a str, Known<'a>>,
    corrected: BTreeMap<(EntryNumber, &'a str), Vec<(EntryNumber, &'a Corrected)>>,
    struck: BTreeSet<EntryNumber>,
}

impl<'a> Told<'a> {
    /// Takes the record after the first so many of these.
    pub fn take(&mut self, records: &'a [Record], at: usize) {
        self.before = &records[..=at];
        let number = records[at].number;
        match &records[at].entry {
            Entry::Issued(issued) => drop(self.sheets.insert(issued.sheet, issued)),
            Entry::DiscrepancyOpened(opened) => {
                let known = Known { entry: number, opened, closed: None };
                self.discrepancies.entry(&opened.number).or_insert(known);
            }
            Entry::DiscrepancyClosed(closed) => {
                if let Some(known) = self.discrepancies.get_mut(closed.number.as_str()) {
                    known.closed = Some(number);
                }
            }
            Entry::Corrected(own) => {
                self.corrected.entry((own.entry, own.field.as_str())).or_default().push((number, own));
            }
            Entry::Struck(own) => self.strike(own.entry, number, true),
            _ => {}
        }
    }

    /// Strikes out an entry before another, or lifts that; a striking-out that is struck out lifts what it struck.
    fn strike(&mut self, entry: EntryNumber, by: EntryNumber, out: bool) {
        if entry >= by {
            return;
        }
        if out {
            self.struck.insert(entry);
        } else {
            self.struck.remove(&entry);
        }
        if let Some(Entry::Struck(own)) = self.record(entry).map(|record| &record.entry) {
            self.strike(own.entry, entry, !out);
        }
    }

    /// An earlier record.
    pub fn record(&self, number: EntryNumber) -> Option<&'a Record> {
        let at = self.before.binary_search_by_key(&number, |record| record.number).ok()?;
        Some(&self.before[at])
    }

    /// The first record that fits.
    pub fn first(&self, fits: impl Fn(&Entry) -> bool) -> Option<EntryNumber> {
        self.before.iter().find(|record| fits(&record.entry)).map(|record| record.number)
    }

    /// The sheet of a code, as it was issued last.
    pub fn sheet(&self, code: SheetCode) -> Option<&'a Issued> {
        self.sheets.get(&code).copied()
    }

    /// A discrepancy.
    pub fn discrepancy(&self, number: &str) -> Option<&Known<'a>> {
        self.discrepancies.get(number)
    }

    /// The entry that closed a discrepancy and is not struck out.
    pub fn closed(&self, number: &str) -> Option<EntryNumber> {
        let closed = self.discrepancies.get(number).and_then(|known| known.closed);
        closed.filter(|entry| !self.struck.contains(entry))
    }

    /// What a line of an entry says after the corrections so far.
    ///
    /// # Errors
    /// When a signature has no such line.
    pub fn line(&self, record: &Record, field: &str) -> Result<Option<String>, String> {
        let corrections = self.corrected.get(&(record.number, field)).into_iter().flatten();
        if let Some((_, last)) = corrections.rev().find(|(entry, _)| !self.struck.contains(entry)) {
            return Ok(last.now.clone());
        }
        Signature::written(record).map_or_else(|| Ok(record.entry.line(field)), |signature| signature.line(field))
    }
}
