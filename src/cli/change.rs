//! `change`: what a revision of plans or specs does to signed work; with `--issue`, the new sheets and the notice.

mod issue;

use std::path::Path;

use anyhow::{Result, bail, ensure};
use clap::ValueEnum;
use serde_json::json;

use super::current_work::{CurrentWork, load_current_work, load_work_to_record};
use super::issue::SameRevision;
use super::options::{EntryOptions, OutputOption, on_paper};
use super::output::{load_templates, print_all, print_data};
use super::project::LoadedProject;
use super::project_archive::refuse_stranger;
use super::{Console, Outcome};
use crate::archive::NewPosting;
use crate::plan::{self, Notice, NoticeFacts};
use crate::report::{Colour, Finding, Report, fault, render_human};
use crate::work;
use crate::work::{SheetChange, StepChange, Verdict};

/// Arguments of `change`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Plan change notice, letter or drawing on which the change rests
    #[arg(long, value_parser = on_paper)]
    source: Option<String>,
    /// Print the new sheets for signing, record them and the notice, open the discrepancies
    #[arg(long)]
    issue: bool,
    /// Initials of whoever enters it; needed with --issue
    #[arg(long, value_parser = on_paper)]
    by: Option<String>,
    #[command(flatten)]
    same_revision: SameRevision,
    #[command(flatten)]
    entry: EntryOptions,
    /// A list for reading, the data, or the notice as PDF in the output folder
    #[arg(long, value_enum, default_value_t = Form::Human)]
    format: Form,
    #[command(flatten)]
    output: OutputOption,
}

/// What comes out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum Form {
    /// A list
    Human,
    /// JSON on standard output
    Json,
    /// A PDF in the output folder
    Pdf,
}

/// Runs `change`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let today = arguments.entry.day_and_time(console)?.1.day();
    if !arguments.issue {
        return Ok(tell(&load_current_work(project_path, today, console)?, arguments, console)?.0);
    }
    let mut current = load_work_to_record(project_path, today, console)?;
    let (outcome, posting) = tell(&current, arguments, console)?;
    if let Some(posting) = posting {
        current.archive.record(&current.project, posting, console)?;
    }
    Ok(outcome)
}

