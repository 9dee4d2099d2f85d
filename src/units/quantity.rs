//! Torque, temperature and duration as whole numbers.
//!
//! Newton metres are rounded once, on reading, to a millionth of an inch-pound; everything else is exact.

use std::fmt;

use super::SizeFault;
use super::length::{divide_rounded, parse_number};

/// A torque in millionths of an inch-pound.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Torque(i64);

/// How many millionths of an inch-pound a sum of a few newton metres may be off, each rounded on reading.
const READING_ERRORS: u64 = 8;

/// One newton metre in millionths of an inch-pound: 1 / 0.112984829 N m (exact pound-force and inch), rounded.
const MICRO_PER_NEWTON_METRE: i128 = 8_850_746;
const MICRO: i128 = 1_000_000;

impl Torque {
    /// From whole inch-pounds.
    #[must_use]
    pub const fn from_inch_pounds(n: i64) -> Self {
        Self(n * 1_000_000)
    }

    /// From tenths of a newton metre, rounded to the nearest millionth of an inch-pound.
    #[must_use]
    pub fn from_newton_decimetres(n: i64) -> Self {
        Self(divide_rounded(i128::from(n) * MICRO_PER_NEWTON_METRE, 10))
    }

    /// So many of this torque.
    #[must_use]
    pub const fn times(self, n: i64) -> Self {
        Self(self.0.saturating_mul(n))
    }

    /// From millionths of an inch-pound.
    #[must_use]
    pub const fn from_micro(n: i64) -> Self {
        Self(n)
    }

    /// In millionths of an inch-pound.
    #[must_use]
    pub const fn micro(self) -> i64 {
        self.0
    }

    /// This torque times a fraction, rounded to the nearest millionth.
    #[must_use]
    pub fn fraction(self, numerator: i64, denominator: i64) -> Self {
        Self(divide_rounded(i128::from(self.0) * i128::from(numerator), i128::from(denominator)))
    }

    /// How many steps of a size reach this torque, the last of them perhaps not used up.
    #[must_use]
    pub const fn steps_of(self, step: Self) -> i64 {
        (self.0 + step.0 - 1).div_euclid(step.0)
    }

    /// Inch-pounds without needless decimals, at most one: `23`, `12.5`.
    #[must_use]
    pub fn inch_pound_text(self) -> String {
        tenths_text(divide_rounded(i128::from(self.0), MICRO / 10))
    }

    /// Newton metres with some decimal places.
    pub(super) fn newton_metre_text(self, places: usize) -> String {
        let scaled = i128::from(self.0) * scale(places);
        steps_text(divide_rounded(scaled, MICRO_PER_NEWTON_METRE), places)
    }

    /// How many whole steps of the last of some decimal places of a newton metre this is, rounded up or down.
    pub(super) fn newton_metre_steps(self, places: usize, up: bool) -> i64 {
        let over = if up { MICRO_PER_NEWTON_METRE - 1 } else { 0 };
        let steps = (i128::from(self.0) * scale(places) + over).div_euclid(MICRO_PER_NEWTON_METRE);
        i64::try_from(steps)
            .expect("a number of hundredths of a newton metre is smaller than that of micro inch-pounds")
    }

    /// Newton metres as they were typed, or a sum of such ones, where this is a whole number of thousandths of one, give or
    /// take what reading rounded; a torque in inch-pounds is hardly ever.
    pub(super) fn typed_newton_metres(self) -> Option<String> {
        let thousandths = divide_rounded(i128::from(self.0) * 1_000, MICRO_PER_NEWTON_METRE);
        let back = divide_rounded(i128::from(thousandths) * MICRO_PER_NEWTON_METRE, 1_000);
        let text = steps_text(thousandths, 3);
        (back.abs_diff(self.0) <= READING_ERRORS).then(|| text.trim_end_matches('0').trim_end_matches('.').to_owned())
    }

