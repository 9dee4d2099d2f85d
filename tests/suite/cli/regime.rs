//! A regime of two stages, from the specs to the record: who may sign what, in which order, and what is said otherwise.

use serde_json::Value;

use crate::build::regime::{BOX, BUILD, RIB};
use crate::build::shop::{Ran, Shop};

const ENTERED: [&str; 2] = ["--entered", "2026-12-01T20:00"];
const ASKED: [&str; 4] = ["--asked", "authorisation no.=E-7", "--asked", "report no.=N/A"];

fn issued() -> (Shop, String, String) {
    let shop = Shop::empty();
    shop.write("build.toml", BUILD);
    shop.write("specs/rib.toml", RIB);
    shop.write("specs/box.toml", BOX);
    let ran = shop.run(&["packet", "--issue", "--on", "2026-11-01", "--entered", "2026-11-01T18:00"]);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let code = |traveler: &str| {
        let line = ran.out.lines().find(|line| line.starts_with(&format!("{traveler}: issued as "))).unwrap();
        line.rsplit(' ').next().unwrap().to_owned()
    };
    let (rib, shut) = (code("RIB-10"), code("BOX-10"));
    (shop, rib, shut)
}

fn sign(shop: &Shop, sheet: &str, step: &str, more: &[&str]) -> Ran {
    shop.run(&[&["archive", "sign", sheet, step, "--on", "2026-11-20"], more, &ENTERED].concat())
}

fn signed(shop: &Shop, sheet: &str, step: &str, more: &[&str]) -> String {
    let ran = sign(shop, sheet, step, more);
    assert_eq!(ran.code, 0, "{step} {more:?}: {}{}", ran.out, ran.err);
    ran.out
}

/// What is said of a signature that is not recorded.
fn refused(shop: &Shop, sheet: &str, step: &str, more: &[&str]) -> String {
    let ran = sign(shop, sheet, step, more);
    assert_eq!(ran.code, 1, "{step} {more:?}: {}{}", ran.out, ran.err);
    assert!(ran.err.ends_with("nothing was recorded\n"), "{}", ran.err);
    ran.err.lines().next().unwrap().split_once("error[value-invalid]: ").unwrap().1.to_owned()
}

fn work(shop: &Shop, sheet: &str, steps: &[&str], by: &[&str]) {
    for step in steps {
        signed(shop, sheet, step, by);
    }
}

#[test]
fn a_signature_is_given_by_whoever_may_and_over_finished_work_only() {
    let (shop, rib, _) = issued();
    let examiner = [&["--by", "P1", "--outcome", "in order"], &ASKED[..]].concat();
    let said = refused(&shop, &rib, "drill", &["--by", "P1"]);
    assert!(
        said.ends_with("P1 signs as examiner, which may not sign work (build.toml: may = [\"look\", \"release\"])"),
        "{said}"
    );
    let said = refused(&shop, &rib, "look", &["--by", "B1", "--stage", "S1"]);
    assert!(said.ends_with("stage S1 at step `look` is signed by examiner; B1 signs as builder"), "{said}");
    let said = refused(&shop, &rib, "look", &["--by", "P1", "--stage", "S1"]);
    assert!(said.ends_with("has no outcome; write the one that is ticked: in order, not in order"), "{said}");
    let said = refused(&shop, &rib, "look", &[&["--by", "P1", "--outcome", "fine"], &ASKED[..]].concat());
    assert!(
        said.ends_with("`fine` is no outcome of stage S1 at step `look`; they are: in order, not in order"),
        "{said}"
    );
    let said = refused(&shop, &rib, "look", &["--by", "P1", "--outcome", "in order", "--asked", "report no.=1"]);
    assert!(
        said.ends_with("the box of the examiner asks for `authorisation no.`; write what stands there or N/A"),
        "{said}"
    );
    work(&shop, &rib, &["drill", "deburr"], &["--by", "B1"]);
    let said = refused(&shop, &rib, "look", &examiner);
    assert_eq!(
        said,
        "stage S1, Rib before the box (RIB-10) is not signed over open work; 2 steps are open: RIB-10/rivet, RIB-10/look"
    );
    work(&shop, &rib, &["rivet", "look"], &["--by", "B1"]);
    let out = signed(&shop, &rib, "look", &examiner);
    assert!(out.contains("RIB-10 look (stage S1) by P1: `in order`, work of 2026-11-20"), "{out}");
    let again = signed(&shop, &rib, "look", &examiner);
    assert!(again.contains("step `look` is signed so already (entry "), "{again}");
    let other = [&["--by", "P1", "--outcome", "in order", "--note", "seen twice"], &ASKED[..]].concat();
    let said = refused(&shop, &rib, "look", &other);
    assert!(said.contains("stage S1 at step `look` was signed by P1 on 2026-11-20 (entry "), "{said}");
    let said = refused(&shop, &rib, "drill", &["--by", "B1", "--outcome", "in order", "--for", "done"]);
    assert!(
        said.ends_with("this signature is for `done`; a stage and an outcome are given with `stage` alone"),
        "{said}"
    );
}

