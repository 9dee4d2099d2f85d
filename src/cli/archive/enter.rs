//! `archive enter`: a typed file becomes entries, all of them or none, and once.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use anyhow::Result;

use crate::archive::{self, Capacity, Entered, Entry, EntryNumber, NewPosting, Posted, Record, Signed, TodayStep};
use crate::calendar::Moment;
use crate::cli::options::EnteredOption;
use crate::cli::project::{LoadedProject, load_without_texts};
use crate::cli::project_archive::{ProjectArchive, describe, facts, open_to_record, signers, spaces};
use crate::cli::{Console, Outcome};
use crate::ident::Digest;
use crate::job::{Item, Job, Order, State};
use crate::report::{Finding, Report, Severity, fault, render_findings};
use crate::spec::EveningSpec;
use crate::text::{Files, Span};
use crate::work::{self, Stages};
use crate::{disk, spec};

/// Arguments of `archive enter`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The file, in TOML
    file: PathBuf,
    #[command(flatten)]
    entered: EnteredOption,
}

/// Runs `archive enter`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let mut project = load_without_texts(project_path)?;
    let typed = read(&arguments.file, &mut project)?;
    record_typed(&project, typed, &arguments.entered, console)
}

/// What was typed, with what is wrong with its form, and the digest of its file where there is one.
pub(super) struct TypedFile {
    pub typed: EveningSpec,
    pub faults: Report,
    pub digest: Option<Digest>,
    /// Whether a terminal is asked before it is recorded.
    pub confirm: bool,
}

impl TypedFile {
    /// Reads what was typed, under the name by which messages say where.
    pub fn of(name: String, text: String, files: &mut Files) -> Self {
        let mut faults = Report::default();
        let id = files.add(name, text);
        let typed = spec::read_evening(id, files, &mut faults);
        Self { typed, faults, digest: None, confirm: false }
    }
}

/// Reads a typed file.
pub(super) fn read(file: &Path, project: &mut LoadedProject) -> Result<TypedFile> {
    let text = disk::read_text(file, disk::TYPED)?;
    let digest = Some(Digest::of_bytes(text.as_bytes()));
    Ok(TypedFile { digest, ..TypedFile::of(spec::shown(file), text, &mut project.files) })
}

/// Judges what was typed and records it, all or nothing; what was recorded before is said and left.
pub(super) fn record_typed(
    project: &LoadedProject,
    file: TypedFile,
    time: &EnteredOption,
    console: &mut Console,
) -> Result<Outcome> {
    let entered = time.time(console)?;
    let mut archive = open_to_record(project, console)?;
    let mut postings = archive.survey.postings.iter();
    if let Some(before) = postings.find(|posted| file.digest.is_some() && posted.typed == file.digest) {
        let Posted { first, last, entered, .. } = before;
        console
            .say(&format!("this file was entered on {entered}, entries {first} to {last}; nothing is left to do"))?;
        return Ok(Outcome::Clean);
    }
    let (digest, confirm) = (file.digest, file.confirm);
    let judged = match judge(project, file, &archive, entered, console)? {
        Ok(judged) => judged,
        Err(faults) => return Ok(refuse(faults, &project.files, console)),
    };
    if confirm && !judged.entries.is_empty() && !is_meant(&judged, console)? {
        console.complain("nothing was recorded");
        return Ok(Outcome::ErrorsFound);
    }
    if judged.entries.is_empty() {
        console.say("nothing is left to do")?;
    } else {
        let entries = judged.entries.into_iter().map(|(entry, _)| entry).collect();
        let posting = NewPosting { entries, typed: digest, because: time.because(), ..NewPosting::at(entered) };
        archive.record(project, posting, console)?;
    }
    for remark in judged.remarks {
        console.say(&format!("note: {remark}"))?;
    }
    Ok(Outcome::Clean)
}

/// Shows what will be recorded; whether somebody before a terminal means it. Nobody is asked elsewhere.
fn is_meant(judged: &Entered, console: &mut Console) -> Result<bool> {
    if !console.can_ask() {
        return Ok(true);
    }
    for (entry, _) in &judged.entries {
        console.say(&format!("will record: {}", described(entry)))?;
    }
    for remark in &judged.remarks {
        console.say(&format!("note: {remark}"))?;
    }
    let answer = console.ask_offering("Is that what was done? Enter for yes, no to stop:", &[])?;
    Ok(answer.is_none_or(|answer| answer.to_lowercase().starts_with('y')))
}

