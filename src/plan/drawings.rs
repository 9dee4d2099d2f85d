//! The drawing index: which traveler and step cites which sheet, and which sheets to lay on the bench.
//!
//! Whether a revision is the right one is for the rules; here both stand side by side.

use serde::Serialize;

use super::document::{Document, Frame, plain};
use crate::calendar::Moment;
use crate::job::{Job, OwnDocument, Traveler, operation, sheet_of_view};
use crate::phrase::say;

/// Every sheet and every traveler.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DrawingIndex {
    /// Sheets in the order of the register, then those that it does not have.
    pub sheets: Vec<SheetLine>,
    /// Travelers with their sheets.
    pub travelers: Vec<BenchLine>,
}

/// One sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SheetLine {
    /// Sheet number.
    pub sheet: String,
    /// Title of the drawing sheet; absent where the register gives none.
    pub title: Option<String>,
    /// Revision of the register; absent where the register does not have the sheet.
    pub revision: Option<String>,
    /// Date of that revision.
    pub date: Option<String>,
    /// Who cites it.
    pub cited: Vec<CitedLine>,
}

/// One traveler that cites a sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct CitedLine {
    /// Traveler id.
    pub traveler: String,
    /// The revision that it was written against.
    pub revision: Option<String>,
    /// Whether that is the register's revision.
    pub current: bool,
    /// Steps that cite a view of it, as `040 view C-C`.
    pub steps: Vec<String>,
}

/// One traveler.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BenchLine {
    /// Traveler id.
    pub traveler: String,
    /// Title of the traveler.
    pub title: String,
    /// Sheets to lay out, with the revision of the register.
    pub sheets: Vec<String>,
}

/// The index of a build.
#[must_use]
pub fn drawing_index(job: &Job) -> DrawingIndex {
    let register = &job.project.drawings;
    let mut names: Vec<String> = register.iter().map(|drawing| drawing.sheet.value.clone()).collect();
    for name in job.travelers.iter().flat_map(sheets_of) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    DrawingIndex {
        sheets: names.into_iter().map(|name| sheet_line(job, name)).collect(),
        travelers: job.travelers.iter().map(|traveler| bench_line(job, traveler)).collect(),
    }
}

/// The sheets that a traveler or one of its steps names, each once.
fn sheets_of(traveler: &Traveler) -> Vec<String> {
    let views = traveler.steps.iter().flat_map(|step| &step.drawings).map(|view| sheet_of_view(&view.value).to_owned());
    let mut names: Vec<String> = Vec::new();
    for name in traveler.drawings.iter().map(|drawing| drawing.sheet.clone()).chain(views) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

fn sheet_line(job: &Job, sheet: String) -> SheetLine {
    let drawing = job.project.drawings.iter().find(|drawing| drawing.sheet.value == sheet);
    let revision = drawing.map(|drawing| drawing.revision.value.clone());
    let citing = job.travelers.iter().filter(|traveler| sheets_of(traveler).contains(&sheet));
    SheetLine {
        title: drawing.and_then(|drawing| drawing.title.as_ref()).map(|title| title.value.clone()),
        date: drawing.and_then(|drawing| drawing.date).map(|date| date.value.to_string()),
        cited: citing.map(|traveler| cited_line(traveler, &sheet, revision.as_deref())).collect(),
        revision,
        sheet,
    }
}

fn cited_line(traveler: &Traveler, sheet: &str, current: Option<&str>) -> CitedLine {
    let written =
        traveler.drawings.iter().find(|drawing| drawing.sheet == sheet).and_then(|drawing| drawing.revision.clone());
    let same = |now: &str| written.as_ref().is_none_or(|written| written.eq_ignore_ascii_case(now.trim()));
    let mut steps = Vec::new();
    for step in &traveler.steps {
        for view in step.drawings.iter().filter(|view| sheet_of_view(&view.value) == sheet) {
            let rest = view.value[sheet.len()..].trim_start_matches([' ', ':', ',']);
            steps.push(format!("{} {rest}", operation(step.number)).trim_end().to_owned());
        }
    }
    CitedLine { traveler: traveler.id.value.clone(), current: current.is_some_and(same), revision: written, steps }
}

fn bench_line(job: &Job, traveler: &Traveler) -> BenchLine {
    let named = |sheet: String| {
        let drawing = job.project.drawings.iter().find(|drawing| drawing.sheet.value == sheet);
        drawing.map_or_else(
            || sheet.clone(),
            |drawing| say!("{sheet} rev {revision}", sheet, revision = drawing.revision.value),
        )
    };
    let sheets = sheets_of(traveler).into_iter().map(named).collect();
    BenchLine { traveler: traveler.id.value.clone(), title: traveler.title.value.clone(), sheets }
}

/// What the drawing index prints.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DrawingsPage {
    /// What stands on every page.
    pub frame: Frame,
    /// How many sheets and travelers.
    pub summary: String,
    /// By sheet.
    pub sheets: Vec<SheetLine>,
    /// By traveler.
    pub travelers: Vec<BenchLine>,
}

impl DrawingIndex {
    /// The drawing index as a document.
    #[must_use]
    pub fn document(&self, job: &Job, now: Moment) -> Document {
        let page = DrawingsPage {
            frame: Frame::of(job, now.day().to_string()),
            summary: say!(
                "{sheets} sheets, {travelers} travelers",
                sheets = self.sheets.len(),
                travelers = self.travelers.len()
            ),
            sheets: self.sheets.clone(),
            travelers: self.travelers.clone(),
        };
        Document::of_build(job, "drawings.typ.j2", OwnDocument::Drawings.stem(None), Some(now.day()), plain(&page))
    }
}
