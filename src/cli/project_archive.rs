//! The archive of a project as commands see it: opened, folded, its damage told.
//!
//! It records nothing by itself.

use std::collections::BTreeMap;

use anyhow::{Context, Result, anyhow};

use super::Console;
use super::project::LoadedProject;
use crate::archive::{
    Archive, Begun, EnterFacts, Entry, EntryNumber, Issue, NewBlob, Record, SheetRequirement, State, Survey, Writer,
};
use crate::calendar::Moment;
use crate::ident::SheetCode;
use crate::job::{Item, Job};
use crate::words::Role;
use crate::work::Archived;

/// An archive and what it says.
pub(super) struct ProjectArchive {
    /// The folder.
    pub store: Archive,
    /// Records and damage.
    pub survey: Survey,
    /// What the records say.
    pub state: State,
}

/// Opens the archive of a project; says what is damaged, and goes on with what is sound.
pub(super) fn open_archive(project: &LoadedProject, console: &mut Console) -> Result<ProjectArchive> {
    let store = Archive::at(project.folder_of(&project.job.project.settings.archive.value));
    let survey = store.read()?;
    if !survey.is_whole() {
        console.complain(&format!(
            "the archive {} is damaged: `shophead archive verify` says where",
            store.root().display()
        ));
    }
    let state = State::of(&survey.records);
    Ok(ProjectArchive { store, survey, state })
}

impl ProjectArchive {
    /// Whether the archive has a signature of an item, also one that no longer counts.
    pub fn knows(&self, job: &Job, item: Item) -> bool {
        self.state.signatures_of(&job.name_of(item)).next().is_some()
    }

    /// The sheet in force of an item's traveler and hand.
    pub fn sheet_of(&self, job: &Job, item: Item) -> Option<&Issue> {
        self.state.in_force(&job.packet_name(item.at.traveler, item.hand))
    }

    /// What the steps of a sheet require, as archived when it was issued.
    pub fn requirement(&self, issue: &Issue) -> Result<SheetRequirement> {
        let bytes = self.store.blob(&issue.issued.requirements)?;
        SheetRequirement::parse(&bytes)
            .with_context(|| format!("the requirements of sheet {} cannot be read", issue.issued.sheet))
    }

    /// The requirements of every sheet in force.
    pub fn archived(&self) -> Result<Archived> {
        self.state.all_in_force().map(|issue| Ok((issue.issued.sheet, self.requirement(issue)?))).collect()
    }

    /// The requirements of sheets by code; codes that were never issued are left out.
    pub fn sheets(&self, codes: impl Iterator<Item = SheetCode>) -> Result<BTreeMap<SheetCode, SheetRequirement>> {
        let issues = codes.filter_map(|code| self.state.sheet(code));
        issues.map(|issue| Ok((issue.issued.sheet, self.requirement(issue)?))).collect()
    }

    /// The writer; an archive that is new begins with the aircraft's names.
    pub fn writer(&self, project: &LoadedProject, entered: Moment) -> Result<Writer> {
        let mut writer = self.store.writer_after(&self.survey)?;
        if writer.survey().last() != self.survey.last() {
            return Err(anyhow!("another program has recorded something meanwhile; start the command again"));
        }
        if writer.next().0 == 1 {
            let about = &project.job.project;
            let text = |text: Option<&crate::job::Text>| text.map(|text| text.value.clone());
            let begun = Begun {
                aircraft: about.aircraft.value.clone(),
                serial: text(about.serial()),
                registration: text(about.registration()),
            };
            writer.append(entered, begun, &[])?;
        }
        Ok(writer)
    }
}

/// Everybody who may sign, with the role.
pub(super) fn signers(project: &LoadedProject) -> Vec<(String, Role)> {
    let signers = project.job.project.signers.iter();
    signers.map(|signer| (signer.initials.value.clone(), signer.role.value)).collect()
}

/// Ids of the spaces.
pub(super) fn spaces(project: &LoadedProject) -> Vec<String> {
    project.job.project.spaces.iter().map(|space| space.id.value.clone()).collect()
}

