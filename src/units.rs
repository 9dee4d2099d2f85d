//! Sizes as whole numbers: lengths in nanometres, torques in micro inch-pounds, temperatures, durations.
//!
//! Every size that a builder writes becomes an integer here, so that no verdict rests on a rounded
//! binary fraction. This module reads and prints sizes; it does not know what they are used for.

mod drill;
mod length;
mod quantity;

pub use drill::{DrillName, drills, letter_above};
pub use length::{Length, Ratio, Unit};
pub use quantity::{Decimal, JointTorque, Minutes, Temperature, Torque, TorqueRange};

/// Why a text is not a size: one sentence that says what was expected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SizeFault(pub String);

impl std::fmt::Display for SizeFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for SizeFault {}

/// A length together with the way it was written, so that a drill keeps its name on paper.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Size {
    /// The exact length.
    pub length: Length,
    /// The drill's name, where the size was written as one.
    pub drill: Option<DrillName>,
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
        Length::parse(text, unit).map(Self::plain)
    }

    /// The drill that has exactly this size: as written, else number, letter or fraction by size.
    #[must_use]
    pub fn named_drill(self) -> Option<DrillName> {
        self.drill.or_else(|| DrillName::of(self.length))
    }

    /// Drill name, decimal inch and millimetres together: `#30 (0.1285 in, 3.26 mm)`.
    #[must_use]
    pub fn full(self) -> String {
        let both = format!("{} in, {} mm", self.length.inch_text(), self.length.mm_text());
        match self.named_drill() {
            Some(name) => format!("{name} ({both})"),
            None => match self.length.fraction_text() {
                Some(fraction) => format!("{fraction} ({both})"),
                None => format!("{} in ({} mm)", self.length.inch_text(), self.length.mm_text()),
            },
        }
    }

    /// Drill name where there is one, else the fraction or the decimal inch: for narrow columns.
    #[must_use]
    pub fn short(self) -> String {
        match self.named_drill() {
            Some(name) => name.to_string(),
            None => self.length.fraction_text().unwrap_or_else(|| self.length.inch_text()),
        }
    }
}

impl std::fmt::Display for Size {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.full())
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
