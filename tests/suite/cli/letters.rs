//! Letters that paper cannot print: refused where they are typed, shown by their codes where an older archive holds them,
//! and never a reason that a document cannot be printed; nor are they written raw to a terminal.

use shophead::archive::{
    Added, Answered, Archive, BlobRef, Cause, Class, Corrected, DiscrepancyClosed, DiscrepancyOpened, Disposition,
    Entry, EntryNumber, Finding, Issue, NewBlob, NewPosting, Noticed, Reading, Signed, State, Stops, Visited,
};
use shophead::calendar::{Day, Moment};
use shophead::words::PacketName;

use crate::build::shop::{Ran, Shop, TRAVELER, paper_text_of};

const BUILD: &str = r#"
[aircraft]
name = "Dunlin two-seat"
[[signer]]
initials = "B1"
role = "builder"
[[signer]]
initials = "T1"
role = "technical counselor"
[[space]]
id = "bay"
name = "Bay 3"
"#;

const CLOSE: &str = r#"
spaces = ["bay"]
records = [{ id = "head", label = "Shop head", unit = "in", min = "0.16" }, { id = "lot", label = "Lot" }]
[[step]]
id = "close"
title = "Close the bay"
do = "close"
closes = ["bay"]
"#;

/// An emoji, a Chinese letter, the bell, and what clears a screen.
const ODD: &str = "fits \u{2705} \u{6f22} \u{7} \u{1b}[2J end";
/// What stands for them on paper, without white space.
const STANDING: &str = "fits[U+2705][U+6F22][U+0007][U+001B][2Jend";

pub(super) fn shop() -> Shop {
    let shop = Shop::empty();
    shop.write("build.toml", BUILD);
    shop.write("specs/bracket.toml", format!("{TRAVELER}{CLOSE}"));
    let ran = run(&shop, &["packet", "--issue"]);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    shop
}

fn run(shop: &Shop, arguments: &[&str]) -> Ran {
    shop.run(arguments)
}

pub(super) fn today(archive: &Archive) -> Moment {
    archive.read().unwrap().records[0].entered
}

fn odd() -> String {
    ODD.to_owned()
}

/// Entries with such letters in every text that a builder could type, as a program without a door wrote them.
fn entries(issue: &Issue, file: BlobRef, on: Day) -> Vec<Entry> {
    let visit = EntryNumber(6);
    let finding = Finding {
        visit,
        number: "1".into(),
        space: Some("bay".into()),
        traveler: Some("B-1".into()),
        what: odd(),
        suggested: Some(odd()),
        before_close: false,
        discrepancy: None,
    };
    let answered = Answered { finding: EntryNumber(7), answer: odd(), by: "B1".into(), on };
    let corrected = Corrected {
        entry: EntryNumber(3),
        field: "note".into(),
        was: Some(odd()),
        now: Some(odd()),
        by: "B1".into(),
        on,
        because: odd(),
    };
    vec![
        signed(issue, on).into(),
        opened(issue, "D-001", Stops::Nothing, on).into(),
        opened(issue, "D-002", Stops::Space, on).into(),
        visited(on).into(),
        finding.into(),
        answered.into(),
        closed(on).into(),
        added(issue, file, on).into(),
        noticed(on).into(),
        corrected.into(),
    ]
}

fn signed(issue: &Issue, on: Day) -> Signed {
    let step = issue.issued.steps.iter().find(|own| own.id == "rivet").unwrap();
    Signed {
        traveler: "B-1".into(),
        requirement: step.requirement,
        helpers: vec![odd()],
        readings: vec![Reading { id: "head".into(), value: "0.17".into() }, Reading { id: "lot".into(), value: odd() }],
        photos: vec![odd()],
        as_built: vec![odd()],
        place: Some(odd()),
        note: Some(odd()),
        ..Signed::blank(issue.issued.sheet, "rivet", "B1", "builder", on)
    }
}

fn opened(issue: &Issue, number: &str, stops: Stops, found: Day) -> DiscrepancyOpened {
    DiscrepancyOpened {
        number: number.into(),
        cause: Cause::Found,
        sheet: Some(issue.issued.sheet),
        traveler: Some("B-1".into()),
        hand: None,
        step: Some("deburr".into()),
        also: Vec::new(),
        space: Some("bay".into()),
        joint: Some("J1".into()),
        what: odd(),
        should: Some(odd()),
        is: Some(odd()),
        stops,
        class: Class::Major,
        photos: vec![odd()],
        by: "B1".into(),
        found,
    }
}

