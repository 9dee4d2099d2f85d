//! Findings: what is wrong with the builder's data, collected, sorted and counted.
//!
//! A finding is data. Trouble with a disk or a font is a failure and does not come here.

pub mod fault;
mod human;
mod json;
mod sarif;
mod unjudged;

pub use human::{Colour, render as render_human, render_findings};
pub use json::render as render_json;
pub use sarif::{RuleText, render as render_sarif};
pub use unjudged::render as render_unjudged;

use std::collections::BTreeSet;

use crate::text::{FileId, Files, Span};

/// How much a finding weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Printing is refused.
    Error,
    /// Looks wrong; printing goes on.
    Warning,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// The word in messages and in JSON.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Note => "note",
        }
    }
}

/// What a finding is about; ids as written in the specs.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Default)]
pub struct Place {
    /// Traveler id.
    pub traveler: Option<String>,
    /// Joint id.
    pub joint: Option<String>,
    /// Step id.
    pub step: Option<String>,
    /// Part id.
    pub part: Option<String>,
}

/// A second place that explains the first: the line that makes the call wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Label {
    /// The bytes that are pointed at.
    pub span: Span,
    /// What stands there.
    pub text: String,
}

/// One thing that is wrong, or worth knowing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Finding {
    /// The rule's name.
    pub rule: &'static str,
    /// How much it weighs.
    pub severity: Severity,
    /// The bytes that are wrong.
    pub span: Span,
    /// The headline: both numbers, with units.
    pub message: String,
    /// Other places that explain it.
    pub labels: Vec<Label>,
    /// What would pass, or what to type.
    pub help: Option<String>,
    /// The published source, as text for a reader.
    pub source: Option<String>,
    /// What it is about.
    pub place: Place,
    /// The builder's reason, where an `[[allow]]` entry accepts it.
    pub allowed: Option<String>,
    /// What it says that there is not: kind and id, as `joint` and `J1`.
    pub missing: Option<(&'static str, String)>,
}

impl Finding {
    /// A finding with a headline and nothing else.
    #[must_use]
    pub fn new(rule: &'static str, severity: Severity, span: Span, message: impl Into<String>) -> Self {
        Self {
            rule,
            severity,
            span,
            message: message.into(),
            labels: Vec::new(),
            help: None,
            source: None,
            place: Place::default(),
            allowed: None,
            missing: None,
        }
    }

    /// Adds what would pass.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help = Some(help.into());
        self
    }

    /// Adds another place.
    #[must_use]
    pub fn label(mut self, span: Span, text: impl Into<String>) -> Self {
        self.labels.push(Label { span, text: text.into() });
        self
    }

    /// Adds the source.
    #[must_use]
    pub fn source(mut self, source: impl Into<String>) -> Self {
        self.source = Some(source.into());
        self
    }

    /// Whether it stops printing: an error that no `[[allow]]` accepts.
    #[must_use]
    pub fn stops(&self) -> bool {
        self.severity == Severity::Error && self.allowed.is_none()
    }
}

/// A place that could not be judged in full for want of a fact that the spec does not give.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Unjudged {
    /// What could not be judged: traveler, step, joint or part.
    pub place: Place,
    /// The fact that is missing.
    pub why: String,
    /// Names of the rules that stayed silent for it.
    pub rules: Vec<&'static str>,
}

/// An entry of a file that was left out because it could not be read; what is wrong with it is a finding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// Its table, as `joint`.
    pub table: &'static str,
    /// Its id, where that could be read.
    pub id: Option<String>,
    /// Where it stands.
    pub span: Span,
}

/// All findings of a run.
#[derive(Debug, Clone, Default)]
pub struct Report {
    /// The findings; after [`Report::sort`] by file, place, severity and rule.
    pub findings: Vec<Finding>,
    /// Number of travelers judged.
    pub travelers: usize,
    /// What could not be judged.
    pub unjudged: Vec<Unjudged>,
    /// Entries that could not be read.
    pub left_out: Vec<LeftOut>,
}

/// Tables whose ids hold in their own file only.
const OF_ONE_FILE: [&str; 2] = ["part", "joint"];

impl LeftOut {
    /// Whether a finding that something is missing only follows from this: it was written, and could not be read.
    fn explains(&self, finding: &Finding) -> bool {
        let Some((kind, id)) = &finding.missing else { return false };
        // `drawing sheet` stands in the table `drawing`; a name may be of two kinds.
        let kinds = kind.split(" or ").filter_map(|kind| kind.split(' ').next());
        let same_file = self.span.file == finding.span.file;
        let near = same_file || !OF_ONE_FILE.contains(&self.table);
        // A joint of another traveler is missing with that one.
        let of_traveler = id.split_once('/').map(|(traveler, _)| traveler).filter(|_| self.table == "traveler");
        let is_it = |own: &String| own == id || of_traveler == Some(own.as_str());
        near && kinds.into_iter().any(|kind| kind == self.table) && self.id.as_ref().is_none_or(is_it)
    }
}

impl Report {
    /// Adds one finding.
    pub fn push(&mut self, finding: Finding) {
        self.findings.push(finding);
    }

    /// Adds many findings.
    pub fn extend(&mut self, findings: impl IntoIterator<Item = Finding>) {
        self.findings.extend(findings);
    }

    /// Takes out what only follows from entries that could not be read: names that lead to them.
    pub fn drop_followers(&mut self) {
        let left_out = std::mem::take(&mut self.left_out);
        self.findings.retain(|finding| !left_out.iter().any(|own| own.explains(finding)));
        self.left_out = left_out;
    }

    /// Leaves what is about these travelers, whose ids are given, and what stands in none of the files of the others.
    pub fn keep_to(&mut self, travelers: &BTreeSet<String>, files_of_others: &BTreeSet<FileId>) {
        let is_of = |place: &Place| place.traveler.as_ref().is_some_and(|id| travelers.contains(id));
        self.findings.retain(|own| is_of(&own.place) || !files_of_others.contains(&own.span.file));
        self.unjudged.retain(|own| is_of(&own.place));
        self.travelers = travelers.len();
    }

    /// Sorts by path and place, so that two runs print the same text.
    pub fn sort(&mut self, files: &Files) {
        self.findings.sort_by(|a, b| {
            let key = |f: &Finding| (f.span.start, f.span.end, f.severity, f.rule);
            files
                .path(a.span.file)
                .cmp(files.path(b.span.file))
                .then_with(|| key(a).cmp(&key(b)))
                .then_with(|| a.message.cmp(&b.message))
        });
        self.findings.dedup();
    }

    /// Number of findings of one severity that no `[[allow]]` accepts.
    #[must_use]
    pub fn count(&self, severity: Severity) -> usize {
        self.findings.iter().filter(|f| f.severity == severity && f.allowed.is_none()).count()
    }

    /// Whether anything stops printing.
    #[must_use]
    pub fn stops(&self) -> bool {
        self.findings.iter().any(Finding::stops)
    }
}
