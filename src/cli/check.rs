//! `check`: judges the specs and prints the findings.

use std::path::Path;

use anyhow::Result;

use super::project::{LoadedProject, load_project};
use super::project_archive::open_archive;
use super::{Console, Outcome};
use crate::report::{RuleText, render_human, render_json, render_sarif, render_unjudged};
use crate::{rules, work};

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
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
    project.report.unjudged = rules::unjudged(&project.job);
    let (report, files) = (&project.report, &project.files);
    let text = match arguments.format {
        Format::Human => render_human(report, files, console.colour()) + &render_unjudged(report, arguments.unjudged),
        Format::Json => render_json(report, files),
        Format::Sarif => render_sarif(report, files, &rule_texts()),
    };
    console.print(&text)?;
    tell_of_sheets(&project, console)?;
    Ok(Outcome::of(report.stops()))
}

/// Says which sheets in force require something else than the specs; beside the findings, because it is no fault.
fn tell_of_sheets(project: &LoadedProject, console: &mut Console) -> Result<()> {
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
