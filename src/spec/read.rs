//! The cursor over a TOML tree that keeps the place of every leaf and collects every fault of a file.
//!
//! It knows forms (text, size, word), not meanings. The only importer of the TOML parser for specs.

use toml::de::{DeTable, DeValue};

use super::keys::Section;
use super::section::Text;
use crate::calendar::{Day, When};
use crate::report::{Finding, Severity, fault};
use crate::text::{FileId, Files, Span, Spanned, unprintable};
use crate::units::{Decimal, Length, Minutes, Ratio, Size, SizeFault, Temperature, TorqueRange, Unit};

type Node<'a> = toml::Spanned<DeValue<'a>>;

/// The file being read, the unit of its bare numbers, and what was wrong so far.
pub(super) struct Reading {
    pub file: FileId,
    pub unit: Unit,
    pub findings: Vec<Finding>,
}

impl Reading {
    fn span(&self, range: std::ops::Range<usize>) -> Span {
        Span { file: self.file, start: range.start, end: range.end }
    }

    /// A value that has the wrong form.
    pub fn invalid(&mut self, span: Span, message: impl Into<String>) -> &mut Finding {
        self.findings.push(Finding::new(fault::VALUE_INVALID, Severity::Error, span, message));
        self.findings.last_mut().expect("a finding was just pushed")
    }
}

/// Parses a whole file; every fault of syntax is a finding, and what could be read is returned.
pub(super) fn parse<'a>(file: FileId, files: &'a Files, reading: &mut Reading) -> toml::Spanned<DeTable<'a>> {
    let (tree, faults) = DeTable::parse_recoverable(files.text(file));
    for fault in faults {
        let end = files.text(file).len();
        let range = fault.span().unwrap_or(0..0);
        let span = reading.span(range.start.min(end)..range.end.min(end));
        let message = format!("this is not TOML: {}", fault.message().lines().collect::<Vec<_>>().join("; "));
        let finding = Finding::new(fault::SPEC_UNREADABLE, Severity::Error, span, message).source("TOML 1.1");
        reading.findings.push(finding.help("fix the line; the rest of the file was read as far as it goes"));
    }
    tree
}

/// One table, read key by key.
pub(super) struct Table<'a, 'r> {
    entries: &'a DeTable<'a>,
    span: Span,
    section: &'static Section,
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
            if !section.keys.iter().any(|known| known.name == key.get_ref().as_ref()) {
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
        let key = self.section.keys.iter().find(|key| key.name == name);
        debug_assert!(key.is_some(), "`{name}` is read but not listed in section `{}`", self.section.name);
        let node = self.entries.get(name);
        if node.is_none() && key.is_some_and(|key| key.required) {
            let owner =
                if self.section.name.is_empty() { "the file".to_owned() } else { format!("`{}`", self.section.name) };
            let finding =
                Finding::new(fault::VALUE_INVALID, Severity::Error, self.span, format!("{owner} has no `{name}`"));
            let doc = key.map_or("", |key| key.doc);
            self.reading.findings.push(finding.help(format!("add `{name} = ...`: {doc}")));
        }
        node
    }

    fn wrong(&mut self, node: &Node<'_>, name: &str, wanted: &str) {
        let span = self.reading.span(node.span());
        let found = form_name(node.get_ref());
        self.reading.invalid(span, format!("`{name}` is {found}, but it must be {wanted}"));
    }

    /// A text.
    pub fn text(&mut self, name: &'static str) -> Option<Text> {
        let node = self.node(name)?;
        self.text_of(node, name)
    }

    fn text_of(&mut self, node: &Node<'_>, name: &str) -> Option<Text> {
        let DeValue::String(text) = node.get_ref() else {
            self.wrong(node, name, "a text in quotes");
            return None;
        };
        let span = self.reading.span(node.span());
        if let Some((_, c)) = unprintable(text) {
            let message = format!("`{name}` holds U+{:04X}, which the paper's fonts cannot print", c as u32);
            self.reading.invalid(span, message).help =
                Some("write it with Latin, Greek or Cyrillic letters, digits and signs".into());
            return None;
        }
        Some(Spanned { value: text.to_string(), span })
    }

    /// A text that must not be empty.
    pub fn filled(&mut self, name: &'static str) -> Option<Text> {
        let text = self.text(name)?;
        if text.value.trim().is_empty() {
            self.reading.invalid(text.span, format!("`{name}` is empty"));
            return None;
        }
        Some(text)
    }

