//! BOOK: the build record: by date and by assembly, who did what, readings, discrepancies, visits, photos, as built.
//!
//! It tells what the archive holds and adds no judgement: no percentage, no word that reads like an approval. No
//! authority's form is copied; which tasks count is the builder's own list.

mod built;
mod found;
mod front;
mod page;
mod people;
mod photo;
mod progress;
mod task;

use std::collections::BTreeMap;

use serde::Serialize;

pub use built::BuiltJoint;
pub use found::{DiscrepancyEntry, VisitEntry};
pub use people::Person;
pub use photo::{FileLine, Shown};
pub use progress::{Month, Progress};
pub use task::{TaskLine, Tasks};

use crate::archive::{
    Capacity, Corrected, EntryNumber, Head, Issue, SheetRequirement, Signature, State, StepRequirement,
};
use crate::calendar::Day;
use crate::ident::SheetCode;
use crate::job::{Job, operation};
use crate::phrase::{self, say, say_count};
use crate::plan::act::said_by;
use crate::plan::measured::{label_as_read, reading_unit};
use crate::plan::named::said_role;
use crate::words::PacketName;
use crate::work::find_item;

/// Requirements of every sheet that was ever issued.
pub type AllSheets = BTreeMap<SheetCode, SheetRequirement>;

/// One line of the record: one signature.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BookLine {
    /// The entry.
    pub entry: u32,
    /// Day of the work.
    pub worked: String,
    /// Traveler and hand.
    pub place: String,
    /// Number of the step on its sheet; absent where nothing tells it.
    pub number: Option<String>,
    /// Number and title of the step.
    pub step: String,
    /// Code of the sheet; absent where it was imported.
    pub sheet: Option<String>,
    /// What the signature is for, where it is not the work; of a stage also which.
    pub capacity: Option<String>,
    /// What was written about a stage, and whose act that is.
    pub outcome: Option<String>,
    /// What stood in the fields beside the box.
    pub asked: Vec<String>,
    /// Initials and role.
    pub by: String,
    /// Initials alone, where the role is the person's usual one.
    pub initials: String,
    /// Who helped; paid help is named as such.
    pub with: Vec<String>,
    /// Minutes of work; absent where the signature gives none.
    pub minutes: Option<u32>,
    /// Readings with their limits.
    pub readings: Vec<String>,
    /// Numbers of photos.
    pub photos: Vec<String>,
    /// Numbers of discrepancies.
    pub discrepancies: Vec<String>,
    /// What was fitted.
    pub as_built: Vec<String>,
    /// Where the work was done.
    pub at: Option<String>,
    /// Days from the work to the entry, where they are more than a day.
    pub late: Option<u32>,
    /// Remarks: very late entry, corrections, from what it was put together, struck out.
    pub remarks: Vec<String>,
    /// Whether it was struck out.
    pub struck: bool,
}

/// One traveler and hand.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Assembly {
    /// Traveler and hand.
    pub place: String,
    /// Title of the newest sheet; before the first one, that of the spec.
    pub title: String,
    /// Sheets in the order of issue: code, revision, day, what became of it.
    pub sheets: Vec<(String, String, String, String)>,
    /// Drawings of the sheet in force.
    pub drawings: Vec<String>,
    /// Signatures in the order of work.
    pub lines: Vec<BookLine>,
    /// Fasteners as the signed sheets required them, joint by joint.
    pub joints: Vec<BuiltJoint>,
    /// As built beyond the drawings: washers, oversize fasteners, changed parts.
    pub as_built: Vec<String>,
    /// Steps of the sheet in force that are not signed.
    pub open: Vec<String>,
}

