//! Folders of a project that must lie apart: what is archived is never made again, deleted or read as a spec.
//!
//! It makes no folder and opens no file.

use std::path::{Component, Path, PathBuf};

use crate::job::Job;
use crate::report::{Finding, Report, Severity, fault};
use crate::spec;

/// Adds a finding where the archive is, holds or lies in a folder of another use.
pub(super) fn check_folders(job: &Job, folder: &Path, report: &mut Report) {
    if let Some(said) = misplaced(job, folder) {
        let span = job.project.settings.archive.span;
        let finding = Finding::new(fault::VALUE_INVALID, Severity::Error, span, said);
        report.push(finding.help("give the archive a folder of its own beside the others, as `archive = \"archive\"`"));
    }
}

/// What is wrong with the place of the archive.
pub(super) fn misplaced(job: &Job, folder: &Path) -> Option<String> {
    let settings = &job.project.settings;
    let whole = |name: &str| real(&folder.join(name));
    let archive = whole(&settings.archive.value);
    let name = &settings.archive.value;
    if whole(".").starts_with(&archive) {
        return Some(format!("the archive `{name}` would hold the project itself"));
    }
    let others = [
        ("output", &settings.output.value, "can be deleted at any time"),
        ("specs", &settings.specs.value, "is read for travelers"),
        ("pictures", &settings.pictures.value, "is read for pictures"),
        ("templates", &"templates".to_owned(), "is read for templates"),
    ];
    others.into_iter().find_map(|(key, other, use_of_it)| {
        let place = whole(other);
        let how = match () {
            () if archive == place => "is",
            () if archive.starts_with(&place) => "lies in",
            () if place.starts_with(&archive) => "would hold",
            () => return None,
        };
        Some(format!(
            "the archive `{name}` {how} the {key} folder `{}`, which {use_of_it}",
            spec::shown(Path::new(other))
        ))
    })
}

/// A path without links as far as it exists, without `.` and `..` beyond.
fn real(path: &Path) -> PathBuf {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
    let mut real = PathBuf::new();
    for part in path.components() {
        match part {
            Component::ParentDir => drop(real.pop()),
            Component::CurDir => {}
            part => real.push(part),
        }
        // What does not exist yet has no links.
        real = real.canonicalize().unwrap_or(real);
    }
    real
}
