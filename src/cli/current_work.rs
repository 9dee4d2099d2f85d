//! A project with the state of its work, as every command starts that prints what is open, ready or next.
//!
//! It plans and prints no page.

use std::path::Path;

use anyhow::Result;

use super::Console;
use super::project::{LoadedProject, NO_TRAVELER, load_project};
use super::project_archive::{ProjectArchive, open_archive, open_to_record};
use crate::calendar::Day;
use crate::job::{Item, Order, State, check_days, resolve_progress};
use crate::report::{Finding, Report};
use crate::units;
use crate::work;
use crate::{archive, spec};

/// A project with the order and the state of its work.
pub(super) struct CurrentWork {
    /// The project; its report holds what is wrong with the progress file too.
    pub project: LoadedProject,
    /// The order of the whole build.
    pub order: Order,
    /// What is done.
    pub state: State,
    /// The archive.
    pub archive: ProjectArchive,
    /// What a page for the wall must be read with: errors, and everything about the progress file.
    pub said: Report,
}

impl CurrentWork {
    /// What the archive says, once there is one.
    pub fn archived(&self) -> Option<&archive::State> {
        self.archive.store.exists().then_some(&self.archive.state)
    }
}

/// Opens a project with the state of its work: the archive's, once there is one; begun work and waits from the progress file.
pub(super) fn load_current_work(project_path: &Path, today: Day, console: &mut Console) -> Result<CurrentWork> {
    load_work(project_path, today, open_archive, console)
}

/// The same for a command that is going to record something: nobody else does until it has ended.
pub(super) fn load_work_to_record(project_path: &Path, today: Day, console: &mut Console) -> Result<CurrentWork> {
    load_work(project_path, today, open_to_record, console)
}

fn load_work(
    project_path: &Path,
    today: Day,
    open: impl FnOnce(&LoadedProject, &mut Console) -> Result<ProjectArchive>,
    console: &mut Console,
) -> Result<CurrentWork> {
    let mut project = load_project(project_path)?;
    let archive = open(&project, console)?;
    if archive.survey.last() != project.ledger.last() {
        // Others recorded something while this run stood in line: what is issued has numbers that are taken.
        project = load_project(project_path)?;
    }
    if project.is_empty() {
        console.complain(NO_TRAVELER);
    }
    let beside = project.folder.join("build.toml");
    let left_out = project.report.left_out.clone();
    let mut said = Report { travelers: project.report.travelers, left_out, ..Report::default() };
    let progress = spec::load_progress(&beside, &mut project.files, &mut said)?;
    check_days(&progress, today, &mut said);
    let order = Order::of(&project.job);
    let mut state = resolve_progress(progress, &project.job, &order, &mut said);
    let errors: Vec<Finding> = project.report.findings.iter().filter(|finding| finding.stops()).cloned().collect();
    project.report.extend(said.findings.iter().cloned());
    said.extend(errors);
    project.report.sort(&project.files);
    said.sort(&project.files);
    if archive.store.exists() {
        let missing = state.done.keys().filter(|item| !archive.knows(&project.job, **item));
        let (on_sheets, free): (Vec<&Item>, Vec<&Item>) =
            missing.partition(|item| archive.sheet_of(&project.job, **item).is_some());
        let mut complain = |items: Vec<&Item>, way: &str| {
            if !items.is_empty() {
                let steps = units::counted(items.len(), "done step", "done steps");
                console.complain(&format!("{steps} of progress.toml not in the archive, so not counted: {way}"));
            }
        };
        complain(free, "`shophead archive import` takes over what was done before there was a sheet");
        complain(on_sheets, "their sheets are in force, sign them there (`shophead archive enter`)");
        state = work::work_state(&project.job, &archive.state, state);
        work::tell_what_to_read(&project.job, &archive.unread(&project), &mut state);
    }
    Ok(CurrentWork { project, order, state, archive, said })
}