/// How a run ends, and what it is to record.
type Told = (Outcome, Option<NewPosting<'static>>);

/// Says what becomes of signed work; with `--issue`, prints the new sheets and gives what is to be recorded.
fn tell(current: &CurrentWork, arguments: &Arguments, console: &mut Console) -> Result<Told> {
    let CurrentWork { project, archive, .. } = current;
    let (on, entered) = arguments.entry.day_and_time(console)?;
    ensure!(archive.store.exists(), "there is no archive yet: nothing was issued that could change");
    if says_unread(project, arguments.format, console)? {
        return Ok((Outcome::ErrorsFound, None));
    }
    let sheets = work::changes(&project.job, &archive.state, &archive.archived()?);
    if sheets.is_empty() {
        // Nothing changed is an answer too, in the form that was asked for.
        if arguments.format == Form::Json {
            print_data(&json!({ "notice": null }), console)?;
        } else {
            console.say("every sheet in force is as it was issued")?;
        }
        return Ok((Outcome::Clean, None));
    }
    let by = match (&arguments.by, arguments.issue) {
        (Some(by), _) => by.clone(),
        (None, false) => "-".to_owned(),
        (None, true) => bail!("--issue needs --by, the initials of whoever enters the change"),
    };
    if arguments.issue {
        refuse_stranger(project, &by)?;
    }
    let notice =
        plan::notice(&project.job, &archive.state, sheets, &NoticeFacts { on, source: arguments.source.clone(), by });
    match arguments.format {
        Form::Json => {
            print_data(&json!({ "notice": notice }), console)?;
        }
        Form::Human => as_text(&notice, console)?,
        Form::Pdf => {}
    }
    if arguments.issue && !notice.sheets.iter().any(SheetChange::is_replaced) {
        console.complain("no work changed, so nothing is issued: `packet --issue` prints new words under the old code");
        return Ok((Outcome::Clean, None));
    }
    if arguments.issue {
        let posting = issue::issue(current, &notice, arguments, (on, entered), console)?;
        return Ok((Outcome::Clean, Some(posting)));
    }
    if arguments.format == Form::Pdf {
        let _spoken = project.speak();
        let output = arguments.output.folder(project)?;
        let templates = load_templates(&project.folder, console)?;
        let written = print_all(&[notice.document(&project.job, Some(on))], &templates, &output, console)?;
        return Ok((Outcome::of(written.iter().any(Option::is_none)), None));
    }
    Ok((Outcome::Clean, None))
}

/// Says what of the specs could not be read, if anything could not.
fn says_unread(project: &LoadedProject, form: Form, console: &mut Console) -> Result<bool> {
    let unread: Vec<Finding> = project
        .report
        .findings
        .iter()
        .filter(|own| own.stops() && fault::READING.contains(&own.rule))
        .cloned()
        .collect();
    if unread.is_empty() {
        return Ok(false);
    }
    let report = Report { findings: unread, travelers: project.report.travelers, ..Report::default() };
    // Standard output is kept for the JSON.
    if form == Form::Json {
        console.complain(render_human(&report, &project.files, Colour::Plain).trim_end());
    } else {
        console.print(&render_human(&report, &project.files, console.colour()))?;
    }
    console.complain("nothing is judged: what could not be read would count as gone from the plans");
    Ok(true)
}

fn as_text(notice: &Notice, console: &mut Console) -> Result<()> {
    for sheet in &notice.sheets {
        let new = sheet.new.as_deref().unwrap_or("nothing");
        let arrow = if sheet.is_replaced() {
            format!("{} is replaced by {new}", sheet.old)
        } else {
            format!("{} stays; the print differs: words only", sheet.old)
        };
        console.say(&format!("{} rev {} to {}: {arrow}", sheet.packet(), sheet.revisions.0, sheet.revisions.1))?;
        for renamed in &sheet.renamed {
            console.say(&format!("  {}", renamed.words()))?;
        }
        if !sheet.not_recorded.is_empty() {
            console.say(&format!("  not recorded then, so not compared: {}", sheet.not_recorded.join(", ")))?;
        }
        let changed: Vec<&StepChange> = sheet.steps.iter().filter(|step| step.is_changed()).collect();
        let like = |own: &&StepChange, other: &StepChange| own.verdict == other.verdict && own.reasons == other.reasons;
        // What needs somebody, or has a reason of its own, is told step by step; the rest in one line a reason.
        let is_alone = |own: &&&StepChange| {
            let quiet = matches!(own.verdict, Verdict::Stands | Verdict::StandsAfterReading);
            !quiet || changed.iter().filter(|other| like(other, own)).count() == 1
        };
        let mut told: Vec<&StepChange> = Vec::new();
        for step in changed.iter().filter(is_alone) {
            one_step(step, console)?;
            told.push(step);
        }
        for step in &changed {
            if !told.iter().any(|own| like(own, step)) {
                alike(changed.iter().copied().filter(|own| like(own, step)), step, console)?;
                told.push(step);
            }
        }
        let standing = sheet
            .steps
            .iter()
            .filter(|step| step.verdict == Verdict::Stands && step.done.is_some() && !step.is_changed())
            .count();
        if standing > 0 {
            console.say(&format!("  {standing} more signatures stand"))?;
        }
    }
    for reopening in &notice.reopenings {
        let mut falls: Vec<&str> = reopening.falls.iter().map(|(_, step)| step.as_str()).collect();
        falls.dedup();
        console.say(&format!("if {} is opened again, these fall: {}", reopening.access.space, falls.join(", ")))?;
    }
    for (call, by) in &notice.hardware {
        console.say(&format!("hardware: {by:+} {call}"))?;
    }
    Ok(())
}

fn one_step(step: &StepChange, console: &mut Console) -> Result<()> {
    let done = step.done.as_ref().map(|done| format!(" (signed by {}, {})", done.by, done.worked)).unwrap_or_default();
    console.say(&format!("  {} {}: {}{done}", step.number, step.step, step.verdict.words()))?;
    for reason in &step.reasons {
        console.say(&format!("      {reason}"))?;
    }
    for shut in &step.access {
        let Some(day) = &shut.closed_on else { continue };
        console.say(&format!("      {} is closed since {day}", shut.space))?;
    }
    Ok(())
}

/// Steps of one verdict for the same reasons.
fn alike<'a>(steps: impl Iterator<Item = &'a StepChange>, first: &StepChange, console: &mut Console) -> Result<()> {
    let numbers: Vec<&str> = steps.map(|step| step.number.as_str()).collect();
    console.say(&format!("  {}: {}", numbers.join(", "), first.verdict.words()))?;
    for reason in &first.reasons {
        console.say(&format!("      {reason}"))?;
    }
    Ok(())
}
