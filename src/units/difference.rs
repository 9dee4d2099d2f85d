//! The limits between which the difference of two readings lies: how far one may be from the other, how much larger it is.
//!
//! It compares what was written and takes no instrument's error into account.

use super::Decimal;

/// Limits of one reading less another, in the unit of both.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct DifferenceLimits {
    /// Least that the one is larger than the other; negative where it may be smaller.
    pub low: Decimal,
    /// Most.
    pub high: Decimal,
}

impl DifferenceLimits {
    /// At most so far from each other, whichever is the larger.
    #[must_use]
    pub const fn within(most: Decimal) -> Self {
        Self { low: Decimal::from_micro(most.micro().saturating_neg()), high: most }
    }

    /// Whether two readings as written keep to it; nothing where one is no number.
    #[must_use]
    pub fn contain(&self, one: &str, other: &str) -> Option<bool> {
        let one = Decimal::parse(one).ok()?;
        let other = Decimal::parse(other).ok()?;
        let less = Decimal::from_micro(one.micro().saturating_sub(other.micro()));
        Some(self.low <= less && less <= self.high)
    }

    /// Whether it lets no difference pass that another does not.
    #[must_use]
    pub fn lies_in(&self, other: &Self) -> bool {
        other.low <= self.low && self.high <= other.high
    }

    /// Whether only the distance counts, not which is the larger.
    #[must_use]
    pub fn is_distance(&self) -> bool {
        self.low.micro() == self.high.micro().saturating_neg()
    }

    /// As a sentence says it: `within 0.06 in of left`, `0.0005 to 0.0015 in more than bore`.
    #[must_use]
    pub fn words(&self, unit: Option<&str>, other: &str) -> String {
        let unit = unit.map(|unit| format!(" {unit}")).unwrap_or_default();
        if self.is_distance() {
            format!("within {}{unit} of {other}", self.high)
        } else {
            format!("{} to {}{unit} more than {other}", self.low, self.high)
        }
    }
}
