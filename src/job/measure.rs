//! What the plans' own readings allow of a joint: limits that stand in the place of the table's wherever they are said.
//!
//! Which reading measures what is told by its key, or by the words of its label; a label that says neither measures
//! nothing that a table knows. It judges no reading.

use super::recorded::Recorded;
use super::{Joint, Record, Traveler};
use crate::hardware::{Fastener, shop_head};
use crate::units::{Decimal, Length, Unit};
use crate::words::Measures;

impl Joint {
    /// Limits that the plans' readings set for something; the first of several.
    #[must_use]
    pub fn recorded(&self, what: Measures) -> Option<&Recorded> {
        self.recorded.iter().find(|recorded| recorded.what == what)
    }

    /// The least of the shop head that a reading asks for, with its digits: a label that is read for it counts only where
    /// it asks for no less than the table, give or take the last place.
    #[must_use]
    pub fn recorded_head(&self, what: Measures) -> Option<(Decimal, &Recorded)> {
        let Ok(Fastener::SolidRivet(rivet)) = &self.fastener else { return None };
        let head = shop_head(rivet.diameter, rivet.alloy);
        let least = if what == Measures::HeadWidth { head.least_diameter } else { head.least_height };
        let recorded = self.recorded(what)?;
        let min = recorded.min?;
        let asks = recorded.length(min)? + LAST_PLACE >= least.value;
        (recorded.is_said || asks).then_some((min, recorded))
    }
}

/// A thousandth of an inch: a limit that was rounded the other way is the same limit.
const LAST_PLACE: Length = Length::from_mils(1);

/// Reads the limits of the readings of every step that names a joint.
pub(super) fn trace_readings(travelers: &mut [Traveler]) {
    let read: Vec<Vec<Vec<Recorded>>> = travelers.iter().map(|own| of_traveler(own, travelers)).collect();
    for (traveler, read) in travelers.iter_mut().zip(read) {
        for (joint, recorded) in traveler.joints.iter_mut().zip(read) {
            joint.recorded = recorded;
        }
    }
}

/// The limits of each joint of a traveler.
fn of_traveler(own: &Traveler, all: &[Traveler]) -> Vec<Vec<Recorded>> {
    let ids: Vec<String> = own.joints.iter().map(|joint| joint.id.value.clone()).collect();
    let of_joint = |joint: &Joint| {
        let records = joint.life.iter().flat_map(|lived| &all[lived.at.traveler].steps[lived.at.step].records);
        records.filter_map(|record| recorded(joint, record, &ids)).collect()
    };
    own.joints.iter().map(of_joint).collect()
}

fn recorded(joint: &Joint, record: &Record, ids: &[String]) -> Option<Recorded> {
    let said = record.measures.map(|measures| measures.value);
    let what = said.or_else(|| by_words(record))?;
    let label = record.label.value.as_str();
    // A label that names joints or rivet sizes is about those alone.
    let named: Vec<&String> = ids.iter().filter(|id| names(label, id)).collect();
    let sizes: Vec<Length> = words(label).filter_map(fraction).collect();
    let is_meant = named.is_empty() || named.contains(&&joint.id.value);
    let is_size = sizes.is_empty() || joint.diameter().is_some_and(|d| sizes.contains(&d));
    let recorded = Recorded {
        what,
        min: record.min.map(|min| min.value),
        max: record.max.map(|max| max.value),
        unit: record.unit.as_ref()?.value.clone(),
        is_said: said.is_some(),
    };
    (is_meant && is_size).then_some(recorded)
}

/// What a reading measures, by the words of its id and label.
fn by_words(record: &Record) -> Option<Measures> {
    let text = format!("{} {}", record.id.value, record.label.value).to_lowercase();
    let spoken: Vec<&str> = text.split(|c: char| !c.is_alphanumeric()).collect();
    let has = |wanted: &[&str]| wanted.iter().any(|word| spoken.contains(word));
    let is_head = has(&["head", "heads"]) && has(&["shop", "driven"]);
    // A drag has no least, a torque without drag has both ends.
    match (record.min.is_some(), record.max.is_some()) {
        (true, false) if is_head && has(&["width", "wide", "diameter"]) => Some(Measures::HeadWidth),
        (true, false) if is_head && has(&["height", "high"]) => Some(Measures::HeadHeight),
        (false, true) if has(&["drag"]) => Some(Measures::Drag),
        (true, true) if has(&["torque"]) && !has(&["drag", "setting"]) => Some(Measures::Torque),
        _ => None,
    }
}

fn words(text: &str) -> impl Iterator<Item = &str> {
    text.split([' ', ',', ';', ':']).filter(|word| !word.is_empty())
}

fn names(label: &str, id: &str) -> bool {
    words(label).any(|word| word == id)
}

fn fraction(word: &str) -> Option<Length> {
    let is_fraction = word.contains('/') && word.chars().all(|c| c.is_ascii_digit() || c == '/' || c == '-');
    is_fraction.then(|| Length::parse(word, Unit::Inch).ok()).flatten()
}
