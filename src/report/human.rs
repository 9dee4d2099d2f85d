//! Findings as text for a terminal: the line, a caret, both numbers, what would pass, the source.
//!
//! It prints what a finding holds and decides nothing.

use annotate_snippets::{AnnotationKind, Element, Group, Level, Renderer, Snippet};

use super::{Finding, Report, Severity};
use crate::text::{FileId, Files, Span, without_controls};

/// Whether the text carries terminal colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Colour {
    /// Plain text.
    Plain,
    /// With terminal colours.
    Terminal,
}

/// Longest stretch of a source line that is shown: one line of a damaged file must not fill the screen.
const LONGEST_LINE: usize = 400;

/// All findings, then one line that counts them.
#[must_use]
pub fn render(report: &Report, files: &Files, colour: Colour) -> String {
    format!("{}{}\n", render_findings(&report.findings, files, colour), summary(report))
}

/// Findings without a count, a blank line behind each.
#[must_use]
pub fn render_findings(findings: &[Finding], files: &Files, colour: Colour) -> String {
    let renderer = match colour {
        Colour::Plain => Renderer::plain(),
        Colour::Terminal => Renderer::styled(),
    };
    findings.iter().map(|finding| renderer.render(&groups(finding, files)) + "\n\n").collect()
}

/// `3 errors, 1 warning, 2 notes in 8 travelers (1 allowed)`.
#[must_use]
fn summary(report: &Report) -> String {
    let count = |n: usize, word: &str| if n == 1 { format!("1 {word}") } else { format!("{n} {word}s") };
    let allowed = report.findings.iter().filter(|f| f.allowed.is_some()).count();
    let reasons = match allowed {
        0 => String::new(),
        n => format!(" ({n} allowed, with reasons printed on the sheets)"),
    };
    format!(
        "{}, {}, {} in {}{reasons}",
        count(report.count(Severity::Error), "error"),
        count(report.count(Severity::Warning), "warning"),
        count(report.count(Severity::Note), "note"),
        count(report.travelers, "traveler"),
    )
}

fn groups<'a>(finding: &'a Finding, files: &'a Files) -> Vec<Group<'a>> {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let mut group = level
        .primary_title(without_controls(&finding.message).into_owned())
        .id(finding.rule)
        .elements(snippets(finding, files));
    if let Some(help) = &finding.help {
        group = group.element(Level::HELP.message(without_controls(help)));
    }
    if let Some(source) = &finding.source {
        group = group.element(Level::NOTE.with_name("source").message(without_controls(source)));
    }
    if let Some(reason) = &finding.allowed {
        group =
            group.element(Level::NOTE.with_name("allowed").message(format!("because {}", without_controls(reason))));
    }
    vec![group]
}

/// One snippet per file, the finding's own file first.
fn snippets<'a>(finding: &'a Finding, files: &'a Files) -> Vec<Element<'a>> {
    let mut ids: Vec<FileId> = vec![finding.span.file];
    for label in &finding.labels {
        if !ids.contains(&label.span.file) {
            ids.push(label.span.file);
        }
    }
    ids.into_iter().map(|id| snippet(id, finding, files).into()).collect()
}

fn snippet<'a>(id: FileId, finding: &'a Finding, files: &'a Files) -> Snippet<'a, annotate_snippets::Annotation<'a>> {
    let spans: Vec<(Span, AnnotationKind, &'a str)> = std::iter::once((finding.span, AnnotationKind::Primary, ""))
        .chain(finding.labels.iter().map(|label| (label.span, AnnotationKind::Context, label.text.as_str())))
        .filter(|(span, ..)| span.file == id)
        .collect();
    let window = window(id, &spans, files);
    let text = &files.text(id)[window.clone()];
    let first_line = files.position(Span { file: id, start: window.start, end: window.start }).line;
    let mut snippet = Snippet::source(text).path(without_controls(files.path(id))).line_start(first_line).fold(true);
    for (span, kind, label) in spans {
        let start = floor(text, span.start.saturating_sub(window.start));
        let end = floor(text, span.end.saturating_sub(window.start)).max(start);
        let annotation = kind.span(start..end);
        snippet =
            snippet.annotation(if label.is_empty() { annotation } else { annotation.label(without_controls(label)) });
    }
    snippet
}

/// The bytes to show: whole lines around the spans, cut where a line is absurdly long.
fn window(id: FileId, spans: &[(Span, AnnotationKind, &str)], files: &Files) -> std::ops::Range<usize> {
    let text = files.text(id);
    // Without a place in this file its beginning is shown.
    let first = spans.iter().map(|(span, ..)| span.start).min().unwrap_or(0).min(text.len());
    let last = spans.iter().map(|(span, ..)| span.end).max().unwrap_or(first).clamp(first, text.len());
    let start = files.line_bounds(id, first).0.max(first.saturating_sub(LONGEST_LINE));
    let end = files.line_bounds(id, last).1.min(last + LONGEST_LINE).max(last);
    floor(text, start)..floor(text, end)
}

/// The nearest character border at or before `at`.
fn floor(text: &str, at: usize) -> usize {
    let mut at = at.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}
