//! `completions`: what a shell reads to complete commands, and the answers that it asks for while a line is typed.
//!
//! The shell asks the program itself, so that travelers, spaces, steps and rules are those of the project. Nothing is
//! judged or written for an answer.

use std::path::Path;

use anyhow::{Context, Result};
use clap::{Arg, Command, CommandFactory};
use clap_complete::engine::ArgValueCompleter;
use clap_complete::env::{CompleteEnv, Shells};

use super::{Console, Outcome, candidates};

/// The variable by which a shell says that it wants an answer, and for which shell.
const ASKED: &str = "SHOPHEAD_COMPLETE";

/// The program as the shell starts it.
const PROGRAM: &str = "shophead";

/// Arguments of `completions`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The shell that will read them
    #[arg(value_parser = clap::builder::PossibleValuesParser::new(Shells::builtins().names()))]
    shell: String,
}

/// Runs `completions`; it needs no project.
pub(super) fn run(_: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let shells = Shells::builtins();
    let shell = shells.completer(&arguments.shell).with_context(|| format!("no shell {}", arguments.shell))?;
    let mut out = Vec::new();
    shell.write_registration(ASKED, PROGRAM, PROGRAM, PROGRAM, &mut out)?;
    console.print(&String::from_utf8_lossy(&out))?;
    Ok(Outcome::Clean)
}

/// Answers a shell on standard output, where it is one that asks; else there is an ordinary command to run.
pub(super) fn answered() -> bool {
    let asked = CompleteEnv::with_factory(|| with_candidates(super::Arguments::command())).var(ASKED);
    let folder = std::env::current_dir().ok();
    // A shell that cannot be answered completes nothing: a message would land in the line that is being typed.
    asked.try_complete(std::env::args_os(), folder.as_deref()).unwrap_or(true)
}

/// A command whose arguments know what of the project they may be; an argument is known by its name.
fn with_candidates(command: Command) -> Command {
    let knowing = |arg: Arg| match arg.get_id().as_str() {
        "traveler" | "after" => arg.add(ArgValueCompleter::new(candidates::travelers)),
        "space" | "closes" => arg.add(ArgValueCompleter::new(candidates::spaces)),
        "hole_set" => arg.add(ArgValueCompleter::new(candidates::hole_sets)),
        "by" => arg.add(ArgValueCompleter::new(candidates::initials)),
        "stage" => arg.add(ArgValueCompleter::new(candidates::stages)),
        "step" | "except" => arg.add(ArgValueCompleter::new(candidates::steps)),
        "what" => arg.add(ArgValueCompleter::new(candidates::what_is_signed)),
        "rule" => arg.add(ArgValueCompleter::new(candidates::rules)),
        _ => arg,
    };
    command.mut_args(knowing).mut_subcommands(with_candidates)
}
