//! A project with the state of its work, as every command starts that prints what is open, ready or next.
//!
//! It plans and prints no page.

use std::path::Path;

use anyhow::Result;

use super::Console;
use super::kept::{Kept, open_archive};
use super::opened::{Opened, open};
use crate::job::{Item, Order, State, resolve_progress};
use crate::report::{Finding, Report};
use crate::units;
use crate::work;
use crate::{archive, spec};

/// A project with the order and the state of its work.
pub(super) struct Shop {
    /// The project; its report holds what is wrong with the progress file too.
    pub opened: Opened,
    /// The order of the whole build.
    pub order: Order,
    /// What is done.
    pub state: State,
    /// The archive.
    pub kept: Kept,
    /// What a page for the wall must be read with: errors, and everything about the progress file.
    pub said: Report,
}

impl Shop {
    /// What the archive says, once there is one.
    pub fn archived(&self) -> Option<&archive::State> {
        self.kept.archive.exists().then_some(&self.kept.state)
    }
}

/// Opens a project with the state of its work: the archive's, once there is one; begun work and waits from the progress file.
pub(super) fn open_shop(project: &Path, console: &mut Console) -> Result<Shop> {
    let mut opened = open(project)?;
    let beside = opened.folder.join("build.toml");
    let mut said = Report { travelers: opened.report.travelers, ..Report::default() };
    let progress = spec::load_progress(&beside, &mut opened.files, &mut said)?;
    let order = Order::of(&opened.job);
    let mut state = resolve_progress(progress, &opened.job, &order, &mut said);
    let errors: Vec<Finding> = opened.report.findings.iter().filter(|finding| finding.stops()).cloned().collect();
    opened.report.extend(said.findings.iter().cloned());
    said.extend(errors);
    opened.report.sort(&opened.files);
    said.sort(&opened.files);
    let kept = open_archive(&opened, console)?;
    if kept.archive.exists() {
        let missing = state.done.keys().filter(|item| !kept.knows(&opened.job, **item));
        let (on_sheets, free): (Vec<&Item>, Vec<&Item>) =
            missing.partition(|item| kept.sheet_of(&opened.job, **item).is_some());
        let mut complain = |items: Vec<&Item>, way: &str| {
            if !items.is_empty() {
                let steps = units::counted(u32::try_from(items.len()).unwrap_or(u32::MAX), "done step", "done steps");
                console.complain(&format!("{steps} of progress.toml not in the archive, so not counted: {way}"));
            }
        };
        complain(free, "`shophead archive import` takes over what was done before there was a sheet");
        complain(on_sheets, "their sheets are in force, sign them there (`shophead archive enter`)");
        state = work::work_state(&opened.job, &kept.state, state);
    }
    Ok(Shop { opened, order, state, kept, said })
}
