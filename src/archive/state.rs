//! STATE: what the ledger says of the work: sheets in force, signatures that count, discrepancies, files, visits.
//!
//! It folds the records in their order and forgets none; what was corrected, struck or carried is applied here and
//! nowhere else. It does not know what the steps are about.

use std::borrow::Cow;
use std::collections::BTreeMap;

use super::entry::{
    Added, Answered, Corrected, DiscrepancyClosed, DiscrepancyOpened, Entry, Finding, Imported, Issued, Noticed,
    Signed, Visited,
};
use super::record::Record;
use super::value::{Capacity, Carry, EntryNumber};
use crate::calendar::{Day, Moment};
use crate::ident::SheetCode;
use crate::words::{ItemName, PacketName};

mod changed;
mod correction;
mod print;

pub use print::Print;

/// An issued sheet.
#[derive(Debug, Clone)]
pub struct Issue {
    /// Its entry.
    pub entry: EntryNumber,
    /// What was issued.
    pub issued: Issued,
    /// The sheet that replaced it.
    pub superseded_by: Option<SheetCode>,
    /// Whether its paper was marked and taken off the bench.
    pub marked: bool,
    /// Why it no longer counts, where nothing replaced it.
    pub voided: Option<String>,
    /// Whether its paper is lost.
    pub lost: bool,
    /// Who read the change note in front of it, and when.
    pub read_through: Option<(String, Day)>,
}

/// What a signature rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Basis {
    /// A sheet: the entry that issued it, because an older revision may be issued again under its old code.
    Issue(EntryNumber),
    /// A sheet of which no sound entry tells.
    Unknown,
    /// A file that was imported before there was a sheet.
    Import,
}

/// What an archive is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Aircraft {
    /// Its name.
    pub name: String,
    /// Its serial number.
    pub serial: Option<String>,
    /// Its registration.
    pub registration: Option<String>,
}

/// A signature as it holds after corrections.
#[derive(Debug, Clone)]
pub struct Signature {
    /// Its entry.
    pub entry: EntryNumber,
    /// When it was entered.
    pub entered: Moment,
    /// What it rests on.
    pub basis: Basis,
    /// What was signed. An import names no sheet and no role, and what stands for them here is nobody's: ask
    /// [`Signature::sheet`] and [`Signature::role`]. Initials that it does not name are empty.
    pub signed: Signed,
    /// Corrections, in their order.
    pub corrections: Vec<(EntryNumber, Corrected)>,
    /// Why it was struck out.
    pub struck: Option<String>,
}

/// A discrepancy.
#[derive(Debug, Clone)]
pub struct Discrepancy {
    /// Entry that opened it.
    pub entry: EntryNumber,
    /// What was found.
    pub opened: DiscrepancyOpened,
    /// What was decided.
    pub closed: Option<(EntryNumber, DiscrepancyClosed)>,
    /// Why it was struck out; its number stays taken.
    pub struck: Option<String>,
}

impl Discrepancy {
    /// Whether it still stops what it stops: neither decided nor struck out.
    #[must_use]
    pub const fn is_open(&self) -> bool {
        self.closed.is_none() && self.struck.is_none()
    }
}

/// A visit with what was found.
#[derive(Debug, Clone)]
pub struct Visit {
    /// Its entry.
    pub entry: EntryNumber,
    /// Who came.
    pub visited: Visited,
    /// Findings with their answers.
    pub findings: Vec<(EntryNumber, Finding, Vec<Answered>)>,
    /// Why it was struck out.
    pub struck: Option<String>,
}

/// Whether a step is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Nobody signed.
    Open,
    /// Signed on the sheet in force, or carried to it.
    Signed(EntryNumber),
    /// Signed before; stands when the change note has been read.
    AwaitsReading(EntryNumber),
    /// Signed before; a change of the plans let it fall.
    Fallen(EntryNumber),
}

/// What the ledger says.
#[derive(Debug, Clone, Default)]
pub struct State {
    /// The aircraft, once the archive has begun.
    pub aircraft: Option<Aircraft>,
    /// Every sheet, in the order of issue.
    pub issues: Vec<Issue>,
    /// Every signature by entry.
    pub signatures: BTreeMap<EntryNumber, Signature>,
    /// Every discrepancy by number.
    pub discrepancies: BTreeMap<String, Discrepancy>,
    /// Every added file.
    pub files: Vec<(EntryNumber, Added)>,
    /// Every visit.
    pub visits: Vec<Visit>,
    /// Every print whose places are recorded, in their order.
    pub prints: Vec<Print>,
    /// Every notice.
    pub notices: Vec<(EntryNumber, Noticed)>,
    /// Every record, as it was written.
    records: Vec<Record>,
    /// Entries that are struck out, with the reason.
    struck: BTreeMap<EntryNumber, String>,
    /// Corrections by the entry that they correct.
    corrections: BTreeMap<EntryNumber, Vec<(EntryNumber, Corrected)>>,
    by_code: BTreeMap<SheetCode, usize>,
    in_force: BTreeMap<PacketName, usize>,
    by_step: BTreeMap<ItemName, Vec<EntryNumber>>,
}

