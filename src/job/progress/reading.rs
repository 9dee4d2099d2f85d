//! Readings of a progress file against the records of their step: no number, out of tolerance, not written.
//!
//! A finding each; whether the work is right is not said here.

use std::collections::{BTreeMap, BTreeSet};

use crate::job::{Job, Record, StepRef, Text};
use crate::report::{Finding, Severity, fault};
use crate::spec::{BoxName, SignSpec, StepFault, named_box};
use crate::units::Decimal;
use crate::words::NOT_APPLICABLE;

/// The boxes of some steps.
pub(super) struct Boxes<'a> {
    records: Vec<(StepRef, &'a Record)>,
    names: Vec<BoxName<'a>>,
}

impl<'a> Boxes<'a> {
    pub fn of(job: &'a Job, steps: &BTreeSet<StepRef>) -> Self {
        let (mut records, mut names) = (Vec::new(), Vec::new());
        for at in steps {
            let step = job.step(*at);
            for (nth, record) in step.records.iter().enumerate() {
                let (number, step) = (step.number, step.id.value.as_str());
                let (record_id, label) = (record.id.value.as_str(), record.label.value.as_str());
                records.push((*at, record));
                names.push(BoxName { number, step, nth: nth + 1, record: record_id, label, limits: "" });
            }
        }
        Self { records, names }
    }

    /// The step and the record for which a reading is typed.
    pub fn named(&self, typed: &str) -> Result<(StepRef, &'a Record), StepFault> {
        named_box(typed, &self.names).map(|at| self.records[at])
    }
}

/// Values that a step asks for and that its entry does not give.
pub(super) fn not_read(
    step: &str,
    records: &[Record],
    given: &BTreeMap<String, String>,
    sign: &SignSpec,
) -> Option<Finding> {
    let is_given = |record: &&Record| given.contains_key(&record.id.value);
    let missing: Vec<String> =
        records.iter().filter(|record| !is_given(record)).map(|record| format!("`{}`", record.id.value)).collect();
    if missing.is_empty() {
        return None;
    }
    let message = format!("{step} is signed off without the values that it asks for: {}", missing.join(", "));
    let span = sign.steps.first().map_or(sign.span, |own| own.span);
    let finding = Finding::new(fault::VALUE_INVALID, Severity::Warning, span, message);
    Some(finding.help(format!("add them under `readings`, or \"{NOT_APPLICABLE}\" where there was nothing to measure")))
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
