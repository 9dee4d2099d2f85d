//! Given again, and given at once: nothing is recorded twice, and whoever comes second waits in line.

use std::time::Duration;

use serde_json::Value;
use shophead::archive::{Archive, State};
use shophead::ident::{PageCode, SheetCode};

use crate::build::shop::Shop;

const ISSUE: &[&str] = &["packet", "--issue", "--on", "2026-03-01", "--entered", "2026-03-01T09:00"];
const SIGNERS: &str =
    "[[signer]]\ninitials = \"B1\"\nrole = \"builder\"\n[[signer]]\ninitials = \"H1\"\nrole = \"helper\"\n";

fn issued() -> (Shop, String) {
    let shop = Shop::small();
    shop.write("build.toml", format!("[aircraft]\nname = \"Dunlin two-seat\"\n{SIGNERS}"));
    assert_eq!(shop.run(ISSUE).code, 0);
    let code = State::of(&archive(&shop).read().unwrap().records).issues[0].issued.sheet.to_string();
    (shop, code)
}

fn archive(shop: &Shop) -> Archive {
    Archive::at(shop.path("archive"))
}

fn entries(shop: &Shop) -> usize {
    let survey = archive(shop).verify().unwrap();
    assert_eq!(survey.flaws, []);
    survey.records.len()
}

#[test]
fn an_evening_file_is_entered_once_and_one_to_which_something_was_added_adds_that() {
    let (shop, code) = issued();
    let evening = format!(
        "by = \"B1\"\non = 2026-03-02\n[[sign]]\nsheet = \"{code}\"\nstep = \"drill\"\nminutes = 40\n\
         [[discrepancy]]\nwhat = \"a scratch\"\n[[discrepancy]]\nwhat = \"a scratch\"\n"
    );
    shop.write("evening.toml", &evening);
    let enter = ["archive", "enter", "evening.toml", "--entered", "2026-03-02T20:00"];
    assert_eq!(shop.run(&enter).code, 0);
    let once = entries(&shop);
    assert_eq!(once, 5, "begun, issued, two scratches, one signature");
    let again = shop.run(&["archive", "enter", "evening.toml", "--entered", "2026-03-09T20:00"]);
    let said = "this file was entered on 2026-03-02 20:00, entries 000003 to 000005; nothing is left to do\n";
    assert_eq!((again.code, again.out.as_str(), entries(&shop)), (0, said, once), "{again:?}");
    let more = evening + "[[discrepancy]]\nwhat = \"a dent\"\n";
    shop.write("evening.toml", &more);
    let ran = shop.run(&enter);
    assert_eq!((ran.code, entries(&shop)), (0, once + 1), "{ran:?}");
    assert!(ran.out.contains("opened discrepancy D-003: a dent"), "{}", ran.out);
    assert!(ran.out.contains("a scratch: it is recorded already, as D-001"), "{}", ran.out);
    assert!(ran.out.contains("step `drill` is signed so already (entry 000005)"), "{}", ran.out);
}

#[test]
fn the_same_signature_is_taken_once_and_another_in_its_box_is_refused() {
    let (shop, code) = issued();
    let sign = |by: &str, entered: &str| {
        shop.run(&["archive", "sign", &code, "drill", "--by", by, "--on", "2026-03-02", "--entered", entered])
    };
    assert_eq!(sign("B1", "2026-03-02T20:00").code, 0);
    let again = sign("B1", "2026-03-08T20:00");
    assert!(again.code == 0 && again.out.contains("nothing is left to do"), "{again:?}");
    let other = sign("H1", "2026-03-08T20:00");
    assert!(other.code == 1 && other.err.contains("was signed by B1 on 2026-03-02 (entry 000003)"), "{other:?}");
    assert_eq!(entries(&shop), 3);
}

#[test]
fn a_file_is_added_once_for_each_thing_that_it_belongs_to() {
    let (shop, code) = issued();
    shop.write("a.jpg", "a");
    shop.write("copy-of-a.jpg", "a");
    let add = |more: &[&str]| shop.run(&[&["archive", "add", "a.jpg", "copy-of-a.jpg"], more].concat());
    let first = add(&[]);
    assert!(first.code == 0 && first.out.contains("copy-of-a.jpg is named twice; it is added once"), "{first:?}");
    let again = add(&[]);
    assert!(again.out.contains("a.jpg is in the archive already (entry 000003)\n"), "{again:?}");
    assert!(again.out.ends_with("nothing was added\n"), "{again:?}");
    assert_eq!(entries(&shop), 3);
    assert_eq!(add(&["--sheet", &code, "--step", "drill"]).code, 0);
    assert_eq!(entries(&shop), 4, "the same picture may show two things");
}

