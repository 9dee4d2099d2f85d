//! Which lines of a signature a correction may change, and how.
//!
//! Sheet, step and requirement are not among them: a signature in the wrong place is struck out and entered again.

use super::Signature;
use crate::archive::value::{Reading, Value};
use crate::calendar::Day;

/// The lines that a correction may change; `reading` is followed by a space and the record's id.
pub const CORRECTABLE: &[&str] = &[
    "by",
    "worked",
    "minutes",
    "helper",
    "paid-helper",
    "reading ID",
    "asked FIELD",
    "photo",
    "as-built",
    "place",
    "note",
];

impl Signature {
    /// What a line says now; several values are joined by `; `.
    ///
    /// # Errors
    /// When no correction may change that line.
    pub fn line(&self, field: &str) -> Result<Option<String>, String> {
        let joined = |list: &[String]| (!list.is_empty()).then(|| list.join("; "));
        Ok(match field {
            "by" => Some(self.signed.by.clone()).filter(|by| !by.is_empty()),
            "worked" => Some(self.signed.worked.to_string()),
            "minutes" => self.signed.minutes.map(|minutes| minutes.to_string()),
            "helper" => joined(&self.signed.helpers),
            "paid-helper" => joined(&self.signed.paid),
            "photo" => joined(&self.signed.photos),
            "as-built" => joined(&self.signed.as_built),
            "place" => self.signed.place.clone(),
            "note" => self.signed.note.clone(),
            other => match (other.strip_prefix("reading "), other.strip_prefix("asked ")) {
                (Some(id), _) => self.reading(id).map(str::to_owned),
                (None, Some(field)) => self.asked(field).map(str::to_owned),
                (None, None) => {
                    return Err(format!("`{other}` cannot be corrected; these can: {}", CORRECTABLE.join(", ")));
                }
            },
        })
    }

    /// Puts what holds in the place of what a line said.
    ///
    /// # Errors
    /// When no correction may change that line, or the value is not of its form.
    pub fn correct(&mut self, field: &str, now: Option<&str>) -> Result<(), String> {
        // A list may be left empty.
        let list = || now.map(|now| now.split("; ").map(str::to_owned).collect::<Vec<_>>()).unwrap_or_default();
        let needed = || now.ok_or_else(|| format!("`{field}` cannot be left empty"));
        match field {
            "by" => needed()?.clone_into(&mut self.signed.by),
            "worked" => {
                let now = needed()?;
                let fault = || format!("`worked` is `{now}`, expected {}", Day::form());
                self.signed.worked = Day::parse(now).ok_or_else(fault)?;
            }
            "minutes" => {
                self.signed.minutes = now
                    .map(|now| now.parse().map_err(|_| format!("`minutes` is `{now}`, expected a whole number")))
                    .transpose()?;
            }
            "helper" => self.signed.helpers = list(),
            "paid-helper" => self.signed.paid = list(),
            "photo" => self.signed.photos = list(),
            "as-built" => self.signed.as_built = list(),
            "place" => self.signed.place = now.map(str::to_owned),
            "note" => self.signed.note = now.map(str::to_owned),
            other => {
                let (list, id) = match (other.strip_prefix("reading "), other.strip_prefix("asked ")) {
                    (Some(id), _) => (&mut self.signed.readings, id),
                    (None, Some(field)) => (&mut self.signed.asked, field),
                    (None, None) => return self.line(other).map(|_| ()),
                };
                list.retain(|reading| reading.id != id);
                list.extend(now.map(|now| Reading { id: id.to_owned(), value: now.to_owned() }));
            }
        }
        Ok(())
    }
}
