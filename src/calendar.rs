//! Days and minutes of the builder's own calendar and clock, and the forms in which they are written.
//!
//! No time zone and no summer time: what is read from the wall is what is written. It never asks a clock.

use std::fmt;
use std::ops::{Add, Sub};

use jiff::SignedDuration;
use jiff::civil::{Date, DateTime, Time};
use jiff::{Span, ToSpan};

use crate::phrase;
use crate::units::Minutes;

/// A day of the Gregorian calendar, in the years 1 to 9999; written `2026-03-02`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day(Date);

/// A minute of a day by the wall clock; on paper `2026-03-02 19:30`, in records `2026-03-02T19:30`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment(DateTime);

/// When something happened: a minute, or some time of a day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct When {
    /// Not before.
    pub earliest: Moment,
    /// Not after.
    pub latest: Moment,
}

/// Why a text is no day and no minute: one sentence that says what was expected.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TimeFault(String);

impl fmt::Display for TimeFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for TimeFault {}

impl Day {
    /// A day, where the calendar has it.
    #[must_use]
    pub fn new(year: u16, month: u8, day: u8) -> Option<Self> {
        let year = i16::try_from(year).ok().filter(|year| (1..=9999).contains(year))?;
        Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok().map(Self)
    }

    /// Reads the one form that records have, `2026-03-02`, of the years 1900 to 9999.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let mut parts = text.splitn(3, '-');
        let (year, month, day) = (parts.next()?, parts.next()?, parts.next()?);
        Self::new(padded(year, 4)?, u8::try_from(padded(month, 2)?).ok()?, u8::try_from(padded(day, 2)?).ok()?)?
            .for_record()
    }

    /// Reads `2.3.2026`, day, month and year: not taken as a date, and enough to tell which is meant.
    fn written_day_first(text: &str) -> Option<Self> {
        let [day, month, year] = numbers(text, '.')?[..] else { return None };
        Self::new(year, u8::try_from(month).ok()?, u8::try_from(day).ok()?).filter(|_| year >= 1900)
    }

    /// What to type in the place of a text that is no day.
    #[must_use]
    pub fn expected(text: &str) -> String {
        let meant = Self::written_day_first(text.trim());
        meant.map_or_else(|| "a day such as 2026-03-02".to_owned(), |day| format!("`{day}`: the year comes first"))
    }

    /// The day, where records may have it: the years 1900 to 9999. Nobody built an aircraft before, and a year that lost a
    /// digit is found.
    #[must_use]
    pub fn for_record(self) -> Option<Self> {
        (self.0.year() >= 1900).then_some(self)
    }

    /// Year, month from 1, and day of the month from 1.
    #[must_use]
    pub fn parts(self) -> (u16, u8, u8) {
        (self.0.year().unsigned_abs(), self.0.month().unsigned_abs(), self.0.day().unsigned_abs())
    }

    /// How many days it comes after another; negative where it comes before.
    #[must_use]
    pub fn days_after(self, other: Self) -> i64 {
        // 24 h a day: a calendar without summer time has no other days.
        self.0.duration_since(other.0).as_hours() / 24
    }

    /// The day before; none before the first that there is.
    #[must_use]
    pub fn before(self) -> Option<Self> {
        self.moved(-1.day())
    }

    /// The same day some years later; after 29 February comes 28 February. None after the last year.
    #[must_use]
    pub fn years_later(self, years: u32) -> Option<Self> {
        self.moved(Span::new().try_years(years).ok()?)
    }

    fn moved(self, by: Span) -> Option<Self> {
        self.0.checked_add(by).ok().map(Self).filter(|day| day.0.year() >= 1)
    }

    /// A minute of the day, where the clock has it.
    #[must_use]
    pub fn at(self, hour: u8, minute: u8) -> Option<Moment> {
        let time = Time::new(i8::try_from(hour).ok()?, i8::try_from(minute).ok()?, 0, 0).ok()?;
        Some(Moment(self.0.to_datetime(time)))
    }

    /// Day of the week and date, as a board shows them: `Mon 2026-03-02`.
    #[must_use]
    pub fn long(self) -> String {
        format!("{} {self}", phrase::word(&self.0.strftime("%a").to_string()))
    }

    /// Its first minute.
    #[must_use]
    pub fn first_minute(self) -> Moment {
        Moment(self.0.to_datetime(Time::midnight()))
    }
}

impl fmt::Display for Day {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (year, month, day) = self.parts();
        write!(f, "{year:04}-{month:02}-{day:02}")
    }
}

