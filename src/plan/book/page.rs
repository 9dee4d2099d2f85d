//! The printed build record: what each page is given, times in hours, tasks with their sums, who looked.
//!
//! It adds up minutes and judges nothing; no share in per cent is told.

use serde::Serialize;

use super::front::{self, AssemblyOnPage, Bar, DayOnPage, Front};
use super::progress::hours;
use super::task::{TaskKind, TaskLine};
use super::{Book, BookLine, DiscrepancyEntry, FileLine};
use crate::calendar::Day;
use crate::job::{Job, OwnDocument};
use crate::phrase::{self, say, say_count};
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
    /// What every page says at its foot.
    pub foot: String,
    /// The first page.
    pub front: Front,
    /// Steps signed, assembly by assembly.
    pub bars: Vec<Bar>,
    /// Hours by month.
    pub months: Vec<Bar>,
    /// What is left, in sentences.
    pub left: Vec<String>,
    /// Photos that can be shown.
    pub photos: Vec<FileLine>,
    /// Scans, letters, and photos that cannot be shown.
    pub files: Vec<FileLine>,
    /// Numbers of photos that signatures name and the archive does not hold.
    pub missing: Vec<String>,
    /// Steps that are signed, ask for a photo, and name none.
    pub unphotographed: Vec<String>,
    /// Discrepancies.
    pub discrepancies: Vec<DiscrepancyEntry>,
    /// Signatures of holds, witnesses and stages.
    pub looks: Vec<BookLine>,
    /// The builder's own task list, with its sums.
    pub tasks: Vec<TaskOnPage>,
    /// By assembly, with the signatures for the work.
    pub assemblies: Vec<AssemblyOnPage>,
    /// What was worked on, day by day, without the signatures.
    pub days: Vec<DayOnPage>,
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
        let (photos, files) = self.files.iter().cloned().partition(|file| file.shown.is_some());
        let page = BookPage {
            paper: job.project.settings.paper.value.word(),
            aircraft: self.aircraft.clone(),
            on: self.on.clone(),
            foot: say!("The signed sheets are the original; this is their index and approves nothing.").to_owned(),
            front: front::front(self, job),
            bars: self.progress.iter().map(front::bar).collect(),
            months: front::months(&self.months),
            left: front::left(self),
            photos,
            files,
            missing: self.missing.clone(),
            unphotographed: self.unphotographed.clone(),
            discrepancies: self.discrepancies.clone(),
            looks: self.by_date.iter().filter(|line| line.capacity.is_some()).cloned().collect(),
            tasks: tasks(&self.tasks),
            assemblies: self.assemblies.iter().map(|own| front::assembly(self, own)).collect(),
            days: front::days(&self.by_date),
        };
        let stem = OwnDocument::Book.stem(None);
        Document { thumbnails, ..Document::of_build(job, "book.typ.j2", stem, date, plain(&page)) }
    }
}

/// The lines, then the sum of each kind that has any.
fn tasks(lines: &[TaskLine]) -> Vec<TaskOnPage> {
    let sums = [TaskKind::Fabrication, TaskKind::Assembly].into_iter().filter_map(|kind| sum(lines, kind));
    lines.iter().map(|line| task(line, false)).chain(sums).collect()
}

fn task(line: &TaskLine, sum: bool) -> TaskOnPage {
    let signed = say!("{signed} of {steps}", signed = line.signed, steps = line.steps);
    TaskOnPage {
        name: line.name.clone(),
        sum,
        sheets: line.sheets.clone(),
        kind: line.kind,
        signed: if line.steps == 0 && !sum { say!("not claimed").to_owned() } else { signed },
        alone: hours(line.minutes.0),
        helped: hours(line.minutes.1),
        paid: hours(line.minutes.2),
        paid_steps: (line.paid > 0).then(|| say_count!(line.paid, "{n} steps", "{n} steps")),
    }
}

fn sum(lines: &[TaskLine], kind: TaskKind) -> Option<TaskOnPage> {
    let all: Vec<&TaskLine> = lines.iter().filter(|line| line.kind == kind).collect();
    let add = |of: fn(&TaskLine) -> u32| all.iter().map(|line| of(line)).fold(0, u32::saturating_add);
    let line = TaskLine {
        name: say!("all of {kind}", kind = phrase::word(kind.word())),
        kind,
        steps: add(|line| line.steps),
        signed: add(|line| line.signed),
        minutes: (add(|line| line.minutes.0), add(|line| line.minutes.1), add(|line| line.minutes.2)),
        paid: add(|line| line.paid),
        sheets: Vec::new(),
    };
    (!all.is_empty()).then(|| task(&line, true))
}