#[test]
fn whoever_worked_does_not_look_and_whoever_looked_does_not_work() {
    let (shop, rib, shut) = issued();
    work(&shop, &rib, &["drill", "deburr"], &["--by", "B1"]);
    signed(&shop, &rib, "rivet", &["--by", "B1", "--helper", "P1"]);
    work(&shop, &rib, &["look"], &["--by", "B1"]);
    let said = refused(&shop, &rib, "look", &[&["--by", "P1", "--outcome", "in order"], &ASKED[..]].concat());
    assert_eq!(
        said,
        "stage S1, Rib before the box, is signed by another person than did the work, and P1 worked at RIB-10/rivet"
    );
    signed(&shop, &rib, "look", &[&["--by", "P2", "--outcome", "in order"], &ASKED[..]].concat());
    let out = signed(&shop, &shut, "drill", &["--by", "B1"]);
    let entry: String = out.chars().skip_while(|c| !c.is_ascii_digit()).take_while(char::is_ascii_digit).collect();
    signed(&shop, &shut, "rivet", &["--by", "B1"]);
    signed(&shop, &shut, "close", &["--by", "B2", "--stage", "S2"]);
    let number: u32 = entry.parse().unwrap();
    shop.write("strike.toml", format!("by = \"B1\"\n[[strike]]\nentry = {number}\nbecause = \"drilled anew\"\n"));
    let struck = shop.run(&[&["archive", "enter", "strike.toml"], &ENTERED[..]].concat());
    assert_eq!(struck.code, 0, "{}{}", struck.out, struck.err);
    let said = refused(&shop, &shut, "drill", &["--by", "B2"]);
    assert_eq!(
        said,
        "B2 signed stage S2, Box before closing, on 2026-11-20, and it is signed by another person than did the work"
    );
    signed(&shop, &shut, "drill", &["--by", "B1"]);
}

#[test]
fn an_outcome_that_stops_leaves_the_stage_open_and_what_follows_waits() {
    let (shop, rib, shut) = issued();
    work(&shop, &rib, &["drill", "deburr", "rivet", "look"], &["--by", "B1"]);
    let stops = [&["--by", "P1", "--outcome", "not in order"], &ASKED[..]].concat();
    let out = signed(&shop, &rib, "look", &stops);
    let waits = "stage S1 stays open, `not in order` by P1: what follows waits until P1 signs it otherwise";
    assert!(out.contains(waits), "{out}");
    let board = shop.run(&["board", "--format", "json", "--now", "2026-12-02T18:00"]);
    let board: Value = serde_json::from_str(&board.out).unwrap();
    let waiting = &board["waiting"][0];
    assert_eq!(waiting["step"], "RIB-10/look");
    assert_eq!(
        waiting["waits"][0]["words"],
        "stage S1, Rib before the box: P1 (Examiner) wrote `not in order` on 2026-11-20"
    );
    assert!(board["ready"].as_array().unwrap().is_empty(), "nothing of the box is ready: {}", board["ready"]);
    // Another examiner does not overrule the first; the first may.
    signed(&shop, &rib, "look", &[&["--by", "P2", "--outcome", "in order"], &ASKED[..]].concat());
    let board = shop.run(&["board", "--format", "json", "--now", "2026-12-02T18:00"]);
    assert!(board.out.contains("wrote `not in order`"), "{}", board.out);
    let said = refused(&shop, &rib, "look", &[&["--by", "P1", "--outcome", "in order"], &ASKED[..]].concat());
    assert!(said.contains("has been signed by everybody"), "{said}");
    assert!(!shut.is_empty());
}

