//! `archive add`: a file goes into the archive under the digest of its bytes, with what it belongs to.

use std::path::{Path, PathBuf};

use anyhow::{Context, Error, Result, anyhow, ensure};

use crate::archive::{Added, NewBlob};
use crate::calendar::Day;
use crate::cli::options::EnteredOption;
use crate::cli::project::{LoadedProject, load_project};
use crate::cli::project_archive::{ProjectArchive, open_archive, record_with};
use crate::cli::{Console, Outcome};
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
    #[arg(long)]
    discrepancy: Option<String>,
    /// Number of the photo as on the sheet
    #[arg(long)]
    photo: Option<String>,
    /// Space that is seen
    #[arg(long)]
    space: Option<String>,
    /// Day on which it was taken
    #[arg(long, value_name = "DAY")]
    taken: Option<String>,
    /// What it shows
    #[arg(long)]
    caption: Option<String>,
    /// Whether the builder is in the picture
    #[arg(long)]
    builder_in_picture: Option<bool>,
    /// Initials of whoever adds it
    #[arg(long)]
    by: Option<String>,
    #[command(flatten)]
    entered: EnteredOption,
}

/// Runs `archive add`; goes on with the other files where one cannot be read.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let project = load_project(project_path)?;
    let entered = arguments.entered.time(console)?;
    let archive = open_archive(&project, console)?;
    let added = describe(arguments, &project, &archive)?;
    let mut writer = archive.writer(&project, entered)?;
    let mut failed = false;
    for file in &arguments.file {
        match read(file) {
            Ok(bytes) => {
                let ending = file.extension().and_then(|ending| ending.to_str()).unwrap_or("bin");
                let blob = NewBlob { bytes: &bytes, ending };
                let name = file.file_name().map_or_else(String::new, |name| name.to_string_lossy().into_owned());
                let entry = Added { file: blob.reference(), name, ..added.clone() };
                record_with(&mut writer, entered, entry.into(), &[blob], console)?;
            }
            Err(failure) => {
                failed = true;
                console.complain(&format!("{failure:#}"));
            }
        }
    }
    Ok(Outcome::of(failed))
}

fn read(file: &Path) -> Result<Vec<u8>> {
    let size = std::fs::metadata(file).with_context(|| format!("cannot read {}", file.display()))?.len();
    ensure!(size <= LARGEST, "{} has {size} bytes; the limit is {LARGEST}", file.display());
    ensure!(size > 0, "{} is empty", file.display());
    std::fs::read(file).with_context(|| format!("cannot read {}", file.display()))
}

/// What was typed of the files, followed where it names something.
fn describe(arguments: &Arguments, project: &LoadedProject, archive: &ProjectArchive) -> Result<Added> {
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
    let taken = arguments
        .taken
        .as_deref()
        .map(|text| Day::parse(text).ok_or_else(|| anyhow!("--taken is `{text}`, expected a day such as 2026-03-02")));
    Ok(Added {
        file: NewBlob { bytes: b"", ending: "bin" }.reference(),
        name: String::new(),
        sheet,
        step: named.map(|(_, step)| step.id.clone()),
        discrepancy: arguments.discrepancy.clone(),
        photo: arguments.photo.clone(),
        zone: arguments.space.clone(),
        taken: taken.transpose()?,
        caption: arguments.caption.clone(),
        builder_seen: arguments.builder_in_picture,
        by: arguments.by.clone(),
    })
}
