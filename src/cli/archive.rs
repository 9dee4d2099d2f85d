//! `archive`: signatures, files and facts in; state, check, book and copy out.
//!
//! Each sub-command has its file. Nothing here rewrites what was recorded.

mod add;
mod book;
mod enter;
mod export;
mod import;
mod list;
mod rename;
mod reopen;
mod sign;
mod verify;

use std::path::Path;

use anyhow::Result;

use super::{Console, Outcome, commands};

/// Arguments of `archive`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(subcommand)]
    command: Command,
}

commands! {
    /// Enter signatures from a sheet: the traveler and the step numbers as printed, 010..070
    Sign: sign,
    /// Enter a file with signatures, discrepancies, corrections, visits, sheets read, marked, lost or void
    Enter: enter,
    /// Add a scan, a photo or a letter
    Add: add,
    /// Strike out the closing signatures of a space that is opened again
    Reopen: reopen,
    /// Say that the aircraft has another name or number from here on, as build.toml says it
    Rename: rename,
    /// Take over what a progress file says is done
    Import: import,
    /// List entries, sheets in force, open discrepancies
    List: list,
    /// Read every file and say exactly what is missing, changed or foreign
    Verify: verify,
    /// Print the build record
    Book: book,
    /// Write the whole archive with a readable index into one zip file
    Export: export,
}

/// Runs `archive`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    arguments.command.run(project_path, console)
}
