//! The form of the archive: bytes pinned for every kind, old archives readable, texts that would not read back refused.

use proptest::prelude::*;
use shophead::archive::{
    Archive, Begun, Corrected, Entry, EntryNumber, FactValue, KINDS, NewPosting, Posting, PostingForm, README,
    SheetRequirement, explain_archive,
};
use shophead::calendar::Moment;
use shophead::ident::Digest;

use super::sample::{self, moment};
use super::{append, bless, data, plant, scratch, tree};

/// A posting of one entry, the first of an archive.
fn alone(entered: Moment, entry: Entry) -> Posting {
    let form = PostingForm::Two;
    Posting { form, first: EntryNumber(1), previous: None, entered, because: None, typed: None, entries: vec![entry] }
}

/// The files of a ledger, one behind the other.
fn ledger(root: &std::path::Path) -> Vec<Vec<u8>> {
    tree(root).into_iter().filter(|(path, _)| path.starts_with("ledger/")).map(|(_, bytes)| bytes).collect()
}

#[test]
fn an_archive_of_version_one_keeps_its_bytes_and_stays_readable() {
    let kept = data("v1");
    let survey = Archive::at(&kept).verify().unwrap();
    assert_eq!(survey.flaws, []);
    assert_eq!(survey.sound, tree(&kept).len());
    let entries: Vec<Entry> = survey.records.into_iter().map(|record| record.entry).collect();
    let sample = sample::entries().into_iter().take(sample::OF_VERSION_ONE);
    assert_eq!(
        entries,
        sample.map(|(_, entry)| entry).collect::<Vec<_>>(),
        "it says the same as if it were written today"
    );
    let mut spoke_of_a_zone = 0;
    for bytes in ledger(&kept) {
        let posting = Posting::parse(&bytes).unwrap();
        assert_eq!(posting.form, PostingForm::One);
        assert!(posting.text().as_bytes() == bytes, "its form is written the same for ever");
        let today = Posting { form: PostingForm::Two, ..posting.clone() }.text();
        assert_eq!(Posting::parse(today.as_bytes()).unwrap().entries, posting.entries);
        spoke_of_a_zone += usize::from(today.contains("\nspace: left-wing-bay-3\n"));
    }
    assert_eq!(spoke_of_a_zone, 4);
}

#[test]
fn an_archive_of_today_is_written_in_exactly_these_bytes() {
    let folder = scratch();
    sample::write(&Archive::at(folder.path()), usize::MAX);
    let fresh = ledger(folder.path()).concat();
    let path = data("ledger-2.txt");
    if bless() {
        std::fs::write(&path, &fresh).unwrap();
    }
    assert!(
        fresh == std::fs::read(&path).unwrap(),
        "what this form was written like must be written the same for ever"
    );
}

#[test]
fn the_word_of_the_first_form_stands_where_it_names_a_space_and_in_no_text() {
    let corrected = |field: &str, was: &str, now: &str| Corrected {
        entry: EntryNumber(4),
        field: field.into(),
        was: Some(was.into()),
        now: Some(now.into()),
        by: "B1".into(),
        on: sample::day("2026-03-09"),
        because: "zone".into(),
    };
    let entries = vec![
        corrected("space", "space", "zone").into(),
        corrected("stops", "space", "step").into(),
        corrected("what", "space", "zone").into(),
    ];
    let posting = Posting { form: PostingForm::One, entries, ..alone(moment("2026-03-09T18:00"), sample::visit()) };
    let text = posting.text();
    let told: Vec<&str> = text
        .lines()
        .filter(|line| ["field", "was", "now", "because"].iter().any(|key| line.starts_with(&format!("{key}: "))))
        .collect();
    let expected = [
        ["field: zone", "was: space", "now: zone", "because: zone"],
        ["field: stops", "was: zone", "now: step", "because: zone"],
        ["field: what", "was: space", "now: zone", "because: zone"],
    ];
    assert_eq!(told, expected.concat());
    assert_eq!(Posting::parse(text.as_bytes()).unwrap(), posting);
    let (entered, entry) = sample::entries().remove(3);
    let text = Posting { form: PostingForm::One, ..alone(moment(entered), entry) }.text();
    for (from, to) in [("zone: left", "space: left"), ("stops: zone", "stops: space"), ("record 1", "record 2")] {
        assert!(Posting::parse(text.as_bytes()).is_ok() && text.contains(from));
        let mixed = text.replace(from, to);
        assert!(Posting::parse(mixed.as_bytes()).is_err(), "one form has one word:\n{mixed}");
    }
}

