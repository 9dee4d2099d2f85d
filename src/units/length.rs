//! Lengths in whole nanometres, ratios in thousandths, and how both are read and printed.
//!
//! It rounds only when printing; a length that is not a whole number of nanometres is rounded once, on reading.

use std::fmt;
use std::iter::Sum;
use std::ops::{Add, Mul, Sub};

use super::SizeFault;

/// The unit of a bare number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Unit {
    /// Inches.
    #[default]
    Inch,
    /// Millimetres.
    Mm,
}

impl Unit {
    /// The other one.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Inch => Self::Mm,
            Self::Mm => Self::Inch,
        }
    }
}

/// A length in nanometres.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Length(i64);

/// Nanometres in an inch: exact by the definition of the inch (25.4 mm).
const NM_PER_INCH: i64 = 25_400_000;
const NM_PER_MM: i64 = 1_000_000;
const LARGEST_NM: i128 = 100 * 1_000_000_000;

impl Length {
    /// No length.
    pub const ZERO: Self = Self(0);

    /// From nanometres.
    #[must_use]
    pub const fn from_nm(nm: i64) -> Self {
        Self(nm)
    }

    /// In nanometres.
    #[must_use]
    pub const fn nm(self) -> i64 {
        self.0
    }

    /// From ten-thousandths of an inch: `1285` is 0.1285 in.
    #[must_use]
    pub const fn from_ten_thousandths(n: i64) -> Self {
        Self(n * (NM_PER_INCH / 10_000))
    }

    /// From thousandths of an inch: `63` is 0.063 in.
    #[must_use]
    pub const fn from_mils(n: i64) -> Self {
        Self(n * (NM_PER_INCH / 1_000))
    }

    /// From 64ths of an inch.
    #[must_use]
    pub const fn from_64ths(n: i64) -> Self {
        Self(n * (NM_PER_INCH / 64))
    }

    /// From thousandths of a millimetre.
    #[must_use]
    pub const fn from_microns(n: i64) -> Self {
        Self(n * 1_000)
    }

    /// A length from a count of 1/32 in, as rivet dashes count diameters.
    #[must_use]
    pub const fn from_32nds(n: u16) -> Self {
        Self::from_64ths(2 * n as i64)
    }

    /// This length times a ratio, rounded to the nearest nanometre.
    #[must_use]
    pub fn times(self, ratio: Ratio) -> Self {
        Self(divide_rounded(i128::from(self.0) * i128::from(ratio.0), 1_000))
    }

    /// The length with the same number in another unit: 1.6 in and 1.6 mm.
    #[must_use]
    pub fn number_in(self, unit: Unit) -> Self {
        match unit {
            Unit::Mm => self.fraction(NM_PER_MM, NM_PER_INCH),
            Unit::Inch => self.fraction(NM_PER_INCH, NM_PER_MM),
        }
    }

    /// A tenth of it: the point one place further to the left.
    #[must_use]
    pub fn tenth(self) -> Self {
        self.fraction(1, 10)
    }

    /// A fraction of this length, rounded to the nearest nanometre.
    #[must_use]
    pub fn fraction(self, numerator: i64, denominator: i64) -> Self {
        Self(divide_rounded(i128::from(self.0) * i128::from(numerator), i128::from(denominator)))
    }

    /// This length divided by a ratio, rounded to the nearest nanometre; zero where the ratio is.
    #[must_use]
    pub fn divided_by(self, ratio: Ratio) -> Self {
        if ratio.0 == 0 { Self(0) } else { self.fraction(1_000, ratio.0) }
    }

    /// This length over another in thousandths, rounded to the nearest; `None` where the other is zero.
    #[must_use]
    pub fn ratio_to(self, other: Self) -> Option<Ratio> {
        (other.0 != 0).then(|| Ratio(divide_rounded(i128::from(self.0) * 1_000, i128::from(other.0))))
    }

    /// Whether this is at least `limit`, with `slack` given away.
    #[must_use]
    pub fn reaches(self, limit: Self, slack: Self) -> bool {
        self.0 + slack.0 >= limit.0
    }

    /// The distance between two lengths.
    #[must_use]
    pub const fn distance(self, other: Self) -> Self {
        Self((self.0 - other.0).abs())
    }

