//! `archive`: signatures, files and facts in; state, check, book and copy out.
//!
//! Each sub-command has its file. Nothing here rewrites what was recorded.

mod add;
mod book;
mod enter;
mod export;
mod import;
mod list;
mod reopen;
mod sign;
mod verify;

use std::path::Path;

use anyhow::Result;
use clap::Subcommand;

use super::{Console, Outcome};

/// Arguments of `archive`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Enter one signature from a sheet, or a file typed after an evening
    Sign(sign::Arguments),
    /// Enter a file with signatures, discrepancies, corrections, visits, sheets read, marked, lost or void
    Enter(enter::Arguments),
    /// Add a scan, a photo or a letter
    Add(add::Arguments),
    /// Strike out the closing signatures of a space that is opened again
    Reopen(reopen::Arguments),
    /// Take over what a progress file says is done
    Import(import::Arguments),
    /// List entries, sheets in force, open discrepancies
    List(list::Arguments),
    /// Read every file and say exactly what is missing, changed or foreign
    Verify(verify::Arguments),
    /// Print the build record
    Book(book::Arguments),
    /// Write the whole archive with a readable index into one zip file
    Export(export::Arguments),
}

/// Runs `archive`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    match &arguments.command {
        Command::Sign(own) => sign::run(project_path, own, console),
        Command::Enter(own) => enter::run(project_path, own, console),
        Command::Add(own) => add::run(project_path, own, console),
        Command::Reopen(own) => reopen::run(project_path, own, console),
        Command::Import(own) => import::run(project_path, own, console),
        Command::List(own) => list::run(project_path, own, console),
        Command::Verify(own) => verify::run(project_path, own, console),
        Command::Book(own) => book::run(project_path, own, console),
        Command::Export(own) => export::run(project_path, own, console),
    }
}
