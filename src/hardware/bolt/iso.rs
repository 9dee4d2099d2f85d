//! Metric bolts, `ISO 4014-M6x30-8.8`: where the thread begins, and the length that suits a stack.
//!
//! A bolt of ISO 4017 is threaded to the head. What a number does not say, as a drilled shank, is not assumed.

use std::sync::LazyLock;

use serde::Deserialize;

use super::{Bolt, BoltSeries};
use crate::hardware::iso::{self, designation};
use crate::hardware::limit;
use crate::hardware::metal::Metal;
use crate::hardware::number::{Call, Parts, Undecoded, clip};
use crate::hardware::nut_height::highest_nut;
use crate::hardware::source::{Graded, Sureness};
use crate::hardware::table::{self, Sourced, Table};
use crate::hardware::thread::{Thread, threads};
use crate::units::Length;

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Document {
    number: String,
    words: String,
    /// Whether it has a shank; threaded to the head if not.
    shank: bool,
    #[serde(default)]
    successor: Option<String>,
    /// In what the successor differs.
    #[serde(default)]
    differs: Option<String>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Size {
    thread: String,
    #[serde(deserialize_with = "table::length")]
    threaded: Length,
    #[serde(deserialize_with = "table::length")]
    shank: Length,
    #[allow(dead_code, reason = "kept for the reader of the table and its tests")]
    #[serde(deserialize_with = "table::length")]
    shank_least: Length,
    #[serde(deserialize_with = "table::length")]
    shortest: Length,
    #[serde(deserialize_with = "table::length")]
    longest: Length,
    #[serde(deserialize_with = "table::length")]
    full_shortest: Length,
    #[serde(deserialize_with = "table::length")]
    full_longest: Length,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Listed {
    #[serde(deserialize_with = "table::length")]
    length: Length,
}

static DOCUMENTS: LazyLock<Table<Document>> = LazyLock::new(|| table::read("iso_bolt_document"));
static SIZES: LazyLock<Table<Size>> = LazyLock::new(|| table::read("iso_bolt"));
static LENGTHS: LazyLock<Table<Listed>> = LazyLock::new(|| table::read("iso_length"));

impl iso::Document for Document {
    fn number(&self) -> &str {
        &self.number
    }
}

pub(super) fn documents() -> impl Iterator<Item = &'static str> {
    iso::documents(&DOCUMENTS)
}

pub(super) fn decode(parts: &Parts) -> Option<Result<Bolt, Undecoded>> {
    iso::decode(&DOCUMENTS, parts, read)
}

fn read(parts: &Parts, document: &'static Sourced<Document>) -> Result<Bolt, Undecoded> {
    let help = "write thread, length in mm and property class, as in ISO 4014-M6x30-8.8";
    let found = designation(parts.rest).and_then(|found| found.thread.map(|thread| (thread, found)));
    let (thread, found) = found.ok_or_else(|| {
        let what = if parts.rest.is_empty() {
            "names no thread".to_owned()
        } else {
            format!("has an unknown thread or length: {}", clip(parts.rest))
        };
        parts.fault(&what, help, "ISO4014-Q")
    })?;
    let class = Some(found.class.to_owned()).filter(|class| !class.is_empty());
    let bolt = bolt(document, thread, class).of_length(found.length);
    Ok(Bolt { call: Call::of(parts.text, bolt.call.usual), ..bolt })
}

fn bolt(document: &'static Sourced<Document>, thread: &'static Thread, class: Option<String>) -> Bolt {
    let size = size_of(thread);
    let shank =
        size.map_or_else(|| Graded::published(thread.diameter, "ISO-DWG", Sureness::C), |size| size.graded(size.shank));
    Bolt {
        call: Call::of("", String::new()),
        series: BoltSeries::Iso,
        diameter: thread.diameter,
        shank,
        thread: Some(thread),
        dash: None,
        grip: None,
        length: None,
        thread_from: None,
        drilled_shank: false,
        drilled_head: false,
        metal: Some(if class.as_deref().is_some_and(is_stainless) { Metal::Stainless } else { Metal::Steel }),
        class,
        words: document.words.clone(),
        number: document.number.clone(),
        letters: String::new(),
        dash_basis: document.basis.clone(),
    }
}

/// A2-70 and the like are the groups of stainless steel.
fn is_stainless(class: &str) -> bool {
    class.starts_with('A') && class[1..].starts_with(|c: char| c.is_ascii_digit())
}

fn size_of(thread: &Thread) -> Option<&'static Sourced<Size>> {
    SIZES.rows.iter().find(|size| size.thread == thread.name)
}

