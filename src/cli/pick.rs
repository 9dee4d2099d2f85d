//! `pick`: hardware and parts for chosen work, with spares, stock and what to order.

use std::path::{Path, PathBuf};

use anyhow::{Result, bail};
use clap::ValueEnum;

use super::moment::moment;
use super::shop::open_shop;
use super::wall::{print_json, write_pdf};
use super::{Console, Outcome};
use crate::job::{Hand, Job};
use crate::plan::{Choice, pick_list};
use crate::spec::nearest;

/// Arguments of `pick`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Travelers; without any choice, the whole build
    traveler: Vec<String>,
    /// Only steps that work in, close or open this zone; may be given more than once
    #[arg(long, value_name = "ZONE")]
    zone: Vec<String>,
    /// Only the first so many ready steps of the board
    #[arg(long, value_name = "N")]
    next: Option<usize>,
    /// Only this hand
    #[arg(long, value_parser = hand)]
    hand: Option<Hand>,
    /// The day, as 2026-03-02
    #[arg(long, value_name = "MOMENT")]
    now: Option<String>,
    /// A list to print, or the data behind it
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
    /// Comma-separated values on standard output
    Csv,
}

fn hand(word: &str) -> Result<Hand, String> {
    Hand::parse(word).ok_or_else(|| format!("one of: {}", Hand::WORDS.join(", ")))
}

/// Runs `pick`.
pub(super) fn run(project: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let shop = open_shop(project, console)?;
    let job = &shop.opened.job;
    let choice = choice(job, arguments)?;
    let now = moment(arguments.now.as_deref(), console)?;
    let list = pick_list(job, &shop.order, &shop.state, &choice, now);
    match arguments.format {
        Form::Pdf => write_pdf(&shop, &list.document(job, now), arguments.output.as_ref(), console)?,
        Form::Json => print_json(&list, &shop, console)?,
        Form::Csv => console.print(&list.to_csv())?,
    }
    Ok(Outcome::of(shop.opened.report.stops()))
}

fn choice(job: &Job, arguments: &Arguments) -> Result<Choice> {
    let travelers: Vec<&str> = job.travelers.iter().map(|traveler| traveler.id.value.as_str()).collect();
    let zones: Vec<&str> = job.project.zones.iter().map(|zone| zone.id.value.as_str()).collect();
    let find = |names: &[String], known: &[&str], what: &str| -> Result<Vec<usize>> {
        names.iter().map(|name| index_of(name, known, what)).collect()
    };
    Ok(Choice {
        travelers: find(&arguments.traveler, &travelers, "traveler")?,
        zones: find(&arguments.zone, &zones, "zone")?,
        next: arguments.next,
        hand: arguments.hand,
    })
}

fn index_of(name: &str, known: &[&str], what: &str) -> Result<usize> {
    if let Some(index) = known.iter().position(|id| *id == name) {
        return Ok(index);
    }
    let near = nearest(name, known.iter().copied()).map_or_else(String::new, |near| format!("; did you mean {near}?"));
    bail!("there is no {what} {name}{near}")
}