    /// A list of texts; absent is empty.
    pub fn texts(&mut self, name: &'static str) -> Vec<Text> {
        let Some(node) = self.node(name) else { return Vec::new() };
        let DeValue::Array(items) = node.get_ref() else {
            self.wrong(node, name, "a list of texts");
            return Vec::new();
        };
        items.iter().filter_map(|item| self.text_of(item, name)).collect()
    }

    /// A date as `2026-03-02`, written bare or as a text.
    pub fn date(&mut self, name: &'static str) -> Option<Spanned<Day>> {
        let node = self.node(name)?;
        let date: Option<toml::value::Datetime> = match node.get_ref() {
            DeValue::Datetime(date) => Some(*date),
            DeValue::String(text) => text.parse().ok(),
            _ => None,
        };
        let day = date.and_then(|when| when.date).and_then(|date| Day::new(date.year, date.month, date.day));
        if day.is_none() {
            self.wrong(node, name, "a date like 2026-03-02");
        }
        Some(Spanned { value: day?, span: self.reading.span(node.span()) })
    }

    /// A date, or a date and time without a zone, written bare or as a text.
    pub fn when(&mut self, name: &'static str) -> Option<Spanned<When>> {
        let node = self.node(name)?;
        let span = self.reading.span(node.span());
        let text = match node.get_ref() {
            DeValue::Datetime(when) if when.offset.is_none() => when.to_string(),
            DeValue::String(text) => text.to_string(),
            _ => {
                let form = "a date like 2026-03-02, or a date and time like 2026-03-02T19:30, without a time zone";
                self.wrong(node, name, form);
                return None;
            }
        };
        match When::parse(text.split('.').next().unwrap_or_default()) {
            Ok(value) => Some(Spanned { value, span }),
            Err(fault) => {
                self.reading.invalid(span, format!("`{name}`: {fault}"));
                None
            }
        }
    }

    /// `true` or `false`.
    pub fn flag(&mut self, name: &'static str) -> Option<Spanned<bool>> {
        let node = self.node(name)?;
        let DeValue::Boolean(value) = node.get_ref() else {
            self.wrong(node, name, "`true` or `false`");
            return None;
        };
        Some(Spanned { value: *value, span: self.reading.span(node.span()) })
    }

    /// A whole number from `least` to 100,000.
    pub fn count(&mut self, name: &'static str, least: u32) -> Option<Spanned<u32>> {
        let node = self.node(name)?;
        let span = self.reading.span(node.span());
        let DeValue::Integer(number) = node.get_ref() else {
            self.wrong(node, name, "a whole number");
            return None;
        };
        let value = i64::from_str_radix(number.as_str(), number.radix()).ok().and_then(|n| u32::try_from(n).ok());
        let value = value.filter(|n| (least..=100_000).contains(n));
        if value.is_none() {
            self.reading
                .invalid(span, format!("`{name}` is {}, but it must lie between {least} and 100,000", number.as_str()));
        }
        value.map(|value| Spanned { value, span })
    }

    /// One word of a fixed list.
    pub fn word<T: Copy>(
        &mut self,
        name: &'static str,
        words: &[&str],
        parse: fn(&str) -> Option<T>,
    ) -> Option<Spanned<T>> {
        let node = self.node(name)?;
        self.word_of(node, name, words, parse)
    }

    fn word_of<T: Copy>(
        &mut self,
        node: &Node<'_>,
        name: &str,
        words: &[&str],
        parse: fn(&str) -> Option<T>,
    ) -> Option<Spanned<T>> {
        let text = self.text_of(node, name)?;
        let value = parse(&text.value);
        if value.is_none() {
            let message = format!("`{name}` is `{}`, which is none of its words", text.value);
            let nearest = nearest(&text.value, words.iter().copied())
                .map_or(String::new(), |word| format!("did you mean `{word}`? "));
            self.reading.invalid(text.span, message).help = Some(format!("{nearest}one of: {}", words.join(", ")));
        }
        value.map(|value| Spanned { value, span: text.span })
    }

    /// One word of a fixed list, or a list of them; absent is empty.
    pub fn words<T: Copy>(
        &mut self,
        name: &'static str,
        words: &[&str],
        parse: fn(&str) -> Option<T>,
    ) -> Vec<Spanned<T>> {
        let Some(node) = self.node(name) else { return Vec::new() };
        match node.get_ref() {
            DeValue::Array(items) => items.iter().filter_map(|item| self.word_of(item, name, words, parse)).collect(),
            _ => self.word_of(node, name, words, parse).into_iter().collect(),
        }
    }

