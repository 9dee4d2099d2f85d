//! What speaks against a signature is refused at entry, and passes with its reason, which the record keeps.

use crate::build::shop::{Ran, Shop};

use super::play::json;

const BUILD: &str = r#"
[aircraft]
name = "Dunlin"
[[signer]]
initials = "B1"
role = "builder"
"#;

const TRAVELER: &str = r##"
[traveler]
id = "R-1"
title = "Rib"
revision = "A"

[[part]]
id = "P1"
name = "Rib"
material = "2024-T3"
thickness = "0.032"

[[part]]
id = "P2"
name = "Strap"
material = "2024-T3"
thickness = "0.040"

[[joint]]
id = "J1"
stack = ["P1", "P2"]
fastener = "MS20470AD4-4"
count = 12
holes = { start = "#30", final = "#30" }

[[step]]
id = "deburr"
title = "Deburr"
do = "deburr"
joints = ["J1"]

[[step]]
id = "prime"
title = "Prime"
do = "prime"
parts = ["P1", "P2"]
cure = "24 h"

[[step]]
id = "rivet"
title = "Rivet"
do = "rivet"
joints = ["J1"]

[[step]]
id = "inspect"
title = "Look at the heads"
do = "inspect"
joints = ["J1"]
"##;

fn issued() -> (Shop, String) {
    let shop = Shop::empty();
    shop.write("build.toml", BUILD);
    shop.write("specs/rib.toml", TRAVELER);
    passes(&shop.run(&["packet", "--issue", "--on", "2026-03-01", "--entered", "2026-03-01T09:00"]));
    let listed = json(&shop.run(&["archive", "list", "--format", "json"]));
    (shop, listed["sheets"][0]["sheet"].as_str().unwrap().to_owned())
}

fn passes(ran: &Ran) {
    assert_eq!(ran.code, 0, "{ran:?}");
}

fn sign<'a>(code: &'a str, step: &'a str, on: &'a str, more: &[&'a str]) -> Vec<&'a str> {
    [&["archive", "sign", code, step, "--by", "B1", "--on", on, "--entered", "2026-03-09T20:00"], more].concat()
}

/// How many signatures the record holds, and the text of the last.
fn signatures(shop: &Shop) -> (usize, String) {
    let listed = json(&shop.run(&["archive", "list", "--kind", "signed", "--format", "json"]));
    let entries = listed["entries"].as_array().unwrap();
    (entries.len(), entries.last().map_or_else(String::new, |last| last["text"].as_str().unwrap().to_owned()))
}

fn is_refused(ran: &Ran, why: &str) {
    assert_eq!(ran.code, 1, "{ran:?}");
    assert!(ran.err.contains(why), "`{why}` is not in\n{}", ran.err);
    assert!(ran.err.contains("`because` in the file, --because on the command line"), "{}", ran.err);
    assert!(ran.err.contains("nothing was recorded"), "{}", ran.err);
}

#[test]
fn a_step_before_it_that_is_open_or_was_worked_later_speaks_against_a_signature() {
    let (shop, code) = issued();
    let early = shop.run(&sign(&code, "prime", "2026-03-02", &[]));
    is_refused(&early, "R-1/prime cannot be signed: step R-1/deburr before it is not signed");
    passes(&shop.run(&sign(&code, "deburr", "2026-03-03", &[])));
    let early = shop.run(&sign(&code, "prime", "2026-03-02", &[]));
    is_refused(&early, "step R-1/deburr before it was worked later, on 2026-03-03");
    passes(&shop.run(&sign(&code, "prime", "2026-03-03", &[])));
    assert_eq!(signatures(&shop).0, 2);
}

#[test]
fn a_cure_that_cannot_be_over_speaks_against_a_signature_and_the_day_after_does_not() {
    let (shop, code) = issued();
    let evening = format!(
        "by = \"B1\"\non = 2026-03-03\n[[sign]]\nsheet = \"{code}\"\nstep = \"prime\"\n[[sign]]\nsheet = \"{code}\"\nstep = \"deburr\"\n"
    );
    shop.write("evening.toml", &evening);
    // Typed the other way round, and both of one day.
    passes(&shop.run(&["archive", "enter", "evening.toml", "--entered", "2026-03-09T20:00"]));
    let wet = shop.run(&sign(&code, "rivet", "2026-03-03", &[]));
    is_refused(
        &wet,
        "its parts cure for 1 d after step R-1/prime of 2026-03-03, until 2026-03-04 00:00 at the earliest",
    );
    passes(&shop.run(&sign(&code, "rivet", "2026-03-04", &[])));
}

#[test]
fn a_discrepancy_stops_later_steps_until_it_is_closed_named_or_answered() {
    let (shop, code) = issued();
    for step in ["deburr", "prime"] {
        passes(&shop.run(&sign(&code, step, "2026-03-02", &[])));
    }
    shop.write(
        "found.toml",
        format!("by = \"B1\"\non = 2026-03-04\n[[discrepancy]]\nwhat = \"a flat head\"\nsheet = \"{code}\"\nstep = \"rivet\"\n"),
    );
    passes(&shop.run(&["archive", "enter", "found.toml", "--entered", "2026-03-09T20:00"]));
    let stopped = shop.run(&sign(&code, "rivet", "2026-03-04", &[]));
    is_refused(&stopped, "R-1/rivet cannot be signed: discrepancy D-001 stops it: a flat head");
    // Its number in the margin says that whoever signs knows of it.
    passes(&shop.run(&sign(&code, "rivet", "2026-03-04", &["--discrepancy", "D-001"])));
    is_refused(&shop.run(&sign(&code, "inspect", "2026-03-05", &[])), "discrepancy D-001 stops it");
    let all_the_same = shop.run(&sign(&code, "inspect", "2026-03-05", &["--because", "the other eleven can be seen"]));
    passes(&all_the_same);
    assert!(
        all_the_same.out.contains("note: R-1/inspect is signed all the same: discrepancy D-001 stops it: a flat head"),
        "{}",
        all_the_same.out
    );
    let (count, last) = signatures(&shop);
    assert_eq!(count, 4);
    assert!(last.contains("note: signed all the same: the other eleven can be seen\n"), "{last}");
    let book = shop.run(&["archive", "book", "--format", "json", "--on", "2026-03-09"]);
    assert!(book.out.contains("signed all the same: the other eleven can be seen"), "printed in the book: {book:?}");
}

#[test]
fn the_reason_is_asked_for_on_a_terminal_and_no_answer_records_nothing() {
    let (shop, code) = issued();
    let silent = shop.run_answered(&sign(&code, "prime", "2026-03-02", &[]), "\n");
    is_refused(&silent, "step R-1/deburr before it is not signed");
    let asked = shop.run_answered(&sign(&code, "prime", "2026-03-02", &[]), "the edges are sealed anyway\n\n");
    passes(&asked);
    assert!(asked.err.contains("R-1/prime: step R-1/deburr before it is not signed. Why is it signed all the same?"));
    assert!(signatures(&shop).1.contains("note: signed all the same: the edges are sealed anyway\n"));
}