    /// Reads `23 in-lb`, `5 ft-lb` or `2.6 N m`.
    ///
    /// # Errors
    /// Says what was expected.
    pub fn parse(text: &str) -> Result<Self, SizeFault> {
        let fault = || {
            SizeFault::of_comma(text.trim()).unwrap_or_else(|| {
                SizeFault(format!("`{}` is not a torque: write `23 in-lb`, `5 ft-lb` or `2.6 N m`", text.trim()))
            })
        };
        // `1-1/2` could be one and a half or a range.
        if text.contains('/') {
            return Err(SizeFault(format!(
                "`{}` has a fraction: write a torque as a decimal, `1.5 ft-lb`",
                text.trim()
            )));
        }
        let (number, micro) = split_torque_unit(text.trim()).ok_or_else(fault)?;
        parse_scaled(number, micro).map(Self).ok_or_else(fault)
    }
}

impl std::ops::Add for Torque {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0.saturating_add(other.0))
    }
}

/// A number of steps of the last of some decimal places, as a decimal.
pub(super) fn steps_text(steps: i64, places: usize) -> String {
    let digits = format!("{steps:0width$}", width = places + 1);
    let (whole, part) = digits.split_at(digits.len() - places);
    if part.is_empty() { whole.to_owned() } else { format!("{whole}.{part}") }
}

/// Ten to the power of some decimal places.
fn scale(places: usize) -> i128 {
    (0..places).fold(1, |scale, _| scale * 10)
}

fn tenths_text(tenths: i64) -> String {
    if tenths % 10 == 0 { (tenths / 10).to_string() } else { format!("{}.{}", tenths / 10, (tenths % 10).abs()) }
}

fn split_torque_unit(text: &str) -> Option<(&str, i128)> {
    let units: [(&str, i128); 10] = [
        ("in-lb", MICRO),
        ("in lb", MICRO),
        ("in-lbs", MICRO),
        ("ft-lb", 12 * MICRO),
        ("ft lb", 12 * MICRO),
        ("ft-lbs", 12 * MICRO),
        ("N m", MICRO_PER_NEWTON_METRE),
        ("Nm", MICRO_PER_NEWTON_METRE),
        // The middle dot of SI, in both of its codes.
        ("N\u{b7}m", MICRO_PER_NEWTON_METRE),
        ("N\u{22c5}m", MICRO_PER_NEWTON_METRE),
    ];
    units.iter().find_map(|(suffix, micro)| text.strip_suffix(suffix).map(|number| (number.trim_end(), *micro)))
}

fn parse_scaled(number: &str, scale: i128) -> Option<i64> {
    let (top, bottom) = parse_number(number)?;
    let value = top.checked_mul(scale)? / bottom;
    (value <= i128::from(i64::MAX / 4)).then(|| divide_rounded(top * scale, bottom))
}

/// A torque range, low to high; a single torque is a range of one value.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct TorqueRange {
    /// The lower end.
    pub low: Torque,
    /// The upper end, not below `low`.
    pub high: Torque,
}

impl TorqueRange {
    /// Reads `20-25 in-lb`, or one torque.
    ///
    /// # Errors
    /// Says what was expected, also when the range is upside down.
    pub fn parse(text: &str) -> Result<Self, SizeFault> {
        let text = text.trim();
        if let Some(fault) = SizeFault::of_comma(text) {
            return Err(fault);
        }
        if text.contains('/') {
            return Torque::parse(text).map(|one| Self { low: one, high: one });
        }
        let digits_end = text.find(|c: char| c != '.' && !c.is_ascii_digit()).unwrap_or(text.len());
        let rest = text[digits_end..].trim_start();
        let upper = rest.strip_prefix('-').or_else(|| rest.strip_prefix("to")).filter(|upper| !upper.is_empty());
        let Some(upper) = upper.map(str::trim_start) else {
            let one = Torque::parse(text)?;
            return Ok(Self { low: one, high: one });
        };
        let high = Torque::parse(upper)?;
        let unit = upper.trim_start_matches(|c: char| c == '.' || c.is_ascii_digit());
        let low = Torque::parse(&format!("{}{unit}", &text[..digits_end]))?;
        if low > high {
            return Err(SizeFault(format!("the torque range `{text}` is upside down: write the lower end first")));
        }
        Ok(Self { low, high })
    }
}

/// What a nut is tightened to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum JointTorque {
    /// Finger-tight and back to the nearest slot, so that the joint turns.
    Snug,
    /// By the wrench.
    Range(TorqueRange),
}

