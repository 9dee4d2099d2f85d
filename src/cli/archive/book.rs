//! `archive book`: the build record as PDF or as data.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow};
use clap::ValueEnum;

use crate::calendar::Day;
use crate::cli::packet::{load_templates, output_folder, print_all};
use crate::cli::project::load_project;
use crate::cli::project_archive::{ProjectArchive, open_archive};
use crate::cli::time::entry_time;
use crate::cli::{Console, Outcome};
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
    /// A PDF in the output folder, or the data behind it
    #[arg(long, value_enum, default_value_t = Form::Pdf)]
    format: Form,
    /// Folder for the PDF instead of the project's output folder
    #[arg(long, value_name = "DIR")]
    output: Option<PathBuf>,
}

/// What comes out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// A PDF in the output folder
    Pdf,
    /// JSON on standard output
    Json,
}

/// Runs `archive book`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let project = load_project(project_path)?;
    let on = match &arguments.on {
        Some(typed) => {
            Day::parse(typed).ok_or_else(|| anyhow!("--on is `{typed}`, expected a day such as 2026-03-02"))?
        }
        None => entry_time(None, console)?.day(),
    };
    let tasks = arguments.tasks.as_deref().map(read_tasks).transpose()?;
    let archive = open_archive(&project, console)?;
    let sheets = archive.sheets(archive.state.issues.iter().map(|issue| issue.issued.sheet))?;
    let facts = BookFacts { sheets: &sheets, head: archive.survey.last(), on, tasks: tasks.as_ref() };
    let mut book = plan::book(&project.job, &archive.state, &facts);
    if arguments.format == Form::Json {
        console.say(&serde_json::to_string_pretty(&serde_json::json!({ "version": 1, "book": book }))?)?;
        return Ok(Outcome::of(!archive.survey.is_whole()));
    }
    let thumbnails = show_thumbnails(&mut book, &archive, console);
    let output = output_folder(&project, arguments.output.as_ref())?;
    let templates = load_templates(&project.folder)?;
    let written = print_all(&[book.document(&project.job, Some(on), thumbnails)], &templates, &output, console)?;
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
    let text = std::fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))?;
    Tasks::parse(&text).map_err(|fault| anyhow!("{}: {fault}", file.display()))
}
