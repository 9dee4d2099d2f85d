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

use super::project::bare_project;
use super::{Console, Format, Outcome};
use crate::hardware::{KitFastener, OwnTorque};
use crate::units::{Style, Unit};
use answer::Answer;

/// Arguments of `bench`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// How the answer is printed
    #[arg(long, value_enum, default_value_t = Format::Human, global = true)]
    format: Format,
    /// Unit of a bare number and of the answer, instead of the project's
    #[arg(long, value_enum, global = true)]
    unit: Option<UnitWord>,
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

/// A unit on the command line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum UnitWord {
    /// Inches and inch-pounds
    Inch,
    /// Millimetres and newton metres
    Mm,
}

/// In what the questions are asked: how sizes are read and printed, and the hardware that the project names itself.
struct Asked {
    style: Style,
    kit: Vec<KitFastener>,
    torques: Vec<OwnTorque>,
}

/// Runs `bench`; where there is a project, it is asked in its unit and knows its hardware.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let asked = asked(project_path, arguments.unit)?;
    let answer: Answer = match &arguments.question {
        Question::Rivet(own) => rivet::answer(own, &asked)?,
        Question::Blind(own) => blind::answer(own, &asked)?,
        Question::Bolt(own) => bolt::answer(own, &asked)?,
        Question::Torque(own) => torque::answer(own, &asked)?,
        Question::Bend(own) => bend::answer(own, &asked)?,
        Question::Hole(own) => hole::answer(own, &asked)?,
    };
    console.print(&match arguments.format {
        Format::Human => answer.for_reading(&asked.style),
        Format::Json => answer.for_programs(&asked.style),
    })?;
    Ok(Outcome::Clean)
}

fn asked(project_path: &Path, unit: Option<UnitWord>) -> Result<Asked> {
    let project = bare_project(project_path)?;
    let unit = unit.map(|unit| match unit {
        UnitWord::Inch => Unit::Inch,
        UnitWord::Mm => Unit::Mm,
    });
    let nothing = Asked { style: Style::of(Unit::Inch), kit: Vec::new(), torques: Vec::new() };
    let asked = project.map_or(nothing, |own| Asked { style: own.style, kit: own.kit, torques: own.torques });
    let style = unit.filter(|unit| *unit != asked.style.unit).map_or_else(|| asked.style.clone(), Style::of);
    Ok(Asked { style, ..asked })
}
