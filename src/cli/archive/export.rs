//! `archive export`: the whole archive and a readable index in one zip file, for handing over.
//!
//! A damaged archive is not handed over as if it were whole. The file gets its name only once it is complete, and the same
//! archive gives the same bytes.

mod index;

use std::fs::File;
use std::io::{self, BufWriter, Seek, Write};
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};
use zip::write::{SimpleFileOptions, ZipWriter};

use crate::cli::project::load_without_texts;
use crate::cli::project_archive::open_archive;
use crate::cli::{Console, Outcome};
use crate::disk::{self, Disk, Taken};

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
    let project = load_without_texts(project_path)?;
    let archive = open_archive(&project, console)?;
    let root = archive.store.root();
    ensure!(archive.store.exists(), "there is no archive at {}", root.display());
    let survey = archive.store.verify()?;
    ensure!(
        survey.is_whole() || arguments.damaged,
        "the archive is damaged: `archive verify` says where; --damaged exports it all the same"
    );
    let index = index::page(&survey, &archive.state)?;
    let bytes = write_new(&arguments.file, &console.disk(), |file| write_zip(file, &index, root))?;
    console.say(&format!("{}  {bytes} bytes, {} entries", arguments.file.display(), survey.last().entries))?;
    Ok(Outcome::of(!survey.is_whole()))
}

/// Writes a file that must not be there; gives its size in bytes.
fn write_new(path: &Path, disk: &Disk, write: impl FnOnce(&File) -> Result<()>) -> Result<u64> {
    let cannot = || format!("cannot write {}", path.display());
    disk.put(path, Taken::Keep, |file| {
        disk.step("write", path, || Ok(()))?;
        write(file).with_context(cannot)
    })?;
    Ok(std::fs::metadata(path).with_context(cannot)?.len())
}

/// Writes the index and every file of the archive, one after the other.
///
/// Entries are stored, so that any system opens them, and carry the first day that the form knows instead of a time of
/// their own.
fn write_zip(file: impl Write + Seek, index: &str, root: &Path) -> Result<()> {
    let mut zip = ZipWriter::new(BufWriter::new(file));
    let stored = SimpleFileOptions::default().compression_method(zip::CompressionMethod::Stored);
    zip.start_file("index.html", stored)?;
    zip.write_all(index.as_bytes())?;
    for path in files(root)? {
        let mut from = disk::open(&root.join(&path))?;
        zip.start_file(format!("archive/{path}"), stored)?;
        io::copy(&mut from, &mut zip).with_context(|| format!("cannot copy {path}"))?;
    }
    zip.finish()?.flush().context("cannot write the end of the zip file")
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
