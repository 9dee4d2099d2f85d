//! `steps`: lists the steps of a traveler as they will print, and where each comes from.
//!
//! It writes no file; what is to be changed stands in the spec.

use std::path::Path;

use anyhow::Result;
use serde::Serialize;

use super::output::print_data;
use super::project::load_project;
use super::{Console, Format, Outcome, names};
use crate::job::{Job, Step, operation};
use crate::start::steps_text;

/// Arguments of `steps`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The traveler
    traveler: String,
    /// Write every step out in full, as TOML that prints the same packet in the place of the usual steps
    #[arg(long, conflicts_with = "format")]
    toml: bool,
    /// How the list is printed
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
}

/// The steps of one traveler.
#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct Listed<'a> {
    traveler: &'a str,
    steps: Vec<Row<'a>>,
    omitted: Vec<Left<'a>>,
}

/// One step.
#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct Row<'a> {
    number: String,
    id: &'a str,
    title: &'a str,
    #[serde(rename = "do")]
    kind: &'static str,
    joints: Vec<String>,
    origin: &'static str,
    procedures: Vec<&'a str>,
    minutes: Option<u32>,
}

/// A usual step that is left out.
#[derive(Serialize)]
#[serde(rename_all = "kebab-case")]
struct Left<'a> {
    id: &'a str,
    title: &'a str,
    because: &'a str,
}

/// Runs `steps`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let project = load_project(project_path)?;
    let job = &project.job;
    let index = names::traveler(job, &arguments.traveler)?;
    let traveler = &job.travelers[index];
    let style = &job.project.style;
    match (arguments.toml, arguments.format) {
        (true, _) => console.print(&steps_text(traveler, style))?,
        (false, Format::Json) => {
            let row = |step| row(job, index, step);
            let left = traveler.omitted.iter().map(|own| Left {
                id: &own.id.value,
                title: &own.title,
                because: &own.because.value,
            });
            print_data(
                &Listed {
                    traveler: &traveler.id.value,
                    steps: traveler.steps.iter().map(row).collect(),
                    omitted: left.collect(),
                },
                console,
            )?;
        }
        (false, Format::Human) => table(job, index).iter().try_for_each(|line| console.say(line))?,
    }
    Ok(Outcome::Clean)
}

fn row<'a>(job: &'a Job, traveler: usize, step: &'a Step) -> Row<'a> {
    Row {
        number: operation(step.number),
        id: &step.id.value,
        title: &step.title.value,
        kind: step.kind.value.word(),
        joints: joints(job, traveler, step),
        origin: step.origin.word(),
        procedures: step.procedures.iter().map(|index| job.project.procedures[*index].id.as_str()).collect(),
        minutes: step.minutes.map(|minutes| minutes.value),
    }
}

fn joints(job: &Job, traveler: usize, step: &Step) -> Vec<String> {
    step.joints.iter().map(|named| job.joint_name(named.joint, named.hand, traveler)).collect()
}

/// The list for reading: number, id, origin, title and joints.
fn table(job: &Job, index: usize) -> Vec<String> {
    let traveler = &job.travelers[index];
    let widest = traveler.steps.iter().map(|step| step.id.value.chars().count());
    // Without steps nothing is aligned.
    let ids = widest.chain(traveler.omitted.iter().map(|own| own.id.value.chars().count())).max().unwrap_or_default();
    let line = |step: &Step| {
        let id = format!("{:<ids$}", step.id.value);
        let joints = match joints(job, index, step).join(", ") {
            none if none.is_empty() => none,
            some => format!("  [{some}]"),
        };
        format!("{}  {id}  {:<7}  {}{joints}", operation(step.number), step.origin.word(), step.title.value)
    };
    let left = |own: &crate::job::Omitted| {
        format!("---  {:<ids$}  left out {}: {}", own.id.value, own.title, own.because.value)
    };
    traveler.steps.iter().map(line).chain(traveler.omitted.iter().map(left)).collect()
}
