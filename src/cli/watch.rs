//! `packet --watch`: prints again what changed, each time a spec, the project file or a template is saved.
//!
//! Watching is `packet` again and again, so that the two files know each other.
//! It looks twice a second and ends only when it is interrupted; a file that is broken for a moment ends nothing.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

use anyhow::Result;

use super::packet::{Arguments, print_once, report_findings};
use super::project::load_project;
use super::{Console, Outcome};
use crate::disk;
use crate::report::Report;
use crate::spec::{read_project, shown};
use crate::text::Files;

const PAUSE: Duration = Duration::from_millis(500);

/// What is known of a file without reading it.
type Stamp = (Option<SystemTime>, u64);

/// Prints, then waits for changes and prints those travelers again.
pub(super) fn keep_printing(project_path: &Path, arguments: &Arguments, console: &mut Console) -> Result<Outcome> {
    let mut seen = stamps(project_path);
    complain_of(print_once(project_path, arguments, console), console);
    console.say("watching the specs; interrupt to end")?;
    loop {
        console.finish()?;
        std::thread::sleep(PAUSE);
        let now = stamps(project_path);
        let changed: Vec<&Path> = differing(&seen, &now);
        if changed.is_empty() {
            continue;
        }
        complain_of(print_changed(project_path, &changed, arguments, console), console);
        seen = now;
    }
}

/// A failure is said and the watch goes on; findings were printed where they were found.
fn complain_of(result: Result<Outcome>, console: &mut Console) {
    if let Err(failure) = result {
        console.complain(&format!("{failure:#}"));
    }
}

/// Prints the travelers of changed files; all of them where something changed that all share.
fn print_changed(
    project_path: &Path,
    changed: &[&Path],
    arguments: &Arguments,
    console: &mut Console,
) -> Result<Outcome> {
    let is_spec = |path: &&Path| {
        path.file_name().is_some_and(|name| name != "build.toml" && name != "progress.toml")
            && path.extension().is_some_and(|end| end == "toml")
    };
    if !changed.iter().all(is_spec) {
        return print_once(project_path, arguments, console);
    }
    let project = load_project(project_path)?;
    let names: Vec<String> = changed.iter().map(|path| shown(path)).collect();
    let of_file = project
        .job
        .travelers
        .iter()
        .filter(|traveler| names.iter().any(|name| name == project.files.path(traveler.file)));
    let is_selected =
        |id: &String| arguments.selection.traveler.is_empty() || arguments.selection.traveler.contains(id);
    let travelers: Vec<String> = of_file.map(|traveler| traveler.id.value.clone()).filter(is_selected).collect();
    if travelers.is_empty() {
        // Nothing to print, but what was found may say why.
        report_findings(&project, console)?;
        return Ok(Outcome::Clean);
    }
    let mut again = arguments.clone();
    again.selection.traveler = travelers;
    print_once(project_path, &again, console)
}

/// Files that are new, gone or changed.
fn differing<'a>(seen: &'a BTreeMap<PathBuf, Stamp>, now: &'a BTreeMap<PathBuf, Stamp>) -> Vec<&'a Path> {
    let gone = seen.keys().filter(|path| !now.contains_key(*path));
    let changed = now.iter().filter(|(path, stamp)| seen.get(*path) != Some(stamp)).map(|(path, _)| path);
    gone.chain(changed).map(PathBuf::as_path).collect()
}

/// Every file that a packet depends on. The folders are those of the project file as it reads now.
fn stamps(project_path: &Path) -> BTreeMap<PathBuf, Stamp> {
    let file = if project_path.is_dir() { project_path.join("build.toml") } else { project_path.to_path_buf() };
    // A bare name lies in the folder in which the command was started, which is the empty path.
    let folder = file.parent().map(Path::to_path_buf).unwrap_or_default();
    let mut all = BTreeMap::new();
    if let Ok(text) = disk::read_text(&file, disk::TYPED) {
        let (mut files, mut report) = (Files::default(), Report::default());
        let id = files.add(shown(&file), text);
        let settings = read_project(id, &files, &mut report).settings;
        for below in [settings.specs.value, settings.pictures.value] {
            gather(Path::new(&shown(&folder.join(below))), &mut all);
        }
    }
    gather(&folder.join("templates"), &mut all);
    note(&folder.join("progress.toml"), &mut all);
    note(&file, &mut all);
    all
}

/// Endings of the files that are watched.
const WATCHED: [&str; 7] = ["toml", "j2", "typ", "svg", "png", "jpg", "jpeg"];

fn gather(folder: &Path, all: &mut BTreeMap<PathBuf, Stamp>) {
    for entry in std::fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        let ours = path.extension().is_some_and(|end| WATCHED.iter().any(|one| end == *one));
        if path.is_dir() {
            gather(&path, all);
        } else if ours {
            note(&path, all);
        }
    }
}

fn note(path: &Path, all: &mut BTreeMap<PathBuf, Stamp>) {
    if let Ok(about) = std::fs::metadata(path) {
        all.insert(path.to_path_buf(), (about.modified().ok(), about.len()));
    }
}
