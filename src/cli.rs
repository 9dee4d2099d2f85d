//! The command line: what was typed becomes calls of the seven verbs, and their results become text and exit codes.
//!
//! The only place that knows the terminal, the clock and the process. It decides nothing about rivets.
//! Exit codes: 0 no errors, 1 errors found in the builder's data, 2 could not run.

mod apart;
mod archive;
mod bench;
mod bench_pages;
mod board;
mod candidates;
mod change;
mod check;
mod completions;
mod console;
mod current_work;
mod discrepancy;
mod drawings;
mod evening;
mod explain;
mod folders;
mod heights;
mod issue;
mod language;
mod manual;
mod names;
mod new;
mod options;
mod output;
mod packet;
mod phrases;
mod pick;
mod pictures;
mod print_options;
mod progress_bar;
mod project;
mod project_archive;
mod schema;
mod selection;
mod steps;
mod texts;
mod time;
mod typed_text;
mod visit;
mod watch;

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

use anyhow::Result;
use clap::{Parser, ValueEnum};

pub use console::Console;

/// The project file where none is named.
const USUAL_PROJECT: &str = "build.toml";

/// Checked traveler sheets for the builder of a sheet-metal aircraft
#[derive(Debug, Parser)]
#[command(name = "shophead", version, about, max_term_width = 100, disable_help_subcommand = true)]
struct Arguments {
    /// The project file, or the folder that holds `build.toml`
    #[arg(long, global = true, value_name = "FILE|DIR", default_value = USUAL_PROJECT)]
    project: PathBuf,
    #[command(subcommand)]
    command: Command,
}

/// Lists the commands of one level: a variant with its help text, then the module with its `Arguments` and its `run`.
macro_rules! commands {
    ($($(#[$help:meta])* $name:ident: $module:ident,)+) => {
        #[derive(Debug, clap::Subcommand)]
        enum Command {
            $($(#[$help])* $name(Box<$module::Arguments>),)+
        }

        impl Command {
            fn run(&self, project_path: &Path, console: &mut Console) -> Result<Outcome> {
                match self {
                    $(Self::$name(arguments) => $module::run(project_path, arguments, console),)+
                }
            }
        }
    };
}
use commands;

commands! {
    /// Start a project or a traveler
    New: new,
    /// Judge the specs against the tables
    Check: check,
    /// List the steps of a traveler as they will print, and where each comes from
    Steps: steps,
    /// Check, then write traveler PDFs to the output folder
    Packet: packet,
    /// Say what a rule checks, why, on which source, and when to allow a departure
    Explain: explain,
    /// Write a file for tonight's signatures, ready to be filled in: what the board proposes
    Evening: evening,
    /// Say what a revision does to signed work; print the notice and only the sheets that change
    Change: change,
    /// Say what an update of the drawing register touches, before anything is edited
    Drawings: drawings,
    /// Signatures, files and facts in; state, check, book and copy out
    Archive: archive,
    /// Say what can be started, what waits and for what, and what closes next
    Board: board,
    /// Print the packet for somebody who looks before a space closes
    Visit: visit,
    /// Print a discrepancy sheet: blank, or with the numbers of a hole set
    Discrepancy: discrepancy,
    /// List hardware and parts to pull, and what to order
    Pick: pick,
    /// Ask the tables: rivet, blind rivet, bolt, torque, bend, hole
    Bench: bench,
    /// Print the fixed words of the documents, to put them in another language
    Words: phrases,
    /// Print the JSON Schema of the files that a builder writes
    Schema: schema,
    /// Print completions for a shell
    Completions: completions,
    /// Print a manual page in roff
    Manual: manual,
}

/// The forms in which a command prints data.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Format {
    /// For reading
    Human,
    /// For programs
    Json,
}

/// How a run ended, where it could run at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Outcome {
    /// No errors.
    Clean,
    /// Errors in the builder's data.
    ErrorsFound,
}

impl Outcome {
    const fn of(errors: bool) -> Self {
        if errors { Self::ErrorsFound } else { Self::Clean }
    }
}

/// Runs the command line and gives the exit code; answers a shell instead that asks how a line may go on.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    if let Some(code) = apart::answered() {
        return code;
    }
    if completions::answered() {
        return ExitCode::SUCCESS;
    }
    run_on(arguments, &mut Console::of_process())
}

/// Runs the command line on a console and gives the exit code; help and version go to the process's streams.
pub fn run_on(arguments: impl IntoIterator<Item = OsString>, console: &mut Console) -> ExitCode {
    let arguments: Vec<OsString> = arguments.into_iter().collect();
    let is_plain = arguments.iter().all(|own| !own.to_string_lossy().contains(char::is_control));
    let arguments = match Arguments::try_parse_from(arguments) {
        Ok(arguments) => arguments,
        Err(said) => {
            // Help and version are answers; anything else typed wrongly means that nothing could run.
            let code = u8::try_from(said.exit_code()).unwrap_or(2);
            if !is_plain {
                // What was typed stands in the message, and is no more shown as it is than anything else.
                console.complain(said.render().to_string().trim_end());
                return ExitCode::from(code);
            }
            return if said.print().is_ok() { ExitCode::from(code) } else { ExitCode::from(2) };
        }
    };
    let mut result = arguments.command.run(&arguments.project, console);
    if result.as_ref().is_err_and(anyhow::Error::is::<project_archive::Overtaken>) {
        // Now there is an archive, and this run waits in line for it.
        result = arguments.command.run(&arguments.project, console);
    }
    match result.and_then(|outcome| console.finish().map(|()| outcome)) {
        Ok(Outcome::Clean) => ExitCode::SUCCESS,
        Ok(Outcome::ErrorsFound) => ExitCode::from(1),
        Err(failure) if console::is_broken_pipe(&failure) => ExitCode::SUCCESS,
        Err(failure) => {
            console.complain(&format!("{failure:#}"));
            ExitCode::from(2)
        }
    }
}
