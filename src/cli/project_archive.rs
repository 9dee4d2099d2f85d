//! The archive of a project as commands see it: opened, folded, its damage told; what a command records goes through here,
//! all in one go.
//!
//! It decides nothing of what is recorded.

use std::collections::BTreeMap;
use std::rc::Rc;

use anyhow::{Context, Result, bail, ensure};

use super::Console;
use super::folders::misplaced;
use super::project::LoadedProject;
use super::time::{entry_time, system_time};
use super::typed_text::on_paper;
use crate::archive::{
    Aircraft, Archive, Begun, EnterFacts, Entry, EntryNumber, Issue, NewPosting, Record, RoleFacts, SheetRequirement,
    SignerFacts, State, Survey, TodayStep, Writer,
};
use crate::calendar::{Day, Moment};
use crate::ident::SheetCode;
use crate::job::{Item, Job, Role, Signer};
use crate::work::{Archived, Unread, unread};

/// An archive and what it says.
pub(super) struct ProjectArchive {
    /// The folder.
    pub store: Archive,
    /// Records and damage.
    pub survey: Rc<Survey>,
    /// What the records say.
    pub state: State,
    /// The place at the head of the line, where there is an archive to which something is to be added.
    writer: Option<Writer>,
}

/// Another program began the archive between reading and recording: what was judged does not hold.
#[derive(Debug)]
pub(super) struct Overtaken;

impl std::fmt::Display for Overtaken {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("another program has recorded something meanwhile; start the command again")
    }
}

impl std::error::Error for Overtaken {}

/// Opens the archive of a project for reading, as it was read with the project; says what is damaged, and goes on with what
/// is sound.
pub(super) fn open_archive(project: &LoadedProject, console: &mut Console) -> Result<ProjectArchive> {
    let store = store_of(project, console)?;
    Ok(opened(project, store, Rc::clone(&project.ledger), None, console))
}

/// Opens the archive of a project to add to it: what is read stays true until it is recorded, because others wait in line.
/// An archive that is not begun yet is left so.
pub(super) fn open_to_record(project: &LoadedProject, console: &mut Console) -> Result<ProjectArchive> {
    let store = store_of(project, console)?;
    if !store.exists() {
        return Ok(opened(project, store, Rc::default(), None, console));
    }
    let writer = stand_in_line(&store, &project.ledger, console)?;
    // While it stood in line, others may have recorded something.
    let same = *writer.survey() == *project.ledger;
    let survey = if same { Rc::clone(&project.ledger) } else { Rc::new(writer.survey().clone()) };
    Ok(opened(project, store, survey, Some(writer), console))
}

fn store_of(project: &LoadedProject, console: &Console) -> Result<Archive> {
    if let Some(said) = misplaced(&project.job, &project.folder) {
        bail!("{said}");
    }
    Ok(Archive::at(project.folder_of(&project.job.project.settings.archive.value)).on(console.disk()))
}

fn stand_in_line(store: &Archive, known: &Survey, console: &mut Console) -> Result<Writer> {
    let waits = || console.complain("another program is writing to the archive; waiting for it");
    Ok(store.writer_in_line(known, waits)?)
}

