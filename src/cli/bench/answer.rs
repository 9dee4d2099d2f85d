//! An answer as rows, printed for a reader or for a program from the same rows.
//!
//! Every row may carry what it rests on; the reader gets the sources spelled out below, the program beside the values.

use std::fmt::Write;

use serde_json::{Map, Number, Value, json};

use crate::hardware::{Basis, Graded, ListedHole, Sureness};
use crate::units::{Length, Ratio, Style, Torque, Unit};

/// What a row holds.
#[derive(Debug, Clone)]
pub(super) enum Shown {
    /// Nothing is known, with the reason for the reader.
    Nothing(&'static str),
    /// A word or a sentence.
    Text(String),
    /// Several words.
    Texts(Vec<String>),
    /// Yes or no.
    Flag(bool),
    /// A whole number with its unit for the reader.
    Count(i64, &'static str),
    /// Tenths of a number.
    Tenths(i64),
    /// A plain ratio.
    Ratio(Ratio),
    /// A length.
    Length(Length),
    /// Smallest and largest.
    Range(Length, Length),
    /// A torque.
    Torque(Torque),
    /// Listed holes, each with its own source.
    Holes(Vec<ListedHole>),
    /// Rows of their own.
    Group(Vec<Row>),
    /// Several groups.
    Groups(Vec<Vec<Row>>),
}

/// One row of an answer.
#[derive(Debug, Clone)]
pub(super) struct Row {
    /// Key for programs.
    key: &'static str,
    /// Label for readers; empty where the row is for programs only.
    label: &'static str,
    shown: Shown,
    basis: Option<Basis>,
}

impl Row {
    /// A row that rests on nothing but what was typed or on arithmetic.
    pub(super) const fn plain(key: &'static str, label: &'static str, shown: Shown) -> Self {
        Self { key, label, shown, basis: None }
    }

    /// A row with what it rests on.
    pub(super) const fn sourced(key: &'static str, label: &'static str, shown: Shown, basis: Basis) -> Self {
        Self { key, label, shown, basis: Some(basis) }
    }

    /// A length of the tables.
    pub(super) fn length(key: &'static str, label: &'static str, graded: Graded<Length>) -> Self {
        Self::sourced(key, label, Shown::Length(graded.value), graded.basis)
    }

    /// A length of the tables that may be absent.
    pub(super) fn some_length(
        key: &'static str,
        label: &'static str,
        graded: Option<Graded<Length>>,
        absent: &'static str,
    ) -> Self {
        graded
            .map_or_else(|| Self::plain(key, label, Shown::Nothing(absent)), |graded| Self::length(key, label, graded))
    }
}

/// The answer to one question.
#[derive(Debug, Clone, Default)]
pub(super) struct Answer {
    /// First line for the reader.
    pub(super) title: String,
    /// The rows.
    pub(super) rows: Vec<Row>,
    /// Sentences that the reader must not miss.
    pub(super) notes: Vec<String>,
}

/// Column in which the values stand, less one.
const LABEL_END: usize = 30;

/// Printed under every answer.
const DEFERS: &str = "The plans outrank the tables; this is arithmetic over published values, not an instruction.";

impl Answer {
    /// The answer as one JSON object.
    pub(super) fn for_programs(&self, style: &Style) -> String {
        let mut sources = Map::new();
        let mut object = object_of(&self.rows, "", style, &mut sources);
        // A torque has named its own unit.
        let unit = if object.contains_key("unit") { "length-unit" } else { "unit" };
        object.insert(unit.into(), json!(style.word()));
        object.insert("sources".into(), Value::Object(sources));
        object.insert("notes".into(), json!(self.notes));
        format!("{:#}\n", Value::Object(object))
    }

    /// The answer as text.
    pub(super) fn for_reading(&self, style: &Style) -> String {
        let mut text = format!("{}\n", self.title);
        let mut cited: Vec<Basis> = Vec::new();
        write_rows(&self.rows, 2, style, &mut text, &mut cited);
        for note in &self.notes {
            let _ = writeln!(text, "\nNote: {note}");
        }
        if !cited.is_empty() {
            text.push_str("\nSources\n");
        }
        // Without a source there is no line to align.
        let widest = cited.iter().map(|basis| mark(basis).chars().count()).max().unwrap_or(0);
        for basis in &cited {
            let _ = writeln!(text, "  {:<widest$}  {} ({})", mark(basis), basis.cite(), sureness_words(basis.sureness));
        }
        let _ = writeln!(text, "\n{DEFERS}");
        text
    }
}

fn object_of(rows: &[Row], prefix: &str, style: &Style, sources: &mut Map<String, Value>) -> Map<String, Value> {
    let mut object = Map::new();
    for row in rows {
        let path = format!("{prefix}{}", row.key);
        if let Some(basis) = &row.basis {
            sources.insert(path.clone(), basis_value(basis));
        }
        object.insert(row.key.to_owned(), value_of(&row.shown, &path, style, sources));
    }
    object
}

fn value_of(shown: &Shown, path: &str, style: &Style, sources: &mut Map<String, Value>) -> Value {
    match shown {
        Shown::Nothing(_) => Value::Null,
        Shown::Text(text) => json!(text),
        Shown::Texts(texts) => json!(texts),
        Shown::Flag(flag) => json!(flag),
        Shown::Count(count, _) => json!(count),
        Shown::Tenths(tenths) => number(&tenths_text(*tenths)),
        Shown::Ratio(ratio) => number(&ratio.to_string()),
        Shown::Length(length) => length_value(*length, style),
        Shown::Range(low, high) => json!([length_value(*low, style), length_value(*high, style)]),
        Shown::Torque(torque) => number(&style.exact_torque(*torque)),
        Shown::Holes(holes) => holes.iter().map(|hole| hole_value(hole, style)).collect(),
        Shown::Group(rows) => Value::Object(object_of(rows, &format!("{path}/"), style, sources)),
        Shown::Groups(groups) => {
            let numbered = groups.iter().enumerate();
            numbered
                .map(|(index, rows)| Value::Object(object_of(rows, &format!("{path}/{index}/"), style, sources)))
                .collect()
        }
    }
}

fn hole_value(hole: &ListedHole, style: &Style) -> Value {
    json!({
        "drill": style.drill(hole.size),
        "size": length_value(hole.size.length, style),
        "low": length_value(hole.low, style),
        "high": length_value(hole.high, style),
        "nominal": hole.nominal,
        "source": basis_value(&hole.basis),
    })
}

fn basis_value(basis: &Basis) -> Value {
    json!({ "key": basis.source, "cite": basis.cite(), "sureness": sureness_mark(basis.sureness) })
}

fn length_value(length: Length, style: &Style) -> Value {
    number(&match style.unit {
        Unit::Inch => length.inch_exact(),
        Unit::Mm => length.mm_exact(),
    })
}

/// A JSON number from exact decimal text.
fn number(text: &str) -> Value {
    text.parse::<Number>().map_or_else(|_| Value::String(text.to_owned()), Value::Number)
}

fn tenths_text(tenths: i64) -> String {
    if tenths % 10 == 0 { (tenths / 10).to_string() } else { format!("{}.{}", tenths / 10, tenths % 10) }
}

fn write_rows(rows: &[Row], indent: usize, style: &Style, text: &mut String, cited: &mut Vec<Basis>) {
    for row in rows.iter().filter(|row| !row.label.is_empty()) {
        let width = LABEL_END.saturating_sub(indent);
        match &row.shown {
            Shown::Group(inner) => {
                let _ = writeln!(text, "{:indent$}{}", "", row.label);
                write_rows(inner, indent + 2, style, text, cited);
            }
            Shown::Groups(groups) => {
                for inner in groups {
                    let _ = writeln!(text, "{:indent$}{}", "", row.label);
                    write_rows(inner, indent + 2, style, text, cited);
                }
            }
            Shown::Holes(holes) => {
                for (index, hole) in holes.iter().enumerate() {
                    let label = if index == 0 { row.label } else { "" };
                    write_line(text, indent, width, label, &hole_text(hole, style), Some(&hole.basis), cited);
                }
            }
            shown => write_line(text, indent, width, row.label, &text_of(shown, style), row.basis.as_ref(), cited),
        }
    }
}

fn write_line(
    text: &mut String,
    indent: usize,
    width: usize,
    label: &str,
    shown: &str,
    basis: Option<&Basis>,
    cited: &mut Vec<Basis>,
) {
    let source = basis.map_or_else(String::new, |basis| format!("  [{}]", mark(basis)));
    let _ = writeln!(text, "{:indent$}{label:<width$} {shown}{source}", "");
    if let Some(basis) = basis.filter(|basis| !cited.contains(basis)) {
        cited.push(basis.clone());
    }
}

fn text_of(shown: &Shown, style: &Style) -> String {
    match shown {
        Shown::Nothing(why) => format!("not listed: {why}"),
        Shown::Text(text) => text.clone(),
        Shown::Texts(texts) if texts.is_empty() => "none".to_owned(),
        Shown::Texts(texts) => texts.join(", "),
        Shown::Flag(flag) => if *flag { "yes" } else { "no" }.to_owned(),
        Shown::Count(pounds, "lb") => style.force(*pounds),
        Shown::Count(count, unit) => format!("{count} {unit}").trim_end().to_owned(),
        Shown::Tenths(tenths) => tenths_text(*tenths),
        Shown::Ratio(ratio) => ratio.to_string(),
        Shown::Length(length) => style.length(*length),
        Shown::Range(low, high) => style.range(*low, *high),
        Shown::Torque(torque) => style.torque(*torque),
        Shown::Holes(_) | Shown::Group(_) | Shown::Groups(_) => String::new(),
    }
}

fn hole_text(hole: &ListedHole, style: &Style) -> String {
    let range = if hole.low == hole.high { String::new() } else { format!(", {}", style.range(hole.low, hole.high)) };
    format!("{}{range}{}", style.size(hole.size), if hole.nominal { ", nominal" } else { "" })
}

/// Key and sureness: `TM-221 A`; the builder's own words stand for themselves.
fn mark(basis: &Basis) -> String {
    format!("{} {}", basis.source, sureness_mark(basis.sureness))
}

const fn sureness_mark(sureness: Sureness) -> &'static str {
    match sureness {
        Sureness::A => "A",
        Sureness::ACalc => "A-calc",
        Sureness::B => "B",
        Sureness::Elsewhere => "A-else",
        Sureness::C => "C",
        Sureness::D => "D",
        Sureness::Given => "given",
    }
}

const fn sureness_words(sureness: Sureness) -> &'static str {
    match sureness {
        Sureness::A => "A: read in the document",
        Sureness::ACalc => "A-calc: recomputed from values that were read",
        Sureness::B => "B: read where the document is quoted, or in part",
        Sureness::Elsewhere => "A-else: read, in a page that speaks of something else",
        Sureness::C => "C: from memory, confident",
        Sureness::D => "D: from memory, not confident",
        Sureness::Given => "given by the builder",
    }
}
