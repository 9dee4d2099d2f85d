//! `change`: what a revision of plans or specs does to signed work; with `--issue`, the new sheets and the notice.

use std::path::Path;

use anyhow::{Context, Result, anyhow, bail, ensure};
use clap::ValueEnum;
use serde_json::json;

use super::bench_pages;
use super::current_work::{CurrentWork, load_current_work, load_work_to_record};
use super::issue::{Press, Printing, SameRevision};
use super::options::{EntryOptions, OutputOption, on_paper};
use super::output::{Written, data_text, load_templates, print_all, print_data};
use super::packet::{Planned, issue_all, report_findings};
use super::project::LoadedProject;
use super::project_archive::refuse_stranger;
use super::{Console, Outcome};
use crate::archive::{Entry, NewBlob, NewPosting, Noticed, Voided};
use crate::calendar::{Day, Moment};
use crate::ident::SheetCode;
use crate::plan::{self, AtPrinting, ChangePages, Changed, Document, Notice, NoticeFacts, Options, Signed, Source};
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
        let posting = issue(current, &notice, arguments, (on, entered), console)?;
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

/// Prints the new sheets and the notice, and gives what is recorded of them: discrepancies, sheets, the notice.
fn issue(
    current: &CurrentWork,
    notice: &Notice,
    arguments: &Arguments,
    when: (Day, Moment),
    console: &mut Console,
) -> Result<NewPosting<'static>> {
    let CurrentWork { project, archive, order, state, .. } = current;
    // The new sheets name the discrepancies that this run opens.
    let state = work::with_opened(&project.job, state, &notice.discrepancies);
    let work = AtPrinting::of(&project.job, order, &state);
    report_findings(project, console)?;
    let spoken = project.speak();
    let mut templates = load_templates(&project.folder, console)?;
    templates.show_pictures(project.pictures.clone());
    let output = arguments.output.folder(project)?;
    let source = arguments.source.clone().unwrap_or_else(|| format!("notice {}", notice.number));
    let ground = Ground { work: &work, because: &source, on: when.0 };
    let mut planned = Vec::new();
    let mut pages = Vec::new();
    for sheet in notice.sheets.iter().filter(|sheet| sheet.is_replaced() && sheet.new.is_some()) {
        let (one, chosen) = plan_sheet(current, &ground, sheet)?;
        planned.push(one);
        pages.push((sheet.old.clone(), chosen));
    }
    let printings = planned.iter_mut().flat_map(|planned| &mut planned.printings);
    arguments.same_revision.require(&archive.state, printings, console)?;
    let documents: Vec<Document> = planned.iter().map(|planned| planned.document.clone()).collect();
    let written = print_all(&documents, &templates, &output, console)?;
    ensure!(written.iter().all(Option::is_some), "not every sheet was printed, so nothing is recorded");
    // Which pages are put in is known only now; the notice is the first page of the new bundle all the same.
    let mut notice = notice.clone();
    for ((old, chosen), paper) in pages.iter().zip(written.iter().flatten()) {
        notice.name_pages(old, chosen.as_ref(), &paper.labels);
    }
    let document = notice.document(&project.job, Some(when.0));
    let paper = print_all(&[document], &templates, &output, console)?.into_iter().next().flatten();
    let paper = paper.context("the notice was not printed, so nothing is recorded")?;
    for (planned, _) in planned.iter().zip(&pages).filter(|(_, (_, chosen))| chosen.is_some()) {
        warn_of_whole(planned, &output, console);
    }
    drop(spoken);
    let mut posting = NewPosting { because: arguments.entry.because(), ..NewPosting::at(when.1) };
    posting.entries.extend(notice.discrepancies.iter().cloned().map(Entry::from));
    let press = Press { project, templates: &templates, archive };
    issue_all(&mut posting, &press, &planned, written, when.0, console)?;
    add_notice(&mut posting, &notice, paper, when.0)?;
    Ok(posting)
}

/// What the new sheets say of the change.
struct Ground<'a> {
    work: &'a AtPrinting<'a>,
    because: &'a str,
    on: Day,
}

/// The whole packet of the sheet before would look current beside the pages that replace some of it.
fn warn_of_whole(planned: &Planned, output: &Path, console: &mut Console) {
    let path = output.join(format!("{}.pdf", planned.document.stem.trim_end_matches("-change")));
    if path.exists() {
        console.complain(&format!("{} is from an earlier run: do not work from it", path.display()));
    }
}

/// A changed packet, and the pages that are printed of it where that is not all.
fn plan_sheet(
    current: &CurrentWork,
    ground: &Ground<'_>,
    change: &SheetChange,
) -> Result<(Planned, Option<ChangePages>)> {
    let CurrentWork { project, archive, .. } = current;
    let job = &project.job;
    let index = job
        .travelers
        .iter()
        .position(|own| own.id.value == change.traveler)
        .context("a changed traveler is in the specs")?;
    let hands = job.hands_of(index);
    let hand = hands.into_iter().find(|hand| *hand == change.hand).context("its hand is in the specs")?;
    let sheet = work::sheet_to_print(job, &archive.state, index, hand);
    let specs = Source::of_specs(job, index, hand, &project.report, Options::default());
    let pages = bench_pages::choose(current, specs, change)?;
    let source = Source {
        work: Some(ground.work),
        signed: Signed::Carried(&archive.state, &change.carried),
        change: Some(Changed { sheet: change, because: ground.because, on: ground.on, pages: pages.as_ref() }),
        options: Options { date: Some(ground.on), ..Options::default() },
        requirement: Some(&sheet),
        ..specs
    };
    let packet = plan::packet(source).map_err(|refused| anyhow!("{refused}"))?;
    let kept = pages.iter().flat_map(|pages| &pages.keep).map(|page| page.page).collect();
    let supersedes = SheetCode::parse(&change.old).ok();
    let printing = Printing { index, sheet, supersedes, carried: change.carried.clone(), kept, same_revision: None };
    Ok((Planned { document: packet.document(), printings: vec![printing] }, pages))
}

fn add_notice(posting: &mut NewPosting<'_>, notice: &Notice, paper: Written, on: Day) -> Result<()> {
    let codes = |lines: &[plan::NoticeSheet]| {
        lines.iter().filter_map(|line| SheetCode::parse(&line.code).ok()).collect::<Vec<_>>()
    };
    let data = data_text(&json!({ "notice": notice }))? + "\n";
    let blobs = [NewBlob::of(paper.pdf, "pdf"), NewBlob::of(data.into_bytes(), "json")];
    for sheet in notice.sheets.iter().filter(|sheet| sheet.new.is_none()) {
        let because = format!("its traveler is no longer in the plans (notice {})", notice.number);
        let by = notice.by.clone();
        let Ok(sheet) = SheetCode::parse(&sheet.old) else { continue };
        posting.entries.push(Voided { sheet, by, on, because }.into());
    }
    let entry = Noticed {
        number: notice.number.clone(),
        source: notice.source.clone(),
        drawings: notice.drawings.iter().map(|(sheet, old, new)| format!("{sheet}:{old} to {new}")).collect(),
        pdf: Some(blobs[0].reference()),
        data: Some(blobs[1].reference()),
        remove: codes(&notice.remove),
        insert: codes(&notice.insert),
        on,
    };
    posting.entries.push(entry.into());
    posting.blobs.extend(blobs);
    Ok(())
}