#[test]
fn a_space_closes_after_every_signature_of_its_stage() {
    let (shop, rib, shut) = issued();
    let examiner = [&["--by", "P1", "--outcome", "in order"], &ASKED[..]].concat();
    work(&shop, &rib, &["drill", "deburr", "rivet", "look"], &["--by", "B1"]);
    signed(&shop, &rib, "look", &examiner);
    work(&shop, &shut, &["drill", "rivet"], &["--by", "B1"]);
    let said = refused(&shop, &shut, "close", &["--by", "B1"]);
    assert_eq!(
        said,
        "BOX-10/close closes a space in which something is left: stage S2, Box before closing, at BOX-10/close: \
         Examiner has not signed; none of B2, A1 has signed"
    );
    let said = refused(&shop, &shut, "close", &["--by", "B1", "--stage", "S2"]);
    assert!(
        said.ends_with("stage S2 at step `close` is signed by examiner and one of B2, A1; B1 signs as builder"),
        "{said}"
    );
    let remarks =
        [&["--by", "P1", "--outcome", "in order with remarks", "--note", "shim at rib 2"], &ASKED[..]].concat();
    signed(&shop, &shut, "close", &remarks);
    let said = refused(&shop, &shut, "close", &["--by", "B1"]);
    assert!(said.ends_with("none of B2, A1 has signed"), "{said}");
    signed(&shop, &shut, "close", &["--by", "A1", "--stage", "S2"]);
    let said = refused(&shop, &shut, "close", &["--by", "A1"]);
    assert!(said.contains("A1 signs as adviser, which may not sign work"), "{said}");
    signed(&shop, &shut, "close", &["--by", "B1"]);
    let listed = shop.run(&["archive", "list", "--format", "json", "--traveler", "BOX-10"]);
    let listed: Value = serde_json::from_str(&listed.out).unwrap();
    let steps = listed["sheets"][0]["steps"].as_array().unwrap();
    let close = steps.iter().find(|step| step["step"] == "close").unwrap();
    assert_eq!((&close["stages"][0]["stage"], &close["stages"][0]["passed"]), (&"S2".into(), &true.into()));
    let signatures: Vec<(&str, &str)> = close["signatures"]
        .as_array()
        .unwrap()
        .iter()
        .map(|own| (own["capacity"].as_str().unwrap(), own["by"].as_str().unwrap()))
        .collect();
    assert_eq!(signatures, [("stage", "P1"), ("stage", "A1"), ("done", "B1")]);
    let places: Vec<&Value> =
        close["stages"][0]["signed-by"].as_array().unwrap().iter().map(|place| &place["of"]).collect();
    assert_eq!(places, [&serde_json::json!(["examiner"]), &serde_json::json!(["B2", "A1"])]);
    assert_eq!(close["stages"][0]["signed-by"][1]["entry"], close["signatures"][1]["entry"]);
    assert_eq!(close["signatures"][0]["outcome"], "in order with remarks");
    let book = shop.run(&["archive", "book", "--format", "json"]);
    assert_eq!(book.code, 0, "{}{}", book.out, book.err);
    let book: Value = serde_json::from_str(&book.out).unwrap();
    let looks: Vec<&Value> =
        book["book"]["by-date"].as_array().unwrap().iter().filter(|line| line["capacity"] == "stage S2").collect();
    assert_eq!(looks.len(), 2);
    assert_eq!(looks[0]["outcome"], "\u{201c}in order with remarks\u{201d}, the act of P1 as Examiner");
    assert_eq!((&looks[0]["by"], &looks[0]["asked"][0]), (&"P1 (Examiner)".into(), &"authorisation no. E-7".into()));
    assert_eq!((&looks[1]["by"], &looks[1]["outcome"]), (&"A1 (adviser)".into(), &Value::Null));
    let verified = shop.run(&["archive", "verify"]);
    assert_eq!(verified.code, 0, "{}{}", verified.out, verified.err);
}

