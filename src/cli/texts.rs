//! Finds what in the builder's own texts would not print: values that do not exist, broken `{{ }}`, pictures.
//!
//! It joins what planning offers as values with what rendering makes of a text; neither knows the other's part.

use std::collections::BTreeMap;
use std::path::Path;

use super::pictures::read_picture;
use crate::job::{Job, Text, Traveler};
use crate::render::{Picture, Pictures};
use crate::report::{Finding, Place, Report, Severity, fault};
use crate::text::{Files, Span};
use crate::{plan, render};

/// Adds a finding for every fault of every text of every traveler, and gives the pictures that can be shown.
pub(super) fn check_texts(job: &Job, pictures: &Path, files: &Files, report: &mut Report) -> Pictures {
    let mut check = Check { job, folder: pictures, files, report, read: BTreeMap::new() };
    for index in 0..job.travelers.len() {
        check.traveler(index);
    }
    check.read.into_iter().filter_map(|(path, picture)| Some((path, picture.ok()?))).collect()
}

struct Check<'a> {
    job: &'a Job,
    /// Where the pictures lie.
    folder: &'a Path,
    files: &'a Files,
    report: &'a mut Report,
    /// Every picture that was asked for, or what is wrong with it.
    read: BTreeMap<String, Result<Picture, String>>,
}

impl Check<'_> {
    fn traveler(&mut self, index: usize) {
        let job = self.job;
        let traveler = &job.travelers[index];
        let values: Vec<_> = job.hands_of(index).into_iter().map(|hand| plan::values(job, index, hand)).collect();
        if let Some(summary) = &traveler.summary {
            self.text(summary, traveler, None, &values);
        }
        for step in &traveler.steps {
            if let Some(text) = &step.text {
                self.text(text, traveler, Some(&step.id.value), &values);
            }
        }
    }

    /// One text, with the values of each hand.
    fn text(&mut self, text: &Text, traveler: &Traveler, step: Option<&str>, values: &[serde_json::Value]) {
        let mut found: Vec<Finding> = Vec::new();
        for values in values {
            if let Err(fault) = render::check_text(&text.value, values) {
                let span = place_in_file(text, fault.offset, fault.len, self.files);
                found.push(Finding::new(fault::VALUE_INVALID, Severity::Error, span, fault.message).help(
                    "values are written like {{ joint.J1.hole.final }}, {{ part.ID.name }}; specs/FORMAT.md lists what may be written",
                ));
            }
            for shown in render::pictures_of(&text.value, values) {
                let folder = self.folder;
                let picture = self.read.entry(shown.path.clone()).or_insert_with_key(|path| read_picture(folder, path));
                if let Err(fault) = picture {
                    let span = place_in_file(text, shown.offset, shown.len, self.files);
                    let folder = crate::spec::shown(folder);
                    found.push(Finding::new(fault::VALUE_INVALID, Severity::Error, span, fault.clone()).help(format!(
                        "a picture is a PNG, JPEG or SVG in the folder {folder}, which `pictures` of `[project]` names, and is written \
                         like ![what it shows](bracket.svg)"
                    )));
                }
            }
        }
        found.dedup_by(|one, other| one.span == other.span && one.message == other.message);
        for mut finding in found {
            finding.place =
                Place { traveler: Some(traveler.id.value.clone()), step: step.map(str::to_owned), ..Place::default() };
            self.report.push(finding);
        }
    }
}

/// Where a piece of a text stands in its file.
///
/// A TOML text may hold escapes, so that bytes do not map one to one; the piece is looked for by its own text.
fn place_in_file(text: &Text, offset: usize, len: usize, files: &Files) -> Span {
    let written = files.slice(text.span);
    let piece = text.value.get(offset..offset + len).filter(|piece| !piece.is_empty());
    let found = piece.and_then(|piece| {
        let earlier = text.value[..offset].matches(piece).count();
        written.match_indices(piece).nth(earlier)
    });
    match found {
        Some((at, piece)) => Span { start: text.span.start + at, end: text.span.start + at + piece.len(), ..text.span },
        None => text.span,
    }
}
