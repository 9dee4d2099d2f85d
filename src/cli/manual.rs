//! `manual`: pages for a manual reader, made from the arguments themselves.
//!
//! A page is named as `man` finds it: `shophead-archive-sign` for `shophead archive sign`.

use std::io::Write;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use clap::{Command, CommandFactory};

use super::{Console, Outcome};
use crate::disk::Taken;
use crate::units::counted;

/// Arguments of `manual`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The command to print the page of, as `packet` or `archive sign`; without one, the page of the whole program
    #[arg(conflicts_with = "to")]
    command: Vec<String>,
    /// Write the pages of the program and of all its commands into this folder, such as ~/.local/share/man/man1
    #[arg(long, value_name = "FOLDER")]
    to: Option<PathBuf>,
}

/// Runs `manual`; it needs no project.
pub(super) fn run(_: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let mut program = super::Arguments::command();
    program.build();
    if let Some(folder) = &arguments.to {
        write_all(program, folder, console)?;
        return Ok(Outcome::Clean);
    }
    let mut command = program;
    for name in &arguments.command {
        let found = subcommands(&command).into_iter().find(|own| own.get_name() == name);
        command = found.with_context(|| format!("there is no command `{name}`; `shophead --help` lists all"))?;
    }
    console.print(&String::from_utf8_lossy(&page(command)?))?;
    Ok(Outcome::Clean)
}

/// Writes the page of every command; one of an earlier version is replaced.
fn write_all(program: Command, folder: &Path, console: &mut Console) -> Result<()> {
    std::fs::create_dir_all(folder).with_context(|| format!("cannot make the folder {}", folder.display()))?;
    let mut waiting = vec![program];
    let mut written = 0;
    while let Some(command) = waiting.pop() {
        waiting.extend(subcommands(&command));
        let path = folder.join(format!("{}.1", page_name(&command)));
        let text = page(command)?;
        let disk = console.disk();
        disk.put(&path, Taken::Replace, |file| disk.step("write", &path, || file.write_all(&text)))?;
        written += 1;
    }
    console.say(&format!("{} in {}", counted(written, "page", "pages"), folder.display()))
}

/// The commands of a command, each under the name of its page.
fn subcommands(command: &Command) -> Vec<Command> {
    let over = page_name(command);
    let own = command.get_subcommands().cloned();
    own.map(|own| {
        let name = format!("{over}-{}", own.get_name());
        own.display_name(name)
    })
    .collect()
}

/// The name of a command's page, which its display name is.
fn page_name(command: &Command) -> String {
    command.get_display_name().unwrap_or_else(|| command.get_name()).to_owned()
}

/// The page of a command.
fn page(command: Command) -> Result<Vec<u8>> {
    let mut text = Vec::new();
    clap_mangen::Man::new(command).render(&mut text)?;
    Ok(text)
}
