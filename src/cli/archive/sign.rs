//! `archive sign`: one signature from the code on the sheet, the step and what stands in its boxes.

use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};

use super::enter::{TypedFile, read, record_typed};
use crate::archive::{Capacity, Reading, Typed, TypedSignature, Value as _};
use crate::calendar::Day;
use crate::cli::options::{EnteredOption, on_paper};
use crate::cli::project::load_without_texts;
use crate::cli::{Console, Outcome};
use crate::ident::SheetCode;

/// Arguments of `archive sign`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Code of the sheet, as printed on every page
    #[arg(required_unless_present = "file")]
    sheet: Option<String>,
    /// Step: its number on the sheet, its id, or TRAVELER/step
    #[arg(required_unless_present = "file")]
    step: Option<String>,
    /// A TOML file with `[[sign]]` entries instead
    #[arg(long, value_name = "FILE", conflicts_with_all = ["sheet", "step"])]
    file: Option<PathBuf>,
    /// Initials as written on the sheet
    #[arg(long, required_unless_present = "file", value_parser = on_paper)]
    by: Option<String>,
    /// Day of the work, as 2026-03-02; without it, today
    #[arg(long, value_name = "DAY")]
    on: Option<String>,
    /// What it is for: done, hold, witness or stage; without it, done, or stage where a stage or an outcome is given
    #[arg(long = "for", value_name = "WHAT")]
    capacity: Option<String>,
    /// The stage, where the step has more than one
    #[arg(long)]
    stage: Option<String>,
    /// The outcome that is ticked beside a stage's box
    #[arg(long)]
    outcome: Option<String>,
    /// What stands in a field beside the box: FIELD=VALUE
    #[arg(long, value_name = "FIELD=VALUE")]
    asked: Vec<String>,
    /// The role, where the signer has more than one that fits
    #[arg(long)]
    role: Option<String>,
    /// Minutes of work
    #[arg(long)]
    minutes: Option<u32>,
    /// A value read: ID=VALUE
    #[arg(long, value_name = "ID=VALUE", value_parser = on_paper)]
    reading: Vec<String>,
    /// Initials of a helper
    #[arg(long, value_parser = on_paper)]
    helper: Vec<String>,
    /// Initials of a helper who was paid
    #[arg(long, value_parser = on_paper)]
    paid_helper: Vec<String>,
    /// Number of a photo
    #[arg(long, value_parser = on_paper)]
    photo: Vec<String>,
    /// Number of a discrepancy that stands in the margin
    #[arg(long, value_parser = on_paper)]
    discrepancy: Vec<String>,
    /// What was fitted, where the plans leave a choice
    #[arg(long, value_parser = on_paper)]
    as_built: Vec<String>,
    /// Where the work was done
    #[arg(long, value_parser = on_paper)]
    place: Option<String>,
    /// Anything else
    #[arg(long, value_parser = on_paper)]
    note: Option<String>,
    /// From what a signature of a lost sheet is put together again
    #[arg(long, value_name = "SOURCE", value_parser = on_paper)]
    reconstructed_from: Option<String>,
    /// Why a space is closed although something is left in it
    #[arg(long, value_name = "REASON", value_parser = on_paper)]
    despite: Option<String>,
    /// Why it is signed although a step before it is open, a cure runs or a discrepancy stops it
    #[arg(long, value_name = "REASON")]
    because: Option<String>,
    #[command(flatten)]
    entered: EnteredOption,
}

/// Runs `archive sign`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let typed = match &arguments.file {
        Some(file) => read(file)?,
        None => TypedFile { typed: Typed { sign: vec![typed(arguments)?], ..Typed::default() }, digest: None },
    };
    record_typed(&load_without_texts(project_path)?, &typed, &arguments.entered, console)
}

fn typed(arguments: &Arguments) -> Result<TypedSignature> {
    let (Some(sheet), Some(step)) = (&arguments.sheet, &arguments.step) else {
        bail!("a sheet code and a step are needed")
    };
    let capacity =
        |text: &String| Capacity::read(text).ok_or_else(|| anyhow!("--for is `{text}`, expected {}", Capacity::form()));
    let on = arguments
        .on
        .as_deref()
        .map(|text| Day::parse(text).ok_or_else(|| anyhow!("--on is `{text}`, expected {}", Day::form())));
    Ok(TypedSignature {
        sheet: SheetCode::parse(sheet).map_err(|fault| anyhow!("`{sheet}`: {fault}"))?,
        step: step.clone(),
        capacity: arguments.capacity.as_ref().map(capacity).transpose()?,
        stage: arguments.stage.clone(),
        outcome: arguments.outcome.clone(),
        role: arguments.role.clone(),
        by: arguments.by.clone(),
        on: on.transpose()?,
        minutes: arguments.minutes,
        helpers: arguments.helper.clone(),
        paid_helpers: arguments.paid_helper.clone(),
        readings: pairs(&arguments.reading, "reading", "ID=VALUE")?,
        asked: pairs(&arguments.asked, "asked", "FIELD=VALUE")?,
        photos: arguments.photo.clone(),
        discrepancies: arguments.discrepancy.clone(),
        as_built: arguments.as_built.clone(),
        place: arguments.place.clone(),
        note: arguments.note.clone(),
        reconstructed_from: arguments.reconstructed_from.clone(),
        despite: arguments.despite.clone(),
        because: arguments.because.clone(),
    })
}

/// What an option gives as `NAME=VALUE`, each time that it stands there.
fn pairs(texts: &[String], option: &str, form: &str) -> Result<Vec<Reading>> {
    let pair = |text: &String| {
        let (id, value) = text.split_once('=').ok_or_else(|| anyhow!("--{option} is `{text}`, expected {form}"))?;
        Ok(Reading { id: id.trim().to_owned(), value: value.trim().to_owned() })
    };
    texts.iter().map(pair).collect()
}
