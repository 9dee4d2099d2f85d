//! What is typed after an evening: one TOML file with signatures, discrepancies, corrections, visits.
//!
//! Its form only: unknown keys and wrong types are refused with line and column. What it says is judged in `enter`.

use std::collections::BTreeMap;
use std::ops::Range;

use serde::{Deserialize, Deserializer};
use toml::de::{DeTable, DeValue};
use toml::value::Datetime;

use super::printable::unprintable_texts;
use super::value::{Capacity, Class, Disposition, Reading, Stops, Value as _};
use crate::calendar::Day;
use crate::ident::SheetCode;

/// A file as typed. `by`, `on` and `place` at its top stand for entries that do not give their own.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case", default)]
pub struct Typed {
    /// Initials.
    pub by: Option<String>,
    /// Day of the work.
    #[serde(deserialize_with = "some_day")]
    pub on: Option<Day>,
    /// Where the work was done; absent where it is not said.
    pub place: Option<String>,
    /// Visits.
    pub visit: Vec<TypedVisit>,
    /// Discrepancies found.
    pub discrepancy: Vec<TypedDiscrepancy>,
    /// Signatures.
    pub sign: Vec<TypedSignature>,
    /// Discrepancies closed.
    pub close: Vec<TypedClosing>,
    /// Corrections.
    pub correct: Vec<TypedCorrection>,
    /// Entries struck out.
    pub strike: Vec<TypedStrike>,
    /// Answers to findings.
    pub answer: Vec<TypedAnswer>,
    /// Change notes that were read.
    pub read: Vec<TypedSheet>,
    /// Replaced sheets that were marked and taken off the bench.
    pub mark: Vec<TypedSheet>,
    /// Sheets whose paper is lost.
    pub lost: Vec<TypedSheet>,
    /// Sheets that no longer count.
    pub void: Vec<TypedSheet>,
}

/// `[[sign]]`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct TypedSignature {
    /// Code of the sheet.
    #[serde(deserialize_with = "code")]
    pub sheet: SheetCode,
    /// The step: its number on the sheet, its id, or `TRAVELER/step`.
    #[serde(deserialize_with = "name_or_number")]
    pub step: String,
    /// What it is for; absent: the work was done, or a stage where one or an outcome is given.
    #[serde(rename = "for", default, deserialize_with = "some_word")]
    pub capacity: Option<Capacity>,
    /// Id of the stage, where the step has more than one.
    pub stage: Option<String>,
    /// The outcome of a stage, in the words of the project.
    pub outcome: Option<String>,
    /// In which role; absent: the first of the signer's that fits.
    pub role: Option<String>,
    /// Initials.
    pub by: Option<String>,
    /// What stands in the fields beside the box, by their names.
    #[serde(default, deserialize_with = "readings")]
    pub asked: Vec<Reading>,
    /// Day of the work.
    #[serde(default, deserialize_with = "some_day")]
    pub on: Option<Day>,
    /// Minutes of work.
    pub minutes: Option<u32>,
    /// Who helped.
    #[serde(default)]
    pub helpers: Vec<String>,
    /// Who helped for pay.
    #[serde(default)]
    pub paid_helpers: Vec<String>,
    /// Values by record id.
    #[serde(default, deserialize_with = "readings")]
    pub readings: Vec<Reading>,
    /// Numbers of photos.
    #[serde(default, deserialize_with = "names_or_numbers")]
    pub photos: Vec<String>,
    /// Numbers of discrepancies.
    #[serde(default)]
    pub discrepancies: Vec<String>,
    /// What was fitted.
    #[serde(default)]
    pub as_built: Vec<String>,
    /// Where the work was done; absent: as the whole file says.
    pub place: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// From what a lost signature is put together again.
    pub reconstructed_from: Option<String>,
    /// Why a space is closed although something is left in it.
    pub despite: Option<String>,
    /// Why it is signed although a step before it is open, a cure runs or a discrepancy stops it.
    pub because: Option<String>,
}

/// `[[discrepancy]]`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct TypedDiscrepancy {
    /// Its number; absent: the next one.
    pub number: Option<String>,
    /// What is wrong.
    pub what: String,
    /// What should be.
    pub should_be: Option<String>,
    /// What is.
    pub is: Option<String>,
    /// The sheet.
    #[serde(default, deserialize_with = "some_code")]
    pub sheet: Option<SheetCode>,
    /// The step: its number on the sheet, its id, or `TRAVELER/step`.
    #[serde(default, deserialize_with = "some_name_or_number")]
    pub step: Option<String>,
    /// The space.
    #[serde(alias = "zone")]
    pub space: Option<String>,
    /// The joint.
    pub joint: Option<String>,
    /// How far it stops the work; absent: the step.
    #[serde(default, deserialize_with = "some_stops")]
    pub stops: Option<Stops>,
    /// How much it weighs; absent: major.
    #[serde(default, alias = "weight", deserialize_with = "some_word")]
    pub class: Option<Class>,
    /// Numbers of photos.
    #[serde(default, deserialize_with = "names_or_numbers")]
    pub photos: Vec<String>,
    /// Who found it.
    pub by: Option<String>,
    /// Day; absent: that of the whole file, or of the entry.
    #[serde(default, deserialize_with = "some_day")]
    pub on: Option<Day>,
}

