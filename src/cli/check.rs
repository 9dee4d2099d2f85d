//! `check`: judges the specs and prints the findings.

use std::collections::BTreeSet;
use std::path::Path;

use anyhow::{Context, Result};

use super::folders::misplaced;
use super::heights::check_heights;
use super::project::{LoadedProject, NO_TRAVELER, load_project};
use super::project_archive::open_archive;
use super::{Console, Outcome, names};
use crate::report::{RuleText, render_human, render_json, render_sarif, render_unjudged};
use crate::text::without_controls;
use crate::units::counted;
use crate::{rules, work};

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Travelers whose findings are printed, with those of the project file; without one, all of them
    traveler: Vec<String>,
    /// How findings are printed
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
    /// List every place that could not be judged in full, with the fact that is missing
    #[arg(long)]
    unjudged: bool,
}

/// The forms in which findings are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Format {
    /// For reading
    Human,
    /// For programs
    Json,
    /// SARIF 2.1.0, for reviews of a repository
    Sarif,
}

/// Runs `check`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let mut project = load_project(project_path)?;
    check_heights(&mut project, console)?;
    project.report.unjudged = rules::unjudged(&project.job);
    keep_to(&mut project, &arguments.traveler)?;
    let (report, files) = (&project.report, &project.files);
    let text = match arguments.format {
        Format::Human => {
            render_human(report, files, console.colour())
                + &without_controls(&render_unjudged(report, arguments.unjudged))
        }
        Format::Json => render_json(report, files),
        Format::Sarif => render_sarif(report, files, &rule_texts()),
    };
    console.print(&text)?;
    if project.is_empty() {
        console.complain(NO_TRAVELER);
    }
    tell_of_sheets(&project, console)?;
    Ok(Outcome::of(report.stops()))
}

/// Leaves of the report what is said of these travelers, of the project file, and of files that could not be read;
/// everything where none is named.
fn keep_to(project: &mut LoadedProject, named: &[String]) -> Result<()> {
    if named.is_empty() {
        return Ok(());
    }
    let job = &project.job;
    let chosen = named.iter().map(|name| names::traveler(job, name)).collect::<Result<BTreeSet<usize>>>();
    let unread = || match job.unread {
        0 => String::new(),
        unread => format!("{} could not be read: `shophead check` says why", counted(unread, "spec", "specs")),
    };
    let chosen = chosen.with_context(unread)?;
    let ids = chosen.iter().map(|index| job.travelers[*index].id.value.clone()).collect();
    let others = (0..job.travelers.len()).filter(|index| !chosen.contains(index));
    let elsewhere = others.map(|index| job.travelers[index].span.file).collect();
    project.report.keep_to(&ids, &elsewhere);
    Ok(())
}

/// Says which sheets in force require something else than the specs; beside the findings, because it is no fault.
fn tell_of_sheets(project: &LoadedProject, console: &mut Console) -> Result<()> {
    if misplaced(&project.job, &project.folder).is_some() {
        // A finding said so, and there is no archive to ask.
        return Ok(());
    }
    let archive = open_archive(project, console)?;
    let stale: Vec<String> = work::outdated_sheets(&project.job, &archive.state);
    if !stale.is_empty() {
        console.complain(&format!(
            "{} in force with other requirements: `shophead change` tells what becomes of them",
            stale.join(", ")
        ));
    }
    Ok(())
}

/// What every rule says of itself, for a log that other programs read.
fn rule_texts() -> Vec<RuleText> {
    let text = |rule: &rules::Rule| RuleText {
        name: rule.name.to_owned(),
        short: rule.summary(),
        page: rule.page_text(),
        severity: rule.severity,
    };
    rules::RULES.iter().map(text).collect()
}
