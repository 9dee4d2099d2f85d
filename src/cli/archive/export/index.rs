//! The index of an exported archive: one plain page with links, everything by traveler and everything by date.
//!
//! It needs no network, no script and no style sheet, and reads as text where nothing draws it.

use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

use crate::archive::{BlobRef, Entry, EntryNumber, Record, State, Survey};
use crate::calendar::Day;
use crate::cli::project_archive::describe;
use crate::ident::SheetCode;

const HEAD: &str =
    "<!DOCTYPE html>\n<html lang=\"en\">\n<head><meta charset=\"utf-8\"><title>Build record</title></head>\n<body>\n";

/// The page.
pub(super) fn page(survey: &Survey, state: &State) -> String {
    let last = survey.last();
    let digest = last.last.map_or_else(|| "none".to_owned(), |digest| digest.hex());
    let mut page = HEAD.to_owned();
    let _ = writeln!(page, "<h1>{}</h1>", escape(&aircraft(survey)));
    let _ = writeln!(page, "<p>{} entries; SHA-256 of the last: {digest}</p>", last.entries);
    page.push_str("<p><a href=\"archive/README.txt\">archive/README.txt</a> explains the files. The signed paper is the original.</p>\n");
    if !survey.flaws.is_empty() {
        list(&mut page, "Not as it was archived", survey.flaws.iter().map(|flaw| escape(&flaw.to_string())));
    }
    list(&mut page, "Sheets in force", state.all_in_force().map(|issue| sheet(&issue.issued)));
    let lines: Vec<Line<'_>> = survey.records.iter().map(|record| Line::of(record, state)).collect();
    by_traveler(&mut page, &lines);
    by_date(&mut page, &lines);
    page.push_str("</body>\n</html>\n");
    page
}

fn aircraft(survey: &Survey) -> String {
    let names = survey.records.iter().find_map(|record| match &record.entry {
        Entry::Begun(begun) => Some([Some(&begun.aircraft), begun.serial.as_ref(), begun.registration.as_ref()]),
        _ => None,
    });
    let names: Vec<&str> = names.into_iter().flatten().flatten().map(String::as_str).collect();
    format!("Build record: {}", names.join(", "))
}

fn sheet(issued: &crate::archive::Issued) -> String {
    let place = issued.packet().to_string();
    let words = format!("{} {place} rev {} {}", issued.sheet, issued.revision, issued.title);
    format!("{} {}", escape(&words), link(&issued.pdf, "sheet as printed"))
}

/// One entry with its day and what it is about.
struct Line<'a> {
    day: Day,
    place: Option<String>,
    record: &'a Record,
}

impl<'a> Line<'a> {
    fn of(record: &'a Record, state: &State) -> Self {
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
            Entry::Begun(_) => (entered, None),
        };
        Self { day, place, record }
    }

    /// Day, what, every file that the entry names, and the entry itself.
    fn html(&self) -> String {
        let blobs: BTreeSet<&BlobRef> = self.record.entry.blobs().into_iter().collect();
        let mut html = format!("{} {}", self.day, escape(&describe(&self.record.entry)));
        for blob in blobs {
            let _ = write!(html, " {}", link(blob, &blob.ending));
        }
        let _ =
            write!(html, " <a href=\"archive/ledger/{}\">entry {}</a>", self.record.file_name(), self.record.number);
        html
    }
}

fn by_traveler(page: &mut String, lines: &[Line<'_>]) {
    let mut travelers: BTreeMap<Option<&String>, Vec<&Line<'_>>> = BTreeMap::new();
    for line in lines {
        travelers.entry(line.place.as_ref()).or_default().push(line);
    }
    page.push_str("<h2>By traveler</h2>\n");
    for (traveler, mut own) in travelers {
        own.sort_by_key(|line| line.day);
        let name = traveler.map_or("About no traveler", String::as_str);
        let _ = writeln!(page, "<h3>{}</h3>", escape(name));
        items(page, own.iter().map(|line| line.html()));
    }
}

fn by_date(page: &mut String, lines: &[Line<'_>]) {
    let mut all: Vec<&Line<'_>> = lines.iter().collect();
    all.sort_by_key(|line| line.day);
    list(page, "By date", all.into_iter().map(Line::html));
}

fn list(page: &mut String, title: &str, lines: impl Iterator<Item = String>) {
    let _ = writeln!(page, "<h2>{title}</h2>");
    items(page, lines);
}

fn items(page: &mut String, lines: impl Iterator<Item = String>) {
    page.push_str("<ul>\n");
    for line in lines {
        let _ = writeln!(page, "<li>{line}</li>");
    }
    page.push_str("</ul>\n");
}

fn link(blob: &BlobRef, words: &str) -> String {
    format!("<a href=\"archive/blobs/{}\">{}</a>", escape(&blob.file_name()), escape(words))
}

/// A text that HTML shows as it is.
fn escape(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;").replace('"', "&quot;")
}
