//! `archive enter`: a typed file becomes entries, all of them or none, and once.

use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow};

use crate::archive::{self, Capacity, Entry, EntryNumber, NewPosting, Posted, Record, Signed, Typed};
use crate::calendar::Moment;
use crate::cli::options::EnteredOption;
use crate::cli::project::{LoadedProject, load_without_texts};
use crate::cli::project_archive::{ProjectArchive, facts, open_to_record, signers, spaces};
use crate::cli::{Console, Outcome};
use crate::disk;
use crate::ident::Digest;
use crate::job::{Item, Job, Order, State};
use crate::work::{self, Stages};

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
    let project = load_without_texts(project_path)?;
    let typed = read(&arguments.file)?;
    record_typed(&project, &typed, &arguments.entered, console)
}

/// What was typed, with the digest of its file where there is one.
pub(super) struct TypedFile {
    pub typed: Typed,
    pub digest: Option<Digest>,
}

/// Reads a typed file.
pub(super) fn read(file: &Path) -> Result<TypedFile> {
    let text = disk::read_text(file, disk::TYPED)?;
    let typed = Typed::parse(&text).map_err(|fault| anyhow!("{}: {fault}", file.display()))?;
    Ok(TypedFile { typed, digest: Some(Digest::of_bytes(text.as_bytes())) })
}

/// Judges what was typed and records it, all or nothing; what was recorded before is said and left.
pub(super) fn record_typed(
    project: &LoadedProject,
    file: &TypedFile,
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
    let (entries, remarks) = match judge(project, &file.typed, &archive, entered, console)? {
        Ok(judged) => judged,
        Err(faults) => {
            for fault in &faults {
                console.complain(fault);
            }
            console.complain("nothing was recorded");
            return Ok(Outcome::ErrorsFound);
        }
    };
    if entries.is_empty() {
        console.say("nothing is left to do")?;
    } else {
        let posting = NewPosting { entries, typed: file.digest, because: time.because(), ..NewPosting::at(entered) };
        archive.record(project, posting, console)?;
    }
    for remark in remarks {
        console.say(&format!("note: {remark}"))?;
    }
    Ok(Outcome::Clean)
}

/// Entries and remarks, or the reasons why something of it cannot be recorded.
type Judged = Result<(Vec<Entry>, Vec<String>), Vec<String>>;

fn judge(
    project: &LoadedProject,
    typed: &Typed,
    archive: &ProjectArchive,
    entered: Moment,
    console: &mut Console,
) -> Result<Judged> {
    let (signers, spaces) = (signers(project), spaces(project));
    // A signature on a page that stayed counts on the sheet in force.
    let state = &archive.state;
    let packet = |sheet| state.sheet(sheet).and_then(|issue| state.in_force(&issue.issued.packet()));
    let in_force = typed.sign.iter().filter_map(|own| Some(packet(own.sheet)?.issued.sheet));
    let sheets = archive.sheets(typed.sign.iter().map(|own| own.sheet).chain(in_force))?;
    let judged = archive::enter(&archive.state, typed, &facts(&signers, &spaces, &sheets, entered, archive));
    let (mut entries, mut remarks) = match judged {
        Ok(judged) => judged,
        Err(faults) => return Ok(Err(faults)),
    };
    let mut faults = Vec::new();
    for (at, name, against) in out_of_order(project, archive, &entries, entered) {
        let Entry::Signed(signed) = &mut entries[at] else { continue };
        let why = against.join("; ");
        if !signed.gives_reason()
            && let Some(reason) = console.ask(&format!("{name}: {why}. Why is it signed all the same?"))
        {
            signed.give_reason(&reason);
        }
        if signed.gives_reason() {
            remarks.push(format!("{name} is signed all the same: {why}"));
        } else {
            faults.extend(against.into_iter().map(|against| format!("{name} cannot be signed: {against}")));
        }
    }
    if !faults.is_empty() {
        faults.push(
            "enter that first, or say why it is signed: `because` in the file, --because on the command line"
                .to_owned(),
        );
    }
    faults.extend(against(project, archive, &entries, entered));
    Ok(if faults.is_empty() { Ok((entries, remarks)) } else { Err(faults) })
}

/// The signatures of work that something speaks against, by their place in the entries: a step before each that is open, a
/// cure that runs, a discrepancy that stops it. All that is typed is taken as recorded: what is typed later may come first.
fn out_of_order(
    project: &LoadedProject,
    archive: &ProjectArchive,
    entries: &[Entry],
    entered: Moment,
) -> Vec<(usize, String, Vec<String>)> {
    let job = &project.job;
    let mut state = archive.state.clone();
    for (number, entry) in numbered(archive, entries) {
        state.take(&Record { number, entered, entry: entry.clone() });
    }
    let order = Order::of(job);
    let clocks = job.clocks();
    let mut all = Vec::new();
    for (at, entry) in entries.iter().enumerate() {
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
    entries: &'a [Entry],
) -> impl Iterator<Item = (EntryNumber, &'a Entry)> + use<'a> {
    let first = archive.survey.last().entries.max(1) + 1;
    (first..).map(EntryNumber).zip(entries)
}

/// What the order and the spaces say against signatures; each is taken as if those before it were recorded.
fn against(project: &LoadedProject, archive: &ProjectArchive, entries: &[Entry], entered: Moment) -> Vec<String> {
    let (job, mut state) = (&project.job, archive.state.clone());
    let order = Order::of(job);
    let stages = Stages::of(job, &order);
    let (mut left, mut faults) = (Vec::new(), Vec::new());
    for (number, entry) in numbered(archive, entries) {
        if let Entry::Signed(signed) = entry
            && let Some(item) = work::find_item(job, &signed.item())
        {
            if !signed.gives_reason() {
                left.extend(left_in_spaces(job, &order, &state, item, signed));
            }
            faults.extend(match signed.capacity {
                Capacity::Stage => stages.against(&state, &State::default(), item, signed),
                Capacity::Done => stages.against_work(&state, item, signed),
                Capacity::Hold | Capacity::Witness => Vec::new(),
            });
        }
        state.take(&Record { number, entered, entry: entry.clone() });
    }
    if !left.is_empty() {
        left.push(
            "finish it and enter it first, or say why it stays: `despite` in the file, --despite on the command line"
                .to_owned(),
        );
    }
    left.extend(faults);
    left
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
