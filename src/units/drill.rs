//! Number, letter and fraction drills by name.
//!
//! Sizes of the number and letter drills are those of ASME B94.11M, written from memory and
//! cross-checked in the tests against an open package's drill gauge definitions.

use std::fmt;

use super::Length;

/// A drill as a shop names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DrillName {
    /// Number drill 1 to 80.
    Number(u8),
    /// Letter drill A to Z.
    Letter(char),
    /// Fraction drill in 64ths of an inch.
    Fraction(u16),
    /// A size that was typed in millimetres, in thousandths of one.
    Millimetres(u32),
}

/// Number drills 1 to 80 in ten-thousandths of an inch.
const NUMBERS: [i64; 80] = [
    2280, 2210, 2130, 2090, 2055, 2040, 2010, 1990, 1960, 1935, 1910, 1890, 1850, 1820, 1800, 1770, 1730, 1695, 1660,
    1610, 1590, 1570, 1540, 1520, 1495, 1470, 1440, 1405, 1360, 1285, 1200, 1160, 1130, 1110, 1100, 1065, 1040, 1015,
    995, 980, 960, 935, 890, 860, 820, 810, 785, 760, 730, 700, 670, 635, 595, 550, 520, 465, 430, 420, 410, 400, 390,
    380, 370, 360, 350, 330, 320, 310, 292, 280, 260, 250, 240, 225, 210, 200, 180, 160, 145, 135,
];

/// Letter drills A to Z in ten-thousandths of an inch.
const LETTERS: [i64; 26] = [
    2340, 2380, 2420, 2460, 2500, 2570, 2610, 2660, 2720, 2770, 2810, 2900, 2950, 3020, 3160, 3230, 3320, 3390, 3480,
    3580, 3680, 3770, 3860, 3970, 4040, 4130,
];

/// Fraction drills are sold up to this size: 1 in.
const LARGEST_FRACTION: i64 = 64;

impl DrillName {
    /// Reads `#30`, `No. 30` or a single capital letter. Fractions are sizes first and are not read here.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let text = text.trim();
        let number = text.strip_prefix('#').or_else(|| text.strip_prefix("No.")).map(str::trim);
        if let Some(digits) = number {
            let plain = !digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit());
            let n = plain.then(|| digits.parse::<u8>().ok()).flatten()?;
            return (1..=80).contains(&n).then_some(Self::Number(n));
        }
        let mut letters = text.chars();
        match (letters.next(), letters.next()) {
            (Some(c @ 'A'..='Z'), None) => Some(Self::Letter(c)),
            _ => None,
        }
    }

    /// The name that a size has through the way it was written: a fraction of an inch, or millimetres with their unit.
    pub(super) fn written(text: &str, length: Length) -> Option<Self> {
        if text.ends_with("mm") {
            let microns = length.nm() / Length::from_microns(1).nm();
            let is_whole = Length::from_microns(microns) == length;
            return u32::try_from(microns).ok().filter(|_| is_whole).map(Self::Millimetres);
        }
        Self::of(length).filter(|name| matches!(name, Self::Fraction(_)) && text.contains('/'))
    }

    /// The drill of exactly this size: number before letter before fraction, except that 1/4 is printed as 1/4.
    #[must_use]
    pub fn of(length: Length) -> Option<Self> {
        let step = Length::from_64ths(1).nm();
        let sixty_fourths = length.nm() / step;
        if length.nm() > 0 && length.nm() % step == 0 && sixty_fourths <= LARGEST_FRACTION {
            return u16::try_from(sixty_fourths).ok().map(Self::Fraction);
        }
        drills().find(|name| name.length() == length)
    }

    /// The drill's diameter.
    #[must_use]
    pub fn length(self) -> Length {
        match self {
            Self::Number(n) => Length::from_ten_thousandths(NUMBERS[usize::from(n) - 1]),
            Self::Letter(c) => Length::from_ten_thousandths(LETTERS[usize::from(c as u8 - b'A')]),
            Self::Fraction(n) => Length::from_64ths(i64::from(n)),
            Self::Millimetres(n) => Length::from_microns(i64::from(n)),
        }
    }
}

/// The smallest letter drill that is larger than a length; none above Z.
#[must_use]
pub fn letter_above(length: Length) -> Option<DrillName> {
    ('A'..='Z').map(DrillName::Letter).find(|name| name.length() > length)
}

/// All number drills, then all letter drills.
pub fn drills() -> impl Iterator<Item = DrillName> {
    (1..=80).map(DrillName::Number).chain(('A'..='Z').map(DrillName::Letter))
}

impl fmt::Display for DrillName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(n) => write!(f, "#{n}"),
            Self::Letter(c) => write!(f, "{c}"),
            Self::Millimetres(_) => f.write_str(&self.length().mm_exact()),
            Self::Fraction(_) => f.write_str(&self.length().fraction_text().expect("so many 64ths are a fraction")),
        }
    }
}
