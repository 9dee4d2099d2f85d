//! A measured value or its limit, with the decimal places that were written.
//!
//! Two that differ in places alone are one value: `0.5` and `0.5000` compare equal, and each prints as it was written.

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};

use super::SizeFault;
use super::length::parse_number;

const MICRO: i128 = 1_000_000;

/// A signed decimal in millionths.
#[derive(Debug, Clone, Copy)]
pub struct Decimal {
    micro: i64,
    places: u8,
}

impl Decimal {
    /// From millionths, printed with as many places as it needs.
    #[must_use]
    pub const fn from_micro(micro: i64) -> Self {
        Self { micro, places: 0 }
    }

    /// In millionths.
    #[must_use]
    pub const fn micro(self) -> i64 {
        self.micro
    }

    /// The same value with as many places as it needs.
    #[must_use]
    pub const fn plain(self) -> Self {
        Self::from_micro(self.micro)
    }

    /// Reads a signed decimal with at most six places.
    ///
    /// # Errors
    /// Says what was expected.
    pub fn parse(text: &str) -> Result<Self, SizeFault> {
        let trimmed = text.trim();
        let fault = || {
            SizeFault::of_comma(trimmed)
                .unwrap_or_else(|| SizeFault(format!("`{trimmed}` is not a decimal number with at most six places")))
        };
        let (negative, number) = match trimmed.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, trimmed.strip_prefix('+').unwrap_or(trimmed)),
        };
        let (top, bottom) = parse_number(number).ok_or_else(fault)?;
        let scaled = top.checked_mul(MICRO).filter(|n| n % bottom == 0).ok_or_else(fault)?;
        let magnitude = i64::try_from(scaled / bottom).map_err(|_| fault())?;
        // A whole number has no places.
        let written = number.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        // Zeros past the millionth are no place of a measurement.
        let places = u8::try_from(written.min(6)).map_err(|_| fault())?;
        Ok(Self { micro: if negative { -magnitude } else { magnitude }, places })
    }
}

impl PartialEq for Decimal {
    fn eq(&self, other: &Self) -> bool {
        self.micro == other.micro
    }
}

impl Eq for Decimal {}

impl PartialOrd for Decimal {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Decimal {
    fn cmp(&self, other: &Self) -> Ordering {
        self.micro.cmp(&other.micro)
    }
}

impl Hash for Decimal {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.micro.hash(state);
    }
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.micro < 0 { "-" } else { "" };
        let whole = self.micro.unsigned_abs() / 1_000_000;
        let decimals = format!("{:06}", self.micro.unsigned_abs() % 1_000_000);
        let needed = decimals.trim_end_matches('0').len();
        match needed.max(usize::from(self.places)) {
            0 => write!(f, "{sign}{whole}"),
            shown => write!(f, "{sign}{whole}.{}", &decimals[..shown]),
        }
    }
}
