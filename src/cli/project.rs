//! A project as every command starts with it: loaded, resolved, judged.
//!
//! It prints nothing.

use std::path::{Path, PathBuf};
use std::rc::Rc;

use anyhow::{Context, Result};

use super::folders::check_folders;
use super::language::load_language;
use super::texts::check_texts;
use crate::archive::{Archive, Entry, Survey};
use crate::job::{Issued, Job, Project, resolve, resolve_as_issued};
use crate::phrase::{self, Language, Spoken};
use crate::render::Pictures;
use crate::report::Report;
use crate::text::Files;
use crate::{rules, spec};

/// A project with everything that was found.
pub(super) struct LoadedProject {
    /// Every file that was read.
    pub files: Files,
    /// What it means.
    pub job: Job,
    /// What is wrong with it.
    pub report: Report,
    /// The language of its documents; none is English.
    pub language: Option<&'static Language>,
    /// The pictures that its texts show.
    pub pictures: Pictures,
    /// The ledger of its archive, as it was when the steps took their numbers from it.
    pub ledger: Rc<Survey>,
    /// Folder of the project file.
    pub folder: PathBuf,
    /// The project file.
    pub file: PathBuf,
}

/// What a command says that is about travelers where there is none.
pub(super) const NO_TRAVELER: &str = "there is no traveler yet: `shophead new traveler` starts one";

impl LoadedProject {
    /// Whether it has no traveler, and none that could not be read.
    pub fn is_empty(&self) -> bool {
        self.job.travelers.is_empty() && self.job.unread == 0
    }

    /// Speaks the language of the documents, for what is planned and printed as long as the result lives.
    pub fn speak(&self) -> Spoken {
        phrase::speak(self.language)
    }

    /// A folder of the settings, seen from where the command was started.
    pub fn folder_of(&self, setting: &str) -> PathBuf {
        PathBuf::from(spec::shown(&self.folder.join(setting)))
    }
}

/// Loads, resolves and judges a project.
pub(super) fn load_project(project_path: &Path) -> Result<LoadedProject> {
    let mut project = load_without_texts(project_path)?;
    let from = project.folder.join(&project.job.project.settings.pictures.value);
    project.pictures = check_texts(&mut project.job, &from, &project.files, &mut project.report);
    project.report.sort(&project.files);
    Ok(project)
}

/// The same for a command that reads no text of a step: none is filled in, and no picture is opened.
pub(super) fn load_without_texts(project_path: &Path) -> Result<LoadedProject> {
    let mut files = Files::default();
    let mut report = Report::default();
    let Resolved { file, folder, ledger, job } = resolved(project_path, &mut files, &mut report)?;
    rules::check(&job, &mut report);
    check_folders(&job, &folder, &mut report);
    let language = load_language(&job, &folder, &mut files, &mut report)?;
    report.sort(&files);
    let ledger = Rc::new(ledger);
    Ok(LoadedProject { files, job, report, language, pictures: Pictures::new(), ledger, folder, file })
}

/// The steps of every sheet that was issued, in the order of the records.
fn issued(ledger: &Survey) -> Issued {
    let mut issued = Issued::default();
    for record in &ledger.records {
        let Entry::Issued(sheet) = &record.entry else { continue };
        for step in &sheet.steps {
            issued.add(&sheet.traveler, &step.id, step.number);
        }
    }
    issued
}

/// A project that is loaded and resolved and not judged.
///
/// # Errors
/// When there is none, or its folders cannot be read.
pub(super) fn resolved_project(project_path: &Path) -> Result<Job> {
    Ok(resolved(project_path, &mut Files::default(), &mut Report::default())?.job)
}

/// A project as resolved, and where it was found.
struct Resolved {
    file: PathBuf,
    folder: PathBuf,
    ledger: Survey,
    job: Job,
}

fn resolved(project_path: &Path, files: &mut Files, report: &mut Report) -> Result<Resolved> {
    let file = project_file(project_path)?;
    let spec = spec::load(&file, files, report)?;
    // A bare name lies in the folder in which the command was started, which is the empty path.
    let folder = file.parent().map(Path::to_path_buf).unwrap_or_default();
    let ledger = Archive::at(folder.join(&spec.project.settings.archive.value)).read()?;
    let job = resolve_as_issued(spec, &issued(&ledger), report);
    Ok(Resolved { file, folder, ledger, job })
}

/// What the project file alone says, without its travelers; nothing where the usual place has no project.
///
/// # Errors
/// When a project was named and cannot be read.
pub(super) fn bare_project(project_path: &Path) -> Result<Option<Project>> {
    if project_path == Path::new(super::USUAL_PROJECT) && !project_path.exists() {
        return Ok(None);
    }
    let file = project_file(project_path)?;
    let mut report = Report::default();
    let project = spec::load_project_file(&file, &mut Files::default(), &mut report)?;
    let spec = spec::Spec { project, travelers: Vec::new(), unread: 0 };
    Ok(Some(resolve(spec, &mut report).project))
}

/// The project file that a path names: itself, or `build.toml` in the folder.
fn project_file(project_path: &Path) -> Result<PathBuf> {
    let file = if project_path.is_dir() { project_path.join("build.toml") } else { project_path.to_path_buf() };
    let shown = file.display();
    let help = "name the project with --project FILE|DIR, or start in the folder that holds build.toml";
    std::fs::metadata(&file).with_context(|| format!("there is no project at {shown}; {help}"))?;
    Ok(file)
}
