//! The cursor over a TOML tree that keeps the place of every leaf and collects every fault of a file.
//!
//! It knows tables and keys, not forms or meanings. With `form` the only importer of the TOML parser for specs.

use toml::de::{DeTable, DeValue};

use super::section::{Form, Section};
use crate::report::{Finding, LeftOut, Report, Severity, fault};
use crate::text::{FileId, Files, Span, Spanned};
use crate::units::Style;

/// A value in the tree.
pub type Node<'a> = toml::Spanned<DeValue<'a>>;

/// A form that can be read.
pub trait Reads {
    /// As the page says it.
    const FORM: Form;

    /// What is read.
    type Value;

    /// Reads a value; what is wrong with it is a finding, and nothing comes back.
    fn read(node: &Node<'_>, name: &str, reading: &mut Reading) -> Option<Self::Value>;

    /// What stands where the key is absent, for forms that can be empty.
    fn absent(_table: Span, _reading: &mut Reading) -> Option<Self::Value> {
        None
    }
}

/// A table of the format that can be read.
pub trait Entry: Sized {
    /// Its keys.
    const SECTION: &'static Section;

    /// Reads every key, so that all faults are found, and then gives up if one is missing that must be there.
    fn read(table: &mut Table<'_, '_>) -> Option<Self>;
}

/// The file being read, the unit of its bare numbers, and what was wrong so far.
pub struct Reading {
    /// The file.
    pub file: FileId,
    /// Unit of a bare number, and how messages print sizes.
    pub style: Style,
    /// What was wrong so far.
    pub findings: Vec<Finding>,
    /// What was left out so far.
    pub left_out: Vec<LeftOut>,
    /// Name of the file without folder and ending.
    pub stem: String,
}

impl Reading {
    /// A range of the file's bytes.
    pub const fn span(&self, range: std::ops::Range<usize>) -> Span {
        Span { file: self.file, start: range.start, end: range.end }
    }

    /// A value that has the wrong form.
    pub fn invalid(&mut self, span: Span, message: impl Into<String>) -> &mut Finding {
        self.findings.push(Finding::new(fault::VALUE_INVALID, Severity::Error, span, message));
        self.findings.last_mut().expect("a finding was just pushed")
    }

    /// A value of another form than its key asks for.
    pub fn wrong(&mut self, node: &Node<'_>, name: &str, wanted: &str) {
        let span = self.span(node.span());
        let found = form_name(node.get_ref());
        self.invalid(span, format!("`{name}` is {found}, but it must be {wanted}"));
    }
}

/// Reads a whole file; every fault of syntax is a finding, and what could be read is read.
pub(super) fn file<T: Entry>(file: FileId, style: Style, files: &Files, report: &mut Report) -> Option<T> {
    let mut reading = Reading { file, style, findings: Vec::new(), left_out: Vec::new(), stem: stem(files.path(file)) };
    let tree = parse(files.text(file), &mut reading);
    let entry = T::read(&mut Table::new(tree.get_ref(), 0..0, T::SECTION, &mut reading));
    report.extend(reading.findings);
    report.left_out.extend(reading.left_out);
    entry
}

/// `BR-1` of `specs/BR-1.toml`.
fn stem(path: &str) -> String {
    let name = path.rsplit(['/', '\\']).next().unwrap_or(path);
    name.strip_suffix(".toml").unwrap_or(name).to_owned()
}

fn parse<'a>(text: &'a str, reading: &mut Reading) -> toml::Spanned<DeTable<'a>> {
    let (tree, faults) = DeTable::parse_recoverable(text);
    for fault in faults {
        // A fault without a place is shown at the file's beginning.
        let range = fault.span().unwrap_or(0..0);
        let span = reading.span(range.start.min(text.len())..range.end.min(text.len()));
        let message = format!("this is not TOML: {}", fault.message().lines().collect::<Vec<_>>().join("; "));
        let finding = Finding::new(fault::SPEC_UNREADABLE, Severity::Error, span, message).source("TOML 1.1");
        let help = if fault.message().contains("leading zero") {
            "a number begins with no 0: leave it out, or put the number between quotation marks, as \"050\""
        } else {
            "fix the line; the rest of the file was read as far as it goes"
        };
        reading.findings.push(finding.help(help));
    }
    tree
}

/// One table, read key by key.
pub struct Table<'a, 'r> {
    entries: &'a DeTable<'a>,
    span: Span,
    section: &'static Section,
    /// What its faults are added to.
    pub reading: &'r mut Reading,
}

