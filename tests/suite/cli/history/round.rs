//! The whole way of a packet of both hands through the archive: issued, signed by each hand, held, revised, signed again, told.

use std::collections::BTreeMap;

use serde_json::Value;
use shophead::archive::{Archive, Standing, State};
use shophead::ident::{PageCode, SheetCode};
use shophead::words::{Hand, ItemName, PacketName};

use super::play::json;
use crate::build::shop::{Ran, Shop, paper_text_of};

const BUILD: &str = r#"
[aircraft]
name = "Dunlin two-seat"
serial = "D-014"
[[signer]]
initials = "B1"
role = "builder"
[[signer]]
initials = "TC1"
role = "technical counselor"
"#;

const RIB: &str = r##"
[traveler]
id = "W-1"
title = "Tip rib"
revision = "A"
hands = ["left", "right"]
packet = "both hands"

[[part]]
id = "P1"
name = "Skin"
material = "2024-T3"
thickness = "0.032"

[[part]]
id = "P2"
name = "Rib"
material = "2024-T3"
thickness = "0.040"

[[joint]]
id = "J1"
name = "Skin to rib"
stack = ["P1", "P2"]
fastener = "MS20470AD4-4"
count = 8
holes = { final = "#30" }
edge = "0.35"

[[step]]
id = "open"
title = "Open the holes"
do = "drill"
joints = ["J1"]

[[step]]
id = "level"
title = "Level the rib"
do = "measure"
records = [{ id = "twist", label = "Twist of the rib", unit = "deg", min = -0.2, max = 0.2, tool = "digital level" }]

[[step]]
id = "look"
title = "Look at the holes"
do = "inspect"
joints = ["J1"]
hold = "technical counselor"

[[step]]
id = "rivet"
title = "Rivet skin to rib"
do = "rivet"
joints = ["J1"]
"##;

fn run(shop: &Shop, arguments: &[&str]) -> Ran {
    let ran = shop.run(arguments);
    assert_eq!(ran.code, 0, "{arguments:?}: {ran:?}");
    ran
}

fn state(shop: &Shop) -> State {
    let survey = Archive::at(shop.path("archive")).verify().unwrap();
    assert_eq!(survey.flaws, []);
    State::of(&survey.records)
}

/// Codes of the left and the right sheet in force.
fn codes(shop: &Shop) -> [SheetCode; 2] {
    let state = state(shop);
    let of = |hand| state.in_force(&PacketName::new("W-1", Some(hand))).unwrap().issued.sheet;
    [of(Hand::Left), of(Hand::Right)]
}

fn sign(shop: &Shop, what: &[&str], by: &str, day: &str, more: &[&str]) -> Ran {
    let entered = format!("{day}T20:00");
    let when = ["--by", by, "--on", day, "--entered", &entered];
    shop.run(&[&["archive", "sign"], what, &when, more].concat())
}

fn signed(shop: &Shop, what: &[&str], day: &str, more: &[&str]) {
    let ran = sign(shop, what, "B1", day, more);
    assert_eq!(ran.code, 0, "{what:?}: {ran:?}");
}

/// Issued, and worked as far as the first look: the left hand's is held and open, the right hand has a discrepancy.
fn worked() -> Shop {
    let shop = Shop::empty();
    shop.write("build.toml", BUILD);
    shop.write("specs/rib.toml", RIB);
    let issued = run(&shop, &["packet", "--issue", "--on", "2026-03-01", "--entered", "2026-03-01T09:00"]);
    assert_eq!(issued.out.matches(": issued as ").count(), 2, "{}", issued.out);
    signed(&shop, &["W-1", "left", "open"], "2026-03-02", &[]);
    signed(&shop, &["W-1", "right", "open"], "2026-03-02", &[]);
    signed(&shop, &["W-1", "left", "level"], "2026-03-03", &["--reading", "020.1=0.10"]);
    signed(&shop, &["W-1", "right", "level"], "2026-03-03", &["--reading", "twist=-0.15"]);
    signed(&shop, &["W-1", "left", "look"], "2026-03-04", &[]);
    let wrong = "[[discrepancy]]\ntraveler = \"W-1\"\nhand = \"right\"\nstep = \"look\"\nwhat = \"one hole is long\"\n\
                 by = \"B1\"\non = 2026-03-05\n";
    shop.write("evening.toml", format!("by = \"B1\"\non = 2026-03-05\n{wrong}"));
    run(
        &shop,
        &["archive", "enter", &shop.path("evening.toml").display().to_string(), "--entered", "2026-03-05T20:00"],
    );
    shop
}