#[test]
fn the_visit_packet_of_a_stage_speaks_for_its_visitor_and_says_what_is_missing() {
    let (shop, rib, shut) = issued();
    let json = |arguments: &[&str]| -> Value {
        let now = ["--format", "json", "--now", "2026-12-02T18:00"];
        let ran = shop.run(&[&["visit"], arguments, &now].concat());
        assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
        serde_json::from_str(&ran.out).unwrap()
    };
    let packet = json(&["--stage", "S1", "--visitor", "P1"]);
    assert_eq!((&packet["visitor"]["initials"], &packet["visitor"]["tone"]), (&"P1".into(), &"stage".into()));
    let stage = &packet["stages"][0];
    assert_eq!(
        (&stage["title"], &stage["at"]),
        (&"S1, Rib before the box".into(), &"RIB-10 040 Look at the rib".into())
    );
    assert_eq!((&stage["sheet"], &stage["done"]), (&rib.as_str().into(), &serde_json::json!([0, 3])));
    assert_eq!(stage["missing"][0], "Examiner has not signed");
    let lacks = packet["lacks"][0].as_str().unwrap();
    assert!(
        lacks.starts_with("Stage S1, Rib before the box: NOT READY. 4 steps are open before it: RIB-10 010 Drill; "),
        "{lacks}"
    );
    let typed: Vec<&str> = packet["typed"].as_array().unwrap().iter().map(|line| line.as_str().unwrap()).collect();
    assert!(
        typed.contains(&"by = \"P1\"") && typed.contains(&"stage = \"S1\"") && typed.contains(&"outcome = \"\""),
        "{typed:?}"
    );
    let packet = json(&["--space", "fin-box"]);
    assert_eq!(packet["visitor"]["initials"], Value::Null);
    assert_eq!(packet["stages"][0]["id"], "S2");
    assert!(packet["typed"].as_array().unwrap().contains(&"by = \"INITIALS\"".into()));
    assert_eq!(packet["stages"][0]["sheet"], shut.as_str());
    let advised = json(&["--space", "fin-box", "--visitor", "A1"]);
    assert_eq!(advised["visitor"]["tone"], "advice");
}

#[test]
fn what_the_packet_of_a_stage_says_can_be_typed_and_entered() {
    let (shop, rib, _) = issued();
    work(&shop, &rib, &["drill", "deburr", "rivet", "look"], &["--by", "B1"]);
    let packet =
        shop.run(&["visit", "--stage", "S1", "--visitor", "P1", "--format", "json", "--now", "2026-11-30T18:00"]);
    let packet: Value = serde_json::from_str(&packet.out).unwrap();
    assert_eq!(packet["lacks"], serde_json::json!([]));
    let lines: Vec<&str> = packet["typed"].as_array().unwrap().iter().map(|line| line.as_str().unwrap()).collect();
    let typed = lines.join("\n");
    let typed = typed.replace("DAY", "2026-11-30").replace("what = \"\"", "what = \"scratch on the web\"");
    let typed = typed
        .replace("outcome = \"\"", "outcome = \"in order\"")
        .replace("before-close = true", "before-close = false");
    let typed = typed.replace("no.\" = \"\"", "no.\" = \"7\"").replace("suggested = \"\"", "suggested = \"polish it\"");
    shop.write("visit.toml", &typed);
    let ran = shop.run(&[&["archive", "enter", "visit.toml"], &ENTERED[..]].concat());
    assert_eq!(ran.code, 0, "{typed}\n{}{}", ran.out, ran.err);
    for said in [
        "visit of P1 (examiner) on 2026-11-30",
        "finding 1: scratch on the web",
        "RIB-10 look (stage S1) by P1: `in order`",
    ] {
        assert!(ran.out.contains(said), "{said}: {}", ran.out);
    }
    let packet = shop.run(&["visit", "--stage", "S1", "--format", "json", "--now", "2026-12-02T18:00"]);
    let packet: Value = serde_json::from_str(&packet.out).unwrap();
    assert_eq!(packet["stages"][0]["signed"][0], "2026-11-30: \u{201c}in order\u{201d}, the act of P1 as Examiner");
    assert_eq!(packet["stages"][0]["missing"], serde_json::json!([]));
}
