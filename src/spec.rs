//! LOAD: the project file and the travelers as written, every leaf with its place.
//!
//! Every fault of every file is a finding; reading goes on with what could be read. Nothing is resolved or
//! judged here: a part that nobody has heard of reads as well as any other.

mod board;
mod caution;
mod evening;
mod fitted;
mod form;
mod joint;
mod kit;
mod list;
mod page;
mod pattern;
mod picture;
mod procedure;
mod project;
mod read;
mod regime;
mod section;
mod step;
mod traveler;

use std::path::{Path, PathBuf};

use anyhow::{Context, Result};

pub use crate::words::{
    Access, FastenerKind, Hand, HeadForm, Paper, Preparation, SignalWord, StepKind, Steps, Structure, WaitFor,
};
pub use board::{BoardSpec, JobWaitSpec};
pub use caution::{
    CautionRule, CautionSign, CautionSpec, OnlyWhere, SIGN_NUMBERS, Trigger, built_in_cautions, caution_signs,
};
pub use evening::{
    AnswerSpec, BoxName, CloseSpec, CorrectSpec, DiscrepancySpec, EveningSpec, FindingSpec, SheetSpec, SignSpec,
    StartedSpec, StepFault, StepName, StrikeSpec, VisitSpec, WaitingSpec, WrittenEntry, box_key, named_box,
    named_steps, shared,
};
pub use fitted::Fitted;
pub use joint::{HolesSpec, JointSpec, LayerSpec, LeaveOpenSpec, Limits, MeasuredHead, TemporarySpec, WashersSpec};
pub use kit::{FastenerSpec, TorqueSpec};
pub use page::{FILES, evening_page, evening_schema, format_page, project_schema, traveler_schema};
pub use pattern::{HolePlace, PatternFault, PatternSpec};
pub use picture::{Along, MarkPlace, PictureSpec};
pub use procedure::{BuiltInProcedure, ProcedureMinutes, ProcedureSpec, built_in_procedures};
pub use project::{AircraftSpec, BuildPart, Drawing, ProjectSpec, Settings, Signer, SpaceSpec, Stock, Tool};
pub use read::nearest;
pub use regime::{RoleSpec, StageSign, StageSpec};
pub use section::{Change, Form, Key, Section};
pub use step::{FitSpec, LEAK_TEST, Record, StepEntry, StepSpec, named_reading, parse_within};
pub use traveler::{Allow, Bend, PartSpec, TravelerFile, TravelerSpec};

use read::Entry as _;

use crate::disk;
use crate::report::{Finding, LeftOut, Report, Severity, fault};
use crate::text::{FileId, Files, Span, Spanned};
use crate::units::{Style, Unit};

/// A text with its place.
pub type Text = Spanned<String>;

/// A whole project as written.
#[derive(Debug, Clone)]
pub struct Spec {
    /// The project file.
    pub project: ProjectSpec,
    /// Every traveler that could be read, in the order of their paths.
    pub travelers: Vec<TravelerFile>,
    /// Traveler files of which nothing could be read.
    pub unread: usize,
}

/// Largest spec file that is read: a thousand joints take a few hundred kilobytes.
const LARGEST_FILE: u64 = 32 << 20;

/// Reads a project: `build.toml` and every traveler in its specs folder, in the order of their paths.
///
/// # Errors
/// When the project file or the specs folder cannot be read at all; faults inside files are findings.
pub fn load(project_file: &Path, files: &mut Files, report: &mut Report) -> Result<Spec> {
    let project = load_project_file(project_file, files, report)?;
    let id = project.span.file;
    let folder = project_file.parent().unwrap_or(Path::new("")).join(&project.settings.specs.value);
    let paths = traveler_paths(&folder, report, id)?;
    let mut spec = Spec { project, travelers: Vec::new(), unread: 0 };
    for path in paths {
        let traveler = load_traveler(&path, &spec.project, files, report);
        match traveler {
            Some(traveler) => spec.travelers.push(traveler),
            None => spec.unread += 1,
        }
    }
    Ok(spec)
}

/// Reads the project file alone.
///
/// # Errors
/// When it cannot be read at all; faults inside it are findings.
pub fn load_project_file(project_file: &Path, files: &mut Files, report: &mut Report) -> Result<ProjectSpec> {
    let text = read_text(project_file)?;
    let id = files.add(shown(project_file), text);
    Ok(read_project(id, files, report))
}

