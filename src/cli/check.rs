//! `check`: judges the specs and prints the findings.

use std::path::Path;

use anyhow::Result;

use super::opened::open;
use super::{Console, Format, Outcome};
use crate::report::{render_human, render_json};

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// How findings are printed
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
}

/// Runs `check`.
pub(super) fn run(project: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let opened = open(project)?;
    let text = match arguments.format {
        Format::Human => render_human(&opened.report, &opened.files, console.colour()),
        Format::Json => render_json(&opened.report, &opened.files),
    };
    console.print(&text)?;
    Ok(Outcome::of(opened.report.stops()))
}
