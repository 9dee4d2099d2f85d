//! The limits of one reading of a joint, as they are written and as sizes.
//!
//! Plain data; which reading is about which joint is found when the specs are resolved.

use crate::units::{Decimal, Length, Torque, Unit};
use crate::words::Measures;

/// The limits of a reading of a joint.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Recorded {
    /// What it measures.
    pub what: Measures,
    /// Smallest value that passes, as written.
    pub min: Option<Decimal>,
    /// Largest value that passes, as written.
    pub max: Option<Decimal>,
    /// Unit, as written.
    pub unit: String,
    /// Whether the record says what it measures, rather than its label.
    pub is_said: bool,
}

impl Recorded {
    /// A value of it as a length.
    #[must_use]
    pub fn length(&self, value: Decimal) -> Option<Length> {
        let unit = match self.unit.as_str() {
            "in" | "inch" => Unit::Inch,
            "mm" => Unit::Mm,
            _ => return None,
        };
        Length::parse(&value.to_string(), unit).ok()
    }

    /// A value of it as a torque.
    #[must_use]
    pub fn torque(&self, value: Decimal) -> Option<Torque> {
        Torque::parse(&format!("{value} {}", self.unit)).ok()
    }
}
