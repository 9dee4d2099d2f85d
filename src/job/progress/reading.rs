//! Readings of a progress file against the records of their step: no number, out of tolerance, not written.
//!
//! A finding each; whether the work is right is not said here.

use crate::job::{Record, Text};
use crate::report::{Finding, Severity, fault};
use crate::spec::DoneSpec;
use crate::units::Decimal;
use crate::words::NOT_APPLICABLE;

/// Values that a step asks for and that its entry does not give.
pub(super) fn not_read(step: &str, records: &[Record], done: &DoneSpec) -> Option<Finding> {
    let is_given = |record: &&Record| done.values.iter().any(|(id, _)| id.value == record.id.value);
    let missing: Vec<String> =
        records.iter().filter(|record| !is_given(record)).map(|record| format!("`{}`", record.id.value)).collect();
    if missing.is_empty() {
        return None;
    }
    let message = format!("{step} is signed off without the values that it asks for: {}", missing.join(", "));
    let finding = Finding::new(fault::VALUE_INVALID, Severity::Warning, done.step.span, message);
    Some(finding.help(format!("add them under `values`, or \"{NOT_APPLICABLE}\" where there was nothing to measure")))
}

/// A reading that is no number, or lies outside its tolerance.
pub(super) fn judge_reading(record: &Record, value: &Text) -> Option<Finding> {
    if (record.min.is_none() && record.max.is_none()) || value.value == NOT_APPLICABLE {
        return None;
    }
    let label = &record.label.value;
    let Ok(reading) = Decimal::parse(&value.value) else {
        let message = format!("{label} is `{}`, which is not a number", value.value);
        return Some(Finding::new(fault::VALUE_INVALID, Severity::Error, value.span, message));
    };
    let unit = record.unit.as_ref().map(|unit| format!(" {}", unit.value)).unwrap_or_default();
    let broken = match (record.min, record.max) {
        (Some(min), _) if reading < min.value => Some((format!("below {}{unit}", min.value), min.span)),
        (_, Some(max)) if reading > max.value => Some((format!("above {}{unit}", max.value), max.span)),
        _ => None,
    };
    broken.map(|(limit, span)| {
        let message = format!("{label} is {}{unit}, {limit}", value.value);
        let finding =
            Finding::new(fault::VALUE_INVALID, Severity::Warning, value.span, message).label(span, "the limit");
        finding.help("measure again, or open a [[discrepancy]]")
    })
}
