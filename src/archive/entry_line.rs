//! One line of an entry by its key: what it says, and the entry with something else there.
//!
//! Which lines a correction may change is said here for every kind but signatures, whose lines stand in `state`. What an
//! entry is about never changes: an entry about the wrong thing is struck out and made again.

use super::entry::{Entry, KINDS};
use super::kind::{LineForm, Often};
use super::line::{Lines, Reader};

/// The lines of an entry that a correction may change; none where it cannot be corrected.
#[must_use]
pub fn correctable(entry: &Entry) -> &'static [&'static str] {
    match entry {
        Entry::Begun(_) | Entry::Renamed(_) => &["aircraft", "serial", "registration"],
        Entry::Reprinted(_) => &["because"],
        Entry::Superseded(_) => &["pages", "by", "on"],
        Entry::Voided(_) | Entry::Lost(_) | Entry::Corrected(_) | Entry::Struck(_) => &["by", "on", "because"],
        Entry::ReadThrough(_) => &["by", "on"],
        Entry::Added(_) => &["name", "photo", "space", "taken", "caption", "builder-in-picture", "by"],
        Entry::DiscrepancyOpened(_) => {
            &["space", "joint", "what", "should-be", "is", "stops", "weight", "photo", "by", "found"]
        }
        Entry::DiscrepancyClosed(_) => {
            &["disposition", "authority", "reference", "after", "as-built", "by", "on", "looked-at-by"]
        }
        Entry::Visited(_) => &["by", "role", "on", "space", "reference", "note"],
        Entry::Finding(_) => &["finding", "space", "traveler", "what", "suggested"],
        Entry::Answered(_) => &["answer", "by", "on"],
        Entry::Noticed(_) => &["source"],
        // Signatures have their own lines; a sheet is made void.
        Entry::Signed(_) | Entry::Imported(_) | Entry::Issued(_) => &[],
    }
}

impl Entry {
    /// What a line says; several values are joined by `; `.
    #[must_use]
    pub fn line(&self, key: &str) -> Option<String> {
        let values: Vec<String> =
            self.lines().into_iter().filter(|(own, _)| own == key).map(|(_, value)| value).collect();
        (!values.is_empty()).then(|| values.join("; "))
    }

    /// The entry with something else in a line, or without that line.
    ///
    /// # Errors
    /// When the entry has no such line, cannot be without it, or the value is not of its form.
    pub fn with_line(&self, key: &str, now: Option<&str>) -> Result<Self, String> {
        let kind = self.kind();
        let forms = KINDS.iter().find(|form| form.word == kind).map_or(&[][..], |form| form.lines);
        let Some(changed) = forms.iter().find(|form| form.key == key) else {
            return Err(format!("an entry of kind `{kind}` has no line `{key}`"));
        };
        if now.is_none() && changed.often == Often::One {
            return Err(format!("`{key}` cannot be left empty"));
        }
        let old = self.lines();
        let mut lines = Lines::titled(kind);
        for form in forms {
            for value in values(form, changed, now, &old) {
                lines.line(form.key, value);
            }
        }
        let text = lines.finish();
        let read = || {
            let mut reader = Reader::titled(text.as_bytes(), kind)?;
            let entry = Self::read(kind, &mut reader)?;
            reader.finish().map(|()| entry)
        };
        // An empty value is of no form either.
        read().map_err(|_| format!("`{key}` is `{}`, expected {}", now.unwrap_or_default(), (changed.form)()))
    }

    /// Every line, key and value.
    fn lines(&self) -> Vec<(String, String)> {
        let mut lines = Lines::titled("");
        self.write(&mut lines);
        let text = lines.finish();
        let mut pairs = Vec::new();
        let Ok(mut reader) = Reader::titled(text.as_bytes(), "") else { return pairs };
        while let Ok(Some((key, value))) = reader.peek() {
            pairs.push((key.to_owned(), value));
            reader.advance();
        }
        pairs
    }
}

/// The values of a line: those it had, or what a correction puts there.
fn values<'a>(form: &LineForm, changed: &LineForm, now: Option<&'a str>, old: &'a [(String, String)]) -> Vec<&'a str> {
    if form.key != changed.key {
        return old.iter().filter(|(key, _)| key == form.key).map(|(_, value)| value.as_str()).collect();
    }
    match (now, changed.often) {
        (None, _) => Vec::new(),
        (Some(now), Often::Many) => now.split("; ").collect(),
        (Some(now), _) => vec![now],
    }
}
