//! Days and moments as they stand in records: `2026-03-02` and `2026-03-02T19:30`.
//!
//! Which day it is comes from whoever calls; no clock is read here and no time zone is known.

use std::fmt;

/// A day of the calendar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day {
    year: u16,
    month: u8,
    of_month: u8,
}

/// A minute of a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment {
    /// The day.
    pub day: Day,
    minute: u16,
}

impl Day {
    /// A day, where the calendar has it; years run from 1900 to 9999.
    #[must_use]
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let last = match month {
            1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
            4 | 6 | 9 | 11 => 30,
            2 if year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400)) => 29,
            2 => 28,
            _ => return None,
        };
        let fits = (1900..=9999).contains(&year) && (1..=last).contains(&day);
        fits.then_some(Self { year, month, of_month: day })
    }

    /// Reads `2026-03-02`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let plain = text.len() == 10
            && text.bytes().enumerate().all(|(at, b)| if at == 4 || at == 7 { b == b'-' } else { b.is_ascii_digit() });
        let part = |from: usize, to: usize| text.get(from..to);
        if !plain {
            return None;
        }
        Self::new(part(0, 4)?.parse().ok()?, part(5, 7)?.parse().ok()?, part(8, 10)?.parse().ok()?)
    }

    /// The day after so many days since 1 January 1970, which was a Thursday.
    #[must_use]
    pub fn from_count(count: i64) -> Option<Self> {
        // Eras of 400 years, years that begin in March: the leap day is then the last day of its year.
        let shifted = count.checked_add(719_468)?;
        let (era, in_era) = (shifted.div_euclid(146_097), shifted.rem_euclid(146_097));
        let year_of_era = (in_era - in_era / 1460 + in_era / 36_524 - in_era / 146_096) / 365;
        let in_year = in_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let from_march = (5 * in_year + 2) / 153;
        let day = in_year - (153 * from_march + 2) / 5 + 1;
        let month = if from_march < 10 { from_march + 3 } else { from_march - 9 };
        let year = year_of_era + era.checked_mul(400)? + i64::from(month <= 2);
        Self::new(u16::try_from(year).ok()?, u8::try_from(month).ok()?, u8::try_from(day).ok()?)
    }

    /// Days since 1 January 1970.
    #[must_use]
    pub fn count(self) -> i64 {
        let (month, day) = (i64::from(self.month), i64::from(self.of_month));
        let year = i64::from(self.year) - i64::from(month <= 2);
        let (era, year_of_era) = (year.div_euclid(400), year.rem_euclid(400));
        let from_march = if month > 2 { month - 3 } else { month + 9 };
        let in_year = (153 * from_march + 2) / 5 + day - 1;
        era * 146_097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + in_year - 719_468
    }

    /// Year, month and day of the month.
    #[must_use]
    pub const fn parts(self) -> (u16, u8, u8) {
        (self.year, self.month, self.of_month)
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.of_month)
    }
}

impl Moment {
    /// A minute of a day.
    #[must_use]
    pub fn new(day: Day, hour: u16, minute: u16) -> Option<Self> {
        (hour < 24 && minute < 60).then_some(Self { day, minute: hour * 60 + minute })
    }

    /// Reads `2026-03-02T19:30`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let (day, time) = text.split_once('T')?;
        let (hour, minute) = time.split_once(':')?;
        let plain = [hour, minute].iter().all(|part| part.len() == 2 && part.bytes().all(|b| b.is_ascii_digit()));
        if !plain {
            return None;
        }
        Self::new(Day::parse(day)?, hour.parse().ok()?, minute.parse().ok()?)
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}T{:02}:{:02}", self.day, self.minute / 60, self.minute % 60)
    }
}
