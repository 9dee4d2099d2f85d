//! `archive book`: the build record as PDF or as data.

use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow};

use crate::cli::options::{DocumentForm, DocumentOptions};
use crate::cli::output::{load_templates, print_all, print_data};
use crate::cli::project::load_project;
use crate::cli::project_archive::{ProjectArchive, open_archive};
use crate::cli::time::{entry_time, typed_day};
use crate::cli::{Console, Outcome};
use crate::disk;
use crate::plan::{self, Book, BookFacts, Tasks, Thumbnails};
use crate::render;

/// Arguments of `archive book`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Your own list of tasks, a TOML file with `[[task]]` entries: name, kind, steps
    #[arg(long, value_name = "FILE")]
    tasks: Option<PathBuf>,
    /// Day on the page, as 2026-03-02, instead of today
    #[arg(long, value_name = "DAY")]
    on: Option<String>,
    #[command(flatten)]
    document: DocumentOptions,
}

/// Runs `archive book`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let project = load_project(project_path)?;
    let on = match &arguments.on {
        Some(text) => typed_day("--on", text)?,
        None => entry_time(None, console)?.day(),
    };
    let tasks = arguments.tasks.as_deref().map(read_tasks).transpose()?;
    let archive = open_archive(&project, console)?;
    let sheets = archive.sheets(archive.state.issues.iter().map(|issue| issue.issued.sheet))?;
    let facts = BookFacts { sheets: &sheets, head: archive.survey.last(), on, tasks: tasks.as_ref() };
    let _spoken = arguments.document.speak(&project);
    let mut book = plan::book(&project.job, &archive.state, &facts);
    if arguments.document.format == DocumentForm::Json {
        print_data(&serde_json::json!({ "book": book }), console)?;
        return Ok(Outcome::of(!archive.survey.is_whole()));
    }
    let thumbnails = show_thumbnails(&mut book, &archive, console);
    let output = arguments.document.output.folder(&project)?;
    let templates = load_templates(&project.folder, console)?;
    let document = arguments.document.large.set(book.document(&project.job, Some(on), thumbnails));
    let written = print_all(&[document], &templates, &output, console)?;
    Ok(Outcome::of(written.iter().any(Option::is_none) || !archive.survey.is_whole()))
}

/// Puts a small picture beside every archived photo that can be read; says which cannot.
fn show_thumbnails(book: &mut Book, archive: &ProjectArchive, console: &mut Console) -> Thumbnails {
    let mut thumbnails = Thumbnails::new();
    for line in &mut book.files {
        let Some((_, added)) = archive.state.files.iter().find(|(entry, _)| entry.0 == line.entry) else { continue };
        let picture = archive.store.blob(&added.file).map_err(|failure| failure.to_string());
        match picture.and_then(|bytes| render::thumbnail(&bytes).map_err(|failure| failure.message)) {
            Ok(Some(picture)) => drop(thumbnails.insert(line.show(&picture), picture)),
            Ok(None) => {}
            Err(fault) => console.complain(&format!("{} is listed without its picture: {fault}", line.name)),
        }
    }
    thumbnails
}

fn read_tasks(file: &Path) -> Result<Tasks> {
    let text = disk::read_text(file, disk::TYPED)?;
    Tasks::parse(&text).map_err(|fault| anyhow!("{}: {fault}", file.display()))
}