/// The whole record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Book {
    /// Aircraft, serial, registration.
    pub aircraft: String,
    /// Day of the print.
    pub on: String,
    /// Number of entries of the ledger.
    pub entries: u32,
    /// SHA-256 of the last.
    pub last: String,
    /// Every signature by day of work.
    pub by_date: Vec<BookLine>,
    /// By assembly.
    pub assemblies: Vec<Assembly>,
    /// Who did what.
    pub people: Vec<Person>,
    /// Discrepancies.
    pub discrepancies: Vec<DiscrepancyEntry>,
    /// Visits.
    pub visits: Vec<VisitEntry>,
    /// Photos, scans, letters.
    pub files: Vec<FileLine>,
    /// Numbers of photos that signatures name and the archive does not hold.
    pub missing: Vec<String>,
    /// Steps that are signed, ask for a photo, and name none.
    pub unphotographed: Vec<String>,
    /// The builder's own task list.
    pub tasks: Vec<TaskLine>,
    /// Minutes in all.
    pub minutes: u32,
    /// First day of work.
    pub begun: Option<String>,
    /// Last day of work.
    pub last_worked: Option<String>,
    /// How far each assembly is, the ones that were not begun too.
    pub progress: Vec<Progress>,
    /// Minutes by month, from the first to the last.
    pub months: Vec<Month>,
}

/// What the caller knows.
pub struct BookFacts<'a> {
    /// Requirements of every sheet.
    pub sheets: &'a AllSheets,
    /// Where the ledger ends.
    pub head: Head,
    /// Day of the print.
    pub on: Day,
    /// The builder's own task list.
    pub tasks: Option<&'a Tasks>,
}

/// Puts the record together.
#[must_use]
pub fn book(job: &Job, state: &State, facts: &BookFacts<'_>) -> Book {
    let mut by_date: Vec<(&Signature, BookLine)> =
        state.signatures.values().map(|signature| (signature, line(job, signature, facts))).collect();
    by_date.sort_by_key(|(signature, _)| (signature.signed.worked, signature.entry));
    let days: Vec<Day> = unstruck(state).map(|signature| signature.signed.worked).collect();
    let project = &job.project;
    let names = [
        ("", Some(&project.aircraft)),
        (say!("serial "), project.serial()),
        (say!("registration "), project.registration()),
    ];
    let names: Vec<String> =
        names.into_iter().filter_map(|(word, text)| Some(format!("{word}{}", text?.value))).collect();
    Book {
        aircraft: names.join(", "),
        on: facts.on.to_string(),
        entries: facts.head.entries,
        last: facts.head.last.map_or_else(|| say!("none").to_owned(), |digest| digest.hex()),
        by_date: by_date.into_iter().map(|(_, line)| line).collect(),
        assemblies: assemblies(job, state, facts),
        people: people::people(job, state),
        discrepancies: state.discrepancies.values().map(|own| found::discrepancy(job, state, own)).collect(),
        visits: state.visits.iter().map(|own| found::visit(job, state, own)).collect(),
        files: photo::files(job, state),
        missing: photo::missing(job, state),
        unphotographed: photo::unphotographed(state, facts),
        // Without a list of tasks the record has no such part.
        tasks: facts.tasks.map(|tasks| task::lines(job, state, tasks)).unwrap_or_default(),
        minutes: unstruck(state).filter_map(|signature| signature.signed.minutes).fold(0, u32::saturating_add),
        begun: days.iter().min().map(Day::to_string),
        last_worked: days.iter().max().map(Day::to_string),
        progress: progress::progress(job, state),
        months: progress::months(state),
    }
}

/// Signatures that were not struck out.
fn unstruck(state: &State) -> impl Iterator<Item = &Signature> {
    state.signatures.values().filter(|signature| signature.struck.is_none())
}

fn step_of<'a>(signature: &Signature, facts: &'a BookFacts<'_>) -> Option<&'a StepRequirement> {
    facts.sheets.get(&signature.sheet()?)?.step(&signature.signed.step)
}

/// What was imported rests on no sheet: its step is named as the specs name it today.
fn named_today(job: &Job, signature: &Signature) -> Option<(String, String)> {
    let item = find_item(job, &signature.item())?;
    let step = job.step(item.at);
    signature.sheet().is_none().then(|| (operation(step.number), step.title.value.clone()))
}

