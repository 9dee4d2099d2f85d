//! A measured value in words: its limits, and the label under which it was read.
//!
//! It repeats what spec and archive say and compares nothing.

use crate::archive::{Limits, NO_UNIT, Signature, StepRequirement};
use crate::job::{Job, Record};
use crate::phrase::say;
use crate::plan::told;
use crate::work::{reading_label, unit_as_read};

/// The limits of a measured value in words, as messages say them too.
pub(super) fn requirement(record: &Record) -> String {
    let limits = Limits { min: record.min.map(|min| min.value), max: record.max.map(|max| max.value) };
    let unit = record.unit.as_ref().map(|unit| unit.value.as_str());
    limits.words(unit).map_or_else(|| say!("write the value").to_owned(), |words| told::limits(&words))
}

/// The label under which a value was read, never a later one; where nobody recorded it, the id says that.
pub(super) fn label_as_read(job: &Job, signature: &Signature, signed: Option<&StepRequirement>, id: &str) -> String {
    reading_label(job, signature, signed, id).unwrap_or_else(|| say!("{id} (label not recorded then)", id))
}

/// The unit in which a value was read; nothing where it has none, or nobody recorded it.
pub(super) fn reading_unit(
    job: &Job,
    signature: &Signature,
    signed: Option<&StepRequirement>,
    id: &str,
) -> Option<String> {
    unit_as_read(job, signature, signed, id).filter(|unit| unit != NO_UNIT)
}
