//! The printed build record: times in hours, tasks with their sums, who looked.
//!
//! It adds up minutes and judges nothing; no share in per cent is told.

use serde::Serialize;

use super::task::{TaskKind, TaskLine};
use super::{Assembly, Book, BookLine, DiscrepancyEntry, FileLine, Person, VisitEntry};
use crate::calendar::Day;
use crate::job::{Job, OwnDocument};
use crate::plan::document::{Document, Thumbnails, plain};

/// What the build record prints.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BookPage {
    /// Paper size as Typst names it.
    pub paper: &'static str,
    /// Aircraft, serial, registration.
    pub aircraft: String,
    /// Day of the print.
    pub on: String,
    /// Where the ledger ends.
    pub foot: String,
    /// Time in all.
    pub time: String,
    /// Every signature by day of work.
    pub dated: Vec<BookLine>,
    /// Who did what.
    pub people: Vec<PersonOnPage>,
    /// The builder's own task list, with its sums.
    pub tasks: Vec<TaskOnPage>,
    /// Discrepancies.
    pub discrepancies: Vec<DiscrepancyEntry>,
    /// Visits.
    pub visits: Vec<VisitEntry>,
    /// Holds, witnesses and stages that were not struck out.
    pub looks: Vec<BookLine>,
    /// Photos, scans, letters.
    pub files: Vec<FileLine>,
    /// Numbers of photos that signatures name and the archive does not hold.
    pub missing: Vec<String>,
    /// Steps that are signed, ask for a photo, and name none.
    pub unphotographed: Vec<String>,
    /// By assembly.
    pub assemblies: Vec<Assembly>,
}

/// One person.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PersonOnPage {
    /// Initials.
    pub initials: String,
    /// Role in the project file.
    pub role: Option<String>,
    /// Steps signed as done.
    pub done: u32,
    /// Time of those.
    pub time: Option<String>,
    /// Holds, witnesses and stages signed.
    pub looked: u32,
    /// Steps at which the person helped without pay, and time.
    pub helped: Option<String>,
    /// Steps at which the person helped for pay, and time.
    pub paid: Option<String>,
}

/// One task, or the sum of a kind.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct TaskOnPage {
    /// Its name.
    pub name: String,
    /// Whether it is the sum of a kind.
    pub sum: bool,
    /// Codes of the sheets on which the signatures stand.
    pub sheets: Vec<String>,
    /// Whether parts are made or put together.
    pub kind: TaskKind,
    /// Steps that are signed, of all.
    pub signed: String,
    /// Time alone.
    pub alone: Option<String>,
    /// Time with unpaid help.
    pub helped: Option<String>,
    /// Time with paid help.
    pub paid: Option<String>,
    /// Steps with paid help.
    pub paid_steps: Option<String>,
}

impl Book {
    /// The record as rendering takes it.
    #[must_use]
    pub fn document(&self, job: &Job, date: Option<Day>, thumbnails: Thumbnails) -> Document {
        let looks = self.by_date.iter().filter(|line| line.capacity.is_some() && !line.struck);
        let page = BookPage {
            paper: job.project.settings.paper.value.word(),
            aircraft: self.aircraft.clone(),
            on: self.on.clone(),
            foot: format!(
                "{} entries; the last: {}. The signed sheets are the original; this is their index and approves nothing.",
                self.entries, self.last
            ),
            time: hours(self.minutes).unwrap_or_else(|| "–".to_owned()),
            dated: self.by_date.clone(),
            people: self.people.iter().map(person).collect(),
            tasks: tasks(&self.tasks),
            discrepancies: self.discrepancies.clone(),
            visits: self.visits.clone(),
            looks: looks.cloned().collect(),
            files: self.files.clone(),
            missing: self.missing.clone(),
            unphotographed: self.unphotographed.clone(),
            assemblies: self.assemblies.clone(),
        };
        let stem = OwnDocument::Book.stem(None);
        Document { thumbnails, ..Document::of_build(job, "book.typ.j2", stem, date, plain(&page)) }
    }
}

/// Hours and minutes; nothing where there are none.
fn hours(minutes: u32) -> Option<String> {
    (minutes > 0).then(|| format!("{} h {} min", minutes / 60, minutes % 60))
}

fn person(own: &Person) -> PersonOnPage {
    let help = |(steps, minutes): (u32, u32)| {
        (steps > 0).then(|| format!("{steps} steps, {}", hours(minutes).unwrap_or_else(|| "–".to_owned())))
    };
    PersonOnPage {
        initials: own.initials.clone(),
        role: own.role.clone(),
        done: own.done,
        time: hours(own.minutes),
        looked: own.looked,
        helped: help(own.helped),
        paid: help(own.paid),
    }
}

/// The lines, then the sum of each kind that has any.
fn tasks(lines: &[TaskLine]) -> Vec<TaskOnPage> {
    let sums = [TaskKind::Fabrication, TaskKind::Assembly].into_iter().filter_map(|kind| sum(lines, kind));
    lines.iter().map(|line| task(line, false)).chain(sums).collect()
}

fn task(line: &TaskLine, sum: bool) -> TaskOnPage {
    let signed = format!("{} of {}", line.signed, line.steps);
    TaskOnPage {
        name: line.name.clone(),
        sum,
        sheets: line.sheets.clone(),
        kind: line.kind,
        signed: if line.steps == 0 && !sum { "not claimed".to_owned() } else { signed },
        alone: hours(line.minutes.0),
        helped: hours(line.minutes.1),
        paid: hours(line.minutes.2),
        paid_steps: (line.paid > 0).then(|| format!("{} steps", line.paid)),
    }
}

fn sum(lines: &[TaskLine], kind: TaskKind) -> Option<TaskOnPage> {
    let all: Vec<&TaskLine> = lines.iter().filter(|line| line.kind == kind).collect();
    let add = |of: fn(&TaskLine) -> u32| all.iter().map(|line| of(line)).fold(0, u32::saturating_add);
    let line = TaskLine {
        name: format!("all of {}", kind.word()),
        kind,
        steps: add(|line| line.steps),
        signed: add(|line| line.signed),
        minutes: (add(|line| line.minutes.0), add(|line| line.minutes.1), add(|line| line.minutes.2)),
        paid: add(|line| line.paid),
        sheets: Vec::new(),
    };
    (!all.is_empty()).then(|| task(&line, true))
}
