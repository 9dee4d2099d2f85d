//! `board`: what can be started, what waits and for what, what closes next; with `--drawings`, who cites which sheet.

use std::path::{Path, PathBuf};

use anyhow::Result;
use clap::ValueEnum;

use super::current_work::load_current_work;
use super::output::{print_json, write_pdf};
use super::time::page_time;
use super::{Console, Outcome};
use crate::plan::{self, BoardOptions};

/// Arguments of `board`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Minutes at hand: what to do in them stands on top
    #[arg(long, default_value_t = 120, value_parser = clap::value_parser!(u32).range(1..=10_080))]
    minutes: u32,
    /// The moment, as 2026-03-02T18:00 by your own clock
    #[arg(long, value_name = "MOMENT")]
    now: Option<String>,
    /// Print the drawing index instead: who cites which sheet, and which sheets to lay on the bench
    #[arg(long)]
    drawings: bool,
    /// A page, or the data behind it
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

/// Runs `board`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let current = load_current_work(project_path, console)?;
    let now = page_time(arguments.now.as_deref(), console)?;
    let job = &current.project.job;
    if arguments.drawings {
        let index = plan::drawing_index(job);
        match arguments.format {
            Form::Json => print_json(&index, &current, console)?,
            Form::Pdf => write_pdf(&current, &index.document(job, now), arguments.output.as_ref(), console)?,
        }
    } else {
        let options = BoardOptions { now, minutes: arguments.minutes };
        let board = plan::board(job, &current.order, &current.state, options)
            .with_errors(&current.project.report)
            .with_sheets(&current.archive.state);
        match arguments.format {
            Form::Json => print_json(&board, &current, console)?,
            Form::Pdf => write_pdf(&current, &board.document(job, now), arguments.output.as_ref(), console)?,
        }
    }
    Ok(Outcome::of(current.project.report.stops()))
}
