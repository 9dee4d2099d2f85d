//! Every entry can be struck out or corrected, and a striking-out and a correction too; nothing is ever removed.

use shophead::archive::{Corrected, Entry, EntryNumber, Record, State, Struck, correct, strike};
use shophead::calendar::{Day, Moment};

use super::sample::entries;

fn day() -> Day {
    Day::parse("2026-04-05").unwrap()
}

/// The sample's records; more are added behind.
fn records() -> Vec<Record> {
    let record = |(at, (entered, entry)): (usize, (&str, Entry))| Record {
        number: EntryNumber(u32::try_from(at).unwrap() + 1),
        entered: Moment::parse(entered).unwrap(),
        entry,
    };
    entries().into_iter().enumerate().map(record).collect()
}

fn number_of(kind: &str) -> EntryNumber {
    records().iter().find(|record| record.entry.kind() == kind).unwrap().number
}

fn striking(entry: EntryNumber) -> Struck {
    Struck { entry, by: "B1".into(), on: day(), because: "a slip".into() }
}

fn correction(entry: EntryNumber, field: &str, now: Option<&str>) -> Corrected {
    let now = now.map(str::to_owned);
    Corrected { entry, field: field.into(), was: None, now, by: "B1".into(), on: day(), because: "a slip".into() }
}

/// A state that takes what is entered, one after the other, and is always what its records folded at once are.
struct Book {
    records: Vec<Record>,
    state: State,
}

impl Book {
    fn new() -> Self {
        let records = records();
        Self { state: State::of(&records), records }
    }

    fn take(&mut self, entry: Entry) -> EntryNumber {
        let number = EntryNumber(u32::try_from(self.records.len()).unwrap() + 1);
        let record = Record { number, entered: Moment::parse("2026-04-05T20:00").unwrap(), entry };
        self.state.take(&record);
        self.records.push(record);
        assert_eq!(format!("{:?}", State::of(&self.records)), format!("{:?}", self.state));
        number
    }

    fn strike(&mut self, entry: EntryNumber) -> EntryNumber {
        let entry = strike(&self.state, striking(entry)).unwrap();
        self.take(entry)
    }

    fn correct(&mut self, entry: EntryNumber, field: &str, now: Option<&str>) -> EntryNumber {
        let entry = correct(&self.state, correction(entry, field, now)).unwrap();
        self.take(entry)
    }
}

#[test]
fn every_entry_can_be_struck_out_or_corrected_but_a_sheet_which_is_made_void() {
    let state = State::of(&records());
    for record in records() {
        let number = record.number;
        let struck = strike(&state, striking(number));
        let lines = ["because", "by", "caption", "aircraft", "source", "answer", "what", "note"];
        let corrected = lines.iter().any(|line| correct(&state, correction(number, line, Some("odd"))).is_ok());
        let kind = record.entry.kind();
        match kind {
            "issued" => {
                assert!(struck.unwrap_err().contains("made void") && !corrected);
                let fault = correct(&state, correction(number, "title", Some("odd"))).unwrap_err();
                assert!(fault.contains("made void"), "{fault}");
            }
            "begun" | "renamed" | "notice" | "reprinted" => assert!(struck.is_err() && corrected, "{kind}"),
            // Struck out in the sample.
            "imported" => assert!(struck.unwrap_err().contains("struck out before") && !corrected),
            _ => assert!(struck.is_ok() && corrected, "{kind}: {struck:?}"),
        }
    }
    assert!(strike(&state, striking(EntryNumber(99))).unwrap_err().contains("there is no entry"));
}

#[test]
fn a_discrepancy_that_is_struck_out_stops_nothing_and_keeps_its_number() {
    let mut book = Book::new();
    let closing = number_of("discrepancy-closed");
    let opening = number_of("discrepancy-opened");
    assert_eq!(book.state.open_discrepancies().count(), 0);
    book.strike(closing);
    assert_eq!(book.state.open_discrepancies().count(), 1, "what was decided no longer counts");
    let striking = book.strike(opening);
    assert_eq!(book.state.open_discrepancies().count(), 0);
    assert_eq!(book.state.discrepancies["D-001"].struck.as_deref(), Some("a slip"));
    assert_eq!(book.state.next_discrepancy(), "D-002", "the number stands on paper");
    book.strike(striking);
    assert_eq!(book.state.open_discrepancies().count(), 1, "the striking-out was struck out");
}

