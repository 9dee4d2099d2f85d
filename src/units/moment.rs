//! Moments of the builder's own calendar and clock, in whole minutes.
//!
//! No time zone and no summer time: what is read from the wall is what is written. It never asks a clock.

use std::fmt;
use std::ops::{Add, Sub};

use super::{Minutes, SizeFault};

/// Minutes since the start of 1970 by the wall clock.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment(i64);

/// When something happened: a minute, or some time of a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct When {
    /// Not before.
    pub earliest: Moment,
    /// Not after.
    pub latest: Moment,
}

const MINUTES_OF_DAY: i64 = 1440;

impl Moment {
    /// A minute of a day of the Gregorian calendar; nothing for a day or minute that does not exist.
    #[must_use]
    pub fn of(year: i64, month: i64, day: i64, hour: i64, minute: i64) -> Option<Self> {
        let fits = (1..=9999).contains(&year) && (0..24).contains(&hour) && (0..60).contains(&minute);
        let moment = Self(days_to(year, month, day) * MINUTES_OF_DAY + hour * 60 + minute);
        (fits && (1..=12).contains(&month) && moment.date() == (year, month, day)).then_some(moment)
    }

    /// From minutes since the start of 1970.
    #[must_use]
    pub const fn from_minutes(minutes: i64) -> Self {
        Self(minutes)
    }

    /// Minutes since the start of 1970.
    #[must_use]
    pub const fn minutes(self) -> i64 {
        self.0
    }

    /// Year, month and day.
    #[must_use]
    pub fn date(self) -> (i64, i64, i64) {
        date_of(self.0.div_euclid(MINUTES_OF_DAY))
    }

    /// The day as `2026-03-02`.
    #[must_use]
    pub fn date_text(self) -> String {
        let (year, month, day) = self.date();
        format!("{year:04}-{month:02}-{day:02}")
    }

    /// The three letters of the day of the week.
    #[must_use]
    pub fn weekday(self) -> &'static str {
        // The first day of 1970 was a Thursday.
        const NAMES: [&str; 7] = ["Thu", "Fri", "Sat", "Sun", "Mon", "Tue", "Wed"];
        NAMES[usize::try_from(self.0.div_euclid(MINUTES_OF_DAY).rem_euclid(7)).unwrap_or(0)]
    }

    /// Day of the week, date and time, as a board shows them: `Mon 2026-03-02 19:30`.
    #[must_use]
    pub fn long(self) -> String {
        format!("{} {self}", self.weekday())
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let minute = self.0.rem_euclid(MINUTES_OF_DAY);
        write!(f, "{} {:02}:{:02}", self.date_text(), minute / 60, minute % 60)
    }
}

impl Add<Minutes> for Moment {
    type Output = Self;
    fn add(self, minutes: Minutes) -> Self {
        Self(self.0 + minutes.0)
    }
}

impl Sub for Moment {
    type Output = Minutes;
    fn sub(self, earlier: Self) -> Minutes {
        Minutes(self.0 - earlier.0)
    }
}

impl When {
    /// A known minute.
    #[must_use]
    pub const fn at(moment: Moment) -> Self {
        Self { earliest: moment, latest: moment }
    }

    /// Reads `2026-03-02`, `2026-03-02T19:30` or `2026-03-02 19:30`, with seconds or without.
    ///
    /// # Errors
    /// Says what was expected, also for a day that does not exist.
    pub fn parse(text: &str) -> Result<Self, SizeFault> {
        let text = text.trim();
        let fault = || SizeFault(format!("`{text}` is not a date and time: write `2026-03-02` or `2026-03-02T19:30`"));
        let (date, time) = match text.split_once(['T', 't', ' ']) {
            Some((date, time)) => (date, Some(time)),
            None => (text, None),
        };
        let numbers = |text: &str, mark: char| text.split(mark).map(digits).collect::<Option<Vec<i64>>>();
        let [year, month, day] = numbers(date, '-').ok_or_else(fault)?[..] else { return Err(fault()) };
        let Some(time) = time else {
            let earliest = Moment::of(year, month, day, 0, 0).ok_or_else(fault)?;
            return Ok(Self { earliest, latest: earliest + Minutes(MINUTES_OF_DAY) });
        };
        let (hour, minute) = match numbers(time, ':').ok_or_else(fault)?[..] {
            [hour, minute] => (hour, minute),
            [hour, minute, second] if second < 60 => (hour, minute),
            _ => return Err(fault()),
        };
        Moment::of(year, month, day, hour, minute).map(Self::at).ok_or_else(fault)
    }
}

impl fmt::Display for When {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.earliest == self.latest {
            write!(f, "{}", self.latest)
        } else {
            f.write_str(&self.earliest.date_text())
        }
    }
}

fn digits(text: &str) -> Option<i64> {
    (!text.is_empty() && text.len() <= 4 && text.bytes().all(|b| b.is_ascii_digit())).then(|| text.parse().ok())?
}

/// Days from the start of 1970 to a date, counting years from March, so that the leap day comes last.
const fn days_to(year: i64, month: i64, day: i64) -> i64 {
    let year = if month <= 2 { year - 1 } else { year };
    let (era, of_era) = (year.div_euclid(400), year.rem_euclid(400));
    let of_year = (153 * ((month + 9) % 12) + 2) / 5 + day - 1;
    era * 146_097 + of_era * 365 + of_era / 4 - of_era / 100 + of_year - 719_468
}

const fn date_of(days: i64) -> (i64, i64, i64) {
    let days = days + 719_468;
    let (era, of_era) = (days.div_euclid(146_097), days.rem_euclid(146_097));
    let year_of_era = (of_era - of_era / 1_460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let from_march = (5 * of_year + 2) / 153;
    let month = if from_march < 10 { from_march + 3 } else { from_march - 9 };
    let year = year_of_era + era * 400;
    (if month <= 2 { year + 1 } else { year }, month, of_year - (153 * from_march + 2) / 5 + 1)
}