    fn scalar<T>(
        &mut self,
        node: &Node<'_>,
        name: &str,
        wanted: &str,
        parse: impl Fn(&str) -> Result<T, SizeFault>,
    ) -> Option<Spanned<T>> {
        let span = self.reading.span(node.span());
        let result = match node.get_ref() {
            DeValue::String(text) => parse(text),
            DeValue::Integer(number) if number.radix() == 10 => parse(number.as_str()),
            DeValue::Float(number) => parse(number.as_str()),
            _ => {
                self.wrong(node, name, wanted);
                return None;
            }
        };
        match result {
            Ok(value) => Some(Spanned { value, span }),
            Err(fault) => {
                self.reading.invalid(span, format!("`{name}`: {fault}"));
                None
            }
        }
    }

    /// A size, larger than nothing.
    pub fn size(&mut self, name: &'static str) -> Option<Spanned<Size>> {
        let node = self.node(name)?;
        self.size_of(node, name)
    }

    fn size_of(&mut self, node: &Node<'_>, name: &str) -> Option<Spanned<Size>> {
        let unit = self.reading.unit;
        let size = self.scalar(node, name, "a size like \"0.063\", \"1/4\", \"#30\" or \"3.2 mm\"", |text| {
            Size::parse(text, unit)
        })?;
        if size.value.length <= Length::ZERO {
            self.reading
                .invalid(size.span, format!("`{name}` is {}: a size is larger than nothing", size.value.length));
            return None;
        }
        Some(size)
    }

    /// One size or a list of sizes; absent is empty.
    pub fn sizes(&mut self, name: &'static str) -> Vec<Spanned<Size>> {
        let Some(node) = self.node(name) else { return Vec::new() };
        match node.get_ref() {
            DeValue::Array(items) => items.iter().filter_map(|item| self.size_of(item, name)).collect(),
            _ => self.size_of(node, name).into_iter().collect(),
        }
    }

    /// Exactly two sizes, smaller first.
    pub fn size_pair(&mut self, name: &'static str) -> Option<(Spanned<Size>, Spanned<Size>)> {
        let node = self.node(name)?;
        let span = self.reading.span(node.span());
        let DeValue::Array(items) = node.get_ref() else {
            self.wrong(node, name, "two sizes, as [\"0.160\", \"0.164\"]");
            return None;
        };
        let sizes: Vec<Spanned<Size>> = items.iter().filter_map(|item| self.size_of(item, name)).collect();
        match sizes[..] {
            [low, high] if items.len() == 2 && low.value.length <= high.value.length => Some((low, high)),
            _ => {
                self.reading.invalid(span, format!("`{name}` must hold exactly two sizes, the smaller one first"));
                None
            }
        }
    }

    /// A list of pairs of sizes; absent is empty.
    pub fn size_pairs(&mut self, name: &'static str) -> Vec<Spanned<(Size, Size)>> {
        let Some(node) = self.node(name) else { return Vec::new() };
        let DeValue::Array(items) = node.get_ref() else {
            self.wrong(node, name, "a list of pairs, as [[\"0.5\", \"0.25\"]]");
            return Vec::new();
        };
        let mut pairs = Vec::with_capacity(items.len());
        for item in items {
            let span = self.reading.span(item.span());
            match item.get_ref() {
                DeValue::Array(pair) if pair.len() == 2 => {
                    let sizes: Vec<Spanned<Size>> = pair.iter().filter_map(|size| self.size_of(size, name)).collect();
                    if let [along, across] = sizes[..] {
                        pairs.push(Spanned { value: (along.value, across.value), span });
                    }
                }
                _ => self.wrong(item, name, "a pair of sizes, as [\"0.5\", \"0.25\"]"),
            }
        }
        pairs
    }

    /// A multiple of the diameter.
    pub fn ratio(&mut self, name: &'static str) -> Option<Spanned<Ratio>> {
        let node = self.node(name)?;
        self.scalar(node, name, "a multiple of the diameter like \"1.5 D\"", Ratio::parse)
    }

    /// A torque or a range.
    pub fn torque(&mut self, name: &'static str) -> Option<Spanned<TorqueRange>> {
        let node = self.node(name)?;
        self.scalar(node, name, "a torque like \"20-25 in-lb\"", TorqueRange::parse)
    }

    /// A temperature.
    pub fn temperature(&mut self, name: &'static str) -> Option<Spanned<Temperature>> {
        let node = self.node(name)?;
        self.scalar(node, name, "a temperature like \"250 F\"", Temperature::parse)
    }

