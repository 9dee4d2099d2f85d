//! `archive rename`: the aircraft has another name or serial number from here on, as build.toml says it.
//!
//! An archive belongs to one aircraft, and nothing else is recorded until somebody has said that it is still the same.

use std::path::Path;

use anyhow::{Context, Result};

use crate::archive::{NewPosting, Renamed};
use crate::cli::options::{EntryOptions, on_paper};
use crate::cli::project::load_without_texts;
use crate::cli::project_archive::{named_in, open_to_record, refuse_stranger};
use crate::cli::{Console, Outcome};

/// Arguments of `archive rename`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Initials of whoever says so
    #[arg(long, value_parser = on_paper)]
    by: String,
    /// Why
    #[arg(long, value_parser = on_paper)]
    because: String,
    #[command(flatten)]
    entry: EntryOptions,
}

/// Runs `archive rename`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let project = load_without_texts(project_path)?;
    let (on, entered) = arguments.entry.day_and_time(console)?;
    let mut archive = open_to_record(&project, console)?;
    let recorded =
        archive.state.aircraft.clone().context("there is no archive yet: it begins with the names in build.toml")?;
    let now = named_in(&project);
    if now == recorded {
        console.say("the archive has these names already; nothing is left to do")?;
        return Ok(Outcome::Clean);
    }
    refuse_stranger(&project, &arguments.by)?;
    let renamed = Renamed {
        aircraft: now.name,
        serial: now.serial,
        registration: now.registration,
        by: arguments.by.clone(),
        on,
        because: arguments.because.clone(),
    };
    let posting =
        NewPosting { entries: vec![renamed.into()], because: arguments.entry.because(), ..NewPosting::at(entered) };
    archive.record(&project, posting, console)?;
    Ok(Outcome::Clean)
}