    /// Decimal inches with three places, or four where the fourth is not zero: `0.063`, `0.1285`.
    #[must_use]
    pub fn inch_text(self) -> String {
        let sign = if self.0 < 0 { "-" } else { "" };
        let n = divide_rounded(i128::from(self.0.abs()), i128::from(NM_PER_INCH / 10_000));
        let (whole, part) = (n / 10_000, n % 10_000);
        if part % 10 == 0 { format!("{sign}{whole}.{:03}", part / 10) } else { format!("{sign}{whole}.{part:04}") }
    }

    /// Millimetres with two places: `3.26`.
    #[must_use]
    pub fn mm_text(self) -> String {
        let sign = if self.0 < 0 { "-" } else { "" };
        let n = divide_rounded(i128::from(self.0.abs()), i128::from(NM_PER_MM / 100));
        format!("{sign}{}.{:02}", n / 100, n % 100)
    }

    /// Millimetres to the nanometre, without trailing zeros: for drawing to scale.
    #[must_use]
    pub fn mm_exact(self) -> String {
        let sign = if self.0 < 0 { "-" } else { "" };
        let text = format!("{}.{:06}", self.0.abs() / NM_PER_MM, self.0.abs() % NM_PER_MM);
        format!("{sign}{}", text.trim_end_matches('0').trim_end_matches('.'))
    }

    /// Decimal inches to the sixth place, without trailing zeros: for machine-readable output.
    #[must_use]
    pub fn inch_exact(self) -> String {
        let sign = if self.0 < 0 { "-" } else { "" };
        let n = divide_rounded(i128::from(self.0.abs()) * 1_000_000, i128::from(NM_PER_INCH));
        let text = format!("{}.{:06}", n / 1_000_000, n % 1_000_000);
        format!("{sign}{}", text.trim_end_matches('0').trim_end_matches('.'))
    }

    /// The exact fraction in 64ths or coarser, where the length is one: `5/32`, `1-1/2`, `2`.
    #[must_use]
    pub fn fraction_text(self) -> Option<String> {
        let step = NM_PER_INCH / 64;
        if self.0 <= 0 || self.0 % step != 0 {
            return None;
        }
        let (mut top, mut bottom) = (self.0 / step, 64);
        while top % 2 == 0 && bottom > 1 {
            top /= 2;
            bottom /= 2;
        }
        Some(match (top / bottom, top % bottom) {
            (whole, 0) => whole.to_string(),
            (0, part) => format!("{part}/{bottom}"),
            (whole, part) => format!("{whole}-{part}/{bottom}"),
        })
    }

    /// The shortest length that is a whole number of steps and not below this one.
    #[must_use]
    pub const fn up_to(self, step: Self) -> Self {
        Self((self.0 + step.0 - 1).div_euclid(step.0) * step.0)
    }

    /// The longest length that is a whole number of steps and not above this one.
    #[must_use]
    pub const fn down_to(self, step: Self) -> Self {
        Self(self.0.div_euclid(step.0) * step.0)
    }

    /// Reads a decimal, a fraction or a mixed number with an optional `in` or `mm`.
    ///
    /// # Errors
    /// Says what was expected when the text is none of these, is negative, is larger than 100 m, or is a fraction
    /// without a unit where a bare number is millimetres.
    pub fn parse(text: &str, unit: Unit) -> Result<Self, SizeFault> {
        let text = text.trim();
        let (number, own_unit) = split_unit(text);
        let (top, bottom) = parse_number(number).ok_or_else(|| not_a_size(text, unit))?;
        if number.contains('/') && own_unit.is_none() && unit == Unit::Mm {
            return Err(bare_fraction(text, top, bottom));
        }
        let unit = own_unit.unwrap_or(unit);
        let per_unit = match unit {
            Unit::Inch => NM_PER_INCH,
            Unit::Mm => NM_PER_MM,
        };
        let scaled = top.checked_mul(i128::from(per_unit)).filter(|n| n / bottom <= LARGEST_NM);
        let scaled = scaled
            .ok_or_else(|| SizeFault(format!("`{text}` is larger than anything on an aircraft (limit 100 m)")))?;
        Ok(Self(divide_rounded(scaled, bottom)))
    }
}

fn not_a_size(text: &str, unit: Unit) -> SizeFault {
    SizeFault::of_comma(text).unwrap_or_else(|| {
        let forms = match unit {
            Unit::Inch => "a decimal (0.063), a fraction (1/4, 1-1/2), a drill (#30, F) or 3.2 mm",
            Unit::Mm => "a decimal in millimetres (1.6), or with its unit (0.063 in, 1/4 in)",
        };
        SizeFault(format!("`{text}` is not a size: write {forms}"))
    })
}

