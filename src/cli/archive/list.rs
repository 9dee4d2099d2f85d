//! `archive list`: entries one a line, sheets in force, open discrepancies; as text or as data.

use std::collections::BTreeMap;
use std::path::Path;

use anyhow::Result;
use serde_json::{Value, json};

use crate::archive::{
    Capacity, Issue, Record, SheetRequirement, Signature, StageFacts, Standing, State, StepRequirement, Stops,
};
use crate::cli::output::print_data;
use crate::cli::project::load_without_texts;
use crate::cli::project_archive::{ProjectArchive, describe, open_archive};
use crate::cli::{Console, Format, Outcome};
use crate::ident::SheetCode;
use crate::words::{Hand, ItemName};
use crate::work::Unread;

/// Arguments of `archive list`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Only entries of this kind, such as signed or issued
    #[arg(long)]
    kind: Option<String>,
    /// Only what is about this traveler
    #[arg(long)]
    traveler: Option<String>,
    /// How it is printed
    #[arg(long, value_enum, default_value_t = Format::Human)]
    format: Format,
}

/// Runs `archive list`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let project = load_without_texts(project_path)?;
    let archive = open_archive(&project, console)?;
    let about = |text: &str| {
        arguments.traveler.as_ref().is_none_or(|traveler| text.contains(&format!("\ntraveler: {traveler}\n")))
    };
    let fits = |record: &&Record| {
        arguments.kind.as_deref().is_none_or(|kind| kind == record.entry.kind()) && about(&record.text())
    };
    let records: Vec<&Record> = archive.survey.records.iter().filter(fits).collect();
    let sheets: Vec<&Issue> = archive
        .state
        .all_in_force()
        .filter(|issue| arguments.traveler.as_ref().is_none_or(|own| *own == issue.issued.traveler))
        .collect();
    let mut unread = archive.unread(&project);
    unread.retain(|own| sheets.iter().any(|issue| issue.issued.sheet == own.sheet));
    if arguments.format == Format::Json {
        // A sheet that cannot be read is for `archive verify` to say; the list goes on without its stages.
        let readable = |issue: &&Issue| Some((issue.issued.sheet, archive.requirement(issue).ok()?));
        let required = sheets.iter().filter_map(readable).collect();
        print_data(&as_data(&records, &sheets, &archive, &required, &unread), console)?;
    } else {
        as_text(&records, &sheets, &archive.state, &unread, console)?;
    }
    Ok(Outcome::of(!archive.survey.is_whole()))
}

/// Steps done and steps in all of a sheet.
fn progress(state: &State, issue: &Issue) -> (usize, usize) {
    let issued = &issue.issued;
    let done = issued.steps.iter().filter(|step| matches!(state.standing(&issued.item(&step.id)), Standing::Signed(_)));
    (done.count(), issued.steps.len())
}

fn as_text(
    records: &[&Record],
    sheets: &[&Issue],
    state: &State,
    unread: &[Unread],
    console: &mut Console,
) -> Result<()> {
    for record in records {
        console.say(&format!("{} {}  {}", record.number, record.entered.in_record(), describe(&record.entry)))?;
    }
    console.say("")?;
    console.say("sheets in force:")?;
    for issue in sheets {
        let issued = &issue.issued;
        let (done, all) = progress(state, issue);
        let lost = if issue.lost { ", paper lost" } else { "" };
        console.say(&format!(
            "  {}  {} rev {}, {done} of {all} steps signed{lost}",
            issued.sheet,
            issued.packet(),
            issued.revision
        ))?;
    }
    if !unread.is_empty() {
        console.say("signatures that wait for a read-through ([[read]] with the sheet's code enters it):")?;
    }
    for own in unread {
        console.say(&format!("  {}  {} (entry {}, {})", own.sheet, own.item, own.entry, own.by))?;
        for reason in &own.reasons {
            console.say(&format!("      {reason}"))?;
        }
    }
    console.say("open discrepancies:")?;
    for open in state.open_discrepancies() {
        let stops = match open.opened.stops {
            Stops::Nothing => "nothing".to_owned(),
            stops => format!("the {stops}"),
        };
        let opened = &open.opened;
        console.say(&format!("  {}  {} (found {}, stops {stops})", opened.number, opened.what, opened.found))?;
    }
    Ok(())
}