impl Moment {
    /// The minute of a clock's date and time; its seconds are dropped. None outside the years 1 to 9999.
    #[must_use]
    pub fn of(clock: DateTime) -> Option<Self> {
        let day = Some(Day(clock.date())).filter(|day| day.0.year() >= 1)?;
        day.at(clock.hour().unsigned_abs(), clock.minute().unsigned_abs())
    }

    /// Reads the one form that records have, `2026-03-02T19:30`, of the years 1900 to 9999.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let (day, time) = text.split_once('T')?;
        let (hour, minute) = time.split_once(':')?;
        Day::parse(day)?.at(u8::try_from(padded(hour, 2)?).ok()?, u8::try_from(padded(minute, 2)?).ok()?)
    }

    /// The form that records have: `2026-03-02T19:30`.
    #[must_use]
    pub fn in_record(self) -> String {
        format!("{}T{:02}:{:02}", self.day(), self.0.hour(), self.0.minute())
    }

    /// The day.
    #[must_use]
    pub fn day(self) -> Day {
        Day(self.0.date())
    }

    /// Day of the week, date and time, as a board shows them: `Mon 2026-03-02 19:30`.
    #[must_use]
    pub fn long(self) -> String {
        format!("{} {self}", phrase::word(&self.0.strftime("%a").to_string()))
    }
}

impl fmt::Display for Moment {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {:02}:{:02}", self.day(), self.0.hour(), self.0.minute())
    }
}

/// Past the last minute of the year 9999 the calendar stands still.
impl Add<Minutes> for Moment {
    type Output = Self;
    fn add(self, minutes: Minutes) -> Self {
        Self(self.0.saturating_add(SignedDuration::from_mins(minutes.0)))
    }
}

impl Sub for Moment {
    type Output = Minutes;
    fn sub(self, earlier: Self) -> Minutes {
        Minutes(self.0.duration_since(earlier.0).as_mins())
    }
}

impl When {
    /// A known minute.
    #[must_use]
    pub const fn at(moment: Moment) -> Self {
        Self { earliest: moment, latest: moment }
    }

    /// Some time of a day: from its first minute to that of the next day.
    #[must_use]
    pub fn on(day: Day) -> Self {
        const MINUTES_OF_DAY: i64 = 1440;
        let earliest = day.first_minute();
        Self { earliest, latest: earliest + Minutes(MINUTES_OF_DAY) }
    }

    /// Reads `2026-03-02`, `2026-03-02T19:30` or `2026-03-02 19:30`, with seconds or without, of the years 1 to 9999.
    ///
    /// # Errors
    /// Says what was expected, also for a day that does not exist.
    pub fn parse(text: &str) -> Result<Self, TimeFault> {
        let text = text.trim();
        Self::read(text).ok_or_else(|| match Day::written_day_first(text) {
            Some(day) => TimeFault(format!("`{text}` begins with the day: write `{day}`")),
            None => TimeFault(format!("`{text}` is not a date and time: write `2026-03-02` or `2026-03-02T19:30`")),
        })
    }

    fn read(text: &str) -> Option<Self> {
        let (date, time) = match text.split_once(['T', 't', ' ']) {
            Some((date, time)) => (date, Some(time)),
            None => (text, None),
        };
        let [year, month, day] = numbers(date, '-')?[..] else { return None };
        let day = Day::new(year, u8::try_from(month).ok()?, u8::try_from(day).ok()?)?;
        let Some(time) = time else { return Some(Self::on(day)) };
        let (hour, minute) = match numbers(time, ':')?[..] {
            [hour, minute] => (hour, minute),
            [hour, minute, second] if second < 60 => (hour, minute),
            _ => return None,
        };
        day.at(u8::try_from(hour).ok()?, u8::try_from(minute).ok()?).map(Self::at)
    }
}

impl fmt::Display for When {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.earliest == self.latest { self.latest.fmt(f) } else { self.earliest.day().fmt(f) }
    }
}

/// A number of exactly so many digits.
fn padded(text: &str, digits: usize) -> Option<u16> {
    number(text).filter(|_| text.len() == digits)
}

/// Numbers between marks, with leading zeros or without.
fn numbers(text: &str, mark: char) -> Option<Vec<u16>> {
    text.split(mark).map(number).collect()
}

/// A number of four digits at most; a sign is none.
fn number(text: &str) -> Option<u16> {
    let plain = (1..=4).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    plain.then(|| text.parse().ok()).flatten()
}
