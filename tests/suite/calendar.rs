//! Days and minutes: known dates, what is no date, and forms that read back.

use proptest::prelude::*;
use shophead::calendar::{Day, Moment, When};
use shophead::units::Minutes;

fn day(text: &str) -> Day {
    Day::parse(text).unwrap()
}

/// Every day that records may have, by its distance from the first.
fn any_day() -> impl Strategy<Value = Day> {
    (1900_u16..=9999, 1_u8..=12, 1_u8..=31).prop_filter_map("no day", |(year, month, day)| Day::new(year, month, day))
}

fn any_moment() -> impl Strategy<Value = Moment> {
    (any_day(), 0_u8..24, 0_u8..60).prop_map(|(day, hour, minute)| day.at(hour, minute).unwrap())
}

#[test]
fn days_count_as_the_calendar_does() {
    // 1 January 2000 is day 10957 since 1970: 30 years of 365 days and 7 leap days.
    assert_eq!(day("2000-01-01").days_after(day("1970-01-01")), 30 * 365 + 7);
    assert_eq!(day("2000-02-29").days_after(day("1970-01-01")), 11_016);
    assert_eq!(day("2024-03-01").days_after(day("2024-02-29")), 1);
    assert_eq!(day("2026-03-01").days_after(day("2026-03-02")), -1);
    assert_eq!(day("2024-03-01").before(), Some(day("2024-02-29")));
    assert_eq!(Day::new(1, 1, 1).unwrap().before(), None);
    assert_eq!(day("2025-03-02").years_later(1), Some(day("2026-03-02")));
    assert_eq!(day("2024-02-29").years_later(1), Some(day("2025-02-28")));
    assert_eq!(day("9999-03-02").years_later(1), None);
}

#[test]
fn records_have_one_form_of_a_day_and_one_of_a_minute() {
    for wrong in [
        "2026-02-29",
        "1900-02-29",
        "2100-02-29",
        "1899-12-31",
        "2026-13-01",
        "2026-00-10",
        "2026-1-01",
        "02026-01-01",
        "+026-01-01",
        "2026-01-32",
        "2026/01/01",
        "2026-01-01-",
        " 2026-01-01",
        "",
    ] {
        assert_eq!(Day::parse(wrong), None, "{wrong}");
    }
    for wrong in [
        "2026-03-02",
        "2026-03-02T24:00",
        "2026-03-02T9:00",
        "2026-03-02T09:60",
        "2026-03-02T09:00:00",
        "2026-03-02 09:00",
        "1899-12-31T09:00",
    ] {
        assert_eq!(Moment::parse(wrong), None, "{wrong}");
    }
    assert_eq!(Day::new(1899, 12, 31).and_then(Day::for_record), None);
    assert_eq!((Day::new(0, 1, 1), Day::new(10_000, 1, 1), Day::new(2026, 2, 29)), (None, None, None));
}

#[test]
fn a_date_that_begins_with_its_day_is_refused_with_the_one_that_is_meant() {
    assert_eq!(Day::expected("26.11.2026"), "`2026-11-26`: the year comes first");
    for odd in ["31.2.2026", "26.11.26", "26/11/2026", "soon"] {
        assert_eq!(Day::expected(odd), "a day such as 2026-03-02", "{odd}");
    }
}

#[test]
fn a_date_alone_is_some_time_of_that_day() {
    let some_time = When::parse("2026-03-02").unwrap();
    assert_eq!(some_time, When::on(day("2026-03-02")));
    assert_eq!(some_time.latest - some_time.earliest, Minutes(1440));
    assert_eq!(some_time.to_string(), "2026-03-02");
    assert_eq!(When::parse("2026-3-2").unwrap(), some_time);
    let evening = When::at(Moment::parse("2026-03-02T19:30").unwrap());
    for written in ["2026-03-02 19:30", "2026-03-02T19:30", "2026-03-02t19:30:59", " 2026-03-02 19:30 "] {
        assert_eq!(When::parse(written), Ok(evening), "{written}");
    }
    assert_eq!(evening.to_string(), "2026-03-02 19:30");
    for wrong in [
        "2026-02-29",
        "2026-13-01",
        "2026-03-02T24:00",
        "2026-03-02T19:60",
        "soon",
        "",
        "2026-3",
        "2026-03-02T19:30:61",
        "0000-01-01",
        "12026-03-02",
    ] {
        assert!(When::parse(wrong).is_err(), "{wrong}");
    }
    let fault = When::parse(" soon ").unwrap_err().to_string();
    assert_eq!(fault, "`soon` is not a date and time: write `2026-03-02` or `2026-03-02T19:30`");
}

