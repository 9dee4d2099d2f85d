//! Signing from the command line: by traveler and printed numbers, asked for what is missing on a terminal, shown before it is
//! recorded; and the file of an evening, written, filled in and entered.

use super::play::json;
use crate::build::shop::{Ran, Shop};

const BUILD: &str = "[aircraft]\nname = \"Dunlin\"\n[[signer]]\ninitials = \"B1\"\nrole = \"builder\"\n\
    [[signer]]\ninitials = \"TC1\"\nrole = \"technical counselor\"\n";

const TRAVELER: &str = r#"
[traveler]
id = "RUD-10"
title = "Rudder mounts"
revision = "A"
hands = ["left", "right"]

[[part]]
id = "P1"
name = "Mount"

[[step]]
id = "fit"
title = "Fit the mount"
do = "fit"
parts = ["P1"]
minutes = 30

[[step]]
id = "measure"
title = "Measure the bore"
do = "measure"
records = [
  { id = "bore", label = "Bore", unit = "in", min = "0.2495", max = "0.2505", tool = "bore gauge" },
  { id = "play", label = "Play", unit = "in", max = 0.005 },
]

[[step]]
id = "look"
title = "Look at it"
do = "inspect"
hold = "technical counselor"
photo = "before covering"
"#;

const NOW: [&str; 4] = ["--on", "2026-03-02", "--entered", "2026-03-02T20:00"];