/// What a typed file is judged by.
pub(super) fn facts<'a>(
    signers: &'a [(String, Role)],
    spaces: &'a [String],
    sheets: &'a BTreeMap<SheetCode, SheetRequirement>,
    entered: Moment,
    archive: &ProjectArchive,
) -> EnterFacts<'a> {
    // The first entry of a new archive tells of the aircraft; what is typed follows it.
    let last = archive.survey.last().entries.max(1);
    EnterFacts { signers, spaces, sheets, entered, next: EntryNumber(last + 1) }
}

/// Records entries one after the other and says so.
pub(super) fn record_all(
    writer: &mut Writer,
    entered: Moment,
    entries: Vec<Entry>,
    console: &mut Console,
) -> Result<Vec<Record>> {
    let mut records = Vec::with_capacity(entries.len());
    for entry in entries {
        let record = writer.append(entered, entry, &[])?;
        console.say(&format!("entry {}: {}", record.number, describe(&record.entry)))?;
        records.push(record);
    }
    Ok(records)
}

/// Records one entry with a file.
pub(super) fn record_with(
    writer: &mut Writer,
    entered: Moment,
    entry: Entry,
    blobs: &[NewBlob<'_>],
    console: &mut Console,
) -> Result<Record> {
    let record = writer.append(entered, entry, blobs)?;
    console.say(&format!("entry {}: {}", record.number, describe(&record.entry)))?;
    Ok(record)
}

/// An entry as one line.
pub(super) fn describe(entry: &Entry) -> String {
    let kind = entry.kind();
    match entry {
        Entry::Begun(entry) => format!("the archive of {} begins", entry.aircraft),
        Entry::Issued(entry) => {
            let place = entry.packet();
            format!("issued {} {place} rev {}, {}", entry.sheet, entry.revision, entry.title)
        }
        Entry::Reprinted(entry) => format!("reprinted {}", entry.sheet),
        Entry::Superseded(entry) => {
            format!("{} marked and taken off the bench; {} is in its place", entry.sheet, entry.replaced_by)
        }
        Entry::Voided(entry) => format!("{} is void: {}", entry.sheet, entry.because),
        Entry::Lost(entry) => format!("{} is lost: {}", entry.sheet, entry.because),
        Entry::Signed(entry) => {
            let place = entry.packet();
            let capacity = entry.capacity.word();
            format!(
                "signed {} {place} {} ({capacity}) by {}, work of {}",
                entry.sheet, entry.step, entry.by, entry.worked
            )
        }
        Entry::Imported(entry) => {
            let place = entry.packet();
            format!("imported {place} {}, work of {}", entry.step, entry.worked)
        }
        Entry::Corrected(entry) => {
            let side = |text: &Option<String>| text.clone().unwrap_or_else(|| "nothing".to_owned());
            let lines = format!("{} is {}, was {}", entry.field, side(&entry.now), side(&entry.was));
            format!("corrected entry {}: {lines}: {}", entry.entry, entry.because)
        }
        Entry::Struck(entry) => format!("struck out entry {}: {}", entry.entry, entry.because),
        Entry::ReadThrough(entry) => format!("change note of {} read by {}", entry.sheet, entry.by),
        Entry::Added(entry) => format!("added {}", entry.name),
        Entry::DiscrepancyOpened(entry) => format!("opened discrepancy {}: {}", entry.number, entry.what),
        Entry::DiscrepancyClosed(entry) => {
            let decided = entry.disposition.word();
            format!("closed discrepancy {}: {decided} on the word of {}", entry.number, entry.authority)
        }
        Entry::Visited(entry) => format!("visit of {} ({}) on {}", entry.by, entry.role, entry.on),
        Entry::Finding(entry) => format!("finding {}: {}", entry.number, entry.what),
        Entry::Answered(entry) => format!("answered finding of entry {}: {}", entry.finding, entry.answer),
        Entry::Noticed(entry) => format!("{kind} {}", entry.number),
    }
}
