//! The calculators: published examples, agreement with the rules, and the command itself.

mod agree;
mod command;
mod worked;

use shophead::hardware::{Bolt, Fastener, Nut, SolidRivet, decode};
use shophead::units::{Length, Unit};

/// A length as it is typed.
pub fn length(text: &str) -> Length {
    Length::parse(text, Unit::Inch).unwrap()
}

/// Several lengths between commas.
pub fn lengths(texts: &str) -> Vec<Length> {
    texts.split(',').map(length).collect()
}

/// A solid rivet by its call.
pub fn rivet(call: &str) -> SolidRivet {
    match decode(call, &[]) {
        Ok(Fastener::SolidRivet(rivet)) => rivet,
        other => panic!("{call}: {other:?}"),
    }
}

/// A bolt by its call.
pub fn bolt(call: &str) -> Bolt {
    match decode(call, &[]) {
        Ok(Fastener::Bolt(bolt)) => bolt,
        other => panic!("{call}: {other:?}"),
    }
}

/// A nut by its call.
pub fn nut(call: &str) -> Nut {
    match decode(call, &[]) {
        Ok(Fastener::Nut(nut)) => nut,
        other => panic!("{call}: {other:?}"),
    }
}