/// `[[close]]`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct TypedClosing {
    /// Number of the discrepancy.
    pub discrepancy: String,
    /// What was decided.
    #[serde(deserialize_with = "word")]
    pub disposition: Disposition,
    /// On whose word.
    pub authority: String,
    /// Letter, table or paragraph.
    pub reference: Option<String>,
    /// Values read afterwards.
    #[serde(default, deserialize_with = "readings")]
    pub after: Vec<Reading>,
    /// What was fitted or changed for good.
    #[serde(default)]
    pub as_built: Vec<String>,
    /// Initials; absent: those of the whole file.
    pub by: Option<String>,
    /// Day; absent: that of the whole file, or of the entry.
    #[serde(default, deserialize_with = "some_day")]
    pub on: Option<Day>,
    /// Who looked at it.
    pub looked_at_by: Option<String>,
}

/// `[[correct]]`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct TypedCorrection {
    /// Number of the entry.
    pub entry: u32,
    /// Key of the line; of a reading, `reading` and its id.
    pub field: String,
    /// What holds; absent: nothing.
    pub now: Option<String>,
    /// Initials; absent: those of the whole file.
    pub by: Option<String>,
    /// Day; absent: that of the whole file, or of the entry.
    #[serde(default, deserialize_with = "some_day")]
    pub on: Option<Day>,
    /// Reason for the correction.
    pub because: String,
}

/// `[[strike]]`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct TypedStrike {
    /// Number of the entry.
    pub entry: u32,
    /// Initials; absent: those of the whole file.
    pub by: Option<String>,
    /// Day; absent: that of the whole file, or of the entry.
    #[serde(default, deserialize_with = "some_day")]
    pub on: Option<Day>,
    /// Reason for striking it out.
    pub because: String,
}

/// `[[visit]]`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct TypedVisit {
    /// Initials of the visitor.
    pub by: Option<String>,
    /// In which role; absent: the signer's.
    pub role: Option<String>,
    /// Day; absent: that of the whole file, or of the entry.
    #[serde(default, deserialize_with = "some_day")]
    pub on: Option<Day>,
    /// Spaces that were open.
    #[serde(default, alias = "zones")]
    pub spaces: Vec<String>,
    /// The visitor's own report number.
    pub reference: Option<String>,
    /// Anything else.
    pub note: Option<String>,
    /// What was found.
    #[serde(default)]
    pub finding: Vec<TypedFinding>,
}

/// `[[visit.finding]]`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct TypedFinding {
    /// Number on the visit's page; absent: counted.
    #[serde(default, deserialize_with = "some_name_or_number")]
    pub number: Option<String>,
    /// What was found, in the visitor's words.
    pub what: String,
    /// The space.
    #[serde(alias = "zone")]
    pub space: Option<String>,
    /// The traveler.
    pub traveler: Option<String>,
    /// What the visitor suggests.
    pub suggested: Option<String>,
    /// Whether it must be dealt with before the space closes; absent: yes. Such a finding opens a discrepancy.
    pub before_close: Option<bool>,
}

/// `[[answer]]`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct TypedAnswer {
    /// Entry of the finding.
    pub finding: u32,
    /// What was done.
    pub answer: String,
    /// Initials; absent: those of the whole file.
    pub by: Option<String>,
    /// Day; absent: that of the whole file, or of the entry.
    #[serde(default, deserialize_with = "some_day")]
    pub on: Option<Day>,
}

/// `[[read]]`, `[[mark]]`, `[[lost]]`, `[[void]]`.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct TypedSheet {
    /// Code of the sheet.
    #[serde(deserialize_with = "code")]
    pub sheet: SheetCode,
    /// Initials; absent: those of the whole file.
    pub by: Option<String>,
    /// Day; absent: that of the whole file, or of the entry.
    #[serde(default, deserialize_with = "some_day")]
    pub on: Option<Day>,
    /// Why; for lost and void.
    pub because: Option<String>,
    /// Pages counted; for mark.
    pub pages: Option<u32>,
}

impl Typed {
    /// Reads a file.
    ///
    /// # Errors
    /// Every letter that paper cannot show, else the first fault; with line and column and the line itself.
    pub fn parse(text: &str) -> Result<Self, String> {
        let unprintable = unprintable_texts(text);
        if !unprintable.is_empty() {
            return Err(unprintable.join("\n"));
        }
        let read = |text: &str| toml::from_str::<Self>(text).map_err(|fault| fault.to_string().trim_end().to_owned());
        // Faults are shown on the line as it was typed; what has none is read again with the digits of its readings.
        let typed = read(text)?;
        let quoted = with_quoted_readings(text);
        if quoted == text { Ok(typed) } else { read(&quoted) }
    }
}