type Required = BTreeMap<SheetCode, SheetRequirement>;

fn as_data(
    records: &[&Record],
    sheets: &[&Issue],
    archive: &ProjectArchive,
    required: &Required,
    unread: &[Unread],
) -> Value {
    let state = &archive.state;
    let entries: Vec<Value> = records
        .iter()
        .map(|record| json!({ "entry": record.number.0, "entered": record.entered.in_record(), "kind": record.entry.kind(), "text": record.text() }))
        .collect();
    let sheets: Vec<Value> = sheets
        .iter()
        .map(|issue| {
            let issued = &issue.issued;
            let (done, all) = progress(state, issue);
            let steps: Vec<Value> = issued.steps.iter().map(|step| {
                let of_sheet = required.get(&issued.sheet);
                let facts = of_sheet.and_then(|sheet| sheet.steps.iter().find(|own| own.id == step.id));
                let item = issued.item(&step.id);
                step_data(state, &item, facts, unread.iter().find(|own| own.item == item))
            }).collect();
            json!({ "sheet": issued.sheet.to_string(), "traveler": issued.traveler, "hand": issued.hand.map(Hand::word), "revision": issued.revision,
                "done": done, "of": all, "lost": issue.lost, "steps": steps })
        })
        .collect();
    let open: Vec<Value> = state
        .open_discrepancies()
        .map(|open| {
            let opened = &open.opened;
            json!({ "number": opened.number, "what": opened.what, "found": opened.found.to_string(), "stops": opened.stops.word(),
                "traveler": opened.traveler, "step": opened.step, "space": opened.space })
        })
        .collect();
    json!({ "entries": entries, "sheets": sheets, "open-discrepancies": open })
}

fn step_data(state: &State, item: &ItemName, required: Option<&StepRequirement>, unread: Option<&Unread>) -> Value {
    let (word, entry) = match state.standing(item) {
        Standing::Open => ("open", None),
        Standing::Signed(entry) => ("signed", Some(entry.0)),
        Standing::AwaitsReading(entry) => ("awaits-reading", Some(entry.0)),
        Standing::Fallen(entry) => ("fallen", Some(entry.0)),
    };
    let hold = state.is_signed(item, Capacity::Hold);
    let stages = required.into_iter().flat_map(StepRequirement::stages);
    let stages: Vec<Value> = stages.map(|(id, facts)| stage_data(state, item, id, facts)).collect();
    let signatures: Vec<Value> = state.counting(item).map(|(signature, _)| signature_data(signature)).collect();
    json!({ "step": item.step, "standing": word, "entry": entry, "hold-released": hold, "stages": stages, "signatures": signatures,
        "to-read": unread.map(|own| json!({ "reasons": own.reasons, "differences": own.differences })) })
}

/// A stage of a step: whether it is passed, and for each who signs it the entry that fills the place.
fn stage_data(state: &State, item: &ItemName, id: &str, facts: &StageFacts) -> Value {
    let standing = facts.standing(id, state, item);
    let filled = standing.places.iter().map(|place| place.map(|own| own.entry.0));
    let places: Vec<Value> =
        facts.places().iter().zip(filled).map(|(names, entry)| json!({ "of": names, "entry": entry })).collect();
    json!({ "stage": id, "passed": standing.is_passed(), "signed-by": places })
}

fn signature_data(signature: &Signature) -> Value {
    let signed = &signature.signed;
    json!({ "entry": signature.entry.0, "capacity": signed.capacity.word(), "stage": signed.stage, "outcome": signed.outcome,
        "by": signed.by, "role": signature.role() })
}
