//! Readings: what is typed for a box finds the step and the record that it is for.
//!
//! A box is named by its step's number and its place, `060.1`, as printed beside it; by step and record; or by the record's id
//! or label where one step of the entry has it. It refuses a name that no box or more than one has, and a box left blank.

use std::collections::BTreeMap;

use super::finding;
use super::meant::{Meant, meant};
use crate::archive::requirement::{Limits, NO_UNIT, RecordSide, SheetRequirement, StepRequirement};
use crate::archive::sign::NOT_APPLICABLE;
use crate::archive::state::State;
use crate::archive::value::{Capacity, Reading};
use crate::ident::SheetCode;
use crate::report::Finding;
use crate::spec::{BoxName, SignSpec, Text, named_box};
use crate::units::Decimal;

/// A box for a reading, as paper shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenBox {
    /// Number of the step on paper.
    pub number: u32,
    /// Place of the box in its step, counted from one.
    pub nth: usize,
    /// Id of the step.
    pub step: String,
    /// Id of the record.
    pub record: String,
    /// What is read.
    pub label: String,
    /// Its limits with the unit, or the unit alone; empty where it has neither.
    pub limits: String,
    /// With what.
    pub tool: Option<String>,
    limited: Limits,
}

impl OpenBox {
    /// The boxes of a step, in their order on paper.
    #[must_use]
    pub fn all(step: &StepRequirement) -> Vec<Self> {
        let ids = step.record_ids();
        let one = |(nth, id): (usize, &&str)| {
            let text = |side| step.record_text(id, side).map(str::to_owned);
            let limited = step.limits(id);
            let unit = text(RecordSide::Unit).filter(|unit| unit != NO_UNIT);
            Self {
                number: step.number,
                nth: nth + 1,
                step: step.id.clone(),
                record: (*id).to_owned(),
                label: text(RecordSide::Label).unwrap_or_else(|| (*id).to_owned()),
                // A box without limits and unit says no more than its label.
                limits: limited.words(unit.as_deref()).or(unit).unwrap_or_default(),
                tool: text(RecordSide::Tool),
                limited,
            }
        };
        ids.iter().enumerate().map(one).collect()
    }

    /// Number, label and limits: `060.1 Drag, at most 8 in-lb`.
    #[must_use]
    pub fn words(&self) -> String {
        self.name().words()
    }

    /// What stands beside it: `060.1`.
    #[must_use]
    pub fn key(&self) -> String {
        self.name().key()
    }

    /// Why a value cannot stand in it.
    #[must_use]
    pub fn fault(&self, value: &str) -> Option<String> {
        let is_wrong = self.limited.refuse(value);
        let with_point = value.replace(',', ".");
        let point = Some(with_point).filter(|own| own != value && Decimal::parse(own).is_ok());
        let point = point.map_or_else(String::new, |own| format!(": with a point, {own}"));
        is_wrong.then(|| format!("{} is `{value}`, expected a number or {NOT_APPLICABLE}{point}", self.words()))
    }

    /// Whether a value lies inside its limits; one that is no number does.
    #[must_use]
    pub fn contains(&self, value: &str) -> bool {
        self.limited.contain(value) != Some(false)
    }

    fn name(&self) -> BoxName<'_> {
        let (step, record, label, limits) = (&self.step, &self.record, &self.label, &self.limits);
        BoxName { number: self.number, step, nth: self.nth, record, label, limits }
    }
}

/// The readings of an entry by the id of their step, or every fault of them.
pub(super) fn readings_of(
    meant: &Meant<'_>,
    sheet: &SheetRequirement,
    capacity: Capacity,
) -> Result<BTreeMap<String, Vec<Reading>>, Vec<Finding>> {
    let boxes = boxes_of(meant, sheet);
    let names: Vec<BoxName<'_>> = boxes.iter().map(OpenBox::name).collect();
    let mut given: BTreeMap<usize, &(Text, Text)> = BTreeMap::new();
    let mut faults = Vec::new();
    for reading in &meant.typed.readings {
        match named_box(&reading.0.value, &names) {
            Ok(at) => {
                if given.insert(at, reading).is_some() {
                    let message = format!("{} has two readings", boxes[at].words());
                    faults.push(finding(reading.0.span, message).help("leave one"));
                }
            }
            Err(fault) => faults.push(finding(reading.0.span, fault.message).help(fault.help)),
        }
    }
    let mut all: BTreeMap<String, Vec<Reading>> = BTreeMap::new();
    for (at, own) in boxes.iter().enumerate() {
        match given.get(&at).filter(|(_, value)| !value.value.trim().is_empty()) {
            Some((_, value)) => {
                faults.extend(not_a_number(own, value));
                let reading = Reading { id: own.record.clone(), value: value.value.trim().to_owned() };
                all.entry(own.step.clone()).or_default().push(reading);
            }
            // A hold or a stage is signed beside the boxes.
            None if capacity != Capacity::Done => {}
            None => faults.push(blank(meant, own)),
        }
    }
    // In the order of their names, as records have them.
    for own in all.values_mut() {
        own.sort_by(|a, b| a.id.cmp(&b.id));
    }
    if faults.is_empty() { Ok(all) } else { Err(faults) }
}

fn boxes_of(meant: &Meant<'_>, sheet: &SheetRequirement) -> Vec<OpenBox> {
    let steps = meant.steps.iter().filter_map(|own| sheet.step(&own.step.id));
    steps.flat_map(OpenBox::all).collect()
}

fn not_a_number(own: &OpenBox, value: &Text) -> Option<Finding> {
    own.fault(value.value.trim()).map(|fault| finding(value.span, fault))
}

fn blank(meant: &Meant<'_>, own: &OpenBox) -> Finding {
    let given = meant.typed.readings.iter().find(|(name, _)| own.name().answers(&name.value));
    let of_step = meant.steps.iter().find(|step| step.step.id == own.step);
    let at = given.map(|(_, value)| value.span).or(of_step.map(|step| step.at)).unwrap_or(meant.typed.span);
    let message = format!("step `{}` has no value for {}", own.step, own.words());
    finding(at, message)
        .help(format!("write `readings = {{ \"{}\" = .. }}` with the value, or \"{NOT_APPLICABLE}\"", own.key()))
}

/// The boxes that a signature leaves blank.
///
/// # Errors
/// Why the steps that it means are not known.
pub fn open_boxes(
    state: &State,
    sheets: &BTreeMap<SheetCode, SheetRequirement>,
    typed: &SignSpec,
) -> Result<Vec<OpenBox>, Vec<Finding>> {
    let meant = meant(state, typed)?;
    let Some(sheet) = sheets.get(&meant.sheet) else { return Ok(Vec::new()) };
    let mut boxes = boxes_of(&meant, sheet);
    boxes.retain(|own| !typed.readings.iter().any(|(name, _)| own.name().answers(&name.value)));
    Ok(boxes)
}
