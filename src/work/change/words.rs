//! Differences as people read them: lengths with drill, inch and millimetre instead of nanometres.
//!
//! The exact values stay in the data; this is for paper and messages only.

use super::Difference;
use crate::units::{Length, Size, Torque};

/// A difference as one clause.
#[must_use]
pub fn of(difference: &Difference) -> String {
    let name = &difference.name;
    match (&difference.old, &difference.new) {
        (Some(old), Some(new)) => format!("{name} is now {}, was {}", shown(new), shown(old)),
        (None, Some(new)) => format!("{name} is new: {}", shown(new)),
        (Some(old), None) => format!("{name} is gone, was {}", shown(old)),
        (None, None) => name.clone(),
    }
}

/// A value with its lengths and torques in the units of the bench.
#[must_use]
pub fn shown(value: &str) -> String {
    let words: Vec<&str> = value.split(' ').collect();
    let mut out: Vec<String> = Vec::with_capacity(words.len());
    let micro = value.ends_with(" micro in-lb");
    let mut rest = words.iter().peekable();
    while let Some(word) = rest.next() {
        let number = word.parse::<i64>().ok();
        match (number, rest.peek().copied()) {
            (Some(nm), Some(unit)) if unit.trim_end_matches(',') == "nm" => {
                let comma = if unit.ends_with(',') { "," } else { "" };
                out.push(format!("{}{comma}", Size::plain(Length::from_nm(nm)).full()));
                rest.next();
            }
            (Some(torque), _) if micro => out.push(Torque::from_micro(torque).inch_pound_text()),
            (None, _) if micro && *word == "micro" => {}
            _ => out.push((*word).to_owned()),
        }
    }
    out.join(" ")
}