fn line(job: &Job, signature: &Signature, facts: &BookFacts<'_>) -> BookLine {
    let required = step_of(signature, facts);
    let reading = |reading: &crate::archive::Reading| {
        let what = label_as_read(job, signature, required, &reading.id);
        let value = with_unit(&reading.value, reading_unit(job, signature, required, &reading.id).as_deref());
        match required {
            Some(step) => {
                say!("{what} {value} (limits {limits})", what, value, limits = step.limits_text(&reading.id))
            }
            None => format!("{what} {value}"),
        }
    };
    let named =
        required.map(|step| (operation(step.number), step.title.clone())).or_else(|| named_today(job, signature));
    let paid = signature.signed.paid.iter().map(|name| say!("{name} (paid)", name));
    let role = signature.role().map_or_else(String::new, |role| format!(" ({})", said_role(job, role)));
    let signed = &signature.signed;
    BookLine {
        entry: signature.entry.0,
        worked: signature.signed.worked.to_string(),
        place: signature.packet().to_string(),
        number: named.as_ref().map(|(number, _)| number.clone()),
        step: named.map_or_else(|| signature.signed.step.clone(), |(number, title)| format!("{number} {title}")),
        sheet: signature.sheet().map(|code| code.to_string()),
        capacity: capacity(signature),
        outcome: signed.outcome.as_ref().map(|said| said_by(said, &signed.by, &said_role(job, &signed.role))),
        asked: signed.asked.iter().map(|asked| format!("{} {}", asked.id, asked.value)).collect(),
        initials: if is_usual(job, signature) { signed.by.clone() } else { format!("{}{role}", signed.by) },
        by: format!("{}{role}", signed.by),
        with: signature.signed.helpers.iter().cloned().chain(paid).collect(),
        minutes: signature.signed.minutes,
        readings: signature.signed.readings.iter().map(reading).collect(),
        photos: signature.signed.photos.clone(),
        discrepancies: signature.signed.discrepancies.clone(),
        as_built: signature.signed.as_built.clone(),
        at: signed.place.clone(),
        late: signed.late,
        remarks: remarks(signature),
        struck: signature.struck.is_some(),
    }
}

/// Whether somebody signed in the role in which that person usually signs.
fn is_usual(job: &Job, signature: &Signature) -> bool {
    let usual = job.signer(&signature.signed.by).and_then(|signer| signer.roles.first());
    signature.role().is_none_or(|role| usual.is_some_and(|usual| usual.value == role))
}

/// A value as written, with the unit that its record has; what was typed with a letter in it says its own.
fn with_unit(value: &str, unit: Option<&str>) -> String {
    match unit {
        Some(unit) if !value.contains(char::is_alphabetic) => format!("{value} {unit}"),
        _ => value.to_owned(),
    }
}

fn capacity(signature: &Signature) -> Option<String> {
    let word = signature.signed.capacity.word();
    let stage = signature.signed.stage.as_ref().map(|stage| format!(" {stage}")).unwrap_or_default();
    (signature.signed.capacity != Capacity::Done).then(|| format!("{word}{stage}"))
}

/// A signature that was entered later than this says so itself; up to here the assembly says it once. Common practice: a
/// log is kept up within the month.
const LATE_DAYS: u32 = 30;

fn remarks(signature: &Signature) -> Vec<String> {
    let mut remarks = Vec::new();
    let late = signature.signed.late.filter(|days| *days > LATE_DAYS);
    remarks.extend(
        late.map(|days| say_count!(days, "entered {n} days after the work", "entered {n} days after the work")),
    );
    remarks.extend(signature.signed.note.clone());
    remarks.extend(
        signature
            .signed
            .reconstructed
            .as_ref()
            .map(|from| say!("put together again on {day} from {from}", day = signature.entered.day(), from)),
    );
    remarks.extend(corrections(&signature.corrections));
    remarks.extend(signature.struck.as_ref().map(|because| struck_out(because)));
    remarks
}

