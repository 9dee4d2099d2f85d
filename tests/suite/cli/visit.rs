//! `visit` as a command: the demo's visits, with and without an archive, and what its last page asks to be typed.

use serde_json::Value;

use crate::build::shop::{Ran, Shop};

const NOW: [&str; 4] = ["--now", "2026-05-25T18:00", "--project", "demo-data"];

fn run(shop: &Shop, arguments: &[&str]) -> Ran {
    let all: Vec<&str> = arguments.iter().chain(&NOW).copied().collect();
    shop.run(&all)
}

fn json(shop: &Shop, arguments: &[&str]) -> Value {
    let ran = run(shop, &[arguments, &["--format", "json"]].concat());
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    serde_json::from_str(&ran.out).unwrap()
}

#[test]
fn the_demo_shows_its_history_and_the_same_bytes_twice() {
    let shop = Shop::demo();
    let next = json(&shop, &["visit"]);
    assert_eq!(
        (&next["spaces"][0]["id"], &next["spaces"][0]["space"]),
        (&"tank-interior".into(), &"Fuel tank, inside (left)".into())
    );
    let closed = json(&shop, &["visit", "--space", "stabilizer-box"]);
    assert_eq!(closed["decided"][0]["number"], "D-001");
    assert_eq!(closed["photos"].as_array().unwrap().iter().filter(|photo| photo["number"] == "31").count(), 1);
    assert!(closed["since"]["findings"][0].as_str().unwrap().contains("not answered yet"));
    for _ in 0..2 {
        assert_eq!(run(&shop, &["visit", "--space", "stabilizer-box"]).code, 0);
        let path = shop.path("output/visit-stabilizer-box.pdf");
        let bytes = std::fs::read(&path).unwrap();
        run(&shop, &["visit", "--space", "stabilizer-box"]);
        assert!(bytes == std::fs::read(&path).unwrap());
    }
}

#[test]
fn a_packet_can_be_made_without_an_archive() {
    let shop = Shop::demo();
    std::fs::remove_dir_all(shop.path("demo-data/archive")).unwrap();
    let packet = json(&shop, &["visit", "--space", "wing-bay-3", "--hand", "left"]);
    assert!(packet["readings"].as_array().unwrap().len() > 5);
    assert_eq!(run(&shop, &["visit"]).code, 0);
}

#[test]
fn what_is_found_can_be_typed_and_entered() {
    let shop = Shop::demo();
    let packet = json(&shop, &["visit", "--visitor", "TC1"]);
    let lines = run(&shop, &["visit", "--visitor", "TC1", "--typed"]).out;
    let typed = lines
        .replace("DAY", "2026-05-25")
        .replace("what = \"\"", "what = \"sealant thin at rib 3\"")
        .replace("suggested = \"\"", "suggested = \"one more fillet\"");
    shop.write("visit.toml", &typed);
    let ran = shop.run(&["--project", "demo-data", "archive", "enter", "visit.toml", "--entered", "2026-05-26T18:00"]);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let again = json(&shop, &["visit", "--visitor", "TC1"]);
    assert!(again["since"]["findings"][0].as_str().unwrap().contains("sealant thin at rib 3"));
    assert_eq!(again["open"][0]["what"], "sealant thin at rib 3");
    assert_ne!(again["code"], packet["code"]);
}

#[test]
fn a_space_that_does_not_exist_cannot_be_visited() {
    let shop = Shop::demo();
    for (arguments, said) in [
        (&["visit", "--space", "wing-bay"][..], "there is no space wing-bay; did you mean wing-bay-3?"),
        (
            &["visit", "--visitor", "P9"],
            "nobody in build.toml has the initials `P9`, and no role this id; there are B1",
        ),
        (&["visit", "--on", "soon"], "--on: `soon` is not a date"),
        (&["visit", "--hand", "port"], "one of: left, right"),
    ] {
        let ran = run(&shop, arguments);
        assert!(ran.code == 2 && ran.err.contains(said), "{arguments:?}: {}", ran.err);
    }
}