fn closed(on: Day) -> DiscrepancyClosed {
    DiscrepancyClosed {
        number: "D-002".into(),
        disposition: Disposition::UseAsIs,
        authority: odd(),
        reference: Some(odd()),
        after: vec![Reading { id: "head".into(), value: odd() }],
        as_built: vec![odd()],
        by: "B1".into(),
        on,
        looked: Some(odd()),
    }
}

fn visited(on: Day) -> Visited {
    let spaces = vec!["bay".into()];
    Visited { by: "T1".into(), role: odd(), on, spaces, reference: Some(odd()), note: Some(odd()) }
}

fn added(issue: &Issue, file: BlobRef, on: Day) -> Added {
    Added {
        file,
        name: odd(),
        sheet: Some(issue.issued.sheet),
        step: Some("rivet".into()),
        discrepancy: None,
        photo: Some(odd()),
        space: Some("bay".into()),
        taken: Some(on),
        caption: Some(odd()),
        builder_seen: Some(true),
        by: Some("B1".into()),
    }
}

fn noticed(on: Day) -> Noticed {
    Noticed {
        number: "N-001".into(),
        source: Some(odd()),
        drawings: vec![odd()],
        pdf: None,
        data: None,
        remove: Vec::new(),
        insert: Vec::new(),
        on,
    }
}

/// A shop whose archive was written without asking.
fn with_odd_letters() -> Shop {
    let shop = shop();
    let archive = Archive::at(shop.path("archive"));
    let survey = archive.read().unwrap();
    assert_eq!(survey.records.len(), 2, "begun and issued");
    let state = State::of(&survey.records);
    let issue = state.in_force(&PacketName::new("B-1", None)).unwrap();
    let blob = NewBlob::of(b"a photo".to_vec(), "jpg");
    let entered = today(&archive);
    let entries = entries(issue, blob.reference(), entered.day());
    let mut writer = archive.writer().unwrap();
    writer.post(&NewPosting { entries, blobs: vec![blob], ..NewPosting::at(entered) }).unwrap();
    shop
}

fn is_raw(text: &str) -> bool {
    text.contains(|c: char| c.is_control() && !matches!(c, '\n' | '\t'))
}

#[test]
fn nothing_in_an_archive_can_stop_a_document() {
    let shop = with_odd_letters();
    let verified = run(&shop, &["archive", "verify"]);
    assert_eq!(verified.code, 0, "{}{}", verified.out, verified.err);
    for arguments in [
        &["archive", "book"][..],
        &["packet"],
        &["packet", "--issue"],
        &["packet", "B-1", "--step", "030"],
        &["board"],
        &["visit"],
        &["visit", "--space", "bay"],
        &["discrepancy"],
        &["discrepancy", "B-1/J1"],
        &["pick"],
        &["archive", "list"],
        &["archive", "list", "--format", "json"],
        &["archive", "export", "copy.zip"],
    ] {
        let ran = run(&shop, arguments);
        assert_eq!(ran.code, 0, "{arguments:?}: {}{}", ran.out, ran.err);
        assert!(!is_raw(&ran.out) && !is_raw(&ran.err), "{arguments:?} writes control characters: {}", ran.out);
    }
    shop.edit("specs/bracket.toml", "count = 8", "count = 10");
    shop.edit("specs/bracket.toml", "revision = \"A\"", "revision = \"B\"");
    for arguments in [
        &["change"][..],
        &["change", "--format", "pdf"],
        &["change", "--issue", "--by", "B1"],
        &["archive", "book"],
        &["board"],
    ] {
        let ran = run(&shop, arguments);
        assert_eq!(ran.code, 0, "{arguments:?}: {}{}", ran.out, ran.err);
        assert!(!is_raw(&ran.out), "{arguments:?} writes control characters");
    }
    let Some(book) = paper_text_of(&shop.path("output/build-record.pdf")) else {
        assert!(std::env::var_os("CI").is_none(), "pdftotext is missing");
        return;
    };
    assert!(book.contains(STANDING), "{book}");
    let told = "[U+0007][U+001B][U+2705][U+6F22]:charactersthatthepaper'sfontscannotprintstandherebytheircodes.";
    assert!(book.contains(told), "{book}");
}

