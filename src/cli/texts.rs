//! Finds what in the builder's own texts would not print: values that do not exist, broken `{{ }}`.
//!
//! It joins what planning offers as values with what rendering makes of a text; neither knows the other's part.

use crate::job::{Job, Text};
use crate::report::{Finding, Place, Report, Severity};
use crate::text::{Files, Span};
use crate::{plan, render};

/// Adds a finding for every fault of every text of every traveler.
pub(super) fn check_texts(job: &Job, files: &Files, report: &mut Report) {
    for (index, traveler) in job.travelers.iter().enumerate() {
        let values = plan::values(job, index, traveler.hands.first().copied());
        let mut check = |text: &Text, step: Option<&str>| {
            for fault in render::check_text(&text.value, &values) {
                let span = place_in_file(text, fault.offset, fault.len, files);
                let mut finding = Finding::new("value-invalid", Severity::Error, span, fault.message).help(
                    "values are written like {{ joint.J1.hole.final }}, {{ part.ID.name }}; specs/FORMAT.md lists what may be written",
                );
                finding.place = Place { traveler: Some(traveler.id.value.clone()), step: step.map(str::to_owned), ..Place::default() };
                report.push(finding);
            }
        };
        traveler.summary.iter().for_each(|text| check(text, None));
        for step in &traveler.steps {
            step.text.iter().for_each(|text| check(text, Some(&step.id.value)));
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
