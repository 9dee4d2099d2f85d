//! The limits of a measured value in words.
//!
//! It repeats them as the spec types them and compares nothing.

use crate::archive::Limits;
use crate::job::Record;

/// The limits of a measured value in words, as messages say them too.
pub(super) fn requirement(record: &Record) -> String {
    let limits = Limits { min: record.min.map(|min| min.value), max: record.max.map(|max| max.value) };
    let unit = record.unit.as_ref().map(|unit| unit.value.as_str());
    limits.words(unit).unwrap_or_else(|| "write the value".to_owned())
}
