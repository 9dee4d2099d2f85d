//! What `packet` is asked to print: which travelers and hands, and which run of their steps.
//!
//! It prints nothing.

use anyhow::{Context, Result, anyhow, ensure};

use super::current_work::CurrentWork;
use super::project::LoadedProject;
use super::time::page_time;
use super::{Console, names};
use crate::job::{Hand, Item, Traveler, operation};
use crate::plan::{self, BoardOptions, StepRun};

/// The arguments that choose.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct Selection {
    /// Travelers to print; without one, all are printed
    pub traveler: Vec<String>,
    /// Only the sheets of this hand
    #[arg(long, value_parser = names::hand)]
    pub hand: Option<Hand>,
    /// Only these steps, with what they need: 040..070, 040.., a single 040, or step ids
    #[arg(long, value_name = "STEPS", requires = "traveler", conflicts_with = "issue")]
    pub step: Option<String>,
    /// Only what comes next: of named travelers the session that the work stands in, else what the board proposes
    #[arg(long, conflicts_with_all = ["issue", "step"])]
    pub evening: bool,
    /// Minutes at hand, for --evening
    #[arg(long, default_value_t = 120, value_parser = clap::value_parser!(u32).range(1..=10_080))]
    pub minutes: u32,
    /// The moment for --evening, as 2026-03-02T18:00 by your own clock
    #[arg(long, value_name = "MOMENT")]
    pub now: Option<String>,
}

/// One packet, or a run of its steps.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Selected {
    /// Index of the traveler.
    pub index: usize,
    /// The hand; `None` for a one-off.
    pub hand: Option<Hand>,
    /// The steps; all where none are chosen.
    pub run: Option<StepRun>,
}

/// Everything that was asked for, in the project's order.
pub(super) fn select(current: &CurrentWork, selection: &Selection, console: &mut Console) -> Result<Vec<Selected>> {
    if selection.evening && selection.traveler.is_empty() {
        return tonight(current, selection, console);
    }
    let job = &current.project.job;
    let mut all = Vec::new();
    for index in choose(&current.project, &selection.traveler)? {
        let hands = job
            .hands_of(index)
            .into_iter()
            .filter(|hand| selection.hand.is_none() || hand.is_none() || *hand == selection.hand);
        for hand in hands {
            let run = match &selection.step {
                Some(text) => Some(run_of(text, &job.travelers[index])?),
                None if selection.evening => match plan::next_session(job, &current.state, index, hand) {
                    Some(run) => Some(run),
                    None => continue,
                },
                None => None,
            };
            all.push(Selected { index, hand, run });
        }
    }
    if selection.evening && all.is_empty() {
        console.complain("every step of these travelers is done");
    }
    Ok(all)
}

/// What the board proposes for the minutes at hand: for each traveler and hand the run from its first step to its last.
fn tonight(current: &CurrentWork, selection: &Selection, console: &mut Console) -> Result<Vec<Selected>> {
    let options =
        BoardOptions { now: page_time(selection.now.as_deref(), console)?, minutes: selection.minutes, alone: false };
    let board = plan::board(&current.project.job, &current.order, &current.state, options);
    console.say(&board.tonight.why)?;
    let mut all: Vec<Selected> = Vec::new();
    for Item { at, hand } in board
        .tonight
        .rows
        .iter()
        .map(|row| row.item)
        .filter(|item| selection.hand.is_none() || item.hand == selection.hand)
    {
        match all.iter_mut().find(|one| (one.index, one.hand) == (at.traveler, hand)) {
            Some(Selected { run: Some(run), .. }) => {
                *run = StepRun { first: run.first.min(at.step), last: run.last.max(at.step) }
            }
            _ => all.push(Selected { index: at.traveler, hand, run: Some(StepRun { first: at.step, last: at.step }) }),
        }
    }
    all.sort_by_key(|one| (one.index, one.hand));
    Ok(all)
}

/// The travelers named on the command line, in the project's order.
fn choose(project: &LoadedProject, names: &[String]) -> Result<Vec<usize>> {
    let chosen = names.iter().map(|name| names::traveler(&project.job, name)).collect::<Result<Vec<usize>>>()?;
    Ok((0..project.job.travelers.len()).filter(|index| chosen.is_empty() || chosen.contains(index)).collect())
}

/// `040..070`, `040..`, `..070`, `040`, or step ids in their place.
fn run_of(text: &str, traveler: &Traveler) -> Result<StepRun> {
    let end = traveler.steps.len().checked_sub(1).with_context(|| format!("{} has no steps", traveler.id.value))?;
    let (first, last) = match text.split_once("..") {
        Some((first, last)) => (first.trim(), last.trim()),
        None => (text.trim(), text.trim()),
    };
    let run = StepRun {
        first: if first.is_empty() { 0 } else { step_named(first, traveler)? },
        last: if last.is_empty() { end } else { step_named(last, traveler)? },
    };
    ensure!(run.first <= run.last, "--step {text}: {first} comes after {last} in {}", traveler.id.value);
    Ok(run)
}

fn step_named(name: &str, traveler: &Traveler) -> Result<usize> {
    let number = |text: &str| text.parse::<u32>().ok();
    let found = traveler.steps.iter().position(|step| step.id.value == name || number(name) == Some(step.number));
    found.ok_or_else(|| {
        let numbers: Vec<String> = traveler.steps.iter().map(|step| operation(step.number)).collect();
        anyhow!("{} has no step {name}; it has {}", traveler.id.value, numbers.join(", "))
    })
}
