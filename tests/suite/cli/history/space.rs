//! A space with something left in it: named on the board, on the packet and by the program, and not closed.

use serde_json::Value;

use super::play::{codes, fresh, issue, json, must, type_evenings};
use crate::build::shop::{Shop, paper_text_of};

const BUILD: &str = r#"
[aircraft]
name = "Dunlin two-seat"
[[signer]]
initials = "B1"
role = "builder"
[[space]]
id = "bay"
name = "Left bay"
"#;

/// A plate fitted with temporary bolts, a photo before covering, a cover.
const PLATE: &str = r##"
[traveler]
id = "S-1"
title = "Bay cover"
revision = "A"
after = ["S-2"]

[[part]]
id = "P1"
name = "Plate"
material = "2024-T3"
thickness = "0.125"

[[part]]
id = "P2"
name = "Rib"
material = "2024-T3"
thickness = "0.125"

[[joint]]
id = "J1"
name = "Plate to rib"
stack = ["P1", "P2"]
fastener = "AN3-5A"
nut = "AN365-1032"
washers = { nut = ["NAS1149F0363P"] }
count = 2
holes = { start = "#12", final = "#12" }
edge = "0.5"
torque = "20-25 in-lb"
temporary = { fastener = "AN3-7A", nut = "AN315-3R", why = "fit-up before painting" }

[[step]]
id = "fit"
title = "Fit the plate"
do = "fit"
joints = ["J1"]
spaces = ["bay"]

[[step]]
id = "bolt"
title = "Bolt the plate"
do = "bolt"
joints = ["J1"]
spaces = ["bay"]

[[step]]
id = "look-inside"
title = "Photograph the bay"
do = "photograph"
photo = "inside, before covering"
spaces = ["bay"]

[[step]]
id = "close"
title = "Close the bay"
do = "close"
closes = ["bay"]
needs = ["S-2/bracket"]
"##;

const BRACKET: &str = r#"
[traveler]
id = "S-2"
title = "Wire bracket"
revision = "A"

[[part]]
id = "P1"
name = "Bracket"

[[step]]
id = "bracket"
title = "Fit the wire bracket"
do = "fit"
parts = ["P1"]
spaces = ["bay"]
"#;

fn run(shop: &Shop, arguments: &[&str]) -> crate::build::shop::Ran {
    let ran = shop.run(arguments);
    assert_eq!(ran.code, 0, "{arguments:?}: {ran:?}");
    ran
}

/// One sheet for each traveler, by id.
fn issued() -> (Shop, String, String) {
    let shop = Shop::empty();
    shop.write("build.toml", BUILD);
    shop.write("specs/plate.toml", PLATE);
    shop.write("specs/bracket.toml", BRACKET);
    run(&shop, &["packet", "--issue", "--on", "2026-03-01", "--entered", "2026-03-01T09:00"]);
    let listed: Value = json(&run(&shop, &["archive", "list", "--format", "json"]));
    let code = |at: usize| listed["sheets"][at]["sheet"].as_str().unwrap().to_owned();
    (shop, code(0), code(1))
}

fn sign<'a>(code: &'a str, step: &'a str, more: &[&'a str]) -> Vec<&'a str> {
    [&["archive", "sign", code, step, "--by", "B1", "--on", "2026-03-02", "--entered", "2026-03-02T20:00"], more]
        .concat()
}

