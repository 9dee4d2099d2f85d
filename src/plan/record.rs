//! The limits of a measured value in words.
//!
//! It repeats them as the spec types them and compares nothing.

use crate::job::Record;

/// The limits of a measured value in words.
pub(super) fn requirement(record: &Record) -> String {
    let unit = record.unit.as_ref().map_or(String::new(), |unit| format!(" {}", unit.value));
    match (&record.min, &record.max) {
        (Some(min), Some(max)) if min.value == max.value => format!("exactly {}{unit}", min.value),
        (Some(min), Some(max)) => format!("{} to {}{unit}", min.value, max.value),
        (Some(min), None) => format!("at least {}{unit}", min.value),
        (None, Some(max)) => format!("at most {}{unit}", max.value),
        (None, None) => "write the value".to_owned(),
    }
}