#[test]
fn lines_of_every_kind_are_corrected_and_the_correction_can_be_struck_out() {
    let mut book = Book::new();
    let opening = number_of("discrepancy-opened");
    let made = book.correct(opening, "what", Some("hole 4 is oval"));
    let opened = |book: &Book| book.state.discrepancies["D-001"].opened.clone();
    assert_eq!(opened(&book).what, "hole 4 is oval");
    let Entry::Corrected(written) = &book.records.last().unwrap().entry else { panic!("a correction") };
    assert_eq!(written.was.as_deref(), Some("hole 3 is oval"));
    book.correct(opening, "space", Some("right-wing-bay-3"));
    book.correct(opening, "photo", Some("14; 15"));
    book.correct(opening, "is", None);
    book.correct(opening, "found", Some("2026-03-01"));
    let now = opened(&book);
    assert_eq!(now.space.as_deref(), Some("right-wing-bay-3"));
    assert_eq!(
        (now.photos, now.is, now.found),
        (vec!["14".to_owned(), "15".to_owned()], None, Day::parse("2026-03-01").unwrap())
    );
    book.strike(made);
    assert_eq!(opened(&book).what, "hole 3 is oval");
    assert_eq!(book.state.corrections(opening).len(), 4);
    book.correct(number_of("visit-finding"), "what", Some("chafing at two grommets"));
    assert_eq!(book.state.visits[0].findings[0].1.what, "chafing at two grommets");
    book.correct(number_of("added"), "caption", Some("after covering"));
    assert_eq!(book.state.files[0].1.caption.as_deref(), Some("after covering"));
    book.correct(number_of("notice"), "source", Some("plan change 8"));
    assert_eq!(book.state.notices[0].1.source.as_deref(), Some("plan change 8"));
}

#[test]
fn the_words_of_older_records_are_read_in_a_correction_and_written_as_todays() {
    let state = State::of(&records());
    let opening = number_of("discrepancy-opened");
    for (field, now, said) in [("zone", "right-wing-bay-3", "space"), ("stops", "nothing", "stops")] {
        let Entry::Corrected(own) = correct(&state, correction(opening, field, Some(now))).unwrap() else {
            panic!("a correction")
        };
        assert_eq!((own.field.as_str(), own.now.as_deref()), (said, Some(now)));
    }
    let same = correct(&state, correction(opening, "stops", Some("zone"))).unwrap_err();
    assert!(same.contains("`stops` of entry 000004 says that already"), "{same}");
}

#[test]
fn what_an_entry_is_about_and_what_does_not_read_is_refused() {
    let state = State::of(&records());
    let opening = number_of("discrepancy-opened");
    for (field, now, expected) in [
        ("discrepancy", Some("D-009"), "`discrepancy` cannot be corrected; of entry 000004 these can: space"),
        ("step", Some("x"), "`step` cannot be corrected"),
        ("what", None, "`what` cannot be left empty"),
        ("what", Some("hole 3 is oval"), "says that already"),
        ("found", Some("tomorrow"), "`found` is `tomorrow`, expected a day such as 2026-03-02"),
        ("weight", Some("heavy"), "`weight` is `heavy`, expected minor or major"),
    ] {
        let fault = correct(&state, correction(opening, field, now)).unwrap_err();
        assert!(fault.contains(expected), "{fault}");
    }
}

#[test]
fn a_signature_gets_back_what_a_struck_correction_took() {
    let mut book = Book::new();
    let signature = number_of("signed");
    let level = |book: &Book| book.state.signatures[&signature].reading("level").unwrap().to_owned();
    assert_eq!(level(&book), "0.06");
    let later = book.correct(signature, "reading level", Some("0.07"));
    assert_eq!(level(&book), "0.07");
    book.strike(number_of("corrected"));
    assert_eq!(level(&book), "0.07", "the later one stands");
    book.strike(later);
    assert_eq!(level(&book), "0.05");
    assert!(book.state.signatures[&signature].corrections.is_empty());
}

#[test]
fn a_visit_that_is_struck_out_is_kept_and_does_not_count() {
    let mut book = Book::new();
    book.strike(number_of("visited"));
    assert_eq!(book.state.visits[0].struck.as_deref(), Some("a slip"));
    book.strike(number_of("visit-finding"));
    assert!(book.state.visits[0].findings.is_empty());
}
