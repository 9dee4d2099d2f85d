//! `archive verify`: reads every file of the archive and says exactly what is not as it was archived.

use std::path::Path;

use anyhow::Result;
use serde_json::json;

use crate::archive::Archive;
use crate::cli::output::print_data;
use crate::cli::project::load_project;
use crate::cli::{Console, Format, Outcome};

/// Arguments of `archive verify`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// How the result is printed
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
    /// An archive's folder instead of the project's: a copy, a backup
    #[arg(long, value_name = "DIR")]
    folder: Option<std::path::PathBuf>,
}

/// Runs `archive verify`; what is unfinished is told and is no damage.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let archive = if let Some(folder) = &arguments.folder {
        Archive::at(folder)
    } else {
        let project = load_project(project_path)?;
        Archive::at(project.folder_of(&project.job.project.settings.archive.value))
    };
    anyhow::ensure!(archive.exists(), "there is no archive at {}", archive.root().display());
    let survey = archive.verify()?;
    let last = survey.last();
    let digest = last.last.map_or_else(|| "none".to_owned(), |digest| digest.hex());
    if arguments.format == Format::Json {
        let flaws: Vec<_> = survey
            .flaws
            .iter()
            .map(|flaw| json!({ "path": flaw.path, "kind": flaw.kind.word(), "message": flaw.message }))
            .collect();
        let value = json!({ "entries": last.entries, "last": digest, "sound": survey.sound, "whole": survey.is_whole(), "flaws": flaws });
        print_data(&value, console)?;
    } else {
        for flaw in &survey.flaws {
            console.say(&flaw.to_string())?;
        }
        let state = if survey.is_whole() { "whole" } else { "DAMAGED" };
        console.say(&format!(
            "{}: {state}; {} files as archived, {} entries, the last {digest}",
            archive.root().display(),
            survey.sound,
            last.entries
        ))?;
    }
    Ok(Outcome::of(!survey.is_whole()))
}
