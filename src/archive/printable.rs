//! What may enter: texts that paper can show and has room for. A typed file is asked before it is read any further.
//!
//! It judges letters and their number and nothing else; what the file says is for `typed` and `enter`.

use std::fmt::Write as _;

use toml::de::{DeTable, DeValue};

use crate::text::{Files, Span, is_printable, too_long, unprintable_words};

/// Every text of a TOML file that is too long, and every letter that the paper's fonts cannot print, each with its place.
#[must_use]
pub fn unprintable_texts(text: &str) -> Vec<String> {
    // What is wrong with its form is said by whoever reads it.
    let (tree, _) = DeTable::parse_recoverable(text);
    let mut files = Files::default();
    let file = files.add("", text);
    let mut found: Vec<(String, Span, Fault)> = Vec::new();
    look_in_table(tree.get_ref(), &mut |key, range, fault| {
        found.push((key.to_owned(), Span { file, start: range.start, end: range.end }, fault));
    });
    found.into_iter().map(|(key, span, fault)| told(&files, &key, span, fault)).collect()
}

/// Why a text cannot enter.
enum Fault {
    Letter(char),
    Long(String),
}

type Tell<'a> = dyn FnMut(&str, std::ops::Range<usize>, Fault) + 'a;

fn look_in_table(table: &DeTable<'_>, tell: &mut Tell<'_>) {
    for (key, value) in table {
        look_at(key.get_ref(), key.get_ref(), key.span(), tell);
        look_in_value(key.get_ref(), value, tell);
    }
}

fn look_in_value(key: &str, value: &toml::Spanned<DeValue<'_>>, tell: &mut Tell<'_>) {
    match value.get_ref() {
        DeValue::String(text) => look_at(key, text, value.span(), tell),
        DeValue::Array(items) => items.iter().for_each(|item| look_in_value(key, item, tell)),
        DeValue::Table(table) => look_in_table(table, tell),
        _ => {}
    }
}

fn look_at(key: &str, text: &str, range: std::ops::Range<usize>, tell: &mut Tell<'_>) {
    if let Some(said) = too_long(text) {
        tell(key, range, Fault::Long(said));
    } else if let Some(c) = text.chars().find(|c| !is_printable(*c)) {
        tell(key, range, Fault::Letter(c));
    }
}

/// The line with a mark under the letter; a letter that is written as an escape is marked by its whole text.
fn told(files: &Files, key: &str, span: Span, fault: Fault) -> String {
    let key = key.chars().map(|c| if is_printable(c) { c } else { '?' }).collect::<String>();
    let c = match fault {
        Fault::Letter(c) => c,
        Fault::Long(said) => return format!("line {}: `{key}` has {said}", files.position(span).line),
    };
    let written = files.slice(span).find(c).map(|at| Span {
        start: span.start + at,
        end: span.start + at + c.len_utf8(),
        ..span
    });
    let place = written.unwrap_or(span);
    let position = files.position(place);
    let (start, end) = files.line_bounds(span.file, place.start);
    // A place that does not fit the file is shown without its line.
    let line = files.text(span.file).get(start..end).unwrap_or_default();
    // As above: one mark then.
    let marked = files.text(span.file).get(place.start..place.end.min(end)).map_or(1, |text| text.chars().count());
    let margin = " ".repeat(position.line.to_string().len());
    let mut said = format!("line {}, column {}\n{margin} |\n", position.line, position.column);
    let before = " ".repeat(position.column.saturating_sub(1));
    // Writing to a text cannot fail.
    let _ = write!(
        said,
        "{} | {line}\n{margin} | {before}{}\n`{key}` holds {}: write it with Latin, Greek or Cyrillic letters, digits and signs",
        position.line,
        "^".repeat(marked.max(1)),
        unprintable_words(c)
    );
    said
}