#[test]
fn an_archive_of_version_one_is_continued_and_its_page_becomes_todays() {
    let folder = scratch();
    plant(folder.path(), &tree(&data("v1")));
    let archive = Archive::at(folder.path());
    let before = archive.verify().unwrap().records;
    let entries = vec![sample::visit(), sample::visit()];
    let posting = NewPosting { entries, ..NewPosting::at(moment("2026-05-01T18:00")) };
    let posted = archive.writer().unwrap().post(&posting).unwrap();
    assert_eq!(posted.iter().map(|record| record.number.0).collect::<Vec<_>>(), [20, 21]);
    let after = archive.verify().unwrap();
    assert_eq!(after.flaws, []);
    assert!(after.records.starts_with(&before) && after.records.ends_with(&posted));
    assert_eq!(tree(folder.path())["README.txt"], README.as_bytes());
}

/// All entries of an evening, from a typed file.
fn evening() -> Posting {
    let entries = sample::entries().into_iter().skip(10).take(3).map(|(_, entry)| entry).collect();
    Posting {
        first: EntryNumber(12),
        previous: Some(Digest::of_bytes(b"")),
        because: Some("the clock stood still".to_owned()),
        typed: Some(Digest::of_bytes(b"[[discrepancy]]\n")),
        entries,
        ..alone(moment("2026-03-01T18:00"), sample::entries().remove(0).1)
    }
}

#[test]
fn what_is_recorded_in_one_go_is_one_file_in_exactly_these_bytes() {
    let posting = evening();
    let path = data("posting.txt");
    if bless() {
        std::fs::write(&path, posting.text()).unwrap();
    }
    assert_eq!(posting.text(), std::fs::read_to_string(&path).unwrap());
    assert_eq!(posting.file_name(), format!("000012-000014-{}.txt", &posting.digest().hex()[..8]));
    assert_eq!(Posting::parse(posting.text().as_bytes()).unwrap(), posting);
    let numbers: Vec<u32> = posting.records().map(|record| record.number.0).collect();
    assert_eq!(numbers, [12, 13, 14]);
}

#[test]
fn a_file_of_several_entries_that_leaves_one_out_or_turns_them_round_is_refused() {
    let text = evening().text();
    let entries: Vec<&str> = text.split_inclusive("\nend: ").collect();
    assert_eq!(entries.len(), 4);
    let skipped = text.replace("number: 000013", "number: 000014").replace("end: 000013", "end: 000014");
    let fault = Posting::parse(skipped.as_bytes()).unwrap_err().message;
    assert_eq!(fault, "this is not the number after the one before");
    let fault = Posting::parse(text.replace("end: 000014\n", "").as_bytes()).unwrap_err().message;
    assert_eq!(fault, "expected `end`, found `the end`");
    let moved = text.replace("typed: ", "previous: ");
    assert!(Posting::parse(moved.as_bytes()).unwrap_err().message.contains("expected `kind`, found `previous`"));
    let high = Posting { first: EntryNumber(u32::MAX), ..evening() };
    assert!(Posting::parse(high.text().as_bytes()).is_err(), "there is no number after the last");
}

#[test]
fn the_sample_has_every_kind_and_every_line() {
    let mut text = String::new();
    for (entered, entry) in sample::entries().into_iter().chain(sample::since_one()) {
        text.push_str(&alone(moment(entered), entry).text());
    }
    for kind in KINDS {
        assert!(text.contains(&format!("\nkind: {}\n", kind.word)), "no `{}` in the sample", kind.word);
        for line in kind.lines {
            assert!(text.contains(&format!("\n{}: ", line.key)), "no `{}` of `{}` in the sample", line.key, kind.word);
        }
    }
}

#[test]
fn the_page_in_the_archive_is_fresh_and_its_first_version_is_pinned() {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/archive/README-3.txt");
    if bless() {
        std::fs::write(&path, explain_archive()).unwrap();
    }
    assert_eq!(explain_archive(), README, "write it anew with SHOPHEAD_BLESS=1");
}

#[test]
fn one_record_is_written_in_exactly_these_bytes() {
    let entry = sample::entries().remove(0).1;
    let posting = Posting {
        first: EntryNumber(12),
        previous: Some(Digest::of_bytes(b"")),
        ..alone(moment("2026-03-01T18:00"), entry)
    };
    let expected = "shophead record 2\nnumber: 000012\nprevious: e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855\n\
                    entered: 2026-03-01T18:00\nkind: begun\naircraft: Dunlin two-seat\nserial: D-014\nregistration: N00DN\nend: 000012\n";
    assert_eq!(posting.text(), expected);
    assert_eq!(posting.file_name(), format!("000012-{}.txt", &Digest::of_bytes(expected.as_bytes()).hex()[..8]));
    assert_eq!(Posting::parse(expected.as_bytes()).unwrap(), posting);
}

