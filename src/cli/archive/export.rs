//! `archive export`: the whole archive and a readable index in one zip file, for handing over.
//!
//! A damaged archive is not handed over as if it were whole.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};

use crate::archive::{Entry, State, Survey, Zip};
use crate::cli::kept::{describe, open_archive, place};
use crate::cli::opened::open;
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
pub(super) fn run(project: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let opened = open(project)?;
    let kept = open_archive(&opened, console)?;
    ensure!(kept.archive.exists(), "there is no archive at {}", kept.archive.root().display());
    let survey = kept.archive.verify()?;
    ensure!(
        survey.is_whole() || arguments.damaged,
        "the archive is damaged: `archive verify` says where; --damaged exports it all the same"
    );
    let mut zip = Zip::default();
    zip.add("INDEX.txt", index(&survey, &kept.state).as_bytes())?;
    for path in files(kept.archive.root())? {
        let bytes = std::fs::read(kept.archive.root().join(&path)).with_context(|| format!("cannot read {path}"))?;
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

/// The index: where the ledger ends, sheets in force with their PDF, every file that was added, every entry.
fn index(survey: &Survey, state: &State) -> String {
    let last = survey.last();
    let digest = last.last.map_or_else(|| "none".to_owned(), |digest| digest.hex());
    let mut text = format!("{} entries; SHA-256 of the last: {digest}\narchive/README.txt explains the files.\n", last.entries);
    for flaw in &survey.flaws {
        let _ = writeln!(text, "DAMAGED {flaw}");
    }
    text.push_str("\nSheets in force\n");
    for issue in state.all_in_force() {
        let issued = &issue.issued;
        let place = place(&issued.traveler, issued.hand.as_deref());
        let _ =
            writeln!(text, "  {} {place} rev {} {}: archive/blobs/{}", issued.sheet, issued.revision, issued.title, issued.pdf.file_name());
    }
    text.push_str("\nAdded files\n");
    for (_, added) in &state.files {
        let caption = added.caption.as_deref().unwrap_or_default();
        let _ = writeln!(text, "  {} {caption}: archive/blobs/{}", added.name, added.file.file_name());
    }
    text.push_str("\nEntries\n");
    for record in &survey.records {
        let sheet =
            if let Entry::Issued(issued) = &record.entry { format!(" archive/blobs/{}", issued.pdf.file_name()) } else { String::new() };
        let _ = writeln!(text, "  {} {} {}{sheet}", record.number, record.entered, describe(&record.entry));
    }
    text
}
