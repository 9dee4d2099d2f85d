//! `board`: what can be started, what waits and for what, what closes next; with `--drawings`, who cites which sheet.

use std::path::Path;

use anyhow::Result;

use super::current_work::load_current_work;
use super::options::{DocumentOptions, NowOption};
use super::{Console, Outcome};
use crate::plan::{self, BoardOptions};

/// Arguments of `board`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Minutes at hand: what to do in them stands on top
    #[arg(long, default_value_t = 120, value_parser = clap::value_parser!(u32).range(1..=10_080))]
    minutes: u32,
    /// Nobody helps: nothing that needs a helper
    #[arg(long)]
    alone: bool,
    #[command(flatten)]
    now: NowOption,
    /// Print the drawing index instead: who cites which sheet, and which sheets to lay on the bench
    #[arg(long)]
    drawings: bool,
    #[command(flatten)]
    document: DocumentOptions,
}

/// Runs `board`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let now = arguments.now.moment(console)?;
    let current = load_current_work(project_path, now.day(), console)?;
    let job = &current.project.job;
    let _spoken = arguments.document.speak(&current.project);
    if arguments.drawings {
        let index = plan::drawing_index(job);
        return arguments.document.put_out(&index, |index| index.document(job, now), &current, console);
    }
    let options = BoardOptions { now, minutes: arguments.minutes, alone: arguments.alone };
    let board = plan::board(job, &current.order, &current.state, options)
        .with_errors(&current.project.report)
        .with_sheets(&current.archive.state);
    arguments.document.put_out(&board, |board| board.document(job, now), &current, console)
}