fn corrections(all: &[(EntryNumber, Corrected)]) -> impl Iterator<Item = String> + use<'_> {
    all.iter().map(|(entry, own)| {
        let was = own.was.as_deref().unwrap_or(say!("nothing"));
        say!(
            "corrected by entry {entry}: {field} was {was}: {because}",
            entry,
            field = own.field,
            was,
            because = own.because
        )
    })
}

fn struck_out(because: &str) -> String {
    say!("STRUCK OUT: {because}", because)
}

fn assemblies(job: &Job, state: &State, facts: &BookFacts<'_>) -> Vec<Assembly> {
    let mut places: BTreeMap<PacketName, Vec<&Signature>> = BTreeMap::new();
    for issue in &state.issues {
        places.entry(issue.issued.packet()).or_default();
    }
    for signature in state.signatures.values() {
        places.entry(signature.packet()).or_default().push(signature);
    }
    let assembly = |(packet, mut signatures): (PacketName, Vec<&Signature>)| {
        signatures.sort_by_key(|signature| (signature.signed.worked, signature.entry));
        let own = |issue: &&Issue| issue.issued.packet() == packet;
        let issues: Vec<&Issue> = state.issues.iter().filter(own).collect();
        let current = state.in_force(&packet);
        Assembly {
            place: packet.to_string(),
            // A traveler that was never issued and is gone has no title any more.
            title: issues
                .last()
                .map(|issue| issue.issued.title.clone())
                .or_else(|| title_today(job, &packet.traveler))
                .unwrap_or_default(),
            sheets: issues.iter().map(|issue| sheet_line(issue)).collect(),
            // Without a sheet in force no drawing is cited.
            drawings: current.map(|issue| issue.issued.drawings.clone()).unwrap_or_default(),
            lines: signatures.iter().map(|signature| line(job, signature, facts)).collect(),
            joints: built::joints(&signatures, facts, &job.project.style),
            as_built: as_built(state, &packet, &signatures),
            // Without a sheet in force no step of it is open.
            open: current.map(|issue| open_steps(state, issue)).unwrap_or_default(),
        }
    };
    places.into_iter().map(assembly).collect()
}

fn title_today(job: &Job, traveler: &str) -> Option<String> {
    job.travelers.iter().find(|own| own.id.value == traveler).map(|own| own.title.value.clone())
}

fn sheet_line(issue: &Issue) -> (String, String, String, String) {
    let became = match (issue.superseded_by, &issue.voided, issue.lost) {
        (Some(new), _, _) => say!("replaced by {new}", new),
        (None, Some(because), _) => say!("void: {because}", because),
        (None, None, true) => say!("in force, paper lost").to_owned(),
        (None, None, false) => say!("in force").to_owned(),
    };
    let issued = &issue.issued;
    (issued.sheet.to_string(), issued.revision.clone(), issued.printed.to_string(), became)
}

fn open_steps(state: &State, issue: &Issue) -> Vec<String> {
    let issued = &issue.issued;
    let open = issued.steps.iter().filter(|step| !state.is_signed(&issued.item(&step.id), Capacity::Done));
    open.map(|step| format!("{} {}", operation(step.number), step.id)).collect()
}

/// What signatures and closed discrepancies say was fitted or changed for good.
fn as_built(state: &State, packet: &PacketName, signatures: &[&Signature]) -> Vec<String> {
    let signed = signatures
        .iter()
        .filter(|signature| signature.struck.is_none())
        .flat_map(|signature| signature.signed.as_built.clone());
    let own = state.discrepancies.values().filter(|own| own.opened.packet().as_ref() == Some(packet));
    let closed = own.filter_map(|own| Some((own, &own.closed.as_ref()?.1)));
    let decided = closed.flat_map(|(own, closed)| {
        closed
            .as_built
            .iter()
            .map(|text| format!("{text} ({}, {})", own.opened.number, phrase::word(closed.disposition.word())))
    });
    signed.chain(decided).collect()
}