/// An entry as one line; of a signature also its minutes, helpers and readings.
fn described(entry: &Entry) -> String {
    let line = describe(entry);
    let Entry::Signed(signed) = entry else { return line };
    let minutes = signed.minutes.map(|minutes| format!("{minutes} min"));
    let helpers = (!signed.helpers.is_empty()).then(|| format!("helped by {}", signed.helpers.join(", ")));
    let readings = signed.readings.iter().map(|own| format!("{} {}", own.id, own.value));
    let more: Vec<String> = minutes.into_iter().chain(helpers).chain(readings).collect();
    if more.is_empty() { line } else { format!("{line}; {}", more.join(", ")) }
}

/// Shows what is wrong, each at its place; nothing is recorded.
pub(super) fn refuse(mut faults: Report, files: &Files, console: &mut Console) -> Outcome {
    // What is said of one place stays in its order.
    faults.findings.sort_by_key(|own| own.span.start);
    console.warn(&render_findings(&faults.findings, files, console.error_colour()));
    console.complain("nothing was recorded");
    Outcome::ErrorsFound
}

/// Entries and remarks, or the reasons why something of it cannot be recorded.
type Judged = Result<Entered, Report>;

fn judge(
    project: &LoadedProject,
    file: TypedFile,
    archive: &ProjectArchive,
    entered: Moment,
    console: &mut Console,
) -> Result<Judged> {
    let (signers, spaces, today) = (signers(project), spaces(project), today(&project.job));
    let sheets = archive.sheets(archive::sheets_meant(&archive.state, &file.typed).into_iter())?;
    let facts = facts(&signers, &spaces, &sheets, &today, entered, archive);
    let judged = archive::enter(&archive.state, &file.typed, &facts);
    let mut faults = file.faults;
    let mut judged = match judged {
        Ok(judged) => judged,
        // That nothing is typed follows from what could not be read.
        Err(_) if faults.stops() && file.typed.is_empty() => return Ok(Err(faults)),
        Err(found) => {
            faults.extend(found);
            return Ok(Err(faults));
        }
    };
    if faults.stops() {
        return Ok(Err(faults));
    }
    for doubt in std::mem::take(&mut judged.doubts) {
        let question = format!("{}. Was the step of the sheet done? yes, or Enter to stop:", doubt.message);
        if console.ask(&question).as_deref() != Some("yes") {
            faults.push(doubt);
        }
    }
    judge_order(project, archive, &mut judged, &mut faults, entered, console);
    faults.extend(against(project, archive, &judged.entries, entered));
    Ok(if faults.findings.is_empty() { Ok(judged) } else { Err(faults) })
}

/// Work that something speaks against is recorded with its reason alone, which is asked for where somebody can answer.
fn judge_order(
    project: &LoadedProject,
    archive: &ProjectArchive,
    judged: &mut Entered,
    faults: &mut Report,
    entered: Moment,
    console: &mut Console,
) {
    for (at, name, against) in out_of_order(project, archive, &judged.entries, entered) {
        let (Entry::Signed(signed), span) = &mut judged.entries[at] else { continue };
        let why = against.join("; ");
        if !signed.gives_reason()
            && let Some(reason) = console.ask(&format!("{name}: {why}. Why is it signed all the same?"))
        {
            signed.give_reason(&reason);
        }
        if signed.gives_reason() {
            judged.remarks.push(format!("{name} is signed all the same: {why}"));
        } else {
            let help =
                "enter that first, or say why it is signed: `because` in the file, --because on the command line";
            let said = |against| fault_at(*span, format!("{name} cannot be signed: {against}")).help(help);
            faults.extend(against.into_iter().map(said));
        }
    }
}

fn fault_at(span: Span, message: String) -> Finding {
    Finding::new(fault::VALUE_INVALID, Severity::Error, span, message)
}