#[test]
fn a_board_names_the_day_of_the_week() {
    // 1970 began on a Thursday; 2 March 2026 was a Monday.
    assert_eq!(day("1970-01-01").first_minute().long(), "Thu 1970-01-01 00:00");
    assert_eq!(day("2026-03-02").at(19, 30).unwrap().long(), "Mon 2026-03-02 19:30");
}

#[test]
fn the_calendar_ends_with_the_year_9999() {
    let last = day("9999-12-31").at(23, 59).unwrap();
    assert_eq!((last + Minutes(10)).day(), day("9999-12-31"));
    assert_eq!(When::parse("9999-12-31").unwrap().to_string(), "9999-12-31");
}

/// Against the rule of the Gregorian calendar: a leap year every fourth, not in full centuries, but in every fourth of them
/// (common knowledge, from memory).
#[test]
fn every_day_of_four_centuries_follows_the_one_before() {
    let months = |year: u16| {
        let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
        [31, if leap { 29 } else { 28 }, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
    };
    let first = day("1970-01-01");
    let mut moment = first.first_minute();
    let mut count = 0;
    for year in 1970..2370 {
        for (month, days) in (1..).zip(months(year)) {
            for of_month in 1..=days {
                let today = moment.day();
                assert_eq!(today.parts(), (year, month, of_month));
                assert_eq!(today.days_after(first), count);
                assert_eq!(moment, today.first_minute());
                moment = moment + Minutes(1440);
                count += 1;
            }
        }
    }
    assert_eq!(moment.day(), day("2370-01-01"));
}

proptest! {
    #[test]
    fn every_day_reads_back(day in any_day()) {
        let (year, month, of_month) = day.parts();
        prop_assert_eq!(Day::new(year, month, of_month), Some(day));
        prop_assert_eq!(Day::parse(&day.to_string()), Some(day));
        prop_assert_eq!(When::parse(&day.to_string()), Ok(When::on(day)));
    }

    #[test]
    fn every_minute_reads_back(moment in any_moment()) {
        prop_assert_eq!(Moment::parse(&moment.in_record()), Some(moment));
        prop_assert_eq!(When::parse(&moment.to_string()), Ok(When::at(moment)));
        prop_assert_eq!(When::parse(&moment.in_record()), Ok(When::at(moment)));
    }

    #[test]
    fn days_and_minutes_stand_in_the_order_of_their_texts(one in any_moment(), other in any_moment()) {
        prop_assert_eq!(one.cmp(&other), one.in_record().cmp(&other.in_record()));
        prop_assert_eq!(one.day().cmp(&other.day()), one.day().to_string().cmp(&other.day().to_string()));
        prop_assert_eq!(one.day().days_after(other.day()), -other.day().days_after(one.day()));
        prop_assert_eq!((one - other).0.signum(), one.cmp(&other) as i64);
    }

    #[test]
    fn what_is_added_is_the_difference(moment in any_moment(), minutes in -1_000_000_i64..1_000_000) {
        let later = moment + Minutes(minutes);
        prop_assume!(later.day().parts().0 < 9999);
        prop_assert_eq!(later - moment, Minutes(minutes));
    }

    #[test]
    fn any_text_is_read_without_a_panic(text in ".*") {
        let _ = (Day::parse(&text), Moment::parse(&text), When::parse(&text).is_ok());
    }
}
