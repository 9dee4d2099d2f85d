//! What the records say about each other: codes that follow from requirements, signatures on sheets that were issued.
//!
//! Where an entry that is spoken of is itself damaged or missing, that was named already and nothing is added.

use std::collections::BTreeMap;
use std::path::Path;

use super::{FlawKind, Survey};
use crate::archive::entry::{Entry, Issued, Signed};
use crate::archive::failure::Failure;
use crate::archive::folder::{BLOBS, LEDGER, read_if_there};
use crate::archive::record::Record;
use crate::archive::requirement::{SheetRequirement, StepRequirement};
use crate::archive::value::{BlobRef, EntryNumber};
use crate::ident::{Digest, SheetCode};

/// What was issued so far, by code and step.
type Sheets = BTreeMap<SheetCode, BTreeMap<String, Digest>>;

/// Checks every record against those before it.
pub(super) fn check(root: &Path, survey: &mut Survey) -> Result<(), Failure> {
    let gaps = survey.records.len() < survey.last().entries as usize;
    let records = std::mem::take(&mut survey.records);
    let mut sheets = Sheets::new();
    for (at, record) in records.iter().enumerate() {
        let said = match &record.entry {
            Entry::Issued(issued) => check_issue(root, issued, &mut sheets)?,
            Entry::Signed(signed) => check_signature(signed, &sheets, gaps),
            Entry::Superseded(entry) => known([entry.sheet, entry.replaced_by], &sheets, gaps),
            Entry::Reprinted(entry) => known([entry.sheet], &sheets, gaps),
            Entry::Voided(entry) => known([entry.sheet], &sheets, gaps),
            Entry::Lost(entry) => known([entry.sheet], &sheets, gaps),
            Entry::ReadThrough(entry) => known([entry.sheet], &sheets, gaps),
            Entry::Corrected(entry) => {
                earlier(entry.entry, &records[..at], gaps, |own| !matches!(own, Entry::Issued(_)))
            }
            Entry::Struck(entry) => earlier(entry.entry, &records[..at], gaps, |_| true),
            Entry::Finding(entry) => {
                earlier(entry.visit, &records[..at], gaps, |entry| matches!(entry, Entry::Visited(_)))
            }
            Entry::Answered(entry) => {
                earlier(entry.finding, &records[..at], gaps, |entry| matches!(entry, Entry::Finding(_)))
            }
            _ => None,
        };
        if let Some(message) = said {
            let file = survey.file_of(record.number);
            survey.flaw(FlawKind::Contradicting, format!("{LEDGER}/{file}"), message);
        }
    }
    survey.records = records;
    Ok(())
}

fn check_issue(root: &Path, issued: &Issued, sheets: &mut Sheets) -> Result<Option<String>, Failure> {
    sheets.insert(issued.sheet, issued.steps.iter().map(|step| (step.id.clone(), step.requirement)).collect());
    // What is missing or changed was named when the files were read.
    let Some(bytes) = read_if_there(&root.join(BLOBS).join(issued.requirements.file_name()))? else { return Ok(None) };
    if BlobRef::of(&bytes, &issued.requirements.ending) != issued.requirements {
        return Ok(None);
    }
    Ok(match SheetRequirement::parse(&bytes) {
        Err(fault) => Some(format!("its requirements do not read: {fault}")),
        Ok(sheet) if sheet.code() != issued.sheet => {
            Some(format!("code {} does not follow from its requirements, which give {}", issued.sheet, sheet.code()))
        }
        Ok(sheet) if !sheet.steps.iter().map(StepRequirement::issued).eq(issued.steps.iter().cloned()) => {
            Some("its steps are not those of its requirements".to_owned())
        }
        Ok(_) => None,
    })
}

fn check_signature(signed: &Signed, sheets: &Sheets, gaps: bool) -> Option<String> {
    let Some(steps) = sheets.get(&signed.sheet) else {
        return (!gaps).then(|| format!("sheet {} was never issued", signed.sheet));
    };
    match steps.get(&signed.step) {
        None => Some(format!("sheet {} has no step `{}`", signed.sheet, signed.step)),
        Some(digest) if *digest != signed.requirement => {
            Some(format!("step `{}` of sheet {} requires something else", signed.step, signed.sheet))
        }
        Some(_) => None,
    }
}

fn known<const N: usize>(codes: [SheetCode; N], sheets: &Sheets, gaps: bool) -> Option<String> {
    let unknown = codes.into_iter().find(|code| !sheets.contains_key(code));
    unknown.filter(|_| !gaps).map(|code| format!("sheet {code} was never issued"))
}

fn earlier(number: EntryNumber, before: &[Record], gaps: bool, fits: impl Fn(&Entry) -> bool) -> Option<String> {
    match before.binary_search_by_key(&number, |record| record.number) {
        Ok(at) if fits(&before[at].entry) => None,
        Ok(at) => Some(format!("entry {number} is of kind `{}`, which this cannot be about", before[at].entry.kind())),
        Err(_) => (!gaps).then(|| format!("there is no earlier entry {number}")),
    }
}
