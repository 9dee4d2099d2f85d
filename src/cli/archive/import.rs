//! `archive import`: what `progress.toml` says is done becomes entries; from then on the archive counts.
//!
//! A step that is signed or imported already is left as it is, and so is one whose traveler has a sheet in force.

use std::path::Path;

use anyhow::{Context, Result, ensure};

use crate::archive::{Imported, NewBlob, NewPosting, Reading};
use crate::cli::options::EnteredOption;
use crate::cli::project::load_project;
use crate::cli::project_archive::open_to_record;
use crate::cli::{Console, Outcome};
use crate::disk;
use crate::job::{Done, Item, Order, check_days, resolve_progress};
use crate::report::{Severity, render_human};
use crate::spec;
use crate::units::counted;
use crate::work;

/// Arguments of `archive import`.
#[derive(Debug, clap::Args)]
pub(super) struct Arguments {
    #[command(flatten)]
    entered: EnteredOption,
}

/// Runs `archive import`.
pub(super) fn run(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let mut project = load_project(project_path)?;
    let entered = arguments.entered.time(console)?;
    let path = project.folder.join("progress.toml");
    let bytes = disk::read(&path, disk::TYPED)?;
    let before = project.report.count(Severity::Error);
    let progress = spec::load_progress(&project.file, &mut project.files, &mut project.report)?;
    check_days(&progress, entered.day(), &mut project.report);
    let order = Order::of(&project.job);
    let state = resolve_progress(progress, &project.job, &order, &mut project.report);
    if project.report.count(Severity::Error) > before {
        project.report.sort(&project.files);
        console.print(&render_human(&project.report, &project.files, console.colour()))?;
        console.complain("nothing was imported");
        return Ok(Outcome::ErrorsFound);
    }
    ensure!(!state.done.is_empty(), "{} says that nothing is done", path.display());
    let mut archive = open_to_record(&project, console)?;
    let blob = NewBlob::of(&bytes, "toml");
    let mut posting = NewPosting { because: arguments.entered.because(), ..NewPosting::at(entered) };
    let (mut known, mut refused) = (0, false);
    for (item, done) in &state.done {
        if archive.knows(&project.job, *item) {
            known += 1;
            continue;
        }
        // A step of a sheet counts once it is signed there: an entry beside the sheet would never count.
        if let Some(issue) = archive.sheet_of(&project.job, *item) {
            refused = true;
            let step = project.job.item_name(*item);
            let sheet = issue.issued.sheet;
            console.complain(&format!(
                "{step} is not taken over: sheet {sheet} is in force, sign it there (`shophead archive enter`)"
            ));
            continue;
        }
        posting.entries.push(imported(&project.job, *item, done, &blob)?.into());
    }
    if !posting.entries.is_empty() {
        posting.blobs.push(blob);
        archive.record(&project, posting, console)?;
    }
    if known > 0 {
        console.say(&format!("{} in the archive already", counted(known, "step was", "steps were")))?;
    }
    Ok(if refused { Outcome::ErrorsFound } else { Outcome::Clean })
}

fn imported(job: &crate::job::Job, item: Item, done: &Done, file: &NewBlob<'_>) -> Result<Imported> {
    let worked = done
        .on
        .earliest
        .day()
        .for_record()
        .context("a day of the progress file lies outside the years that records have")?;
    Ok(Imported {
        source: "progress.toml".to_owned(),
        file: file.reference(),
        traveler: job.travelers[item.at.traveler].id.value.clone(),
        hand: item.hand,
        step: job.step(item.at).id.value.clone(),
        requirement: work::step_digest(job, item),
        by: Some(done.by.clone()).filter(|by| !by.is_empty()),
        worked,
        minutes: done.minutes,
        readings: done.values.iter().map(|(id, value)| Reading { id: id.clone(), value: value.clone() }).collect(),
    })
}