#[test]
fn a_space_with_leftovers_is_refused_on_paper_and_at_entry() {
    let (shop, cover, bracket) = issued();
    // The temporary bolts are in, the photo is not taken, the bracket of the other traveler is not fitted.
    run(&shop, &sign(&cover, "fit", &["--because", "the bracket can follow"]));
    let refused = shop.run(&sign(&cover, "close", &[]));
    assert_eq!(refused.code, 1, "{refused:?}");
    for left in [
        "2 x AN3-7A, temporary hardware, J1 Plate to rib of S-1 is still there",
        "step S-1/look-inside is not signed: Photograph the bay",
        "step S-2/bracket is not signed: Fit the wire bracket",
        "step S-1/bolt is not signed: Bolt the plate",
        "nothing was recorded",
    ] {
        assert!(refused.err.contains(left), "`{left}` is not in\n{}", refused.err);
    }
    assert_eq!(
        refused.err.lines().filter(|line| line.contains("closes a space in which something is left")).count(),
        4
    );
    // The board names the same, with the codes of the sheets on which it is to be signed.
    let board = json(&run(&shop, &["board", "--format", "json", "--now", "2026-03-02T21:00"]));
    let chance = board["last-chances"][0].to_string();
    for left in ["AN3-7A", "S-1/look-inside", "S-2/bracket", "S-1/bolt", "S-1/close"] {
        assert!(chance.contains(left), "`{left}` is not in {chance}");
    }
    let codes: Vec<&str> =
        board["sheets"].as_array().unwrap().iter().map(|sheet| sheet["code"].as_str().unwrap()).collect();
    assert_eq!(codes, [cover.as_str(), bracket.as_str()]);
    // And so does the packet, before the mark for the closing, for somebody with a pen and no computer.
    run(&shop, &["packet", "S-1"]);
    if let Some(packet) = paper_text_of(&shop.path("output/S-1.pdf")) {
        let closing = packet.find("ThisstepCLOSES").unwrap();
        for left in [
            "2xAN3-7A,temporaryhardware,J1PlatetoribofS-1;mustendwithS-1/bolt",
            "S-2steps010",
            "S-1steps020,030;photo030",
        ] {
            assert!(packet[closing..].contains(left), "`{left}` is not in {}", &packet[closing..]);
        }
    }
    // Signed without the number of the photo, the photo is still named.
    run(&shop, &sign(&cover, "look-inside", &["--because", "the bolts hide nothing"]));
    let refused = shop.run(&sign(&cover, "close", &[]));
    assert!(refused.err.contains("step S-1/look-inside asks for a photo, and no number is entered"), "{}", refused.err);
    // Nothing left: it closes.
    run(&shop, &sign(&bracket, "bracket", &[]));
    run(&shop, &sign(&cover, "bolt", &[]));
    shop.write(
        "photo.toml",
        "by = \"B1\"\n[[correct]]\nentry = 5\nfield = \"photo\"\nnow = \"41\"\nbecause = \"number left out\"\n",
    );
    run(&shop, &["archive", "enter", "photo.toml", "--entered", "2026-03-02T20:00"]);
    run(&shop, &sign(&cover, "close", &[]));
}

#[test]
fn a_space_is_not_closed_over_an_open_discrepancy_a_missing_photo_or_an_undone_step() {
    let shop = fresh();
    issue(&shop);
    type_evenings(&shop, 2);
    let code = codes(&shop, "demo-data")["TAIL-20"].clone();
    let close = [
        "--project",
        "demo-data",
        "archive",
        "sign",
        &code,
        "close-tips",
        "--by",
        "B1",
        "--on",
        "2026-05-17",
        "--entered",
        "2026-05-17T18:00",
    ];
    let ran = shop.run(&close);
    assert_eq!(ran.code, 1, "{ran:?}");
    for left in [
        "the technical counselor has not released the hold",
        "step TAIL-20/rivet-rear is not signed: Rivet the rear spar in",
        "step TAIL-20/inspect-box is not signed",
        "discrepancy D-001: shop head of one rivet of rib 4",
        "nothing was recorded",
    ] {
        assert!(ran.err.contains(left), "{left} is not in\n{}", ran.err);
    }
    let photo = BOX_WITHOUT_PHOTO.replace("CODE", &code);
    shop.write("evening.toml", &photo);
    let ran =
        shop.run(&["--project", "demo-data", "archive", "enter", "evening.toml", "--entered", "2026-05-17T18:00"]);
    assert_eq!(ran.code, 1);
    assert!(ran.err.contains("step TAIL-20/inspect-box asks for a photo, and no number is entered"), "{}", ran.err);
    // Closed all the same, with the reason in the record.
    let despite = [&close[..], &["--despite", "the photos are on the way"]].concat();
    assert_eq!(shop.run(&despite).code, 0);
    let listed = json(&must(&shop, &["archive", "list", "--kind", "signed", "--format", "json"]));
    let last = listed["entries"].as_array().unwrap().last().unwrap()["text"].as_str().unwrap().to_owned();
    assert!(last.contains("note: closed despite what is left: the photos are on the way\n"), "{last}");
}

const BOX_WITHOUT_PHOTO: &str = r#"
by = "B1"
on = 2026-05-17
[[close]]
discrepancy = "D-001"
disposition = "use as is"
authority = "designer"
[[sign]]
sheet = "CODE"
step = "rivet-rear"
[[sign]]
sheet = "CODE"
step = "inspect-box"
readings = { head-width-3 = 0.127, head-height-3 = 0.041, proud = 0.003 }
[[sign]]
sheet = "CODE"
step = "close-tips"
for = "hold"
by = "TC1"
[[sign]]
sheet = "CODE"
step = "close-tips"
"#;