impl State {
    /// Folds records in their order.
    #[must_use]
    pub fn of(records: &[Record]) -> Self {
        Self::folded(records.to_vec())
    }

    /// What is struck out, and what is corrected, is known before the first record is taken.
    fn folded(records: Vec<Record>) -> Self {
        let struck = changed::struck(&records);
        let corrections = changed::corrections(&records, &struck);
        let mut state = Self { struck, corrections, ..Self::default() };
        for record in &records {
            state.fold(record);
        }
        state.records = records;
        state
    }

    /// Takes one more record.
    pub fn take(&mut self, record: &Record) {
        self.records.push(record.clone());
        if matches!(record.entry, Entry::Corrected(_) | Entry::Struck(_)) {
            *self = Self::folded(std::mem::take(&mut self.records));
        } else {
            self.fold(record);
        }
    }

    /// An entry as it holds after corrections.
    #[must_use]
    pub fn entry(&self, number: EntryNumber) -> Option<Entry> {
        let at = self.records.binary_search_by_key(&number, |record| record.number).ok()?;
        Some(self.as_corrected(&self.records[at]).into_owned())
    }

    /// Why an entry was struck out.
    #[must_use]
    pub fn struck(&self, number: EntryNumber) -> Option<&str> {
        self.struck.get(&number).map(String::as_str)
    }

    /// The corrections of an entry, in their order.
    #[must_use]
    pub fn corrections(&self, number: EntryNumber) -> &[(EntryNumber, Corrected)] {
        self.corrections.get(&number).map_or(&[], Vec::as_slice)
    }