/// Nobody means an eighth of a millimetre, and an eighth of an inch must not be guessed.
fn bare_fraction(text: &str, top: i128, bottom: i128) -> SizeFault {
    let tenths = divide_rounded(top.saturating_mul(254), bottom);
    SizeFault(format!(
        "`{text}` is a fraction, and the project is in millimetres: write {text} in or {}.{}",
        tenths / 10,
        tenths % 10
    ))
}

fn split_unit(text: &str) -> (&str, Option<Unit>) {
    for (suffix, its_unit) in [("mm", Unit::Mm), ("inch", Unit::Inch), ("in", Unit::Inch), ("\"", Unit::Inch)] {
        if let Some(number) = text.strip_suffix(suffix) {
            return (number.trim_end(), Some(its_unit));
        }
    }
    (text, None)
}

/// A number as an exact fraction of two integers, the lower one positive.
pub(super) fn parse_number(text: &str) -> Option<(i128, i128)> {
    if let Some((whole, fraction)) = text.split_once('-').or_else(|| text.split_once(' ')) {
        let (top, bottom) = parse_fraction(fraction.trim())?;
        return Some((parse_digits(whole.trim())? * bottom + top, bottom));
    }
    if text.contains('/') { parse_fraction(text) } else { parse_decimal(text) }
}

fn parse_fraction(text: &str) -> Option<(i128, i128)> {
    let (top, bottom) = text.split_once('/')?;
    let (top, bottom) = (parse_digits(top.trim())?, parse_digits(bottom.trim())?);
    (bottom > 0).then_some((top, bottom))
}

fn parse_decimal(text: &str) -> Option<(i128, i128)> {
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    if whole.is_empty() && part.is_empty() {
        return None;
    }
    let whole = if whole.is_empty() { 0 } else { parse_digits(whole)? };
    let part_value = if part.is_empty() { 0 } else { parse_digits(part)? };
    let scale = 10_i128.checked_pow(u32::try_from(part.len()).ok()?)?;
    Some((whole.checked_mul(scale)?.checked_add(part_value)?, scale))
}

fn parse_digits(text: &str) -> Option<i128> {
    // Eighteen digits hold any size on an aircraft and leave room to multiply without overflow.
    let plain = !text.is_empty() && text.len() <= 18 && text.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}

/// Division rounded half away from zero; the results fit because lengths are limited on reading.
pub(super) fn divide_rounded(top: i128, bottom: i128) -> i64 {
    let half = bottom.abs() / 2;
    let rounded = if (top < 0) == (bottom < 0) {
        (top.abs() + half) / bottom.abs()
    } else {
        -((top.abs() + half) / bottom.abs())
    };
    i64::try_from(rounded).unwrap_or(if rounded < 0 { i64::MIN } else { i64::MAX })
}

impl Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

impl Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Mul<i64> for Length {
    type Output = Self;
    fn mul(self, n: i64) -> Self {
        Self(self.0.saturating_mul(n))
    }
}

impl Sum for Length {
    fn sum<I: Iterator<Item = Self>>(lengths: I) -> Self {
        lengths.fold(Self::ZERO, Add::add)
    }
}

/// A plain ratio in thousandths: `1500` is 1.5, as in 1.5 D.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ratio(pub i64);

impl Ratio {
    /// Reads `1.5`, `1.5 D` or `1.5D`.
    ///
    /// # Errors
    /// Says what was expected when the text is not a number of at most three decimals, or over 1,000.
    pub fn parse(text: &str) -> Result<Self, SizeFault> {
        let number = text.trim().trim_end_matches(['D', 'd']).trim_end();
        let fault = || {
            SizeFault::of_comma(text).unwrap_or_else(|| {
                SizeFault(format!("`{text}` is not a multiple of the diameter: write it like `1.5 D`"))
            })
        };
        let (top, bottom) = parse_number(number).ok_or_else(fault)?;
        let scaled = top * 1_000;
        if scaled % bottom != 0 || scaled / bottom > 1_000_000 {
            return Err(fault());
        }
        Ok(Self(divide_rounded(scaled, bottom)))
    }
}

impl fmt::Display for Ratio {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let sign = if self.0 < 0 { "-" } else { "" };
        let text = format!("{sign}{}.{:03}", self.0.abs() / 1_000, self.0.abs() % 1_000);
        f.write_str(text.trim_end_matches('0').trim_end_matches('.'))
    }
}
