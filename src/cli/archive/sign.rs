//! `archive sign`: signatures from the names on the sheet and what stands in its boxes.
//!
//! The arguments are written as an entry of an evening and read as one. On a terminal it asks for what is missing, and shows
//! what it will record before it does.

mod ask;

use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};

use super::enter::{TypedFile, read, record_typed};
use crate::archive::Value as _;
use crate::cli::options::{EnteredOption, on_paper};
use crate::cli::project::load_without_texts;
use crate::cli::time::typed_day;
use crate::cli::{Console, Outcome};
use crate::ident::SheetCode;
use crate::spec::WrittenEntry;
use crate::words::{Capacity, Hand};

/// Arguments of `archive sign`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// TRAVELER, its HAND where it is built in two, and the STEPS as printed: 010..070, 050, or ids. The code of a sheet may
    /// stand in the place of traveler and hand
    #[arg(value_name = "TRAVELER [HAND] STEPS", num_args = 1.., required_unless_present = "file", value_parser = on_paper)]
    what: Vec<String>,
    /// Steps of those that were not done
    #[arg(long, value_name = "STEPS", value_parser = on_paper)]
    except: Vec<String>,
    /// A TOML file with `[[sign]]` entries instead
    #[arg(long, value_name = "FILE", conflicts_with = "what")]
    file: Option<PathBuf>,
    /// Initials as written on the sheet; a terminal is asked for them
    #[arg(long, value_name = "INITIALS", value_parser = on_paper)]
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
    /// A value read, by the number beside its box, as 060.1=0.2500, or by the record's id
    #[arg(long, value_name = "BOX=VALUE", value_parser = on_paper)]
    reading: Vec<String>,
    /// Initials of a helper
    #[arg(long, value_name = "INITIALS", value_parser = on_paper)]
    helper: Vec<String>,
    /// Initials of a helper who was paid
    #[arg(long, value_name = "INITIALS", value_parser = on_paper)]
    paid_helper: Vec<String>,
    /// Number of a photo
    #[arg(long, value_name = "NUMBER", value_parser = on_paper)]
    photo: Vec<String>,
    /// Number of a discrepancy that stands in the margin
    #[arg(long, value_name = "NUMBER", value_parser = on_paper)]
    discrepancy: Vec<String>,
    /// What was fitted, where the plans leave a choice
    #[arg(long, value_name = "WORDS", value_parser = on_paper)]
    as_built: Vec<String>,
    /// Where the work was done
    #[arg(long, value_name = "WORDS", value_parser = on_paper)]
    place: Option<String>,
    /// Anything else
    #[arg(long, value_name = "WORDS", value_parser = on_paper)]
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
    /// On a terminal record what is shown without asking whether it is meant
    #[arg(long)]
    yes: bool,
    #[command(flatten)]
    entered: EnteredOption,
}

/// Runs `archive sign`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let mut project = load_without_texts(project_path)?;
    if let Some(file) = &arguments.file {
        let typed = read(file, &mut project)?;
        return record_typed(&project, typed, &arguments.entered, console);
    }
    let mut typed = TypedFile::of("command line".to_owned(), written(arguments)?, &mut project.files);
    typed.confirm = !arguments.yes;
    if console.can_ask() {
        ask::fill_in(&project, &mut typed, console)?;
    }
    record_typed(&project, typed, &arguments.entered, console)
}

/// What the arguments say, as it would be typed into a file.
fn written(arguments: &Arguments) -> Result<String> {
    let [first, rest @ ..] = arguments.what.as_slice() else {
        bail!("a traveler or a sheet code, and its steps are needed")
    };
    if rest.is_empty() {
        bail!("which steps of {first}? Write their numbers as printed behind it, such as {first} 010..070");
    }
    let hand = rest.first().filter(|word| Hand::parse(word).is_some() && rest.len() > 1);
    let steps = &rest[usize::from(hand.is_some())..];
    let code = SheetCode::parse(first);
    // The code on a page of both hands is of two sheets: the fault says which is whose.
    let is_of_both = first.contains('+') && first.split('+').all(|code| SheetCode::parse(code).is_ok());
    if let Some(fault) = code.as_ref().err().filter(|_| is_of_both) {
        bail!("`{first}`: {fault}; or type the traveler and the hand");
    }
    let is_code = code.is_ok();
    let capacity =
        |text: &String| Capacity::read(text).ok_or_else(|| anyhow!("--for is `{text}`, expected {}", Capacity::form()));
    let on = arguments.on.as_deref().map(|text| typed_day("--on", text)).transpose()?.map(|day| day.to_string());
    let minutes = arguments.minutes.map(|minutes| minutes.to_string());
    let entry = WrittenEntry::titled("sign")
        .text("sheet", is_code.then_some(first))
        .text("traveler", (!is_code).then_some(first))
        .text("hand", hand.map(String::as_str))
        .texts("steps", steps)
        .texts("except", &arguments.except)
        .text("for", arguments.capacity.as_ref().map(capacity).transpose()?.map(Capacity::word))
        .text("stage", arguments.stage.as_deref())
        .text("outcome", arguments.outcome.as_deref())
        .pairs("asked", &pairs(&arguments.asked, "asked", "FIELD=VALUE")?)
        .text("role", arguments.role.as_deref())
        .text("by", arguments.by.as_deref())
        .bare("on", on.as_deref())
        .bare("minutes", minutes.as_deref())
        .texts("helpers", &arguments.helper)
        .texts("paid-helpers", &arguments.paid_helper)
        .pairs("readings", &pairs(&arguments.reading, "reading", "BOX=VALUE")?)
        .texts("photos", &arguments.photo)
        .texts("discrepancies", &arguments.discrepancy)
        .texts("as-built", &arguments.as_built)
        .text("place", arguments.place.as_deref())
        .text("note", arguments.note.as_deref())
        .text("reconstructed-from", arguments.reconstructed_from.as_deref())
        .text("despite", arguments.despite.as_deref())
        .text("because", arguments.because.as_deref());
    Ok(entry.finish())
}

/// What an option gives as `NAME=VALUE`, each time that it stands there.
fn pairs(texts: &[String], option: &str, form: &str) -> Result<Vec<(String, String)>> {
    let pair = |text: &String| {
        let (id, value) = text.split_once('=').ok_or_else(|| anyhow!("--{option} is `{text}`, expected {form}"))?;
        Ok((id.trim().to_owned(), value.trim().to_owned()))
    };
    texts.iter().map(pair).collect()
}
