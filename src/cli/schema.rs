//! `schema`: prints the JSON Schema of the files that a builder writes, for an editor or another program.

use std::path::Path;

use anyhow::Result;

use super::{Console, Outcome};
use crate::spec::{evening_schema, project_schema, traveler_schema};

/// Arguments of `schema`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Which file the schema is for
    #[arg(value_enum, default_value_t = File::Traveler)]
    file: File,
}

/// The files that have a schema.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum File {
    /// A traveler below the specs folder
    Traveler,
    /// The project file, `build.toml`
    Project,
    /// What was done: a file of an evening, and `progress.toml` beside the project file
    Evening,
}

/// Runs `schema`; it needs no project.
pub(super) fn run(_: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let schema = match arguments.file {
        File::Traveler => traveler_schema(),
        File::Project => project_schema(),
        File::Evening => evening_schema(),
    };
    console.print(&format!("{schema:#}\n"))?;
    Ok(Outcome::Clean)
}
