//! `bench`: calculators over the same tables that `check` judges by.
//!
//! Each file below reads what was typed for one question and puts the answer of `hardware` into rows; nothing is
//! computed here. The answer carries its sources, and the plans outrank it.

mod answer;
mod bend;
mod blind;
mod bolt;
mod hole;
mod rivet;
mod shear;
mod torque;
mod typed;

use std::path::Path;

use anyhow::Result;

use super::{Console, Format, Outcome};
use answer::Answer;

/// Arguments of `bench`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// How the answer is printed
    #[arg(long, value_enum, default_value_t = Format::Human, global = true)]
    format: Format,
    #[command(subcommand)]
    question: Question,
}

#[derive(Debug, clap::Subcommand)]
enum Question {
    /// Solid rivet: length, hole, edge, pitch, shop head, shear
    Rivet(rivet::Arguments),
    /// Blind rivet: the one whose grip holds the stack, and its hole
    Blind(blind::Arguments),
    /// Bolt: the dash whose grip suits the stack, and its hole
    Bolt(bolt::Arguments),
    /// Torque of a bolt and nut, and what to set on a wrench with an adapter
    Torque(torque::Arguments),
    /// Bend: least inside radius and set-back
    Bend(bend::Arguments),
    /// What a part number means, and the holes it may stand in
    Hole(hole::Arguments),
}

/// Runs `bench`; it needs no project.
pub(super) fn run(_: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let answer: Answer = match &arguments.question {
        Question::Rivet(own) => rivet::answer(own)?,
        Question::Blind(own) => blind::answer(own)?,
        Question::Bolt(own) => bolt::answer(own)?,
        Question::Torque(own) => torque::answer(own)?,
        Question::Bend(own) => bend::answer(own)?,
        Question::Hole(own) => hole::answer(own)?,
    };
    console.print(&match arguments.format {
        Format::Human => answer.for_reading(),
        Format::Json => answer.for_programs(),
    })?;
    Ok(Outcome::Clean)
}
