//! The index of an exported archive: one plain page with links, everything by traveler and everything by date.
//!
//! It needs no network, no script and no style sheet, and reads as text where nothing draws it. How the page reads stands
//! in `index.html`; here is what fills it.

use std::collections::BTreeMap;

use anyhow::Result;
use minijinja::value::Serde;
use minijinja::{Environment, UndefinedBehavior, Value};
use serde::Serialize;

use crate::archive::{Aircraft, BlobRef, Entry, EntryNumber, Issued, Record, State, Survey};
use crate::cli::project_archive::describe;
use crate::ident::SheetCode;

/// The page.
pub(super) fn page(survey: &Survey, state: &State) -> Result<String> {
    let last = survey.last();
    let mut lines: Vec<Line> = survey.records.iter().map(|record| Line::of(record, survey, state)).collect();
    // A day reads year first, so that its text sorts as the days do; entries of one day stay in their order.
    lines.sort_by(|one, other| one.day.cmp(&other.day));
    let mut travelers: BTreeMap<Option<&String>, Vec<&Line>> = BTreeMap::new();
    for line in &lines {
        travelers.entry(line.place.as_ref()).or_default().push(line);
    }
    let travelers = travelers
        .into_iter()
        .map(|(place, lines)| TravelerLines { place: place.map_or("About no traveler", String::as_str), lines });
    let page = Page {
        aircraft: aircraft(state),
        entries: last.entries,
        digest: last.last.map_or_else(|| "none".to_owned(), |digest| digest.hex()),
        flaws: survey.flaws.iter().map(ToString::to_string).collect(),
        sheets: state.all_in_force().map(|issue| SheetInForce::of(&issue.issued)).collect(),
        travelers: travelers.collect(),
        lines: &lines,
    };
    let mut templates = Environment::new();
    templates.set_undefined_behavior(UndefinedBehavior::Strict);
    // The ending of the name is what makes every value escaped.
    Ok(templates.render_named_str("index.html", include_str!("index.html"), Value::from(Serde(page)))?)
}

/// Name, serial number and registration, as the archive has them.
fn aircraft(state: &State) -> Vec<&str> {
    let Some(Aircraft { name, serial, registration }) = &state.aircraft else { return Vec::new() };
    [Some(name), serial.as_ref(), registration.as_ref()].into_iter().flatten().map(String::as_str).collect()
}

/// What fills the page.
#[derive(Serialize)]
struct Page<'a> {
    aircraft: Vec<&'a str>,
    entries: u32,
    digest: String,
    flaws: Vec<String>,
    sheets: Vec<SheetInForce>,
    travelers: Vec<TravelerLines<'a>>,
    lines: &'a [Line],
}

#[derive(Serialize)]
struct TravelerLines<'a> {
    place: &'a str,
    lines: Vec<&'a Line>,
}

#[derive(Serialize)]
struct SheetInForce {
    words: String,
    print: Link,
}

impl SheetInForce {
    fn of(issued: &Issued) -> Self {
        let place = issued.packet();
        let words = format!("{} {place} rev {} {}", issued.sheet, issued.revision, issued.title);
        Self { words, print: Link::to(&issued.pdf, "sheet as printed") }
    }
}

/// A link to an archived file.
#[derive(Serialize)]
struct Link {
    file: String,
    words: String,
}

impl Link {
    fn to(blob: &BlobRef, words: &str) -> Self {
        Self { file: blob.file_name(), words: words.to_owned() }
    }
}

/// One entry with its day, what it is about, and every file that it names.
#[derive(Serialize)]
struct Line {
    day: String,
    place: Option<String>,
    words: String,
    blobs: Vec<Link>,
    file: String,
    entry: String,
}

impl Line {
    fn of(record: &Record, survey: &Survey, state: &State) -> Self {
        let sheet = |code: SheetCode| state.sheet(code).map(|issue| issue.issued.packet().to_string());
        let signature =
            |entry: EntryNumber| state.signatures.get(&entry).map(|own| (own.signed.worked, own.packet().to_string()));
        let entered = record.entered.day();
        let (day, place) = match &record.entry {
            Entry::Issued(own) => (own.printed, Some(own.packet().to_string())),
            Entry::Signed(own) => (own.worked, Some(own.packet().to_string())),
            Entry::Imported(own) => (own.worked, Some(own.packet().to_string())),
            Entry::DiscrepancyOpened(own) => (own.found, own.packet().map(|packet| packet.to_string())),
            Entry::DiscrepancyClosed(own) => {
                let opened = state.discrepancies.get(&own.number).map(|own| &own.opened);
                (own.on, opened.and_then(|own| own.packet().map(|packet| packet.to_string())))
            }
            Entry::Added(own) => (own.taken.unwrap_or(entered), own.sheet.and_then(sheet)),
            Entry::Reprinted(own) => (own.printed, sheet(own.sheet)),
            Entry::Superseded(own) => (own.on, sheet(own.sheet)),
            Entry::Voided(own) => (own.on, sheet(own.sheet)),
            Entry::Lost(own) => (own.on, sheet(own.sheet)),
            Entry::ReadThrough(own) => (own.on, sheet(own.sheet)),
            Entry::Corrected(own) => (own.on, signature(own.entry).map(|(_, place)| place)),
            Entry::Struck(own) => (own.on, signature(own.entry).map(|(_, place)| place)),
            Entry::Finding(own) => (entered, own.traveler.clone()),
            Entry::Visited(own) => (own.on, None),
            Entry::Answered(own) => (own.on, None),
            Entry::Noticed(own) => (own.on, None),
            Entry::Renamed(own) => (own.on, None),
            Entry::Begun(_) => (entered, None),
        };
        let mut files: Vec<&BlobRef> = Vec::new();
        for blob in record.entry.blobs() {
            if !files.contains(&blob) {
                files.push(blob);
            }
        }
        Self {
            day: day.to_string(),
            place,
            words: describe(&record.entry),
            blobs: files.into_iter().map(|blob| Link::to(blob, &blob.ending)).collect(),
            file: survey.file_of(record.number).to_owned(),
            entry: record.number.to_string(),
        }
    }
}