/// The steps of today's specs, by traveler.
pub(super) fn today(job: &Job) -> BTreeMap<String, Vec<TodayStep>> {
    let step = |own: &crate::job::Step| TodayStep {
        number: own.number,
        id: own.id.value.clone(),
        title: own.title.value.clone(),
    };
    let of = |own: &crate::job::Traveler| (own.id.value.clone(), own.steps.iter().map(step).collect());
    job.travelers.iter().map(of).collect()
}

/// The signatures of work that something speaks against, by their place in the entries: a step before each that is open, a
/// cure that runs, a discrepancy that stops it. All that is typed is taken as recorded: what is typed later may come first.
fn out_of_order(
    project: &LoadedProject,
    archive: &ProjectArchive,
    entries: &[(Entry, Span)],
    entered: Moment,
) -> Vec<(usize, String, Vec<String>)> {
    let job = &project.job;
    let mut state = archive.state.clone();
    for (number, (entry, _)) in numbered(archive, entries) {
        state.take(&Record { number, entered, entry: entry.clone() });
    }
    let order = Order::of(job);
    let clocks = job.clocks();
    let mut all = Vec::new();
    for (at, (entry, _)) in entries.iter().enumerate() {
        let Entry::Signed(signed) = entry else { continue };
        // What is put together again was judged, or not, when it was signed.
        let is_work = signed.capacity == Capacity::Done && signed.reconstructed.is_none();
        // A step that today's specs do not have has no place in their order.
        let Some(item) = work::find_item(job, &signed.item()).filter(|_| is_work) else { continue };
        let against = work::against_signing(job, &order, &clocks, &state, item, signed);
        if !against.is_empty() {
            all.push((at, job.item_name(item), against));
        }
    }
    all
}

/// Entries with the numbers that they will get.
fn numbered<'a>(
    archive: &ProjectArchive,
    entries: &'a [(Entry, Span)],
) -> impl Iterator<Item = (EntryNumber, &'a (Entry, Span))> + use<'a> {
    let first = archive.survey.last().entries.max(1) + 1;
    (first..).map(EntryNumber).zip(entries)
}

/// What the order and the spaces say against signatures; each is taken as if those before it were recorded.
fn against(
    project: &LoadedProject,
    archive: &ProjectArchive,
    entries: &[(Entry, Span)],
    entered: Moment,
) -> Vec<Finding> {
    let (job, mut state) = (&project.job, archive.state.clone());
    let order = Order::of(job);
    let stages = Stages::of(job, &order);
    let mut faults = Vec::new();
    let despite =
        "finish it and enter it first, or say why it stays: `despite` in the file, --despite on the command line";
    for (number, (entry, span)) in numbered(archive, entries) {
        if let Entry::Signed(signed) = entry
            && let Some(item) = work::find_item(job, &signed.item())
        {
            if !signed.gives_reason() {
                let left = left_in_spaces(job, &order, &state, item, signed).into_iter();
                faults.extend(left.map(|said| fault_at(*span, said).help(despite)));
            }
            let said = match signed.capacity {
                Capacity::Stage => stages.against(&state, &State::default(), item, signed),
                Capacity::Done => stages.against_work(&state, item, signed),
                Capacity::Hold | Capacity::Witness => Vec::new(),
            };
            faults.extend(said.into_iter().map(|said| fault_at(*span, said)));
        }
        state.take(&Record { number, entered, entry: entry.clone() });
    }
    faults
}

/// What is left in the spaces that a signature closes, or lets be closed.
fn left_in_spaces(job: &Job, order: &Order, state: &archive::State, item: Item, signed: &Signed) -> Vec<String> {
    let name = job.item_name(item);
    let said = |found: Vec<String>, lead: String| found.into_iter().map(|what| format!("{lead}: {what}")).collect();
    match signed.capacity {
        Capacity::Done => {
            let found = work::left_before_closing(job, order, state, &State::default(), item);
            said(found, format!("{name} closes a space in which something is left"))
        }
        Capacity::Hold => {
            let found = work::open_under_hold(job, order, state, &State::default(), item);
            said(found, format!("the hold of {name} would let a space be closed in which something is left"))
        }
        Capacity::Witness | Capacity::Stage => Vec::new(),
    }
}
