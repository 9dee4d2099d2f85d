//! `manual`: a page for a manual reader, made from the arguments themselves.

use std::path::Path;

use anyhow::{Context, Result};
use clap::CommandFactory;

use super::{Console, Outcome};

/// Arguments of `manual`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The command to print the page of; without one, the page of the whole program
    command: Option<String>,
}

/// Runs `manual`; it needs no project.
pub(super) fn run(_: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let mut program = super::Arguments::command();
    program.build();
    let command = match &arguments.command {
        None => program,
        Some(name) => {
            let found = program
                .find_subcommand(name)
                .with_context(|| format!("there is no command `{name}`; `shophead --help` lists all"))?;
            // The page's name joins program and command, as `man shophead-packet` finds it.
            found.clone().display_name(format!("shophead-{name}"))
        }
    };
    let mut out = Vec::new();
    clap_mangen::Man::new(command).render(&mut out)?;
    console.print(&String::from_utf8_lossy(&out))?;
    Ok(Outcome::Clean)
}