impl<'a, 'r> Table<'a, 'r> {
    /// A table whose unknown keys are reported at once.
    pub fn new(
        table: &'a DeTable<'a>,
        range: std::ops::Range<usize>,
        section: &'static Section,
        reading: &'r mut Reading,
    ) -> Self {
        for key in table.keys() {
            if section.key(key.get_ref()).is_none() {
                report_unknown(key.get_ref(), reading.span(key.span()), section, reading);
            }
        }
        let span = reading.span(range);
        Self { entries: table, span, section, reading }
    }

    /// The place of the whole table.
    pub const fn span(&self) -> Span {
        self.span
    }

    fn node(&mut self, name: &'static str) -> Option<&'a Node<'a>> {
        let key = self.section.key(name);
        let node = self.entries.get(name);
        let other = key.and_then(|key| key.also).and_then(|also| self.entries.get_key_value(also));
        if let (Some(_), Some((other, _))) = (node, other) {
            let message = format!("`{}` and `{name}` are one key, and both are given", other.get_ref());
            let span = self.reading.span(other.span());
            self.reading.findings.push(Finding::new(fault::KEY_UNKNOWN, Severity::Error, span, message));
        }
        let node = node.or(other.map(|(_, node)| node));
        if let Some(key) = key.filter(|key| node.is_none() && key.required) {
            let message = format!("{} has no `{name}`", owner(self.section));
            let finding = Finding::new(fault::VALUE_INVALID, Severity::Error, self.span, message);
            self.reading.findings.push(finding.help(format!("add `{name} = ...`: {}", key.sentence())));
        }
        node
    }

    /// A value, if it is there and of its form.
    pub fn may<F: Reads>(&mut self, name: &'static str) -> Option<F::Value> {
        let node = self.node(name)?;
        F::read(node, name, self.reading)
    }

    /// A value without which the entry is left out.
    pub fn need<F: Reads>(&mut self, name: &'static str) -> Option<F::Value> {
        self.may::<F>(name)
    }

    /// A value that is empty where it is absent or wrong.
    pub fn any<F: Reads>(&mut self, name: &'static str) -> Option<F::Value> {
        self.may::<F>(name).or_else(|| F::absent(self.span, self.reading))
    }

    /// A value, or where it is absent what its form says; a wrong one leaves the entry out.
    pub fn own<F: Reads>(&mut self, name: &'static str) -> Option<F::Value> {
        match self.node(name) {
            Some(node) => F::read(node, name, self.reading),
            None => F::absent(self.span, self.reading),
        }
    }

    /// A value, or its default at the place of the table.
    pub fn or<F: Reads<Value = Spanned<T>>, T>(&mut self, name: &'static str, default: T) -> Spanned<T> {
        self.may::<F>(name).unwrap_or(Spanned { value: default, span: self.span })
    }
}

fn owner(section: &Section) -> String {
    if section.name.is_empty() { "the file".to_owned() } else { format!("`{}`", section.name) }
}

fn report_unknown(name: &str, span: Span, section: &Section, reading: &mut Reading) {
    let message = format!("{} has no key `{name}`", owner(section));
    let renamed = section.keys.iter().find(|key| key.was == Some(name));
    let names = section.keys.iter().map(|key| key.name);
    let help = match (renamed, nearest(name, names.clone())) {
        (Some(key), _) => format!("`{name}` is now called `{}`", key.name),
        (None, Some(known)) => format!("did you mean `{known}`?"),
        (None, None) => format!("its keys are: {}", names.collect::<Vec<_>>().join(", ")),
    };
    reading.findings.push(Finding::new(fault::KEY_UNKNOWN, Severity::Error, span, message).help(help));
}

/// The word that was probably meant, if one is near.
pub fn nearest<'a>(written: &str, words: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let plain = written.to_lowercase().replace('_', "-");
    let distance = |word: &str| strsim::damerau_levenshtein(&plain, &word.to_lowercase());
    let best = words.map(|word| (distance(word), word)).min_by_key(|(distance, _)| *distance)?;
    (best.0 <= (plain.chars().count() / 3).max(1)).then_some(best.1)
}

fn form_name(value: &DeValue<'_>) -> &'static str {
    match value {
        DeValue::String(_) => "a text",
        DeValue::Integer(_) | DeValue::Float(_) => "a number",
        DeValue::Boolean(_) => "`true` or `false`",
        DeValue::Datetime(_) => "a date",
        DeValue::Array(_) => "a list",
        DeValue::Table(_) => "a table",
    }
}