    fn as_corrected<'a>(&self, record: &'a Record) -> Cow<'a, Entry> {
        let is_signature = matches!(record.entry, Entry::Signed(_) | Entry::Imported(_));
        let mut entry = Cow::Borrowed(&record.entry);
        for (_, corrected) in self.corrections(record.number).iter().filter(|_| !is_signature) {
            // A correction that does not fit was refused when it was entered; `verify` names it where it was not.
            if let Ok(changed) = entry.with_line(&corrected.field, corrected.now.as_deref()) {
                entry = Cow::Owned(changed);
            }
        }
        entry
    }

    fn fold(&mut self, record: &Record) {
        let number = record.number;
        let struck = self.struck.get(&number).cloned();
        match &*self.as_corrected(record) {
            Entry::Issued(issued) => {
                self.print(Print::of_issued(number, issued));
                self.issue(number, issued);
            }
            Entry::Reprinted(own) => self.print(Print::of_reprinted(number, own)),
            Entry::Signed(signed) => {
                let basis = self.sheet(signed.sheet).map_or(Basis::Unknown, |issue| Basis::Issue(issue.entry));
                self.sign(Signature { struck, ..Signature::of_signed(number, record.entered, basis, signed) });
            }
            Entry::Imported(imported) => {
                self.sign(Signature { struck, ..Signature::of_imported(number, record.entered, imported) });
            }
            Entry::DiscrepancyOpened(opened) => {
                let discrepancy = Discrepancy { entry: number, opened: (**opened).clone(), closed: None, struck };
                self.discrepancies.entry(opened.number.clone()).or_insert(discrepancy);
            }
            Entry::Visited(visited) => {
                let (visited, findings) = ((**visited).clone(), Vec::new());
                self.visits.push(Visit { entry: number, visited, findings, struck });
            }
            Entry::Noticed(notice) => self.notices.push((number, (**notice).clone())),
            Entry::Begun(begun) => self.name(&begun.aircraft, begun.serial.as_ref(), begun.registration.as_ref()),
            Entry::Renamed(own) => self.name(&own.aircraft, own.serial.as_ref(), own.registration.as_ref()),
            // Everything else leaves nothing behind where it is struck out.
            entry if struck.is_none() => self.fold_more(number, entry),
            _ => {}
        }
    }

    fn fold_more(&mut self, number: EntryNumber, entry: &Entry) {
        match entry {
            Entry::Superseded(entry) => self.change_sheet(entry.sheet, |issue| issue.marked = true),
            Entry::Lost(entry) => self.change_sheet(entry.sheet, |issue| issue.lost = true),
            Entry::ReadThrough(entry) => {
                self.change_sheet(entry.sheet, |issue| issue.read_through = Some((entry.by.clone(), entry.on)));
            }
            Entry::Voided(entry) => self.void(entry.sheet, &entry.because),
            Entry::Added(added) => self.files.push((number, (**added).clone())),
            Entry::DiscrepancyClosed(closed) => {
                if let Some(discrepancy) = self.discrepancies.get_mut(&closed.number) {
                    discrepancy.closed = Some((number, (**closed).clone()));
                }
            }
            Entry::Finding(finding) => {
                if let Some(visit) = self.visits.iter_mut().find(|visit| visit.entry == finding.visit) {
                    visit.findings.push((number, (**finding).clone(), Vec::new()));
                }
            }
            Entry::Answered(answered) => self.answer(answered),
            _ => {}
        }
    }

    fn name(&mut self, name: &str, serial: Option<&String>, registration: Option<&String>) {
        let (name, serial, registration) = (name.to_owned(), serial.cloned(), registration.cloned());
        self.aircraft = Some(Aircraft { name, serial, registration });
    }

    fn issue(&mut self, entry: EntryNumber, issued: &Issued) {
        if let Some(old) = issued.supersedes {
            self.change_sheet(old, |issue| issue.superseded_by = Some(issued.sheet));
        }
        let index = self.issues.len();
        let (superseded_by, marked, voided, lost, read_through) = (None, false, None, false, None);
        self.issues.push(Issue { entry, issued: issued.clone(), superseded_by, marked, voided, lost, read_through });
        self.by_code.insert(issued.sheet, index);
        self.in_force.insert(issued.packet(), index);
    }

    fn change_sheet(&mut self, code: SheetCode, change: impl FnOnce(&mut Issue)) {
        if let Some(index) = self.by_code.get(&code) {
            change(&mut self.issues[*index]);
        }
    }

    fn void(&mut self, code: SheetCode, because: &str) {
        self.change_sheet(code, |issue| issue.voided = Some(because.to_owned()));
        self.in_force.retain(|_, index| self.issues[*index].issued.sheet != code);
    }

    fn sign(&mut self, mut signature: Signature) {
        signature.corrections = self.corrections(signature.entry).to_vec();
        for (_, corrected) in signature.corrections.clone() {
            // A correction that does not fit was refused when it was entered; `verify` names it where it was not.
            let _ = signature.correct(&corrected.field, corrected.now.as_deref());
        }
        self.by_step.entry(signature.item()).or_default().push(signature.entry);
        self.signatures.insert(signature.entry, signature);
    }

    fn answer(&mut self, answered: &Answered) {
        let findings = self.visits.iter_mut().flat_map(|visit| &mut visit.findings);
        if let Some((_, _, answers)) = findings.into_iter().find(|(entry, _, _)| *entry == answered.finding) {
            answers.push(answered.clone());
        }
    }

    /// The sheet of a code.
    #[must_use]
    pub fn sheet(&self, code: SheetCode) -> Option<&Issue> {
        self.by_code.get(&code).map(|index| &self.issues[*index])
    }

    /// The sheet in force for a packet.
    #[must_use]
    pub fn in_force(&self, packet: &PacketName) -> Option<&Issue> {
        self.in_force.get(packet).map(|index| &self.issues[*index])
    }

    /// Every sheet in force.
    pub fn all_in_force(&self) -> impl Iterator<Item = &Issue> {
        self.in_force.values().map(|index| &self.issues[*index])
    }

    /// Every signature of a step that was not struck, on whatever sheet, in their order.
    pub fn signatures_of(&self, item: &ItemName) -> impl Iterator<Item = &Signature> + use<'_> {
        let entries = self.by_step.get(item).into_iter().flatten();
        entries.filter_map(|entry| self.signatures.get(entry)).filter(|signature| signature.struck.is_none())
    }

    /// The signatures of a step that count on the sheet in force, or on none where no sheet was issued; those of a step
    /// that had another name then come last.
    pub fn counting(&self, item: &ItemName) -> impl Iterator<Item = (&Signature, Carry)> + use<'_> {
        let issue = self.in_force(&item.packet());
        let step = item.step.clone();
        let renamed = issue.into_iter().flat_map(|issue| &issue.issued.carried).filter_map(move |carried| {
            let signature = self.signatures.get(&carried.entry)?;
            let other_name = carried.step == step && signature.signed.step != step && signature.struck.is_none();
            other_name.then_some((signature, carried.how))
        });
        let own = self.signatures_of(item);
        own.filter_map(move |signature| Some((signature, counts(signature, issue)?))).chain(renamed)
    }

    /// Whether a step is done.
    #[must_use]
    pub fn standing(&self, item: &ItemName) -> Standing {
        let waits = self.in_force(&item.packet()).is_some_and(|issue| issue.read_through.is_none());
        let mut done = self.counting(item).filter(|(signature, _)| signature.signed.capacity == Capacity::Done);
        match done.next() {
            Some((signature, Carry::ReadThrough)) if waits => Standing::AwaitsReading(signature.entry),
            Some((signature, _)) => Standing::Signed(signature.entry),
            None => {
                let before = self.signatures_of(item).filter(|signature| signature.signed.capacity == Capacity::Done);
                before.last().map_or(Standing::Open, |signature| Standing::Fallen(signature.entry))
            }
        }
    }

    /// Whether somebody signed a step in a capacity, and that counts.
    #[must_use]
    pub fn is_signed(&self, item: &ItemName, capacity: Capacity) -> bool {
        self.counting(item).any(|(signature, _)| signature.signed.capacity == capacity)
    }

    /// Discrepancies that are neither closed nor struck out.
    pub fn open_discrepancies(&self) -> impl Iterator<Item = &Discrepancy> {
        self.discrepancies.values().filter(|discrepancy| discrepancy.is_open())
    }

    /// The number that the next discrepancy gets: `D-001` is the first of an archive.
    #[must_use]
    pub fn next_discrepancy(&self) -> String {
        discrepancy_number(self.discrepancies_numbered() + 1)
    }

    /// The numbers that the next discrepancies get, one after the other.
    pub fn next_discrepancies(&self) -> impl Iterator<Item = String> + use<> {
        (self.discrepancies_numbered() + 1..).map(discrepancy_number)
    }

    /// The highest number so far; one that was typed in another form takes none of these.
    fn discrepancies_numbered(&self) -> u32 {
        let used = self.discrepancies.keys().filter_map(|number| number.strip_prefix("D-")?.parse().ok());
        // None yet: the first is 1.
        used.max().unwrap_or(0)
    }

    /// The number that the next notice gets.
    #[must_use]
    pub fn next_notice(&self) -> String {
        format!("N-{:03}", self.notices.len() + 1)
    }
}

