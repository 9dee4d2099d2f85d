//! `completions` and `manual`: what a shell and a manual reader need, made from the arguments themselves.

use anyhow::Result;
use clap::CommandFactory;

use super::{Console, Outcome};

/// Arguments of `completions`.
#[derive(Debug, clap::Args)]
pub(super) struct CompletionsArguments {
    /// The shell that will read them
    shell: clap_complete::Shell,
}

/// Arguments of `manual`.
#[derive(Debug, clap::Args)]
pub(super) struct ManualArguments {
    /// The command to print the page of; without one, the page of the whole program
    command: Option<String>,
}

/// Runs `completions`.
pub(super) fn completions(arguments: &CompletionsArguments, console: &mut Console) -> Result<Outcome> {
    let mut out = Vec::new();
    clap_complete::generate(arguments.shell, &mut super::Arguments::command(), "shophead", &mut out);
    console.print(&String::from_utf8_lossy(&out))?;
    Ok(Outcome::Clean)
}

/// Runs `manual`.
pub(super) fn manual(arguments: &ManualArguments, console: &mut Console) -> Result<Outcome> {
    let mut program = super::Arguments::command();
    program.build();
    let command = match &arguments.command {
        None => program,
        Some(name) => {
            let found = program.find_subcommand(name).cloned();
            // The page's name joins program and command, as `man shophead-packet` finds it.
            let found =
                found.ok_or_else(|| anyhow::anyhow!("there is no command `{name}`; `shophead --help` lists all"))?;
            found.display_name(format!("shophead-{name}"))
        }
    };
    let mut out = Vec::new();
    clap_mangen::Man::new(command).render(&mut out)?;
    console.print(&String::from_utf8_lossy(&out))?;
    Ok(Outcome::Clean)
}
