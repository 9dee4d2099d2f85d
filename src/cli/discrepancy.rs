//! `discrepancy`: a sheet for something that is not as it should be, blank or with the numbers of a hole set.

use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, ensure};
use clap::ValueEnum;

use super::moment::moment;
use super::shop::{Shop, open_shop};
use super::wall::{print_json, write_pdf};
use super::{Console, Outcome, named};
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
    #[arg(long, value_parser = named::hand, requires = "hole_set")]
    hand: Option<Hand>,
    /// Code of the sheet on which it was found, instead of the sheet in force
    #[arg(long, value_name = "CODE", value_parser = code)]
    sheet: Option<SheetCode>,
    /// Its number, where it has one already, instead of a box
    #[arg(long, value_name = "NUMBER")]
    number: Option<String>,
    /// The day, as 2026-03-02
    #[arg(long, value_name = "MOMENT")]
    now: Option<String>,
    /// A sheet to print, or the data behind it
    #[arg(long, value_enum, default_value_t = Form::Pdf)]
    format: Form,
    /// Folder for the PDF instead of the project's output folder
    #[arg(long, value_name = "DIR")]
    output: Option<PathBuf>,
}

const AFTER: &str = "\
Print a few blank ones and keep them at the bench. With a hole set the sheet knows, before anybody drills again: stack and
call, the next larger rivet and its hole, whether edge distance and pitch still hold for it (all numbers, and where they
come from), how many rivets of the pattern may be oversize, what the archive tells of this joint, and until which step it
can be reached. What becomes of it is decided by hand, on somebody's word; the sheet only asks.

Enter it afterwards with `shophead archive enter`, as the end of the sheet says.";

/// What comes out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// A PDF in the output folder
    Pdf,
    /// JSON on standard output
    Json,
}

fn code(text: &str) -> Result<SheetCode, String> {
    SheetCode::parse(text).map_err(|fault| fault.to_string())
}

/// Runs `discrepancy`.
pub(super) fn run(project: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let shop = open_shop(project, console)?;
    let sheet = sheet(&shop, arguments)?;
    let now = moment(arguments.now.as_deref(), console)?;
    match arguments.format {
        Form::Json => print_json(&sheet, &shop, console)?,
        Form::Pdf => write_pdf(&shop, &sheet.document(&shop.opened.job, now), arguments.output.as_ref(), console)?,
    }
    Ok(Outcome::of(shop.opened.report.stops()))
}

fn sheet(shop: &Shop, arguments: &Arguments) -> Result<DiscrepancySheet> {
    let (number, code) = (arguments.number.clone(), arguments.sheet.map(|code| code.to_string()));
    let Some(name) = &arguments.hole_set else { return Ok(blank_discrepancy(number, code)) };
    let subject = subject(shop, name, arguments.hand)?;
    Ok(discrepancy_of(&subject, number, code))
}

/// The hole set of a name such as `WNG-210/J1`.
fn subject<'a>(shop: &'a Shop, name: &str, hand: Option<Hand>) -> Result<DiscrepancySubject<'a>> {
    let job = &shop.opened.job;
    let (traveler, joint) =
        name.split_once('/').ok_or_else(|| anyhow!("`{name}` names no hole set: write TRAVELER/JOINT"))?;
    let index = named::traveler(job, traveler)?;
    let own = &job.travelers[index];
    let joint = named::index_of(
        joint,
        own.joints.iter().map(|own| own.id.value.as_str()),
        &format!("joint in {traveler} called"),
    )?;
    if let Some(hand) = hand {
        ensure!(own.hands.contains(&hand), "traveler {traveler} is not built in the hand `{}`", hand.word());
    }
    let archived = shop.archived();
    Ok(DiscrepancySubject { job, order: &shop.order, state: &shop.state, archived, traveler: index, joint, hand })
}
