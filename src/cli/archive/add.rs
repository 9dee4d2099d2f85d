//! `archive add`: files go into the archive under the digests of their bytes, with what they belong to.
//!
//! A file that is there already, for the same thing, is not added again.

use std::path::{Path, PathBuf};

use anyhow::{Error, Result, anyhow, bail, ensure};

use crate::archive::{Added, BlobRef, Entry, NewBlob, NewPosting};
use crate::calendar::Day;
use crate::cli::options::{EnteredOption, on_paper};
use crate::cli::project::{LoadedProject, load_without_texts};
use crate::cli::project_archive::{ProjectArchive, open_to_record};
use crate::cli::time::typed_day;
use crate::cli::{Console, Outcome};
use crate::disk;
use crate::ident::SheetCode;

/// Largest file that is taken.
const LARGEST: u64 = 256 << 20;

/// Arguments of `archive add`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// Files to add
    #[arg(required = true)]
    file: Vec<PathBuf>,
    /// Code of the sheet to which they belong
    #[arg(long)]
    sheet: Option<String>,
    /// Step: its number on the sheet, its id, or TRAVELER/step
    #[arg(long, requires = "sheet")]
    step: Option<String>,
    /// Number of the discrepancy
    #[arg(long, value_parser = on_paper)]
    discrepancy: Option<String>,
    /// Number of the photo as on the sheet
    #[arg(long, value_parser = on_paper)]
    photo: Option<String>,
    /// Space that is seen
    #[arg(long, value_parser = on_paper)]
    space: Option<String>,
    /// Day on which it was taken
    #[arg(long, value_name = "DAY")]
    taken: Option<String>,
    /// What it shows
    #[arg(long, value_parser = on_paper)]
    caption: Option<String>,
    /// Whether the builder is in the picture
    #[arg(long, value_name = "ANSWER")]
    builder_in_picture: Option<bool>,
    /// Initials of whoever adds it
    #[arg(long, value_parser = on_paper)]
    by: Option<String>,
    #[command(flatten)]
    entered: EnteredOption,
}

/// Runs `archive add`; goes on with the other files where one cannot be read.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let project = load_without_texts(project_path)?;
    let entered = arguments.entered.time(console)?;
    let mut archive = open_to_record(&project, console)?;
    let about = describe(arguments, &project, &archive, entered.day())?;
    let mut posting = NewPosting { because: arguments.entered.because(), ..NewPosting::at(entered) };
    let mut failed = false;
    for file in &arguments.file {
        match named(file).and_then(|name| Ok((name, refer(file)?))) {
            Ok((name, reference)) => {
                let added = Added { file: reference.clone(), name, ..about.clone() };
                if let Some(known) = known(&archive, &posting, &added) {
                    console.say(&format!("{} {known}", file.display()))?;
                    continue;
                }
                posting.entries.push(added.into());
                posting.blobs.push(NewBlob::at(file.clone(), reference));
            }
            Err(failure) => {
                failed = true;
                console.complain(&format!("{failure:#}"));
            }
        }
    }
    if posting.entries.is_empty() {
        console.say("nothing was added")?;
    } else {
        archive.record(&project, posting, console)?;
    }
    Ok(Outcome::of(failed))
}

/// Where the same bytes are named for the same thing already.
fn known(archive: &ProjectArchive, posting: &NewPosting<'_>, added: &Added) -> Option<String> {
    // A file that came under another name, or from somebody else, is the same file.
    let same = |own: &Added| Added { name: added.name.clone(), by: added.by.clone(), ..own.clone() } == *added;
    let before = archive.state.files.iter().find(|(_, own)| same(own));
    let now = posting.entries.iter().any(|entry| matches!(entry, Entry::Added(own) if same(own)));
    match before {
        Some((entry, _)) => Some(format!("is in the archive already (entry {entry})")),
        None => now.then(|| "is named twice; it is added once".to_owned()),
    }
}

/// The name of a file, which the record prints.
fn named(file: &Path) -> Result<String> {
    let name = file.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
    if let Err(fault) = on_paper(&name) {
        bail!("the name of {} cannot be recorded: {fault}; give the file another name first", file.display());
    }
    Ok(name)
}

/// The reference to a file; its bytes are not kept.
fn refer(file: &Path) -> Result<BlobRef> {
    let bytes = disk::read(file, LARGEST)?;
    ensure!(!bytes.is_empty(), "{} is empty", file.display());
    let ending = file.extension().and_then(|ending| ending.to_str()).unwrap_or("bin");
    Ok(BlobRef::of(&bytes, ending))
}

/// What was typed of the files, followed where it names something.
fn describe(arguments: &Arguments, project: &LoadedProject, archive: &ProjectArchive, today: Day) -> Result<Added> {
    let sheet = arguments
        .sheet
        .as_deref()
        .map(|text| SheetCode::parse(text).map_err(|fault| anyhow!("`{text}`: {fault}")))
        .transpose()?;
    let named = arguments.step.as_deref().map(|step| archive.state.step_named(sheet, step).map_err(Error::msg));
    let named = named.transpose()?;
    if let Some(code) = sheet {
        ensure!(archive.state.sheet(code).is_some(), "sheet {code} was never issued");
    }
    if let Some(number) = &arguments.discrepancy {
        ensure!(archive.state.discrepancies.contains_key(number), "there is no discrepancy {number}");
    }
    if let Some(space) = &arguments.space {
        ensure!(project.job.project.spaces.iter().any(|own| own.id.value == *space), "there is no space `{space}`");
    }
    let taken = arguments.taken.as_deref().map(|text| typed_day("--taken", text)).transpose()?;
    if let Some(day) = taken.filter(|day| *day > today) {
        bail!("--taken is {day}, which is after today, {today}");
    }
    Ok(Added {
        file: BlobRef::of(b"", "bin"),
        name: String::new(),
        sheet,
        step: named.map(|(_, step)| step.id.clone()),
        discrepancy: arguments.discrepancy.clone(),
        photo: arguments.photo.clone(),
        space: arguments.space.clone(),
        taken,
        caption: arguments.caption.clone(),
        builder_seen: arguments.builder_in_picture,
        by: arguments.by.clone(),
    })
}