    /// A duration.
    pub fn duration(&mut self, name: &'static str) -> Option<Spanned<Minutes>> {
        let node = self.node(name)?;
        self.scalar(node, name, "a duration like \"24 h\"", Minutes::parse)
    }

    /// A signed decimal.
    pub fn decimal(&mut self, name: &'static str) -> Option<Spanned<Decimal>> {
        let node = self.node(name)?;
        self.scalar(node, name, "a number", Decimal::parse)
    }

    /// An inline table or a section, read by `read`.
    pub fn table<T>(
        &mut self,
        name: &'static str,
        section: &'static Section,
        read: impl Fn(&mut Table<'a, '_>) -> T,
    ) -> Option<T> {
        let node = self.node(name)?;
        let DeValue::Table(table) = node.get_ref() else {
            self.wrong(node, name, "a table");
            return None;
        };
        Some(read(&mut Table::new(table, node.span(), section, self.reading)))
    }

    /// Repeated tables, each read by `read`; those of which the needed keys are missing are left out.
    pub fn tables<T>(
        &mut self,
        name: &'static str,
        section: &'static Section,
        read: impl Fn(&mut Table<'a, '_>) -> Option<T>,
    ) -> Vec<T> {
        let Some(node) = self.node(name) else { return Vec::new() };
        let DeValue::Array(items) = node.get_ref() else {
            self.wrong(node, name, &format!("repeated tables: write [[{name}]]"));
            return Vec::new();
        };
        let mut all = Vec::with_capacity(items.len());
        for item in items {
            match item.get_ref() {
                DeValue::Table(table) => all.extend(read(&mut Table::new(table, item.span(), section, self.reading))),
                _ => self.wrong(item, name, "a table"),
            }
        }
        all
    }

    /// A list whose items are texts or tables: `text` takes the one, `read` the other.
    pub fn mixed<T>(
        &mut self,
        name: &'static str,
        section: &'static Section,
        text: impl Fn(Text) -> T,
        read: impl Fn(&mut Table<'a, '_>) -> T,
    ) -> Option<Spanned<Vec<T>>> {
        let node = self.node(name)?;
        let span = self.reading.span(node.span());
        let DeValue::Array(items) = node.get_ref() else {
            self.wrong(node, name, "a list");
            return None;
        };
        let mut all = Vec::with_capacity(items.len());
        for item in items {
            match item.get_ref() {
                DeValue::Table(table) => all.push(read(&mut Table::new(table, item.span(), section, self.reading))),
                _ => all.extend(self.text_of(item, name).map(&text)),
            }
        }
        Some(Spanned { value: all, span })
    }

    /// A table with keys of the builder's own and texts or numbers as values, kept as written.
    pub fn value_map(&mut self, name: &'static str) -> Vec<(Text, Text)> {
        self.map(name, |table, node, key| match node.get_ref() {
            DeValue::Integer(number) => Some(number.as_str().to_owned()),
            DeValue::Float(number) => Some(number.as_str().to_owned()),
            _ => table.text_of(node, key).map(|text| text.value),
        })
    }

    /// A table with keys of the builder's own and texts as values, in the order of the file.
    pub fn text_map(&mut self, name: &'static str) -> Vec<(Text, Text)> {
        self.map(name, |table, node, key| table.text_of(node, key).map(|text| text.value))
    }

    fn map(
        &mut self,
        name: &'static str,
        read: impl Fn(&mut Self, &Node<'_>, &str) -> Option<String>,
    ) -> Vec<(Text, Text)> {
        let Some(node) = self.node(name) else { return Vec::new() };
        let DeValue::Table(table) = node.get_ref() else {
            self.wrong(node, name, "a table");
            return Vec::new();
        };
        let mut all = Vec::new();
        for (key, value) in table {
            let name = Spanned { value: key.get_ref().to_string(), span: self.reading.span(key.span()) };
            let span = self.reading.span(value.span());
            all.extend(read(self, value, key.get_ref()).map(|value| (name, Spanned { value, span })));
        }
        all
    }
}

fn report_unknown(name: &str, span: Span, section: &Section, reading: &mut Reading) {
    let owner = if section.name.is_empty() { "the file".to_owned() } else { format!("`{}`", section.name) };
    let mut finding = Finding::new(fault::KEY_UNKNOWN, Severity::Error, span, format!("{owner} has no key `{name}`"));
    let names = section.keys.iter().map(|key| key.name);
    finding.help = Some(match nearest(name, names.clone()) {
        Some(known) => format!("did you mean `{known}`?"),
        None => format!("its keys are: {}", names.collect::<Vec<_>>().join(", ")),
    });
    reading.findings.push(finding);
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