fn issued() -> Shop {
    let shop = Shop::empty();
    shop.write("build.toml", BUILD);
    shop.write("specs/rud.toml", TRAVELER);
    let ran = shop.run(&["packet", "--issue", "--on", "2026-03-01", "--entered", "2026-03-01T09:00"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    shop
}

fn signed(shop: &Shop) -> Vec<String> {
    let listed = json(&shop.run(&["archive", "list", "--kind", "signed", "--format", "json"]));
    let entries = listed["entries"].as_array().unwrap();
    entries.iter().map(|entry| entry["text"].as_str().unwrap().to_owned()).collect()
}

fn sign(more: &[&'static str]) -> Vec<&'static str> {
    [&["archive", "sign"], more, &NOW].concat()
}

fn refused(ran: &Ran, why: &str) {
    assert_eq!(ran.code, 1, "{ran:?}");
    assert!(ran.err.contains(why) && ran.err.contains("nothing was recorded"), "`{why}` is not in\n{}", ran.err);
}

#[test]
fn a_terminal_asks_for_each_reading_with_its_limits_and_shows_what_it_records() {
    let shop = issued();
    let answers = "\n0.25x\n0.2500\n0.009\n0.004\n\n";
    let ran = shop.run_answered(&sign(&["RUD-10", "left", "010..020", "--minutes", "50"]), answers);
    assert_eq!(ran.code, 0, "{ran:?}");
    for asked in [
        "Initials; Enter for B1:",
        "020.1 Bore, 0.2495 to 0.2505 in (bore gauge):",
        "020.1 Bore, 0.2495 to 0.2505 in is `0.25x`, expected a number or N/A",
        "020.2 Play, at most 0.005 in:",
        "0.009 lies outside: at most 0.005 in. It opens a discrepancy. Read it again, or Enter to keep it",
        "Is that what was done? Enter for yes, no to stop:",
    ] {
        assert!(ran.err.contains(asked), "`{asked}` is not in\n{}", ran.err);
    }
    assert!(
        ran.out.contains("will record: signed ") && ran.out.contains("25 min, bore 0.2500, play 0.004"),
        "{}",
        ran.out
    );
    let all = signed(&shop);
    assert_eq!(all.len(), 2);
    assert!(all[1].contains("reading: bore = 0.2500\n") && all[1].contains("reading: play = 0.004\n"), "{}", all[1]);
    assert!(all.iter().all(|text| text.contains("hand: left\n") && text.contains("by: B1\n")), "{all:?}");
}

#[test]
fn what_is_shown_and_not_meant_is_not_recorded_and_a_reading_outside_can_be_kept() {
    let shop = issued();
    let ran = shop.run_answered(&sign(&["RUD-10", "left", "fit", "--by", "B1"]), "no\n");
    assert_eq!((ran.code, signed(&shop).len()), (1, 0), "{ran:?}");
    let broken_off = shop.run_answered(&sign(&["RUD-10", "left", "fit", "--by", "B1"]), "");
    assert_eq!((broken_off.code, signed(&shop).len()), (2, 0), "{broken_off:?}");
    let kept = shop.run_answered(&sign(&["RUD-10", "left", "010..020", "--by", "B1", "--yes"]), "N/A\n0.009\n\n");
    assert_eq!(kept.code, 0, "{kept:?}");
    assert!(kept.out.contains("discrepancy D-001 is opened"), "{}", kept.out);
    assert!(signed(&shop)[1].contains("reading: play = 0.009\n"));
}

#[test]
fn a_pipe_gets_the_behaviour_of_the_flags() {
    let shop = issued();
    refused(&shop.run(&sign(&["RUD-10", "left", "fit"])), "`by` says whose initials stand there");
    let both = shop.run(&sign(&["RUD-10", "fit", "--by", "B1"]));
    refused(&both, "RUD-10 left and on ");
    refused(&shop.run(&sign(&["RUD-10", "left", "020", "--by", "B1"])), "step `measure` has no value for 020.1 Bore");
    refused(
        &shop.run(&sign(&["RUD-10", "left", "020", "--by", "B1", "--reading", "020.1=0.25", "--reading", "play=0"])),
        "step RUD-10/fit (left) before it is not signed",
    );
    let all =
        ["RUD-10", "left", "..030", "--except", "030", "--by", "B1", "--reading", "020.1=0.25", "--reading", "20.2=0"];
    let ran = shop.run(&sign(&all));
    assert_eq!(ran.code, 0, "{ran:?}");
    assert!(!ran.out.contains("will record"), "{}", ran.out);
    let again = shop.run(&sign(&all));
    assert!(again.code == 0 && again.out.starts_with("nothing is left to do"), "{again:?}");
    assert_eq!(signed(&shop).len(), 2);
}

#[test]
fn an_evenings_file_is_written_filled_in_and_entered() {
    let shop = issued();
    let write = ["evening", "RUD-10", "--hand", "left", "--now", "2026-03-02T18:00"];
    let ran = shop.run(&write);
    assert_eq!(ran.code, 0, "{ran:?}");
    let file = "evenings/2026-03-02.toml";
    let text = std::fs::read_to_string(shop.path(file)).unwrap();
    for line in [
        "by = \"B1\"\n",
        "on = 2026-03-02\n",
        "#   010 Fit the mount, 30 min planned\n",
        "steps = \"010..020\"\n",
        "\"020.1\" = \"\"         # Bore, 0.2495 to 0.2505 in\n",
        "\"020.2\" = \"\"         # Play, at most 0.005 in\n",
        "steps = \"030\"\n",
        "photos = []",
        "# The hold is for the technical counselor:\n# [[sign]]\n",
    ] {
        assert!(text.contains(line), "`{line}` is not in\n{text}");
    }
    let again = shop.run(&write);
    assert!(again.code == 2 && again.err.contains("is there already and is left as it is"), "{again:?}");
    let enter = ["archive", "enter", file, "--entered", "2026-03-02T20:00"];
    refused(&shop.run(&enter), "step `measure` has no value for 020.1 Bore");
    shop.write(
        file,
        text.replace("\"020.1\" = \"\"", "\"020.1\" = \"0.2500\"").replace("\"020.2\" = \"\"", "020.2 = 0.0040"),
    );
    let ran = shop.run(&enter);
    assert_eq!((ran.code, signed(&shop).len()), (0, 3), "{ran:?}");
    assert!(signed(&shop)[1].contains("reading: play = 0.0040\n"), "the digits are those that were read");
    let again = shop.run(&enter);
    assert!(again.out.contains("nothing is left to do"), "{again:?}");
    let done = shop.run(&["evening", "RUD-10", "--hand", "left", "--now", "2026-03-03T18:00"]);
    assert!(done.code == 2 && done.err.contains("nothing can be worked on"), "{done:?}");
}

#[test]
fn without_an_archive_the_file_says_where_its_entries_go_and_they_count_there() {
    let shop = Shop::empty();
    shop.write("build.toml", BUILD);
    shop.write("specs/rud.toml", TRAVELER);
    let ran = shop.run(&["evening", "RUD-10", "--hand", "right", "--now", "2026-03-02T18:00"]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let text = std::fs::read_to_string(shop.path("evenings/2026-03-02.toml")).unwrap();
    assert!(text.contains("copy the entries to progress.toml"), "{text}");
    shop.write(
        "progress.toml",
        text.replace("= \"\"         # Bore", "= 0.2500 # Bore").replace("= \"\"         # Play", "= 0 # Play"),
    );
    let board = json(&shop.run(&["board", "--format", "json", "--now", "2026-03-03T18:00"]));
    assert_eq!(board["counts"]["done"], 3, "{board}");
}
