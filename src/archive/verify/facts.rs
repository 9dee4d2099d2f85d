//! What the records say about each other: codes that follow from requirements, signatures that their sheets allow, times
//! that go forward.
//!
//! Entries that were made by the rules cannot contradict each other so: what is named here was written into the ledger by
//! other means. Where an entry that is spoken of is itself damaged or missing, that was named already and nothing is
//! added.

use std::collections::BTreeMap;
use std::path::Path;

use super::told::Told;
use super::{FlawKind, Survey};
use crate::archive::entry::{Added, Corrected, DiscrepancyClosed, Entry, Finding, Issued, Signed};
use crate::archive::failure::Failure;
use crate::archive::folder::{BLOBS, LEDGER, read_if_there};
use crate::archive::record::Record;
use crate::archive::requirement::{SheetRequirement, StepRequirement};
use crate::archive::sign::SAME_EVENING;
use crate::archive::state::Signature;
use crate::archive::value::{BlobRef, Capacity, Cause, EntryNumber};
use crate::ident::SheetCode;

/// Checks every record against those before it.
pub(super) fn check(root: &Path, survey: &mut Survey) -> Result<(), Failure> {
    check_times(survey);
    let gaps = survey.records.len() < survey.last().entries as usize;
    let records = std::mem::take(&mut survey.records);
    let mut checking = Checking { root, gaps, told: Told::default(), required: BTreeMap::new() };
    for (at, record) in records.iter().enumerate() {
        for message in checking.faults(record)? {
            let file = survey.file_of(record.number);
            survey.flaw(FlawKind::Contradicting, format!("{LEDGER}/{file}"), message);
        }
        checking.told.take(&records, at);
    }
    survey.records = records;
    Ok(())
}

/// A posting that was entered before the one before it says why.
fn check_times(survey: &mut Survey) {
    let pairs =
        survey.postings.windows(2).filter(|pair| pair[1].entered < pair[0].entered && pair[1].because.is_none());
    let faults: Vec<(String, String)> = pairs
        .map(|pair| {
            let message = format!("it was entered on {}, the entry before on {}", pair[1].entered, pair[0].entered);
            (format!("{LEDGER}/{}", pair[1].file), message)
        })
        .collect();
    for (path, message) in faults {
        survey.flaw(FlawKind::Contradicting, path, message);
    }
}

/// The checking of one record after the other.
struct Checking<'a> {
    root: &'a Path,
    /// Whether records are missing, so that what is not there says nothing.
    gaps: bool,
    told: Told<'a>,
    /// What sheets require, where that reads.
    required: BTreeMap<SheetCode, SheetRequirement>,
}