#[test]
fn a_document_without_such_letters_says_nothing_of_them() {
    let shop = shop();
    assert_eq!(run(&shop, &["archive", "book"]).code, 0);
    if let Some(book) = paper_text_of(&shop.path("output/build-record.pdf")) {
        assert!(!book.contains("standherebytheircodes"), "{book}");
    }
}

#[test]
fn what_is_typed_is_refused_with_place_and_reason() {
    let shop = shop();
    shop.write(
        "evening.toml",
        "by = \"B1\"\n# ✅ in a comment is nobody's text\n[[discrepancy]]\nwhat = \"gap ✅ ok\"\nshould-be = \"none \\u0007\"\n[[visit]]\nby = \"T1\"\n[[visit.finding]]\nwhat = \"漢\"\n",
    );
    let ran = run(&shop, &["archive", "enter", "evening.toml"]);
    assert_eq!(ran.code, 1, "{}{}", ran.out, ran.err);
    let said = ran.out.clone() + &ran.err;
    for expected in [
        "`what` holds U+2705, which the paper's fonts cannot print\n --> evening.toml:4:8",
        "4 | what = \"gap ✅ ok\"\n  |        ^^^^^^^^",
        "`should-be` holds U+0007, which the paper's fonts cannot print\n --> evening.toml:5:13",
        "`what` holds U+6F22, which the paper's fonts cannot print\n --> evening.toml:9:8",
    ] {
        assert!(said.contains(expected), "{expected:?} is not in\n{said}");
    }
    assert_eq!(Archive::at(shop.path("archive")).read().unwrap().records.len(), 2, "nothing was recorded");
}

#[test]
fn arguments_are_refused_by_their_name() {
    let shop = shop();
    let sheet = State::of(&Archive::at(shop.path("archive")).read().unwrap().records);
    let sheet = sheet.all_in_force().next().unwrap().issued.sheet.to_string();
    let sign = ["archive", "sign", &sheet, "drill", "--by", "B1"];
    for (option, value) in [
        ("--note", "fits ✅"),
        ("--helper", "漢"),
        ("--photo", "IMG ✅"),
        ("--reading", "lot=✅"),
        ("--as-built", "\u{7}"),
        ("--place", "✅"),
        ("--despite", "✅"),
        ("--reconstructed-from", "✅"),
    ] {
        let ran = run(&shop, &[&sign[..], &[option, value]].concat());
        assert_eq!((ran.code, ran.out.as_str()), (2, ""), "{option}");
        assert!(ran.err.contains(option) && ran.err.contains("which the paper's fonts cannot print"), "{}", ran.err);
        assert!(!is_raw(&ran.err), "{option} is shown with its control characters");
    }
    let ran = run(&shop, &["change", "--source", "letter ✅"]);
    assert!(ran.code == 2 && ran.err.contains("--source"), "{}", ran.err);
    let ran = run(&shop, &["archive", "reopen", "bay", "--by", "B1", "--because", "✅"]);
    assert!(ran.code == 2 && ran.err.contains("--because"), "{}", ran.err);
    shop.write("rivets ✅.jpg", b"a photo");
    shop.write("rivets.jpg", b"another photo");
    let ran = run(&shop, &["archive", "add", "rivets.jpg", "--caption", "✅"]);
    assert!(ran.code == 2 && ran.err.contains("--caption"), "{}", ran.err);
    let ran = run(&shop, &["archive", "add", "rivets ✅.jpg", "rivets.jpg"]);
    assert_eq!(ran.code, 1, "the other file is added: {}{}", ran.out, ran.err);
    assert!(ran.err.contains("the name of rivets ✅.jpg cannot be recorded: it holds U+2705"), "{}", ran.err);
}

#[test]
fn what_an_expression_makes_of_a_text_is_asked_as_well() {
    let shop = shop();
    shop.edit("specs/bracket.toml", "Drive {{ joint.J1.call }}.", "Drive {{ '\\\\u2705' }}.");
    let ran = run(&shop, &["check"]);
    assert_eq!(ran.code, 1, "{}", ran.out);
    assert!(ran.out.contains("the text makes U+2705, which the paper's fonts cannot print"), "{}", ran.out);
}
