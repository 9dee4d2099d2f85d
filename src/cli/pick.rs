//! `pick`: hardware and parts for chosen work, with spares, stock and what to order.

use std::path::Path;

use anyhow::Result;
use clap::ValueEnum;

use super::current_work::load_current_work;
use super::options::{LargeOption, NowOption, OutputOption};
use super::output::{print_page_data, write_pdf};
use super::{Console, Outcome, names};
use crate::job::{Hand, Job};
use crate::plan::{Choice, pick_list};

/// Arguments of `pick`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Travelers; without any choice, the whole build
    traveler: Vec<String>,
    /// Only steps that work in, close or open this space; may be given more than once
    #[arg(long, value_name = "SPACE")]
    space: Vec<String>,
    /// Only the first so many ready steps of the board
    #[arg(long, value_name = "N")]
    next: Option<usize>,
    /// Only this hand
    #[arg(long, value_parser = names::hand)]
    hand: Option<Hand>,
    #[command(flatten)]
    now: NowOption,
    /// A list to print, or the data behind it
    #[arg(long, value_enum, default_value_t = Form::Pdf)]
    format: Form,
    #[command(flatten)]
    output: OutputOption,
    #[command(flatten)]
    large: LargeOption,
}

/// What comes out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// A PDF in the output folder
    Pdf,
    /// JSON on standard output
    Json,
    /// Comma-separated values on standard output
    Csv,
}

/// Runs `pick`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let now = arguments.now.moment(console)?;
    let current = load_current_work(project_path, now.day(), console)?;
    let job = &current.project.job;
    let choice = choice(job, arguments)?;
    let _spoken = (arguments.format == Form::Pdf).then(|| current.project.speak());
    let list = pick_list(job, &current.order, &current.state, &choice, now);
    match arguments.format {
        Form::Pdf => {
            let document = arguments.large.set(list.document(job, now));
            write_pdf(&current, &document, &arguments.output.folder(&current.project)?, console)?;
        }
        Form::Json => print_page_data(&list, &current, console)?,
        Form::Csv => console.print(&list.to_csv())?,
    }
    Ok(Outcome::of(current.project.report.stops()))
}

fn choice(job: &Job, arguments: &Arguments) -> Result<Choice> {
    Ok(Choice {
        travelers: arguments.traveler.iter().map(|name| names::traveler(job, name)).collect::<Result<_>>()?,
        spaces: names::spaces(job, &arguments.space)?,
        next: arguments.next,
        hand: arguments.hand,
    })
}
