//! Other hardware: numbers that decode and can be picked and printed, and that no rule judges.
//!
//! Turnbuckles, cable ends, pulleys, rod ends, clamps, grommets, hinges, safety wire, fluid fittings, pins. What the dash
//! counts is in the table, most of it from memory; nothing is measured against it.

use std::sync::LazyLock;

use serde::Deserialize;

use super::family::{Common, Family};
use super::number::{Call, Parts, Undecoded, clip, whole_number};
use super::source::Basis;
use super::table::{self, Sourced, Table};
use crate::units::{Length, Style};

/// Longest text that may follow the document.
const LONGEST: usize = 16;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    number: String,
    kind: String,
    words: String,
    means: String,
    example: String,
    #[serde(default)]
    first_of: Option<String>,
    #[serde(default)]
    first_per_inch: i64,
    #[serde(default)]
    last_of: Option<String>,
    #[serde(default)]
    last_per_inch: i64,
}

static PARTS: LazyLock<Table<Row>> = LazyLock::new(|| table::read("other_part"));

/// A part that decodes and is judged by no rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OtherPart {
    /// The part number.
    pub call: Call,
    /// What it is, in one word or two: `pulley`, `fluid fitting`.
    pub kind: String,
    /// What it is, in words.
    pub words: String,
    /// What its digits count: `tube`, with its size.
    pub sizes: Vec<(String, Length)>,
    /// What the decoding rests on.
    pub basis: Basis,
}

fn decode(parts: &Parts) -> Result<OtherPart, Undecoded> {
    let row = PARTS.rows.iter().find(|row| row.number == parts.standard);
    let row = row.ok_or_else(|| parts.fault("is not in the tables", "give it a [[fastener]] entry", "AN-DWG"))?;
    let rest = parts.rest.trim_end_matches('-');
    let plain = rest.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '/' | '.'));
    if !plain || rest.len() > LONGEST || !(rest.is_empty() || rest.contains(|c: char| c.is_ascii_digit())) {
        let help = format!("{}, as in {}", row.means, row.example);
        return Err(parts.fault(&format!("has an unknown ending: {}", clip(rest)), help, "AN-DWG"));
    }
    // Digits stand behind a dash, letters as in the example; a part of a standard keeps its stroke.
    let dashed = row.example.strip_prefix(&row.number).is_some_and(|tail| tail.starts_with('-'));
    let dash = match rest.chars().next() {
        Some(first) if first.is_ascii_digit() || (dashed && first.is_ascii_alphabetic()) => "-",
        _ => "",
    };
    Ok(OtherPart {
        call: Call::of(parts.text, format!("{}{dash}{rest}", row.number)),
        kind: row.kind.clone(),
        words: row.words.clone(),
        sizes: row.sizes(rest),
        basis: row.basis.clone(),
    })
}

impl Sourced<Row> {
    /// The sizes that the digits count: the first group, and the last where there are several.
    fn sizes(&self, rest: &str) -> Vec<(String, Length)> {
        let groups: Vec<i64> = rest.split(|c: char| !c.is_ascii_digit()).filter_map(whole_number).collect();
        let last = groups.last().filter(|_| groups.len() > 1);
        let first = self.first_of.iter().zip(groups.first()).map(|(of, n)| (of, n, self.first_per_inch));
        let last = self.last_of.iter().zip(last).map(|(of, n)| (of, n, self.last_per_inch));
        let said = first.chain(last).filter(|(_, _, per_inch)| *per_inch > 0);
        said.map(|(of, n, per_inch)| {
            let size = Length::from_mils(1_000).fraction(*n, per_inch);
            (of.clone(), size)
        })
        .collect()
    }
}

impl Family for OtherPart {
    fn documents() -> Vec<&'static str> {
        PARTS.rows.iter().map(|row| row.number.as_str()).collect()
    }

    fn decode(parts: &Parts<'_>) -> Result<Self, Undecoded> {
        decode(parts)
    }

    fn every_call() -> impl Iterator<Item = String> {
        PARTS.rows.iter().map(|row| row.example.clone())
    }

    fn common(&self) -> Common<'_> {
        Common::of(&self.call)
    }
}

impl OtherPart {
    /// Plain words for paper: `tube sleeve, tube 3/8 in`.
    #[must_use]
    pub fn describe(&self, style: &Style) -> String {
        let sizes = self.sizes.iter().map(|(of, size)| format!("{of} {}", style.short(*size)));
        std::iter::once(self.words.clone()).chain(sizes).collect::<Vec<_>>().join(", ")
    }
}