#[test]
fn a_line_that_is_missing_doubled_moved_or_written_otherwise_is_refused_with_its_place() {
    let (entered, entry) = sample::entries().remove(4);
    let text = alone(moment(entered), entry).text();
    let cases: &[(&str, &str, &str)] = &[
        ("number: 000001", "number: 1", "line 2: `number` is `1`, expected an entry's number such as 000012"),
        ("step: open-holes\n", "", "line 9: expected `step`, found `requirement`"),
        ("by: B1\n", "by: B1\nby: B2\n", "line 14: expected `worked`, found `by`"),
        (
            "worked: 2026-03-02",
            "worked: 2026-02-30",
            "line 14: `worked` is `2026-02-30`, expected a day such as 2026-03-02",
        ),
        ("minutes: 45", "minutes: 045", "line 16: the line is not written in the one form that a record has"),
        (
            "a tab\\u{9}",
            "a tab\\t",
            "line 27: `a tab\\\\tand two\\\\nlines, a \\\\\\\\ and é` has a backslash that means nothing",
        ),
        ("end: 000001", "end: 000002", "line 29: `end` names another number than `number`"),
        ("end: 000001\n", "end: 000001\nmore: x\n", "line 30: `more` does not belong here"),
        ("kind: signed", "kind: sinned", "line 6: there is no kind of entry `sinned`"),
    ];
    for (from, to, said) in cases {
        assert!(text.contains(from), "{from}");
        let fault = Posting::parse(text.replacen(from, to, 1).as_bytes()).unwrap_err();
        assert_eq!(fault.to_string(), *said);
    }
    assert!(Posting::parse(&text.as_bytes()[..text.len() - 1]).is_err());
}

#[test]
fn requirements_read_back_and_their_digests_are_pinned() {
    let sheet = sample::first();
    assert_eq!(SheetRequirement::parse(sheet.text().as_bytes()).unwrap(), sheet);
    let bytes = sheet.steps[0].requirement().bytes().to_vec();
    let mut expected = b"shophead requirement 1\n\0\0\0\x04stept\0\0\0\x0aopen-holes".to_vec();
    expected.extend(b"\0\0\0\x04work(\0\0\0\x04namet\0\0\0\x02do\0\0\0\x05valuet\0\0\0\x05drill\0\0\0\0)");
    expected
        .extend(b"\0\0\0\x04size(\0\0\0\x04namet\0\0\0\x0dJ1 hole after\0\0\0\x05valuet\0\0\0\x0a3263900 nm\0\0\0\0)");
    assert_eq!(bytes, expected, "{}", String::from_utf8_lossy(&bytes));
    assert_eq!(sheet.steps[0].digest(), Digest::of_bytes(&expected));
    let tampered = sheet.text().replace("3263900", "3263901");
    assert!(
        SheetRequirement::parse(tampered.as_bytes())
            .unwrap_err()
            .message
            .contains("the digest is not that of step `open-holes`")
    );
}

#[test]
fn words_and_numbers_on_paper_change_neither_digest_nor_code() {
    let (sheet, mut other) = (sample::first(), sample::first());
    other.steps[0].title = "Other words".to_owned();
    other.steps[0].wording = Digest::of_bytes(b"other");
    other.steps[0].number = 15;
    assert_eq!(sheet.code(), other.code());
    other.steps[0].facts[1].value = FactValue::Text("3263901 nm".to_owned());
    assert_ne!(sheet.code(), other.code());
}

#[test]
fn an_empty_or_ambiguous_value_is_refused_before_anything_is_written() {
    let folder = scratch();
    let archive = Archive::at(folder.path());
    let mut writer = archive.writer().unwrap();
    let before = tree(folder.path());
    let refused = append(
        &mut writer,
        moment("2026-03-01T18:00"),
        Begun { aircraft: String::new(), serial: None, registration: None },
        &[],
    );
    assert!(refused.unwrap_err().to_string().contains("cannot be recorded as `begun`"));
    let mut signed = sample::signed(0);
    signed.readings[0].id = "a = b".to_owned();
    assert!(append(&mut writer, moment("2026-03-01T18:00"), signed, &[]).is_err());
    assert_eq!(tree(folder.path()), before);
}

proptest! {
    #[test]
    fn any_text_stays_on_its_line_and_reads_back(text in "\\PC+|[\\x00-\\x7f]+|.+") {
        let entry: Entry = Begun { aircraft: text, serial: None, registration: None }.into();
        let posting = alone(moment("2026-03-01T18:00"), entry);
        prop_assert_eq!(posting.text().lines().count(), 7);
        prop_assert_eq!(Posting::parse(posting.text().as_bytes()), Ok(posting));
    }

    #[test]
    fn any_bytes_are_read_without_a_panic(bytes in proptest::collection::vec(any::<u8>(), 0..300), cut in 0_usize..900) {
        let _ = Posting::parse(&bytes);
        let _ = SheetRequirement::parse(&bytes);
        let (entered, entry) = sample::entries().remove(4);
        let text = alone(moment(entered), entry).text();
        let mut mixed = text.as_bytes()[..cut.min(text.len())].to_vec();
        mixed.extend(bytes);
        let _ = Posting::parse(&mixed);
    }
}

#[test]
fn lines_that_version_one_did_not_have_read_back() {
    for (entered, entry) in sample::since_one() {
        let posting = alone(moment(entered), entry);
        assert_eq!(Posting::parse(posting.text().as_bytes()).unwrap(), posting);
    }
}
