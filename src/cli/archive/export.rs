//! `archive export`: the whole archive and a readable index in one zip file, for handing over.
//!
//! A damaged archive is not handed over as if it were whole.

mod index;

use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};

use crate::archive::Zip;
use crate::cli::project::load_project;
use crate::cli::project_archive::open_archive;
use crate::cli::{Console, Outcome};

/// Arguments of `archive export`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    /// The zip file to write; it must not be there
    file: PathBuf,
    /// Export although `archive verify` finds damage; the index says what is damaged
    #[arg(long)]
    damaged: bool,
}

/// Runs `archive export`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let project = load_project(project_path)?;
    let archive = open_archive(&project, console)?;
    ensure!(archive.store.exists(), "there is no archive at {}", archive.store.root().display());
    let survey = archive.store.verify()?;
    ensure!(
        survey.is_whole() || arguments.damaged,
        "the archive is damaged: `archive verify` says where; --damaged exports it all the same"
    );
    let mut zip = Zip::default();
    zip.add("index.html", index::page(&survey, &archive.state).as_bytes())?;
    for path in files(archive.store.root())? {
        let bytes = std::fs::read(archive.store.root().join(&path)).with_context(|| format!("cannot read {path}"))?;
        zip.add(&format!("archive/{path}"), &bytes)?;
    }
    let bytes = zip.finish()?;
    let shown = arguments.file.display();
    ensure!(!arguments.file.exists(), "{shown} is there already");
    std::fs::write(&arguments.file, &bytes).with_context(|| format!("cannot write {shown}"))?;
    console.say(&format!("{shown}  {} bytes, {} entries", bytes.len(), survey.last().entries))?;
    Ok(Outcome::of(!survey.is_whole()))
}

/// Every file of the archive by path, sorted; what an interrupted run left is not handed over.
fn files(root: &Path) -> Result<Vec<String>> {
    let mut paths = Vec::new();
    for folder in ["", "ledger", "blobs"] {
        let at = root.join(folder);
        for entry in std::fs::read_dir(&at).with_context(|| format!("cannot read {}", at.display()))? {
            let entry = entry?;
            let name = entry.file_name().to_string_lossy().into_owned();
            let is_kept = entry.file_type()?.is_file() && !name.ends_with(".unfinished");
            paths.extend(is_kept.then(|| if folder.is_empty() { name } else { format!("{folder}/{name}") }));
        }
    }
    paths.sort();
    Ok(paths)
}
