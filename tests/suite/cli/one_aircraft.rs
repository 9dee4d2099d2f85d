//! An archive belongs to one aircraft, its times run forward, and a new issue has a new revision.

use shophead::archive::{Archive, Entry, Issued, State};

use crate::build::shop::{Ran, Shop, TRAVELER};

const BUILD: &str =
    "[aircraft]\nname = \"Dunlin two-seat\"\nserial = \"D-014\"\n[[signer]]\ninitials = \"B1\"\nrole = \"builder\"\n";

fn shop() -> Shop {
    let shop = Shop::empty();
    shop.write("build.toml", BUILD);
    shop.write("specs/bracket.toml", TRAVELER);
    shop
}

fn issue(shop: &Shop, more: &[&str]) -> Ran {
    shop.run(&[&["packet", "--issue", "--on", "2026-03-01"], more].concat())
}

fn issued() -> Shop {
    let shop = shop();
    let ran = issue(&shop, &["--entered", "2026-03-01T09:00"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    shop
}

fn archive(shop: &Shop) -> Archive {
    Archive::at(shop.path("archive"))
}

fn sign(shop: &Shop, at: &str, more: &[&str]) -> Ran {
    let code = archive(shop).read().unwrap().records.into_iter().find_map(|record| match record.entry {
        Entry::Issued(issued) => Some(issued.sheet.to_string()),
        _ => None,
    });
    let sign = ["archive", "sign", &code.unwrap(), "drill", "--by", "B1", "--on", "2026-03-01", "--entered", at];
    shop.run(&[&sign, more].concat())
}

fn entries(shop: &Shop) -> u32 {
    archive(shop).read().unwrap().last().entries
}

#[test]
fn the_archive_of_another_aircraft_takes_nothing_until_somebody_says_that_it_is_the_same() {
    for (from, to, names) in [
        ("Dunlin two-seat", "Dunlin four-seat", "Dunlin four-seat, serial D-014"),
        ("D-014", "D-015", "Dunlin two-seat, serial D-015"),
        ("serial = \"D-014\"\n", "", "Dunlin two-seat, without a serial number"),
    ] {
        let shop = issued();
        shop.edit("build.toml", from, to);
        let before = entries(&shop);
        let said = format!("the archive is that of Dunlin two-seat, serial D-014; build.toml names {names}");
        let ran = sign(&shop, "2026-03-01T20:00", &[]);
        assert_eq!((ran.code, entries(&shop)), (2, before), "{ran:?}");
        assert!(ran.err.contains(&said) && ran.err.contains("archive rename"), "{ran:?}");
        let ran = shop.run(&["archive", "list"]);
        assert!(ran.code == 0 && ran.err.contains(&said), "what is read is told of: {ran:?}");
        let rename = ["archive", "rename", "--by", "B1", "--because", "plate read again", "--on", "2026-03-01"];
        let rename = [&rename[..], &["--entered", "2026-03-01T19:00"]].concat();
        let ran = shop.run(&rename);
        assert_eq!((ran.code, entries(&shop)), (0, before + 1), "{ran:?}");
        assert!(ran.out.contains("from here on: plate read again"), "{ran:?}");
        assert!(shop.run(&rename).out.contains("nothing is left to do"));
        assert_eq!(sign(&shop, "2026-03-01T20:00", &[]).code, 0);
        assert!(archive(&shop).verify().unwrap().is_whole());
    }
}

#[test]
fn a_registration_that_comes_late_stops_nobody() {
    let shop = issued();
    shop.edit("build.toml", "serial =", "registration = \"N00DN\"\nserial =");
    assert_eq!(sign(&shop, "2026-03-01T20:00", &[]).code, 0);
}

#[test]
fn a_time_before_the_last_entry_or_of_another_century_stands_only_with_its_reason() {
    for (at, said) in [
        (
            "2026-02-28T20:00",
            "the entry's time, 2026-02-28T20:00, lies before that of the last entry, 2026-03-01T09:00",
        ),
        ("1969-07-20T20:17", "lies before that of the last entry"),
        ("2200-01-01T00:00", "lies outside the years 2026 to 2099"),
    ] {
        let shop = issued();
        let before = entries(&shop);
        // Work of the day is after a time before it; the time is what is asked about here.
        let more = ["--on", "2026-02-27"];
        let code = sign(&shop, at, &[]);
        assert_eq!(entries(&shop), before, "{at}: {code:?}");
        assert_ne!(code.code, 0, "{more:?}");
        if at.starts_with("2200") {
            assert!(code.err.contains(said) && code.err.contains("--time-because"), "{at}: {code:?}");
            assert_eq!(sign(&shop, at, &["--time-because", "the clock ran wild"]).code, 0);
            let posted = archive(&shop).read().unwrap().postings.last().unwrap().because.clone();
            assert_eq!(posted.as_deref(), Some("the clock ran wild"));
        }
    }
    let shop = shop();
    let ran = issue(&shop, &["--entered", "2025-12-31T09:00"]);
    assert!(ran.code == 2 && ran.err.contains("lies outside the years"), "{ran:?}");
    assert!(!archive(&shop).exists());
}

#[test]
fn an_earlier_time_is_recorded_with_its_reason() {
    let shop = issued();
    shop.write("a.jpg", "a photo");
    let add = ["archive", "add", "a.jpg", "--taken", "2026-02-27", "--entered", "2026-02-28T20:00"];
    let ran = shop.run(&add);
    assert!(ran.code == 2 && ran.err.contains("lies before that of the last entry"), "{ran:?}");
    let ran = shop.run(&[&add[..], &["--time-because", "typed on the other machine"]].concat());
    assert_eq!(ran.code, 0, "{ran:?}");
    assert!(archive(&shop).verify().unwrap().is_whole());
}

#[test]
fn on_a_terminal_the_reason_is_asked_for() {
    for (answer, code) in [("typed on the other machine\n", 0), ("\n", 2)] {
        let shop = issued();
        shop.write("a.jpg", "a photo");
        let add = ["archive", "add", "{}/a.jpg", "--taken", "2026-02-27", "--entered", "2026-02-28T20:00"];
        let ran = shop.run_answered(&add, answer);
        assert_eq!(ran.code, code, "{ran:?}");
        assert!(ran.err.contains("Why does this time stand?"), "{ran:?}");
    }
}

#[test]
fn a_packet_that_is_refused_begins_no_archive() {
    let shop = shop();
    shop.edit("specs/bracket.toml", "MS20470AD4-5", "MS20470AD4-3");
    let ran = issue(&shop, &["--entered", "2026-03-01T09:00"]);
    assert_eq!(ran.code, 1, "{ran:?}");
    assert!(!archive(&shop).exists() && !shop.path("archive").exists());
}

#[test]
fn a_new_issue_asks_for_a_new_revision() {
    let shop = issued();
    assert_eq!(sign(&shop, "2026-03-01T20:00", &[]).code, 0);
    shop.edit("specs/bracket.toml", "count = 8", "count = 10");
    let change = ["change", "--issue", "--by", "B1", "--source", "letter 7", "--on", "2026-03-04"];
    let change = [&change[..], &["--entered", "2026-03-04T20:00"]].concat();
    let other = shop.twin();
    let asked = shop.twin();
    let before = issues(&shop);
    let ran = shop.run(&change);
    assert_eq!(ran.code, 2, "{ran:?}");
    let said = "B-1: another sheet of it was issued under revision `A`";
    assert!(ran.err.contains(said) && ran.err.contains("--same-revision"), "{ran:?}");
    assert_eq!(issues(&shop), before);

    // Where the letter stays, the archive says why: as told, or as answered.
    let why = "the drawing has no letters";
    let told = shop.run(&[&change[..], &["--same-revision", why]].concat());
    assert_eq!(told.code, 0, "{told:?}");
    let answered = asked.run_answered(&change, "the drawing has no letters\n");
    assert!(answered.code == 0 && answered.err.contains(said), "{answered:?}");
    for shop in [&shop, &asked] {
        let reasons: Vec<_> = issues(shop).into_iter().map(|issued| issued.same_revision).collect();
        assert_eq!(reasons, [None, Some(why.to_owned())]);
    }

    other.edit("specs/bracket.toml", "revision = \"A\"", "revision = \"B\"");
    let ran = other.run(&change);
    assert!(ran.code == 0 && !ran.err.contains("issued under revision"), "{ran:?}");
    assert_eq!(issues(&other).len(), 2);

    // A letter that was left behind is no new one either.
    other.edit("specs/bracket.toml", "count = 10", "count = 12");
    other.edit("specs/bracket.toml", "revision = \"B\"", "revision = \"A\"");
    let back = other.run(&[&change[..6], &["--on", "2026-03-05", "--entered", "2026-03-05T20:00"]].concat());
    assert!(back.code == 2 && back.err.contains(said), "{back:?}");
}

/// Every sheet that was issued, in order.
fn issues(shop: &Shop) -> Vec<Issued> {
    let all = State::of(&archive(shop).read().unwrap().records).issues;
    all.into_iter().map(|issue| issue.issued).collect()
}
