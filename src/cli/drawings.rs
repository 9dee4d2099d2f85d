//! `drawings`: what an update of the register alone touches, before any spec is edited.

use std::path::Path;

use anyhow::Result;
use serde_json::json;

use super::output::print_data;
use super::project::load_project;
use super::project_archive::open_archive;
use super::{Console, Format, Outcome};
use crate::work;

/// Arguments of `drawings`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// How it is printed
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
}

/// Runs `drawings`; that something is touched is no error.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let project = load_project(project_path)?;
    let archive = open_archive(&project, console)?;
    let touched = work::register_touches(&project.job, &archive.state);
    if arguments.format == Format::Json {
        print_data(&json!({ "touched": touched }), console)?;
        return Ok(Outcome::Clean);
    }
    if touched.is_empty() {
        console.say("every traveler cites its drawings at the revisions of the register")?;
    }
    for one in &touched {
        let cited = one.cited.as_deref().unwrap_or("none");
        console.say(&format!(
            "{} is at revision {} in the register; {} {} was written against {cited}",
            one.sheet, one.register, one.traveler, one.title
        ))?;
        if !one.by_view {
            console.say("  no step names a view of it, so any step may be meant:")?;
        }
        for step in &one.steps {
            let views = if step.views.is_empty() { String::new() } else { format!(" ({})", step.views.join(", ")) };
            let signed = if step.signed.is_empty() {
                "not signed".to_owned()
            } else {
                format!("signed {}", step.signed.join("; "))
            };
            console.say(&format!("  {} {}{views}: {signed}", step.number, step.title))?;
        }
    }
    Ok(Outcome::Clean)
}
