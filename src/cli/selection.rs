//! What `packet` is asked to print: which travelers and hands, and which run of their steps.
//!
//! It prints nothing.

use anyhow::{Context, Result, anyhow, ensure};

use super::current_work::CurrentWork;
use super::project::LoadedProject;
use super::time::page_time;
use super::{Console, names};
use crate::job::{Hand, Item, Traveler, operation, same_side};
use crate::plan::{self, BoardOptions, StepRun};
use crate::words::Packets;

/// The arguments that choose.
#[derive(Debug, Clone, clap::Args)]
pub(super) struct Selection {
    /// Travelers to print; without one, all are printed
    pub traveler: Vec<String>,
    /// Only the sheets of this hand
    #[arg(long, value_parser = names::hand)]
    pub hand: Option<Hand>,
    /// One packet for both hands, their boxes side by side, of every traveler with two hands
    #[arg(long, conflicts_with = "hand")]
    pub both_hands: bool,
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
    /// The other hand, where one packet is for both.
    pub other: Option<Hand>,
    /// The steps; all where none are chosen.
    pub run: Option<StepRun>,
}

/// Everything that was asked for, in the project's order; both hands together where they share a packet.
pub(super) fn select_packets(
    current: &CurrentWork,
    selection: &Selection,
    console: &mut Console,
) -> Result<Vec<Selected>> {
    let all = select(current, selection, console)?;
    let travelers = &current.project.job.travelers;
    let shares = |index: usize| {
        selection.both_hands || travelers[index].packet.as_ref().is_some_and(|own| own.value == Packets::BothHands)
    };
    Ok(joined(all, shares))
}

/// Two hands of a traveler that shares its packet, and that stand at the same steps, as one.
fn joined(all: Vec<Selected>, shares: impl Fn(usize) -> bool) -> Vec<Selected> {
    let mut joined: Vec<Selected> = Vec::new();
    for one in all {
        let is_pair = |own: &&mut Selected| {
            let apart = own.hand.is_some() && own.other.is_none() && own.hand != one.hand && one.hand.is_some();
            own.index == one.index && own.run == one.run && apart && shares(one.index)
        };
        match joined.iter_mut().find(is_pair) {
            Some(own) => {
                // Left first, in whatever order the spec names them.
                let first = own.hand.min(one.hand);
                own.other = own.hand.max(one.hand);
                own.hand = first;
            }
            None => joined.push(one),
        }
    }
    joined
}

/// Everything that was asked for, in the project's order, each hand for itself.
pub(super) fn select(current: &CurrentWork, selection: &Selection, console: &mut Console) -> Result<Vec<Selected>> {
    if selection.evening && selection.traveler.is_empty() {
        return tonight(current, selection, console);
    }
    let job = &current.project.job;
    let mut all = Vec::new();
    for index in choose(&current.project, &selection.traveler)? {
        let hands = job.hands_of(index).into_iter().filter(|hand| same_side(*hand, selection.hand));
        for hand in hands {
            let run = match &selection.step {
                Some(text) => Some(run_of(text, &job.travelers[index])?),
                None if selection.evening => match plan::next_session(job, &current.state, index, hand) {
                    Some(run) => Some(run),
                    None => continue,
                },
                None => None,
            };
            all.push(Selected { index, hand, other: None, run });
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
        let own = all.iter_mut().find(|one| (one.index, one.hand) == (at.traveler, hand));
        if let Some(run) = own.and_then(|own| own.run.as_mut()) {
            *run = StepRun { first: run.first.min(at.step), last: run.last.max(at.step) };
        } else {
            let run = Some(StepRun { first: at.step, last: at.step });
            all.push(Selected { index: at.traveler, hand, other: None, run });
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