fn opened(
    project: &LoadedProject,
    store: Archive,
    survey: Rc<Survey>,
    writer: Option<Writer>,
    console: &mut Console,
) -> ProjectArchive {
    if !survey.is_whole() {
        console.complain(&format!(
            "the archive {} is damaged: `shophead archive verify` says where",
            store.root().display()
        ));
    }
    let state = State::of(&survey.records);
    if let Some(said) = other_aircraft(project, &state) {
        console.complain(&said);
    }
    ProjectArchive { store, survey, state, writer }
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

    /// Signatures that wait for a read-through, with what there is to read; a sheet that cannot be read is for
    /// `archive verify` to say.
    pub fn unread(&self, project: &LoadedProject) -> Vec<Unread> {
        unread(&self.state, &project.job.project.style, |issue| self.requirement(issue).ok())
    }

    /// Records everything or nothing, and shows what was recorded as soon as it is safe; an archive that is new begins with
    /// the aircraft's names. Afterwards the next in line may write.
    pub fn record(
        &mut self,
        project: &LoadedProject,
        mut posting: NewPosting<'_>,
        console: &mut Console,
    ) -> Result<()> {
        let mut writer = match self.writer.take() {
            Some(writer) => writer,
            None => stand_in_line(&self.store, &self.survey, console)?,
        };
        if writer.survey().last() != self.survey.last() {
            bail!(Overtaken);
        }
        if posting.entries.is_empty() {
            return Ok(());
        }
        self.require_aircraft(project, &posting)?;
        self.require_time(&mut posting, console)?;
        if writer.survey().last().entries == 0 {
            posting.entries.insert(0, begun(project).into());
        }
        let records = writer.post(&posting)?;
        drop(writer);
        let shown = records.iter().filter_map(|record| self.line(record)).try_for_each(|line| console.say(&line));
        shown.and_then(|()| console.finish()).context("everything was recorded, but cannot be shown")
    }

    /// An archive belongs to one aircraft.
    fn require_aircraft(&self, project: &LoadedProject, posting: &NewPosting<'_>) -> Result<()> {
        if posting.entries.iter().any(|entry| matches!(entry, Entry::Renamed(_))) {
            return Ok(());
        }
        match other_aircraft(project, &self.state) {
            Some(said) => bail!(
                "{said}; nothing was recorded. If it is the same aircraft, `shophead archive rename` records the new names; if \
                 not, `archive` in [project] names a folder of its own"
            ),
            None => Ok(()),
        }
    }

    /// A time that runs backwards or is odd stands only with its reason, which is asked for where somebody can answer.
    fn require_time(&self, posting: &mut NewPosting<'_>, console: &mut Console) -> Result<()> {
        let last = self.survey.postings.last().map(|last| last.entered);
        if last.is_some_and(|last| posting.entered < last) && console.is_of_clock(posting.entered) {
            // Whoever stood in line while others recorded has the time at which the turn came.
            posting.entered = entry_time(None, console)?;
        }
        let odd = odd_time(posting.entered, last, console);
        if let (Some(odd), None) = (odd, &posting.because) {
            let answer =
                console.ask(&format!("{odd}. Why does this time stand? Nothing is recorded without an answer:"));
            let because = answer.map(|answer| on_paper(&answer)).transpose().map_err(anyhow::Error::msg)?;
            let why = || format!("{odd}; nothing was recorded. If the time is right, --time-because says why");
            posting.because = Some(because.with_context(why)?);
        }
        Ok(())
    }

    /// What is said of a record when it is made.
    fn line(&self, record: &Record) -> Option<String> {
        match &record.entry {
            Entry::Begun(_) => None,
            Entry::Issued(issued) => Some(format!("{}: issued as {}", issued.packet(), issued.sheet)),
            Entry::Reprinted(again) => {
                let packet = self.state.sheet(again.sheet)?.issued.packet();
                Some(format!("{packet}: {} is in force; printed again, with what is signed", again.sheet))
            }
            entry => Some(format!("entry {}: {}", record.number, describe(entry))),
        }
    }
}

fn begun(project: &LoadedProject) -> Begun {
    let Aircraft { name, serial, registration } = named_in(project);
    Begun { aircraft: name, serial, registration }
}

/// The names of the aircraft in build.toml.
pub(super) fn named_in(project: &LoadedProject) -> Aircraft {
    let about = &project.job.project;
    let text = |text: Option<&crate::job::Text>| text.map(|text| text.value.clone());
    Aircraft {
        name: about.aircraft.value.clone(),
        serial: text(about.serial()),
        registration: text(about.registration()),
    }
}

