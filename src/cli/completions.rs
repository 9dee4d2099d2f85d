//! `completions`: what a shell needs to complete the commands, made from the arguments themselves.

use std::path::Path;

use anyhow::Result;
use clap::CommandFactory;

use super::{Console, Outcome};

/// Arguments of `completions`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The shell that will read them
    shell: clap_complete::Shell,
}

/// Runs `completions`; it needs no project.
pub(super) fn run(_: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let mut out = Vec::new();
    clap_complete::generate(arguments.shell, &mut super::Arguments::command(), "shophead", &mut out);
    console.print(&String::from_utf8_lossy(&out))?;
    Ok(Outcome::Clean)
}
