//! Finds what in the builder's own texts would not print: values that do not exist, broken `{{ }}`, pictures.
//!
//! It joins what planning offers as values with what rendering makes of a text; neither knows the other's part. Which
//! picture an item shows goes to the job as plain data, for the requirement counts it by its bytes.

use std::collections::BTreeMap;
use std::path::Path;

use super::pictures::read_picture;
use crate::ident::Digest;
use crate::job::{Item, Job, ShownPicture, StepRef, Text, Traveler};
use crate::render::{Picture, Pictures};
use crate::report::{Finding, Place, Report, Severity, fault};
use crate::spec::PictureSpec;
use crate::text::{Files, Span};
use crate::{plan, render};

/// Adds a finding for every fault of every text of every traveler, and gives the pictures that can be shown; the job
/// learns which item shows which.
pub(super) fn check_texts(job: &mut Job, pictures: &Path, files: &Files, report: &mut Report) -> Pictures {
    let mut check = Check { job, folder: pictures, files, report, read: BTreeMap::new() };
    for index in 0..check.job.travelers.len() {
        check.traveler(index);
    }
    let pictures: Pictures = check.read.into_iter().filter_map(|(path, picture)| Some((path, picture.ok()?))).collect();
    job.pictures = shown_pictures(job, &pictures);
    pictures
}

/// The pictures that the texts of items show. Hands are told apart, for a picture may be named by the hand.
fn shown_pictures(job: &Job, pictures: &Pictures) -> BTreeMap<Item, Vec<ShownPicture>> {
    let digests: BTreeMap<&str, [u8; 32]> =
        pictures.iter().map(|(path, picture)| (path.as_str(), *Digest::of_bytes(picture.file()).bytes())).collect();
    let mut shown = BTreeMap::new();
    if digests.is_empty() {
        return shown;
    }
    for (traveler, own) in job.travelers.iter().enumerate() {
        for hand in job.hands_of(traveler) {
            let values = plan::values(job, traveler, hand);
            for (step, text) in own.steps.iter().enumerate().filter_map(|(at, step)| Some((at, step.text.as_ref()?))) {
                let uses = render::pictures_of(&text.value, &values).into_iter();
                let here = uses.filter_map(|one| {
                    let sha256 = *digests.get(one.path.as_str())?;
                    Some(ShownPicture { place: one.offset..one.offset + one.len, sha256 })
                });
                let here: Vec<ShownPicture> = here.collect();
                if !here.is_empty() {
                    shown.insert(Item { at: StepRef { traveler, step }, hand }, here);
                }
            }
        }
    }
    shown
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
        if let Some(picture) = &traveler.picture {
            self.front_picture(picture, traveler);
        }
    }

    /// The picture in front of a packet: whether it prints, and whether its marks lie on it.
    fn front_picture(&mut self, picture: &PictureSpec, traveler: &Traveler) {
        let style = &self.job.project.style;
        let folder = self.folder;
        let read = self.read.entry(picture.file.value.clone()).or_insert_with_key(|path| read_picture(folder, path));
        let found = match read {
            Err(fault) => Some(no_picture(picture.file.span, fault, folder)),
            Ok(file) => file.size().and_then(|size| picture.below(size, style)).map(|(joint, down, high)| {
                let message = format!(
                    "`marks`, {}: {} from the top lies outside the picture, which is printed {} high",
                    joint.value,
                    style.length(down),
                    style.length(high)
                );
                Finding::new(fault::VALUE_INVALID, Severity::Error, joint.span, message)
                    .help("measure on the print, from its top left corner, or write per cent")
            }),
        };
        if let Some(mut finding) = found {
            finding.place = Place { traveler: Some(traveler.id.value.clone()), ..Place::default() };
            self.report.push(finding);
        }
    }

    /// One text, with the values of each hand.
    fn text(&mut self, text: &Text, traveler: &Traveler, step: Option<&str>, values: &[serde_json::Value]) {
        let mut found: Vec<Finding> = Vec::new();
        for values in values {
            if let Err(fault) = render::check_text(&text.value, values) {
                let span = place_in_file(text, fault.offset, fault.len, self.files);
                let help = known_values(&fault.message, values);
                found.push(Finding::new(fault::VALUE_INVALID, Severity::Error, span, fault.message).help(help));
            }
            for shown in render::pictures_of(&text.value, values) {
                let folder = self.folder;
                let picture = self.read.entry(shown.path.clone()).or_insert_with_key(|path| read_picture(folder, path));
                if let Err(fault) = picture {
                    let span = place_in_file(text, shown.offset, shown.len, self.files);
                    found.push(no_picture(span, fault, folder));
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

fn no_picture(span: Span, fault: &str, folder: &Path) -> Finding {
    let folder = crate::spec::shown(folder);
    Finding::new(fault::VALUE_INVALID, Severity::Error, span, fault).help(format!(
        "a picture is a PNG, JPEG or SVG in the folder {folder}, which `pictures` of `[project]` names, and is written like \
         ![what it shows](bracket.svg) in a text"
    ))
}

/// What may be written in the place of a value that is none: the names beside it, as far as its path is right.
fn known_values(message: &str, values: &serde_json::Value) -> String {
    // The message quotes the path that it is about; one that quotes none is helped from the top.
    let path = message.split('`').nth(1).unwrap_or_default();
    let mut at = values;
    let mut way: Vec<&str> = Vec::new();
    for name in path.split('.').map(str::trim) {
        match at.get(name) {
            Some(inner) if inner.is_object() => {
                at = inner;
                way.push(name);
            }
            _ => break,
        }
    }
    // The values of a traveler are an object, and the way leads through objects alone.
    let names: Vec<&str> = at.as_object().map(|own| own.keys().map(String::as_str).collect()).unwrap_or_default();
    if way.is_empty() {
        return format!(
            "a value begins with one of {}, as {{{{ joint.J1.hole.final }}}} or {{{{ part.ID.name }}}}",
            names.join(", ")
        );
    }
    format!("{} has: {}", way.join("."), names.join(", "))
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