fn document_of(bolt: &Bolt) -> Option<&'static Sourced<Document>> {
    DOCUMENTS.rows.iter().find(|row| row.number == bolt.number)
}

/// The number that took the document's place, and in what it differs.
pub(super) fn successor(bolt: &Bolt) -> Option<(String, &'static str)> {
    let document = document_of(bolt)?;
    let number = document.successor.as_ref()?;
    let rest = bolt.call.usual.strip_prefix(bolt.number.as_str())?;
    Some((format!("{number}{rest}"), document.differs.as_deref()?))
}

impl Bolt {
    /// The metric bolt in a length; without one where none is given.
    fn of_length(self, length: Option<Length>) -> Self {
        let thread = self.thread.map_or("", |thread| thread.name.as_str()).to_ascii_uppercase();
        let class = self.class.as_ref().map_or_else(String::new, |class| format!("-{class}"));
        let long = length.map_or_else(String::new, |length| format!("X{}", length.mm_exact()));
        let usual = format!("{}-{thread}{long}{class}", self.number);
        let listed = |value| Graded { value, basis: self.dash_basis.clone() };
        let thread_from = length.and_then(|length| thread_from(&self, length));
        let of_pitch = limit::thread_run_out();
        let run_out = self.thread.map_or(Length::ZERO, Thread::pitch).times(of_pitch.value);
        let grip = thread_from.as_ref().filter(|from| from.value > run_out).map(|from| from.value - run_out);
        Self {
            call: Call { text: usual.clone(), usual, kit: None },
            grip: grip.map(|value| Graded { value, basis: of_pitch.basis.clone() }),
            length: length.map(listed),
            thread_from,
            ..self
        }
    }
}

/// Where the thread begins at the latest, from under the head; zero of one that is threaded to the head.
fn thread_from(bolt: &Bolt, length: Length) -> Option<Graded<Length>> {
    let document = document_of(bolt)?;
    if !document.shank {
        return Some(document.graded(Length::ZERO));
    }
    let size = size_of(bolt.thread?)?;
    let is_long = length > limit::thread_longer_above().value;
    let threaded = if is_long { size.threaded + limit::thread_longer_by().value } else { size.threaded };
    Some(size.graded((length - threaded).max(Length::ZERO)))
}

/// The bolt in the lengths in common use, shortest first.
pub(super) fn lengths(bolt: &Bolt) -> Vec<Bolt> {
    let (Some(document), Some(size)) = (document_of(bolt), bolt.thread.and_then(size_of)) else { return Vec::new() };
    let range = if document.shank { size.shortest..=size.longest } else { size.full_shortest..=size.full_longest };
    let listed = LENGTHS.rows.iter().filter(|row| range.contains(&row.length));
    listed.map(|row| bolt.clone().of_length(Some(row.length))).collect()
}

impl Bolt {
    /// The metric bolt of the same thread and class that is threaded to its head, of one with a shank.
    #[must_use]
    pub fn threaded_to_head(&self) -> Option<Self> {
        document_of(self).filter(|own| own.shank)?;
        let other = DOCUMENTS.rows.iter().find(|own| !own.shank && own.successor.is_none())?;
        Some(bolt(other, self.thread?, self.class.clone()).of_length(None))
    }
}

/// Whether a nut as high as any of its thread goes on behind a stack, and one thread shows (AC 43.13-1B par. 7-37).
pub(super) fn takes_a_nut(bolt: &Bolt, behind: Length) -> bool {
    let Some((thread, length)) = bolt.thread.zip(bolt.length.as_ref()) else { return false };
    highest_nut(thread).is_some_and(|nut| length.value >= behind + nut + thread.pitch())
}

/// One call of every document and thread: alone, in one length, and with a class.
pub(super) fn every_call() -> impl Iterator<Item = String> {
    let metric = || threads().filter(|thread| thread.is_metric());
    documents().flat_map(move |number| {
        metric().flat_map(move |thread| {
            let name = thread.name.to_ascii_uppercase();
            ["", "X30", "X40-8.8"].map(|tail| format!("{number}-{name}{tail}"))
        })
    })
}