/// Reads one traveler from a text already in `files`, with the unit of a project; nothing where it has no usable
/// `[traveler]`.
pub fn read_traveler(file: FileId, project: &ProjectSpec, files: &Files, report: &mut Report) -> Option<TravelerFile> {
    let traveler: Option<TravelerFile> = read::file(file, project.settings.style(), files, report);
    if traveler.is_none() {
        left_out(file, report);
    }
    traveler
}

/// Reads a project file from a text already in `files`; what is missing takes its default.
///
/// # Panics
/// When the list of its keys has one that must be there, which is a bug.
pub fn read_project(file: FileId, files: &Files, report: &mut Report) -> ProjectSpec {
    let project: Option<ProjectSpec> = read::file(file, Style::of(Unit::Inch), files, report);
    project.expect("no key of src/spec/project.rs ends the reading of the project file")
}

/// Reads `progress.toml` beside the project file; an absent one says that nothing is done.
///
/// # Errors
/// When the file is there and cannot be read; faults inside it are findings.
pub fn load_progress(project_file: &Path, files: &mut Files, report: &mut Report) -> Result<EveningSpec> {
    let path = project_file.parent().unwrap_or(Path::new("")).join("progress.toml");
    let is_there = path.try_exists().with_context(|| format!("cannot read {}", shown(&path)))?;
    let text = if is_there { read_text(&path)? } else { String::new() };
    let id = files.add(shown(&path), text);
    Ok(read_evening(id, files, report))
}

/// Reads an evening file, or a progress file, from a text already in `files`.
///
/// # Panics
/// When the list of its keys has one that must be there, which is a bug.
pub fn read_evening(file: FileId, files: &Files, report: &mut Report) -> EveningSpec {
    let evening: Option<EveningSpec> = read::file(file, Style::of(Unit::Inch), files, report);
    evening.expect("no key of src/spec/evening.rs ends the reading of an evening file")
}

/// A traveler of which nothing can be used, under whatever id others name it.
fn left_out(file: FileId, report: &mut Report) {
    let known = report.left_out.iter().any(|own| own.table == TravelerSpec::SECTION.name && own.span.file == file);
    if !known {
        let span = Span { file, start: 0, end: 0 };
        report.left_out.push(LeftOut { table: TravelerSpec::SECTION.name, id: None, span });
    }
}

fn load_traveler(path: &Path, project: &ProjectSpec, files: &mut Files, report: &mut Report) -> Option<TravelerFile> {
    match read_text(path) {
        Ok(text) => {
            let id = files.add(shown(path), text);
            read_traveler(id, project, files, report)
        }
        Err(failure) => {
            let id = files.add(shown(path), String::new());
            let span = Span { file: id, start: 0, end: 0 };
            report.push(Finding::new(fault::SPEC_UNREADABLE, Severity::Error, span, format!("{failure:#}")));
            left_out(id, report);
            None
        }
    }
}

fn read_text(path: &Path) -> Result<String> {
    disk::read_text(path, LARGEST_FILE)
        .map_err(|failure| anyhow::anyhow!("cannot read {}: {}", shown(path), failure.cause()))
}

/// The traveler files below a folder; a folder inside it that cannot be read is a finding.
fn traveler_paths(folder: &Path, report: &mut Report, project: FileId) -> Result<Vec<PathBuf>> {
    std::fs::read_dir(folder).with_context(|| format!("cannot read the specs folder {}", shown(folder)))?;
    let mut paths = Vec::new();
    for entry in walkdir::WalkDir::new(folder).sort_by_file_name().follow_links(true) {
        match entry {
            Ok(entry) if entry.file_type().is_dir() || entry.path().extension().is_none_or(|e| e != "toml") => {}
            // A pipe or a device, perhaps behind a link: reading it says so.
            Ok(entry) => paths.push(entry.into_path()),
            Err(fault) => {
                let span = Span { file: project, start: 0, end: 0 };
                let message = format!("a folder of the specs cannot be read: {fault}");
                report.push(Finding::new(fault::SPEC_UNREADABLE, Severity::Error, span, message));
            }
        }
    }
    paths.sort();
    Ok(paths)
}

/// A path as messages show it: with `/`, and without `a/../`.
#[must_use]
pub fn shown(path: &Path) -> String {
    let mut parts: Vec<String> = Vec::new();
    for part in path.components() {
        let part = part.as_os_str().to_string_lossy().into_owned();
        if part == ".." && parts.last().is_some_and(|last| last != ".." && last != "/") {
            parts.pop();
        } else if part != "." {
            parts.push(part);
        }
    }
    parts.join("/").replace("//", "/")
}