impl Checking<'_> {
    fn faults(&mut self, record: &Record) -> Result<Vec<String>, Failure> {
        let fault = match &record.entry {
            Entry::Begun(_) => self.begun(),
            Entry::Issued(issued) => return self.issue(issued),
            Entry::Signed(signed) => return Ok(self.signature(signed, record)),
            Entry::Superseded(entry) => self.known([entry.sheet, entry.replaced_by]),
            Entry::Reprinted(entry) => self.known([entry.sheet]),
            Entry::Voided(entry) => self.known([entry.sheet]),
            Entry::Lost(entry) => self.known([entry.sheet]),
            Entry::ReadThrough(entry) => self.known([entry.sheet]),
            Entry::Corrected(entry) => self.correction(entry),
            Entry::Struck(entry) => self.earlier(entry.entry, |_| true),
            Entry::Finding(entry) => return Ok(self.finding(entry)),
            Entry::Answered(entry) => self.earlier(entry.finding, |entry| matches!(entry, Entry::Finding(_))),
            Entry::DiscrepancyOpened(entry) => {
                let before = self.told.discrepancy(&entry.number);
                before.map(|own| format!("discrepancy {} was opened before, by entry {}", entry.number, own.entry))
            }
            Entry::DiscrepancyClosed(entry) => self.closing(entry),
            Entry::Added(entry) => return Ok(self.addition(entry)),
            _ => None,
        };
        Ok(fault.into_iter().collect())
    }

    fn begun(&self) -> Option<String> {
        let before = self.told.first(|entry| matches!(entry, Entry::Begun(_)));
        before.map(|number| format!("the archive began before, with entry {number}"))
    }

    fn issue(&mut self, issued: &Issued) -> Result<Vec<String>, Failure> {
        let mut faults: Vec<String> = issued.supersedes.and_then(|old| self.known([old])).into_iter().collect();
        let carried = issued.carried.iter().filter_map(|carried| {
            self.earlier(carried.entry, |entry| matches!(entry, Entry::Signed(_) | Entry::Imported(_)))
        });
        faults.extend(carried);
        // What is missing or changed was named when the files were read.
        let path = self.root.join(BLOBS).join(issued.requirements.file_name());
        let Some(bytes) = read_if_there(&path)? else { return Ok(faults) };
        if BlobRef::of(&bytes, &issued.requirements.ending) != issued.requirements {
            return Ok(faults);
        }
        match SheetRequirement::parse(&bytes) {
            Err(fault) => faults.push(format!("its requirements do not read: {fault}")),
            Ok(sheet) => {
                faults.extend(differs(issued, &sheet));
                self.required.insert(issued.sheet, sheet);
            }
        }
        Ok(faults)
    }

    fn signature(&self, signed: &Signed, record: &Record) -> Vec<String> {
        let Some(issued) = self.told.sheet(signed.sheet) else {
            return self.known([signed.sheet]).into_iter().collect();
        };
        let (sheet, step) = (signed.sheet, &signed.step);
        let mut faults = Vec::new();
        if signed.packet() != issued.packet() {
            faults.push(format!("sheet {sheet} is of {}, not of {}", issued.packet(), signed.packet()));
        }
        match issued.steps.iter().find(|own| own.id == *step) {
            None => faults.push(format!("sheet {sheet} has no step `{step}`")),
            Some(own) if own.requirement != signed.requirement => {
                faults.push(format!("step `{step}` of sheet {sheet} requires something else"));
            }
            Some(_) => {}
        }
        faults.extend(older_or_later(signed, issued, record));
        faults.extend(signed.discrepancies.iter().filter_map(|number| self.opened(number)));
        let required = self.required.get(&sheet).and_then(|sheet| sheet.step(step));
        faults.extend(required.into_iter().flat_map(|required| self.against(required, signed)));
        faults
    }

    /// What the step would not have let pass: another role at a hold, a reading outside without a discrepancy.
    fn against(&self, step: &StepRequirement, signed: &Signed) -> Vec<String> {
        let mut faults: Vec<String> = in_another_role(step, signed).into_iter().collect();
        let told = signed.discrepancies.iter().filter_map(|number| self.told.discrepancy(number));
        let told = told.filter(|own| own.opened.cause == Cause::Reading && own.opened.step.as_ref() == Some(&step.id));
        let opened: Vec<&str> = told.filter_map(|own| own.opened.is.as_deref()).collect();
        let outside = signed.readings.iter().filter(|own| step.limits(&own.id).contain(&own.value) == Some(false));
        let silent = outside.filter(|own| !self.gaps && !opened.contains(&own.value.as_str()));
        faults.extend(silent.map(|own| {
            let limits = step.limits_text(&own.id);
            format!("`{}` of step `{}` is {}, outside {limits}, and opened no discrepancy", own.id, step.id, own.value)
        }));
        faults
    }

    fn correction(&self, corrected: &Corrected) -> Option<String> {
        let (entry, field) = (corrected.entry, &corrected.field);
        let fault = self.earlier(entry, |own| !matches!(own, Entry::Issued(_)));
        let Some(record) = self.told.record(entry).filter(|_| fault.is_none()) else { return fault };
        let said = |line: Option<String>| line.unwrap_or_else(|| "nothing".to_owned());
        match self.told.line(record, field) {
            Err(fault) => Some(fault),
            Ok(line) if line != corrected.was && !self.gaps => {
                let (is, was) = (said(line), said(corrected.was.clone()));
                Some(format!("`{field}` of entry {entry} was {is}, not {was}"))
            }
            Ok(_) => match Signature::written(record) {
                Some(mut signature) => signature.correct(field, corrected.now.as_deref()).err(),
                None => record.entry.with_line(field, corrected.now.as_deref()).err(),
            },
        }
    }

    fn finding(&self, finding: &Finding) -> Vec<String> {
        let visit = self.earlier(finding.visit, |entry| matches!(entry, Entry::Visited(_)));
        visit.into_iter().chain(finding.discrepancy.as_ref().and_then(|number| self.opened(number))).collect()
    }

    fn closing(&self, closed: &DiscrepancyClosed) -> Option<String> {
        match self.told.closed(&closed.number) {
            Some(entry) => Some(format!("discrepancy {} was closed before, by entry {entry}", closed.number)),
            None => self.opened(&closed.number),
        }
    }

    fn addition(&self, added: &Added) -> Vec<String> {
        let sheet = added.sheet.and_then(|sheet| self.known([sheet]));
        sheet.into_iter().chain(added.discrepancy.as_ref().and_then(|number| self.opened(number))).collect()
    }

    fn opened(&self, number: &str) -> Option<String> {
        let unknown = !self.gaps && self.told.discrepancy(number).is_none();
        unknown.then(|| format!("discrepancy {number} was never opened"))
    }

    fn known<const N: usize>(&self, codes: [SheetCode; N]) -> Option<String> {
        let unknown = codes.into_iter().find(|code| self.told.sheet(*code).is_none());
        unknown.filter(|_| !self.gaps).map(|code| format!("sheet {code} was never issued"))
    }

    fn earlier(&self, number: EntryNumber, fits: impl Fn(&Entry) -> bool) -> Option<String> {
        match self.told.record(number) {
            Some(record) if fits(&record.entry) => None,
            Some(record) => {
                Some(format!("entry {number} is of kind `{}`, which this cannot be about", record.entry.kind()))
            }
            None => (!self.gaps).then(|| format!("there is no earlier entry {number}")),
        }
    }
}

