//! Sizes as whole numbers: lengths in nanometres, torques in micro inch-pounds, temperatures, durations.
//!
//! Every size that a builder writes becomes an integer here, so that no verdict rests on a rounded
//! binary fraction. This module reads and prints sizes; it does not know what they are used for.

use std::cmp::Ordering;

mod decimal;
mod difference;
mod drill;
mod length;
mod quantity;
mod style;

pub use decimal::Decimal;
pub use difference::DifferenceLimits;
pub use drill::{DrillName, drills, letter_above};
pub use length::{Length, Ratio, Unit};
pub use quantity::{JointTorque, Minutes, Temperature, Torque, TorqueRange};
pub use style::{NamedDrills, Style, TorqueUnit};

/// Why a text is not a size: one sentence that says what was expected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SizeFault(pub String);

impl std::fmt::Display for SizeFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for SizeFault {}

impl SizeFault {
    /// What to say of a number with a decimal comma, where a text has one.
    fn of_comma(text: &str) -> Option<Self> {
        let (whole, part) = text.split_once(',')?;
        let is_decimal =
            whole.ends_with(|c: char| c.is_ascii_digit()) && part.starts_with(|c: char| c.is_ascii_digit());
        is_decimal.then(|| Self(format!("`{text}` has a decimal comma: use a point, `{}`", text.replace(',', "."))))
    }
}

/// A length together with the way it was written, so that a drill keeps its name on paper.
///
/// Two sizes are equal where their lengths are, however they were written.
#[derive(Debug, Clone, Copy)]
pub struct Size {
    /// The exact length.
    pub length: Length,
    /// The drill's name, where the size was written as one: also as a fraction, or in millimetres with their unit.
    pub drill: Option<DrillName>,
}

impl PartialEq for Size {
    fn eq(&self, other: &Self) -> bool {
        self.length == other.length
    }
}

impl Eq for Size {}

impl PartialOrd for Size {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Size {
    fn cmp(&self, other: &Self) -> Ordering {
        self.length.cmp(&other.length)
    }
}

impl Size {
    /// A size without a drill name.
    #[must_use]
    pub const fn plain(length: Length) -> Self {
        Self { length, drill: None }
    }

    /// Reads every form of a size: `0.063`, `.25`, `1/4`, `1-1/2`, `#30`, `F`, `3.2 mm`, `0.25 in`.
    ///
    /// A bare number is in `unit`.
    ///
    /// # Errors
    /// Says what was expected when the text is none of these forms, is negative, or is larger than 100 m.
    pub fn parse(text: &str, unit: Unit) -> Result<Self, SizeFault> {
        let text = text.trim();
        if let Some(name) = DrillName::parse(text) {
            return Ok(Self { length: name.length(), drill: Some(name) });
        }
        if text.starts_with('#') {
            return Err(SizeFault(format!("there is no number drill `{text}`: they run from #1 to #80")));
        }
        let length = Length::parse(text, unit)?;
        Ok(Self { length, drill: DrillName::written(text, length) })
    }
}

/// `1 hole`, `8 holes`.
#[must_use]
pub fn counted<N: Copy + std::fmt::Display + PartialEq + From<u8>>(n: N, one: &str, many: &str) -> String {
    format!("{n} {}", if n == N::from(1) { one } else { many })
}

/// Minutes as a builder says them: `40 min`, `1 h`, `2 h 10 min`.
#[must_use]
pub fn spent(minutes: u32) -> String {
    match (minutes / 60, minutes % 60) {
        (0, rest) => format!("{rest} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, rest) => format!("{hours} h {rest} min"),
    }
}
