//! `archive book`: the build record as PDF or as data.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow};
use clap::ValueEnum;

use crate::cli::clock::{day, entered};
use crate::cli::kept::open_archive;
use crate::cli::opened::open;
use crate::cli::packet::{date, load_templates, output_folder, print_all};
use crate::cli::{Console, Outcome};
use crate::plan::{self, BookFacts, Tasks};

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
pub(super) fn run(project: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let opened = open(project)?;
    let on = match arguments.on {
        Some(_) => day(arguments.on.as_deref(), entered(Some("2000-01-01T00:00"))?)?,
        None => entered(None)?.day,
    };
    let tasks = arguments.tasks.as_deref().map(read_tasks).transpose()?;
    let kept = open_archive(&opened, console)?;
    let sheets = kept.sheets(kept.state.issues.iter().map(|issue| issue.issued.sheet))?;
    let facts = BookFacts { sheets: &sheets, head: kept.survey.last(), on, tasks: tasks.as_ref() };
    let book = plan::book(&opened.job, &kept.state, &facts);
    if arguments.format == Form::Json {
        console.say(&serde_json::to_string_pretty(&serde_json::json!({ "version": 1, "book": book }))?)?;
        return Ok(Outcome::of(!kept.survey.is_whole()));
    }
    let output = output_folder(&opened, arguments.output.as_ref())?;
    let templates = load_templates(&opened.folder)?;
    let written = print_all(&[book.document(&opened.job, Some(date(on)))], &templates, &output, console)?;
    Ok(Outcome::of(written.iter().any(Option::is_none) || !kept.survey.is_whole()))
}

fn read_tasks(file: &Path) -> Result<Tasks> {
    let text = std::fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))?;
    Tasks::parse(&text).map_err(|fault| anyhow!("{}: {fault}", file.display()))
}
