//! `discrepancy`: a sheet for something that is not as it should be, blank or with the numbers of a hole set.

use std::path::Path;

use anyhow::{Result, anyhow, ensure};

use super::current_work::{CurrentWork, load_current_work};
use super::options::{DocumentOptions, NowOption};
use super::{Console, Outcome, names};
use crate::ident::SheetCode;
use crate::job::Hand;
use crate::plan::{DiscrepancySheet, DiscrepancySubject, blank_discrepancy, discrepancy_of};

/// Arguments of `discrepancy`.
#[derive(Debug, clap::Args)]
#[command(after_long_help = AFTER)]
pub(super) struct Arguments {
    /// The hole set, as WNG-210/J1; without one, a blank sheet
    #[arg(value_name = "TRAVELER/JOINT")]
    hole_set: Option<String>,
    /// The hand on which it was found
    #[arg(long, value_parser = names::hand, requires = "hole_set")]
    hand: Option<Hand>,
    /// Code of the sheet on which it was found, instead of the sheet in force
    #[arg(long, value_name = "CODE", value_parser = code)]
    sheet: Option<SheetCode>,
    /// Its number, where it has one already, instead of a box
    #[arg(long, value_name = "NUMBER")]
    number: Option<String>,
    /// Print the lines in which it is typed in afterwards, instead of the sheet
    #[arg(long)]
    typed: bool,
    #[command(flatten)]
    now: NowOption,
    #[command(flatten)]
    document: DocumentOptions,
}

const AFTER: &str = "\
Print a few blank ones and keep them at the bench. With a hole set the sheet knows, before anybody drills again: stack and \
call, the next larger rivet and its hole, whether edge distance and pitch still hold for it (all numbers, and where they \
come from), how many rivets of the pattern may be oversize, what the archive tells of this joint, and until which step it \
can be reached. What becomes of it is decided by hand, on somebody's word; the sheet only asks.

Afterwards `--typed` with the same choice prints the lines in which it is typed in: redirect them to a file, fill it in, and \
enter it with `shophead archive enter`.";

fn code(text: &str) -> Result<SheetCode, String> {
    SheetCode::parse(text).map_err(|fault| fault.to_string())
}

/// Runs `discrepancy`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let now = arguments.now.moment(console)?;
    let current = load_current_work(project_path, now.day(), console)?;
    let _spoken = (!arguments.typed).then(|| arguments.document.speak(&current.project));
    let sheet = sheet(&current, arguments)?;
    if arguments.typed {
        console.say(&sheet.typed.join("\n"))?;
        return Ok(Outcome::of(current.project.report.stops()));
    }
    arguments.document.put_out(&sheet, |sheet| sheet.document(&current.project.job, now), &current, console)
}

fn sheet(current: &CurrentWork, arguments: &Arguments) -> Result<DiscrepancySheet> {
    let (number, code) = (arguments.number.clone(), arguments.sheet.map(|code| code.to_string()));
    let Some(name) = &arguments.hole_set else {
        return Ok(blank_discrepancy(number, code, &current.project.job.project));
    };
    let subject = subject(current, name, arguments.hand)?;
    Ok(discrepancy_of(&subject, number, code))
}

/// The hole set of a name such as `WNG-210/J1`.
fn subject<'a>(current: &'a CurrentWork, name: &str, hand: Option<Hand>) -> Result<DiscrepancySubject<'a>> {
    let job = &current.project.job;
    let (traveler, joint) =
        name.split_once('/').ok_or_else(|| anyhow!("`{name}` names no hole set: write TRAVELER/JOINT"))?;
    let index = names::traveler(job, traveler)?;
    let own = &job.travelers[index];
    let joint = names::index_of(
        joint,
        own.joints.iter().map(|own| own.id.value.as_str()),
        &format!("joint in {traveler} called"),
    )?;
    if let Some(hand) = hand {
        ensure!(
            own.hands.iter().any(|own| own.value == hand),
            "traveler {traveler} is not built in the hand `{}`",
            hand.word()
        );
    }
    let archived = current.archived();
    Ok(DiscrepancySubject { job, order: &current.order, state: &current.state, archived, traveler: index, joint, hand })
}
