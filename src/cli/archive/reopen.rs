//! `archive reopen`: a space is opened again; every signature that closed it, or looked into it last, is struck out.

use std::path::Path;

use anyhow::{Result, ensure};

use crate::archive::{EntryNumber, NewPosting, Struck};
use crate::cli::options::{EntryOptions, on_paper};
use crate::cli::project::load_without_texts;
use crate::cli::project_archive::{open_to_record, refuse_stranger};
use crate::cli::{Console, Outcome};
use crate::job::{Hand, Space};
use crate::work;

/// Arguments of `archive reopen`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Id of the space
    space: String,
    /// The hand, where each hand has its own space
    #[arg(long)]
    hand: Option<String>,
    /// Initials of whoever opens it
    #[arg(long, value_parser = on_paper)]
    by: String,
    /// Why
    #[arg(long, value_parser = on_paper)]
    because: String,
    #[command(flatten)]
    entry: EntryOptions,
}

/// Runs `archive reopen`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let project = load_without_texts(project_path)?;
    let (on, entered) = arguments.entry.day_and_time(console)?;
    ensure!(on <= entered.day(), "--on is {on}, which is after today, {}", entered.day());
    let mut archive = open_to_record(&project, console)?;
    refuse_stranger(&project, &arguments.by)?;
    let all = work::Spaces::of(&project.job);
    let wanted = |space: &Space| {
        let hand = space.hand.map(Hand::word);
        project.job.space_spec(space.of).id.value == arguments.space
            && (hand.is_none() || arguments.hand.is_none() || hand == arguments.hand.as_deref())
    };
    let spaces: Vec<Space> = all.all().filter(wanted).collect();
    ensure!(!spaces.is_empty(), "no step names a space `{}`", arguments.space);
    ensure!(spaces.len() == 1, "space `{}` is one for each hand; say which with --hand", arguments.space);
    let falls = all.closing_signatures(&archive.state, spaces[0]);
    if falls.is_empty() {
        console.say(&format!("{} is not closed by any signature; nothing falls", project.job.space_name(spaces[0])))?;
        return Ok(Outcome::Clean);
    }
    let because = format!("{} is opened again: {}", project.job.space_name(spaces[0]), arguments.because);
    let strike = |entry: EntryNumber| Struck { entry, by: arguments.by.clone(), on, because: because.clone() }.into();
    let entries = falls.iter().map(|(entry, _)| strike(*entry)).collect();
    archive.record(
        &project,
        NewPosting { entries, because: arguments.entry.because(), ..NewPosting::at(entered) },
        console,
    )?;
    for (_, step) in falls {
        console.say(&format!("{step} is to be signed again"))?;
    }
    Ok(Outcome::Clean)
}