/// Whether a signature counts on a sheet, and why.
fn counts(signature: &Signature, issue: Option<&Issue>) -> Option<Carry> {
    let Some(issue) = issue else {
        return (signature.basis == Basis::Import).then_some(Carry::Stands);
    };
    if signature.basis == Basis::Issue(issue.entry) {
        return Some(Carry::Stands);
    }
    let mut all = issue.issued.carried.iter();
    let carried = all.find(|carried| carried.entry == signature.entry && carried.step == signature.signed.step);
    carried.map(|carried| carried.how)
}

impl Signature {
    /// The signature of an entry as it was written, on whatever it rests; none of one that is no signature.
    pub(super) fn written(record: &Record) -> Option<Self> {
        match &record.entry {
            Entry::Signed(signed) => Some(Self::of_signed(record.number, record.entered, Basis::Unknown, signed)),
            Entry::Imported(imported) => Some(Self::of_imported(record.number, record.entered, imported)),
            _ => None,
        }
    }

    fn of_signed(entry: EntryNumber, entered: Moment, basis: Basis, signed: &Signed) -> Self {
        Self { entry, entered, basis, signed: signed.clone(), corrections: Vec::new(), struck: None }
    }

    fn of_imported(entry: EntryNumber, entered: Moment, imported: &Imported) -> Self {
        // A progress file need not say whose mark it was; then nobody is named.
        let by = imported.by.as_deref().unwrap_or_default();
        let signed = Signed {
            traveler: imported.traveler.clone(),
            hand: imported.hand,
            requirement: imported.requirement,
            minutes: imported.minutes,
            readings: imported.readings.clone(),
            ..Signed::blank(imported.requirement.code(), &imported.step, by, "", imported.worked)
        };
        Self::of_signed(entry, entered, Basis::Import, &signed)
    }

    /// Code of the sheet; absent where it was imported.
    #[must_use]
    pub fn sheet(&self) -> Option<SheetCode> {
        (self.basis != Basis::Import).then_some(self.signed.sheet)
    }

    /// Id of the role in which; absent where it was imported.
    #[must_use]
    pub fn role(&self) -> Option<&str> {
        (self.basis != Basis::Import).then_some(self.signed.role.as_str())
    }

    /// What stands in a field that the role asks for.
    #[must_use]
    pub fn asked(&self, field: &str) -> Option<&str> {
        self.signed.asked.iter().find(|asked| asked.id == field).map(|asked| asked.value.as_str())
    }

    /// The value read for a record.
    #[must_use]
    pub fn reading(&self, id: &str) -> Option<&str> {
        self.signed.readings.iter().find(|reading| reading.id == id).map(|reading| reading.value.as_str())
    }
}

fn discrepancy_number(number: u32) -> String {
    format!("D-{number:03}")
}