/// What is said where the archive is of an aircraft of another name or serial number. A registration often comes late.
fn other_aircraft(project: &LoadedProject, state: &State) -> Option<String> {
    let recorded = state.aircraft.as_ref()?;
    let now = named_in(project);
    let whole = |own: &Aircraft| match &own.serial {
        Some(serial) => format!("{}, serial {serial}", own.name),
        None => format!("{}, without a serial number", own.name),
    };
    let same = now.name == recorded.name && now.serial == recorded.serial;
    (!same).then(|| format!("the archive is that of {}; build.toml names {}", whole(recorded), whole(&now)))
}

/// The first year in which anything could be recorded, and the last for which anybody may plan.
const YEARS: (u16, u16) = (2026, 2099);

/// What is odd about the time of an entry. The clock is asked only where somebody sits before the terminal: else the same
/// input records the same.
fn odd_time(entered: Moment, last: Option<Moment>, console: &mut Console) -> Option<String> {
    if let Some(last) = last.filter(|last| entered < *last) {
        return Some(format!("the entry's time, {entered}, lies before that of the last entry, {last}"));
    }
    let early = Day::new(YEARS.0, 1, 1).is_some_and(|first| entered.day() < first);
    let late = Day::new(YEARS.1, 12, 31).is_some_and(|end| entered.day() > end);
    if early || late {
        return Some(format!("the entry's time, {entered}, lies outside the years {} to {}", YEARS.0, YEARS.1));
    }
    let now = console.can_ask().then(|| system_time(console).ok()).flatten()?;
    (entered.day() > now.day()).then(|| format!("the entry's time, {entered}, lies after today, {}", now.day()))
}

/// Everybody who may sign, with what their roles may do.
pub(super) fn signers(project: &LoadedProject) -> Vec<SignerFacts> {
    let job = &project.job;
    let role = |role: &Role| RoleFacts { id: role.id.clone(), may: role.may.clone(), asks: role.asks.clone() };
    let signer = |signer: &Signer| SignerFacts {
        initials: signer.initials.value.clone(),
        roles: job.roles_of(signer).map(role).collect(),
    };
    job.project.signers.iter().map(signer).collect()
}

/// Refuses initials that nobody in build.toml has, and names those that somebody has.
pub(super) fn refuse_stranger(project: &LoadedProject, by: &str) -> Result<()> {
    let known: Vec<&str> = project.job.project.signers.iter().map(|signer| signer.initials.value.as_str()).collect();
    let names = known.join(", ");
    ensure!(known.contains(&by), "nobody in build.toml has the initials `{by}`; these have: {names}");
    Ok(())
}

/// Ids of the spaces.
pub(super) fn spaces(project: &LoadedProject) -> Vec<String> {
    project.job.project.spaces.iter().map(|space| space.id.value.clone()).collect()
}

/// What a typed file is judged by.
pub(super) fn facts<'a>(
    signers: &'a [SignerFacts],
    spaces: &'a [String],
    sheets: &'a BTreeMap<SheetCode, SheetRequirement>,
    today: &'a BTreeMap<String, Vec<TodayStep>>,
    entered: Moment,
    archive: &ProjectArchive,
) -> EnterFacts<'a> {
    // The first entry of a new archive tells of the aircraft; what is typed follows it.
    let last = archive.survey.last().entries.max(1);
    EnterFacts { signers, spaces, sheets, today, entered, next: EntryNumber(last + 1) }
}

/// An entry as one line.
pub(super) fn describe(entry: &Entry) -> String {
    let kind = entry.kind();
    match entry {
        Entry::Begun(entry) => format!("the archive of {} begins", entry.aircraft),
        Entry::Renamed(entry) => format!("the aircraft is {} from here on: {}", entry.aircraft, entry.because),
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
            let capacity = match &entry.stage {
                Some(stage) => format!("stage {stage}"),
                None => entry.capacity.word().to_owned(),
            };
            let outcome = entry.outcome.as_ref().map(|said| format!(": `{said}`")).unwrap_or_default();
            format!(
                "signed {} {place} {} ({capacity}) by {}{outcome}, work of {}",
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