/// Standing of each step of a hand, as the list tells it.
fn standings(shop: &Shop, hand: &str) -> BTreeMap<String, String> {
    let listed = json(&run(shop, &["archive", "list", "--format", "json", "--traveler", "W-1"]));
    let sheets = listed["sheets"].as_array().unwrap();
    let own = sheets.iter().filter(|sheet| sheet["hand"] == hand).collect::<Vec<&Value>>();
    assert_eq!(own.len(), 1, "one sheet of the {hand} hand is in force");
    let word = |step: &Value, key: &str| step[key].as_str().unwrap().to_owned();
    own[0]["steps"].as_array().unwrap().iter().map(|step| (word(step, "step"), word(step, "standing"))).collect()
}

fn words(pairs: &[(&str, &str)]) -> BTreeMap<String, String> {
    pairs.iter().map(|(step, word)| ((*step).to_owned(), (*word).to_owned())).collect()
}

/// Boxes of the newest print of both hands: hand, step, what is marked.
fn boxes(shop: &Shop) -> Vec<(String, String, String)> {
    let state = state(shop);
    let print = state.newest_print(codes(shop)[0]).unwrap().clone();
    let text = Archive::at(shop.path("archive")).blob(&print.places).unwrap();
    let layout: Value = serde_json::from_slice(&text).unwrap();
    let word = |one: &Value, key: &str| one[key].as_str().unwrap_or_default().to_owned();
    let all = layout["boxes"].as_array().unwrap().iter();
    all.map(|one| (word(one, "hand"), word(one, "step"), word(one, "field"))).collect()
}

fn has(all: &[(String, String, String)], hand: &str, step: &str, field: &str) -> bool {
    all.iter().any(|one| (one.0.as_str(), one.1.as_str(), one.2.as_str()) == (hand, step, field))
}

#[test]
fn the_code_of_a_page_of_both_asks_which_hand() {
    let shop = worked();
    let [left, right] = codes(&shop);
    let both = format!("{left}+{right}");
    let ran = sign(&shop, &[&both, "rivet"], "B1", "2026-03-06", &[]);
    assert_ne!(ran.code, 0);
    let said = format!("these are the sheets of both hands: give {left} for the left one or {right} for the right one");
    assert!(ran.err.contains(&said), "{ran:?}");
    let ran = sign(&shop, &["W-1", "rivet"], "B1", "2026-03-06", &[]);
    assert_ne!(ran.code, 0);
    assert!(ran.err.contains("left") && ran.err.contains("right"), "{ran:?}");
    // What a scan of a page says is found under both sheets, and leads to the boxes of each.
    let state = state(&shop);
    let print = state.newest_print(left).unwrap();
    let page = PageCode::parse(&format!("{both}/1/{}", print.code)).unwrap();
    assert_eq!((page.sheet, page.other), (left, Some(right)));
    assert_eq!(state.print_of(&page).map(|own| &own.places), Some(&print.places));
    assert_eq!(state.sheets_of(print.code), [left, right]);
    let one = PageCode { sheet: right, other: None, ..page };
    assert_eq!(state.print_of(&one).map(|own| own.code), Some(print.code));
}

#[test]
fn a_reprint_has_what_each_hand_signed_and_boxes_for_what_it_has_not() {
    let shop = worked();
    let before = boxes(&shop);
    let ran = run(&shop, &["packet", "--issue", "--entered", "2026-03-05T21:00"]);
    assert_eq!(ran.out.matches("printed again, with what is signed").count(), 2, "{}", ran.out);
    let after = boxes(&shop);
    for hand in ["left", "right"] {
        assert!(has(&before, hand, "open", "done:initials") && !has(&after, hand, "open", "done:initials"), "{hand}");
        assert!(has(&after, hand, "look", "hold:initials"), "the hold of the {hand} hand is open");
        assert!(has(&after, hand, "rivet", "done:initials"), "{hand}");
    }
    assert!(!has(&after, "left", "look", "done:initials") && has(&after, "right", "look", "done:initials"));
    if let Some(paper) = paper_text_of(&shop.path("output/W-1-both-hands.pdf")) {
        for said in ["RIGHT:D-001:oneholeislong", "0.10", "-0.15"] {
            assert!(paper.contains(said), "{said} is not in\n{paper}");
        }
    }
}

/// A narrower limit: the left hand's reading meets it, the right hand's does not.
fn revised(shop: &Shop) -> Ran {
    shop.edit("specs/rib.toml", "min = -0.2, max = 0.2", "min = -0.12, max = 0.12");
    shop.edit("specs/rib.toml", "revision = \"A\"", "revision = \"B\"");
    let when = ["--on", "2026-03-08", "--entered", "2026-03-08T20:00"];
    run(shop, &[&["change", "--issue", "--by", "B1", "--source", "letter 9"], &when[..]].concat())
}