impl JointTorque {
    /// The word for finger-tight.
    pub const SNUG: &str = "snug";

    /// Reads `snug`, or what [`TorqueRange::parse`] reads.
    ///
    /// # Errors
    /// Says what was expected.
    pub fn parse(text: &str) -> Result<Self, SizeFault> {
        if text.trim() == Self::SNUG { Ok(Self::Snug) } else { TorqueRange::parse(text).map(Self::Range) }
    }

    /// The range of the wrench, where it is one.
    #[must_use]
    pub const fn range(self) -> Option<TorqueRange> {
        match self {
            Self::Snug => None,
            Self::Range(range) => Some(range),
        }
    }
}

/// A temperature in ten-thousandths of a degree Fahrenheit, in which every thousandth of a degree Celsius is exact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Temperature(i64);

impl Temperature {
    /// From whole degrees Fahrenheit.
    #[must_use]
    pub const fn from_fahrenheit(n: i64) -> Self {
        Self(n * 10_000)
    }

    /// Reads `250 F` or `120 C`, with an optional minus and degree sign.
    ///
    /// # Errors
    /// Says what was expected.
    pub fn parse(text: &str) -> Result<Self, SizeFault> {
        let trimmed = text.trim();
        let fault = || {
            SizeFault::of_comma(trimmed)
                .unwrap_or_else(|| SizeFault(format!("`{trimmed}` is not a temperature: write `250 F` or `120 C`")))
        };
        let celsius = trimmed.ends_with('C');
        let number = trimmed.strip_suffix(['F', 'C']).ok_or_else(fault)?.trim_end().trim_end_matches('°').trim_end();
        let (negative, number) = number.strip_prefix('-').map_or((false, number), |rest| (true, rest));
        let magnitude = parse_scaled(number, if celsius { 18_000 } else { 10_000 })
            .filter(|n| *n < 1_000_000_000)
            .ok_or_else(fault)?;
        let signed = if negative { -magnitude } else { magnitude };
        Ok(Self(if celsius { signed + 320_000 } else { signed }))
    }

    /// Whole degrees Fahrenheit, rounded.
    #[must_use]
    pub fn fahrenheit(self) -> i64 {
        divide_rounded(i128::from(self.0), 10_000)
    }

    /// Whole degrees Celsius, rounded.
    #[must_use]
    pub fn celsius(self) -> i64 {
        divide_rounded(i128::from(self.0) - 320_000, 18_000)
    }
}

/// A duration in whole minutes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct Minutes(pub i64);

impl Minutes {
    /// Reads `24 h`, `3 d`, `40 min`, `1.5 h`.
    ///
    /// # Errors
    /// Says what was expected, also when the duration is not a whole number of minutes.
    pub fn parse(text: &str) -> Result<Self, SizeFault> {
        let text = text.trim();
        let fault = || {
            SizeFault::of_comma(text)
                .unwrap_or_else(|| SizeFault(format!("`{text}` is not a duration: write `24 h`, `3 d` or `40 min`")))
        };
        let units: [(&str, i128); 4] = [("min", 1), ("h", 60), ("days", 1440), ("d", 1440)];
        let found =
            units.iter().find_map(|(suffix, n)| text.strip_suffix(suffix).map(|number| (number.trim_end(), *n)));
        let (number, minutes) = found.ok_or_else(fault)?;
        let (top, bottom) = parse_number(number).ok_or_else(fault)?;
        let whole = top.checked_mul(minutes).filter(|n| n % bottom == 0).ok_or_else(fault)?;
        // Ten years: longer than any cure, short enough for date arithmetic.
        i64::try_from(whole / bottom).ok().filter(|n| *n <= 5_256_000).map(Self).ok_or_else(fault)
    }
}

impl fmt::Display for Minutes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            n if n != 0 && n % 1440 == 0 => write!(f, "{} d", n / 1440),
            n if n != 0 && n % 60 == 0 => write!(f, "{} h", n / 60),
            n if n > 120 => write!(f, "{} h {} min", n / 60, n % 60),
            n => write!(f, "{n} min"),
        }
    }
}