#[test]
fn a_packet_that_is_refused_begins_no_archive() {
    let shop = Shop::small();
    shop.edit("specs/bracket.toml", "MS20470AD4-5", "MS20470AD4-3");
    assert_eq!(shop.run(ISSUE).code, 1);
    assert!(!shop.path("archive").exists());
}

#[test]
fn fifty_writers_at_once_are_fifty_recorded() {
    let begun = issued().0;
    let fresh = Shop::small();
    for (shop, before) in [(&begun, 2), (&fresh, 1)] {
        let running: Vec<_> = (0..50)
            .map(|nth| {
                shop.write(&format!("{nth}.jpg"), format!("photo {nth}"));
                shop.spawn(&["archive", "add", &format!("{nth}.jpg")])
            })
            .collect();
        for mut writer in running {
            assert!(writer.0.wait().unwrap().success());
        }
        assert_eq!(entries(shop), before + 50);
    }
}

#[test]
fn who_waits_in_line_says_so() {
    let (shop, code) = issued();
    let first = archive(&shop).writer().unwrap();
    let said = std::thread::scope(|scope| {
        let sign =
            ["archive", "sign", &code, "drill", "--by", "B1", "--entered", "2026-03-02T20:00", "--on", "2026-03-02"];
        let second = scope.spawn(move || shop.run(&sign));
        std::thread::sleep(Duration::from_millis(500));
        drop(first);
        second.join().unwrap()
    });
    assert_eq!(said.err, "shophead: another program is writing to the archive; waiting for it\n");
    assert!(said.code == 0 && said.out.starts_with("entry 000003: signed "), "{said:?}");
}

#[test]
fn a_change_is_issued_once() {
    let (shop, _) = issued();
    shop.edit("specs/bracket.toml", "count = 8", "count = 10");
    shop.edit("specs/bracket.toml", "revision = \"A\"", "revision = \"B\"");
    let change = ["change", "--issue", "--by", "B1", "--on", "2026-03-04", "--entered", "2026-03-04T20:00"];
    assert_eq!(shop.run(&change).code, 0);
    let once = entries(&shop);
    let again = shop.run(&change);
    let said = "every sheet in force is as it was issued\n";
    assert_eq!((again.code, again.out.as_str(), entries(&shop)), (0, said, once), "{again:?}");
    // The sheet without the marks of the change is another print of it, once.
    let print = || shop.run(&["packet", "--issue", "--on", "2026-03-05", "--entered", "2026-03-05T09:00"]);
    let printed = print();
    assert!(printed.out.contains("is in force; printed again"), "{printed:?}");
    assert_eq!(entries(&shop), once + 1);
    let printed = print();
    assert!(printed.out.contains("is in force; printed as before"), "{printed:?}");
    assert_eq!(entries(&shop), once + 1);
}

/// A page of the large print is laid out differently: the code of each names its print, and no other's places
/// are ever found for it.
#[test]
fn every_print_of_a_sheet_has_pages_and_places_of_its_own() {
    let (shop, code) = issued();
    let again = |more: &[&str]| {
        let day = ["--on", "2026-03-02", "--entered", "2026-03-02T09:00"];
        let ran = shop.run(&[&["packet", "--issue"][..], more, &day].concat());
        assert_eq!(ran.code, 0, "{ran:?}");
    };
    again(&["--large"]);
    again(&["--duplex"]);
    again(&["--paper", "a4"]);
    let survey = archive(&shop).verify().unwrap();
    assert_eq!(survey.flaws, []);
    let state = State::of(&survey.records);
    assert_eq!(state.prints.len(), 4);
    for (at, print) in state.prints.iter().enumerate() {
        let places: Value = serde_json::from_slice(&archive(&shop).blob(&print.places).unwrap()).unwrap();
        assert_eq!(SheetCode::parse(places["print"].as_str().unwrap()).unwrap(), print.code);
        let page = PageCode { sheet: print.sheet, other: None, part: None, page: 1, print: Some(print.code) };
        assert_eq!(print.sheet.to_string(), code);
        let same: Vec<usize> = (0..4).filter(|other| state.prints[*other].code == print.code).collect();
        assert_eq!(same, [at], "no two prints share a code");
        assert_eq!(state.print_of(&page), Some(print));
        assert_eq!(state.print_of(&PageCode { print: None, ..page }), None, "a page that names no print has no places");
    }
}
