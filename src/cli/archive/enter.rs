//! `archive enter`: a typed file becomes entries, all of them or none.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow};

use crate::archive::{self, Capacity, DESPITE, Entry, EntryNumber, Record, Typed};
use crate::calendar::Moment;
use crate::cli::options::EnteredOption;
use crate::cli::project::{LoadedProject, load_project};
use crate::cli::project_archive::{ProjectArchive, facts, open_archive, record_all, signers, spaces};
use crate::cli::{Console, Outcome};
use crate::job::{Order, State};
use crate::work;

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
    let project = load_project(project_path)?;
    let typed = read(&arguments.file)?;
    record_typed(&project, &typed, &arguments.entered, console)
}

/// Reads a typed file.
pub(super) fn read(file: &Path) -> Result<Typed> {
    let text = std::fs::read_to_string(file).with_context(|| format!("cannot read {}", file.display()))?;
    Typed::parse(&text).map_err(|fault| anyhow!("{}: {fault}", file.display()))
}

/// Judges what was typed and records it, all or nothing.
pub(super) fn record_typed(
    project: &LoadedProject,
    typed: &Typed,
    time: &EnteredOption,
    console: &mut Console,
) -> Result<Outcome> {
    let entered = time.time(console)?;
    let archive = open_archive(project, console)?;
    let (signers, spaces) = (signers(project), spaces(project));
    let sheets = archive.sheets(typed.sign.iter().map(|signature| signature.sheet))?;
    let judged = archive::enter(&archive.state, typed, &facts(&signers, &spaces, &sheets, entered, &archive));
    let judged = judged.and_then(|(entries, remarks)| {
        let left = left_in_spaces(project, &archive, &entries, entered);
        if left.is_empty() { Ok((entries, remarks)) } else { Err(left) }
    });
    let (entries, remarks) = match judged {
        Ok(judged) => judged,
        Err(faults) => {
            for fault in &faults {
                console.complain(fault);
            }
            console.complain("nothing was recorded");
            return Ok(Outcome::ErrorsFound);
        }
    };
    let mut writer = archive.writer(project, entered)?;
    record_all(&mut writer, entered, entries, console)?;
    for remark in remarks {
        console.say(&format!("note: {remark}"))?;
    }
    Ok(Outcome::Clean)
}

/// What is left in spaces that some of the entries close without saying why; each entry is taken as if those before it
/// were recorded.
fn left_in_spaces(
    project: &LoadedProject,
    archive: &ProjectArchive,
    entries: &[Entry],
    entered: Moment,
) -> Vec<String> {
    let (job, mut state) = (&project.job, archive.state.clone());
    let order = Order::of(job);
    let mut left = Vec::new();
    let first = archive.survey.last().entries.max(1) + 1;
    for (number, entry) in (first..).zip(entries) {
        if let Entry::Signed(signed) = entry
            && signed.capacity == Capacity::Done
            && !signed.note.as_deref().is_some_and(|note| note.starts_with(DESPITE))
            && let Some(item) = work::find_item(job, &signed.item())
        {
            let name = job.item_name(item);
            let found = work::left_before_closing(job, &order, &state, &State::default(), item);
            left.extend(
                found.into_iter().map(|what| format!("{name} closes a space in which something is left: {what}")),
            );
        }
        state.take(&Record { number: EntryNumber(number), previous: None, entered, entry: entry.clone() });
    }
    if !left.is_empty() {
        left.push(
            "finish it and enter it first, or say why it stays: `despite` in the file, --despite on the command line"
                .to_owned(),
        );
    }
    left
}
