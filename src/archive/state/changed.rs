//! Which entries are struck out, and which corrections hold: a striking-out and a correction can be struck out as well.
//!
//! It looks at the records alone; what that does to the work is said in `state`.

use std::collections::BTreeMap;

use crate::archive::entry::{Corrected, Entry};
use crate::archive::record::Record;
use crate::archive::value::EntryNumber;

/// Every entry that is struck out, with the reason. Later ones are looked at first: they may lift an earlier striking-out.
pub(super) fn struck(records: &[Record]) -> BTreeMap<EntryNumber, String> {
    let mut struck = BTreeMap::new();
    for record in records.iter().rev() {
        if let Entry::Struck(own) = &record.entry
            && !struck.contains_key(&record.number)
        {
            struck.insert(own.entry, own.because.clone());
        }
    }
    struck
}

/// The corrections that are not struck out, by the entry that they correct, in their order.
pub(super) fn corrections(
    records: &[Record],
    struck: &BTreeMap<EntryNumber, String>,
) -> BTreeMap<EntryNumber, Vec<(EntryNumber, Corrected)>> {
    let mut corrections: BTreeMap<EntryNumber, Vec<(EntryNumber, Corrected)>> = BTreeMap::new();
    for record in records.iter().filter(|record| !struck.contains_key(&record.number)) {
        if let Entry::Corrected(own) = &record.entry {
            corrections.entry(own.entry).or_default().push((record.number, (**own).clone()));
        }
    }
    corrections
}