/// The text with every decimal among its readings as a text: a number would lose its zeros.
fn with_quoted_readings(text: &str) -> String {
    let mut places = Vec::new();
    if let Ok(tree) = DeTable::parse(text) {
        decimals(tree.get_ref(), false, &mut places);
    }
    places.sort_by_key(|place: &Range<usize>| std::cmp::Reverse(place.start));
    let mut quoted = text.to_owned();
    for place in places {
        quoted.insert(place.end, '"');
        quoted.insert(place.start, '"');
    }
    quoted
}

/// Keys under which readings stand.
const READINGS: [&str; 2] = ["readings", "after"];

fn decimals(table: &DeTable<'_>, inside: bool, places: &mut Vec<Range<usize>>) {
    for (key, node) in table {
        let inside = inside || READINGS.contains(&key.get_ref().as_ref());
        match node.get_ref() {
            DeValue::Float(_) if inside => places.push(node.span()),
            DeValue::Table(inner) => decimals(inner, inside, places),
            DeValue::Array(items) => {
                for item in items {
                    if let DeValue::Table(inner) = item.get_ref() {
                        decimals(inner, inside, places);
                    }
                }
            }
            _ => {}
        }
    }
}

fn some_day<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Day>, D::Error> {
    let written = Datetime::deserialize(from)?;
    let day = written.date.and_then(|date| Day::new(date.year, date.month, date.day)).and_then(Day::for_record);
    day.map(Some).ok_or_else(|| serde::de::Error::custom(format!("expected {}, without quotes", Day::form())))
}

fn code<'de, D: Deserializer<'de>>(from: D) -> Result<SheetCode, D::Error> {
    let text = String::deserialize(from)?;
    SheetCode::parse(&text).map_err(|fault| serde::de::Error::custom(format!("`{text}` is no sheet code: {fault}")))
}

fn some_code<'de, D: Deserializer<'de>>(from: D) -> Result<Option<SheetCode>, D::Error> {
    code(from).map(Some)
}

fn word<'de, D: Deserializer<'de>, T: super::value::Value>(from: D) -> Result<T, D::Error> {
    let text = String::deserialize(from)?;
    T::read(&text).ok_or_else(|| serde::de::Error::custom(format!("`{text}` is not known; expected {}", T::form())))
}

fn some_word<'de, D: Deserializer<'de>, T: super::value::Value>(from: D) -> Result<Option<T>, D::Error> {
    word(from).map(Some)
}

/// Today's word, or the one that records have.
fn some_stops<'de, D: Deserializer<'de>>(from: D) -> Result<Option<Stops>, D::Error> {
    let text = String::deserialize(from)?;
    let known = Stops::ALL.iter().copied().find(|stops| stops.on_paper() == text || stops.word() == text);
    let words = Stops::ALL.iter().map(|stops| stops.on_paper()).collect::<Vec<_>>().join(", ");
    known.map(Some).ok_or_else(|| serde::de::Error::custom(format!("`{text}` is not known; expected one of {words}")))
}

/// A TOML value as people write it on paper: numbers without quotes, texts with.
fn plain(value: &toml::Value) -> Option<String> {
    match value {
        toml::Value::String(text) => Some(text.clone()),
        toml::Value::Integer(_) | toml::Value::Float(_) | toml::Value::Boolean(_) => Some(value.to_string()),
        _ => None,
    }
}

fn name_or_number<'de, D: Deserializer<'de>>(from: D) -> Result<String, D::Error> {
    plain(&toml::Value::deserialize(from)?).ok_or_else(|| serde::de::Error::custom("expected a text or a number"))
}

fn some_name_or_number<'de, D: Deserializer<'de>>(from: D) -> Result<Option<String>, D::Error> {
    name_or_number(from).map(Some)
}

fn names_or_numbers<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<String>, D::Error> {
    let values = Vec::<toml::Value>::deserialize(from)?;
    values
        .iter()
        .map(|value| plain(value).ok_or_else(|| serde::de::Error::custom("expected texts or numbers")))
        .collect()
}

fn readings<'de, D: Deserializer<'de>>(from: D) -> Result<Vec<Reading>, D::Error> {
    let values = BTreeMap::<String, toml::Value>::deserialize(from)?;
    let reading = |(id, value): (String, toml::Value)| {
        let value =
            plain(&value).ok_or_else(|| serde::de::Error::custom(format!("`{id}` is neither a number nor a text")))?;
        Ok(Reading { id, value })
    };
    values.into_iter().map(reading).collect()
}