#[test]
fn a_revision_judges_each_hand_by_its_own_readings() {
    let shop = worked();
    let old = codes(&shop);
    let told = revised(&shop);
    let new = codes(&shop);
    for (at, hand) in ["left", "right"].into_iter().enumerate() {
        let said = format!("W-1 {hand} rev A to B: {} is replaced by {}", old[at], new[at]);
        assert!(told.out.contains(&said), "{}", told.out);
    }
    let state = state(&shop);
    let standing = |hand| state.standing(&ItemName::new("W-1", Some(hand), "level"));
    assert!(matches!(standing(Hand::Left), Standing::Signed(_)), "{:?}", standing(Hand::Left));
    assert!(matches!(standing(Hand::Right), Standing::Fallen(_)), "{:?}", standing(Hand::Right));
    assert!(state.share_a_packet(new[0], new[1]));
    let left = [("open", "signed"), ("level", "signed"), ("look", "signed"), ("rivet", "open")];
    assert_eq!(standings(&shop, "left"), words(&left));
    let right = [("open", "signed"), ("level", "fallen"), ("look", "open"), ("rivet", "open")];
    assert_eq!(standings(&shop, "right"), words(&right));
    // The new pages have a box for the reading of the right hand alone.
    let boxes = boxes(&shop);
    assert!(has(&boxes, "right", "level", "record:twist") && !has(&boxes, "left", "level", "record:twist"));
    assert!(has(&boxes, "right", "level", "done:initials") && !has(&boxes, "left", "level", "done:initials"));
    let board = json(&run(&shop, &["board", "--format", "json", "--now", "2026-03-08T21:00"]));
    let text = board.to_string();
    assert!(text.contains("\"left\"") && text.contains("\"right\""), "{text}");
}

#[test]
fn it_is_signed_on_and_told_to_the_end() {
    let shop = worked();
    revised(&shop);
    let [left, right] = codes(&shop);
    signed(&shop, &["W-1", "right", "level"], "2026-03-09", &["--reading", "020.1=-0.05"]);
    let closed = "[[close]]\ndiscrepancy = \"D-001\"\ndisposition = \"use as is\"\nauthority = \"designer\"\n";
    let others = "[[close]]\ndiscrepancy = \"D-002\"\ndisposition = \"rework\"\nauthority = \"designer\"\n";
    let is_open =
        |number: &str| state(&shop).discrepancies.get(number).is_some_and(shophead::archive::Discrepancy::is_open);
    let decided = [("D-001", closed), ("D-002", others)].map(|(number, text)| if is_open(number) { text } else { "" });
    shop.write("late.toml", format!("by = \"B1\"\non = 2026-03-10\n{}", decided.concat()));
    run(&shop, &["archive", "enter", &shop.path("late.toml").display().to_string(), "--entered", "2026-03-10T20:00"]);
    signed(&shop, &["W-1", "right", "look"], "2026-03-11", &[]);
    for code in [left, right] {
        let ran = sign(&shop, &[&code.to_string(), "look"], "TC1", "2026-03-12", &["--for", "hold"]);
        assert_eq!(ran.code, 0, "{ran:?}");
    }
    for code in [left, right] {
        signed(&shop, &[&code.to_string(), "rivet"], "2026-03-13", &[]);
    }
    let done = words(&[("open", "signed"), ("level", "signed"), ("look", "signed"), ("rivet", "signed")]);
    assert_eq!((standings(&shop, "left"), standings(&shop, "right")), (done.clone(), done));
    let verified = run(&shop, &["archive", "verify"]);
    assert!(verified.out.contains("archive: whole; "), "{}", verified.out);
    run(&shop, &["archive", "export", &shop.path("all.zip").display().to_string()]);
    let book = run(&shop, &["archive", "book", "--on", "2026-03-14"]);
    let path = book.out.split("  ").next().unwrap().trim().to_owned();
    if let Some(book) = paper_text_of(&shop.path(&path)) {
        for said in [left.to_string(), right.to_string(), "W-1left".to_owned(), "W-1right".to_owned()] {
            assert!(book.contains(&said), "{said} is not in\n{book}");
        }
    }
    // Nothing is left to print, and what is printed has no box of a step.
    run(&shop, &["packet", "--issue", "--entered", "2026-03-14T09:00"]);
    let open: Vec<_> =
        boxes(&shop).into_iter().filter(|one| ["open", "level", "look", "rivet"].contains(&&*one.1)).collect();
    assert_eq!(open, []);
}