fn differs(issued: &Issued, sheet: &SheetRequirement) -> Option<String> {
    if sheet.code() != issued.sheet {
        let gives = sheet.code();
        Some(format!("code {} does not follow from its requirements, which give {gives}", issued.sheet))
    } else if !sheet.steps.iter().map(StepRequirement::issued).eq(issued.steps.iter().cloned()) {
        Some("its steps are not those of its requirements".to_owned())
    } else if sheet.packet() != issued.packet() {
        Some(format!("its requirements are those of {}, not of {}", sheet.packet(), issued.packet()))
    } else {
        None
    }
}

/// A hold, a witness point or a stage that the step leaves to others.
fn in_another_role(step: &StepRequirement, signed: &Signed) -> Option<String> {
    let names: Vec<&str> = match signed.capacity {
        Capacity::Done => return None,
        Capacity::Hold | Capacity::Witness => step.roles(signed.capacity).collect(),
        Capacity::Stage => {
            let stages = step.stages().filter(|(id, _)| signed.stage.as_deref() == Some(id));
            stages.flat_map(|(_, stage)| stage.places().concat()).collect()
        }
    };
    // A stage is also signed by persons who are named.
    let own = |name: &&str| *name == signed.role || (signed.capacity == Capacity::Stage && *name == signed.by);
    if names.iter().any(own) {
        return None;
    }
    let asked = if names.is_empty() { "nobody".to_owned() } else { format!("the {}", names.join(" and the ")) };
    let what = signed.capacity.word();
    Some(format!("the {what} of step `{}` is for {asked}; it is signed as {}", step.id, signed.role))
}

/// Days of work that no sheet and no evening can have had.
fn older_or_later(signed: &Signed, issued: &Issued, record: &Record) -> Option<String> {
    let printed = issued.printed;
    let worked = signed.worked;
    if worked < printed && signed.reconstructed.is_none() {
        Some(format!("the work of {worked} is older than sheet {}, printed on {printed}", signed.sheet))
    } else if worked.days_after(record.entered.day()) > SAME_EVENING {
        Some(format!("the work of {worked} is later than this entry, of {}", record.entered))
    } else {
        None
    }
}
