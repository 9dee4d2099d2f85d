//! The demo's history, played through the program: two sheets worked to the end, one half, a discrepancy, a closed box.
//!
//! Everything in it is invented. `{TAIL-10}` stands for the code of that sheet.

use std::collections::BTreeMap;

use crate::build::shop::{Ran, Shop};

/// The evenings: name, time of the typing, and what is typed.
pub const EVENINGS: &[(&str, &str, &str)] = &[
    ("01-spar", "2026-04-05T19:00", SPAR),
    ("02-skin", "2026-05-03T19:00", SKIN),
    ("03-box", "2026-05-17T18:00", BOX),
    ("04-tank", "2026-05-24T20:00", TANK),
];

const SPAR: &str = r#"# The stabilizer's rear spar, March and April.
by = "B1"
place = "home workshop"

[[sign]]
sheet = "{TAIL-10}"
step = 10
on = 2026-03-09
minutes = 40

[[sign]]
sheet = "{TAIL-10}"
step = "mark"
on = 2026-03-09
minutes = 50
readings = { left-station = 38.49, right-station = 38.51 }

[[sign]]
sheet = "{TAIL-10}"
step = "clamp"
on = 2026-03-14
minutes = 95
helpers = ["H1"]
readings = { wire-left = 0.004, wire-centre = 0.006, wire-right = 0.003 }
note = "second wire, the first was kinked"

[[sign]]
sheet = "{TAIL-10}"
step = "clamp"
for = "hold"
on = 2026-03-15

[[sign]]
sheet = "{TAIL-10}"
step = "pilot"
on = 2026-03-15
minutes = 75

[[sign]]
sheet = "{TAIL-10}"
step = "open-hinges"
on = 2026-03-15
minutes = 20

[[sign]]
sheet = "{TAIL-10}"
step = "open-bearing"
on = 2026-03-15
minutes = 15

[[sign]]
sheet = "{TAIL-10}"
step = "ream-bearing"
on = 2026-03-21
minutes = 30

[[sign]]
sheet = "{TAIL-10}"
step = "take-apart"
on = 2026-03-21
minutes = 15

[[sign]]
sheet = "{TAIL-10}"
step = "deburr"
on = 2026-03-22
minutes = 80
helpers = ["H1"]

[[sign]]
sheet = "{TAIL-10}"
step = "clean"
on = 2026-03-28
minutes = 45

[[sign]]
sheet = "{TAIL-10}"
step = "prime"
on = 2026-03-28
minutes = 50

[[sign]]
sheet = "{TAIL-10}"
step = "rivet"
on = 2026-04-04
minutes = 130
helpers = ["H1"]
photos = [12, 13]

[[sign]]
sheet = "{TAIL-10}"
step = "bolt"
on = 2026-04-04
minutes = 35
readings = { drag = 6 }
as-built = ["J4: one NAS1149F0363P under each nut, none under the heads; 28 in-lb with the drag"]

[[sign]]
sheet = "{TAIL-10}"
step = "measure"
on = 2026-04-05
minutes = 40
readings = { head-width-4 = 0.171, head-height-4 = 0.054, head-width-5 = 0.209, head-height-5 = 0.066, wire-after = 0.008 }

[[sign]]
sheet = "{TAIL-10}"
step = "final-look"
on = 2026-04-05
minutes = 20
photos = [14]
"#;

const SKIN: &str = r#"# The stabilizer's skeleton and skin, April and May.
by = "B1"
place = "home workshop"

[[discrepancy]]
what = "driven head of one rivet of rib 4 lies against the flange radius"
sheet = "{TAIL-20}"
step = "rivet-skin"
zone = "stabilizer-box"
joint = "J2"
should-be = "driven head flat on the flange"
is = "one head of 156 leans on the radius, width 0.13 in"
stops = "zone"
photos = [23]
on = 2026-05-02

[[sign]]
sheet = "{TAIL-20}"
step = "prepare"
on = 2026-04-11
minutes = 30

[[sign]]
sheet = "{TAIL-20}"
step = "skeleton"
on = 2026-04-11
minutes = 80

[[sign]]
sheet = "{TAIL-20}"
step = "drill-skeleton"
on = 2026-04-12
minutes = 45

[[sign]]
sheet = "{TAIL-20}"
step = "fit-skin"
on = 2026-04-18
minutes = 120
helpers = ["H1"]
readings = { left-end = 0.05, right-end = 0.0, twist = -0.05 }

[[sign]]
sheet = "{TAIL-20}"
step = "fit-skin"
for = "witness"
by = "TC1"
on = 2026-04-18

[[sign]]
sheet = "{TAIL-20}"
step = "drill-skin"
on = 2026-04-19
minutes = 210
helpers = ["H1"]
readings = { twist-after = -0.05 }

[[sign]]
sheet = "{TAIL-20}"
step = "open-large"
on = 2026-04-19
minutes = 40

[[sign]]
sheet = "{TAIL-20}"
step = "take-apart"
on = 2026-04-19
minutes = 30
helpers = ["H1"]

[[sign]]
sheet = "{TAIL-20}"
step = "deburr"
on = 2026-04-25
minutes = 150

[[sign]]
sheet = "{TAIL-20}"
step = "countersink"
on = 2026-04-25
minutes = 45

[[sign]]
sheet = "{TAIL-20}"
step = "dimple"
on = 2026-04-26
minutes = 190

[[sign]]
sheet = "{TAIL-20}"
step = "clean"
on = 2026-04-26
minutes = 60

[[sign]]
sheet = "{TAIL-20}"
step = "prime"
on = 2026-04-26
minutes = 70

[[sign]]
sheet = "{TAIL-20}"
step = "rivet-ribs"
on = 2026-05-01
minutes = 60

[[sign]]
sheet = "{TAIL-20}"
step = "rivet-skin"
on = 2026-05-02
minutes = 330
helpers = ["H1"]
photos = [21, 22]
discrepancies = ["D-001"]
"#;

const BOX: &str = r#"# The box is looked into and closed.
by = "B1"
place = "home workshop"

[[visit]]
by = "TC1"
on = 2026-05-16
zones = ["stabilizer-box"]
note = "half an hour with lamp and mirror"

[[visit.finding]]
what = "edge of the left lightening hole is sharp to the touch"
zone = "stabilizer-box"
suggested = "go round it once with the abrasive pad"
before-close = false

[[close]]
discrepancy = "D-001"
disposition = "use as is"
authority = "designer"
reference = "letter of 2026-05-09"
after = { "rib 4 head" = "0.13 in wide, 0.045 in high, no gap" }
on = 2026-05-10

[[sign]]
sheet = "{TAIL-20}"
step = "rivet-rear"
on = 2026-05-10
minutes = 170
helpers = ["H1"]

[[sign]]
sheet = "{TAIL-20}"
step = "inspect-box"
on = 2026-05-16
minutes = 60
readings = { head-width-3 = 0.127, head-height-3 = 0.041, proud = 0.003 }
photos = [31, 32]

[[sign]]
sheet = "{TAIL-20}"
step = "close-tips"
for = "hold"
by = "TC1"
on = 2026-05-16

[[sign]]
sheet = "{TAIL-20}"
step = "close-tips"
on = 2026-05-17
minutes = 75
photos = [33]

[[sign]]
sheet = "{TAIL-20}"
step = "final-look"
on = 2026-05-17
minutes = 30
readings = { twist-final = -0.05 }
"#;

const TANK: &str = r#"# The left tank, begun.
by = "B1"
place = "home workshop"
on = 2026-05-23

[[sign]]
sheet = "{TANK-10 left}"
step = "prepare"
minutes = 35

[[sign]]
sheet = "{TANK-10 left}"
step = "fit"
minutes = 95
helpers = ["H1"]

[[sign]]
sheet = "{TANK-10 left}"
step = "measure-fit"
minutes = 30
readings = { baffle-gap = 0.02, length = 47.00, twist = 0.1 }

[[sign]]
sheet = "{TANK-10 left}"
step = "drill"
minutes = 160
"#;

/// Codes of the sheets in force by `TRAVELER hand`.
pub fn codes(shop: &Shop, project: &str) -> BTreeMap<String, String> {
    let listed = json(&shop.run(&["--project", project, "archive", "list", "--format", "json"]));
    let sheets = listed["sheets"].as_array().unwrap().clone();
    let name = |sheet: &serde_json::Value| {
        let traveler = sheet["traveler"].as_str().unwrap();
        sheet["hand"].as_str().map_or_else(|| traveler.to_owned(), |hand| format!("{traveler} {hand}"))
    };
    sheets.iter().map(|sheet| (name(sheet), sheet["sheet"].as_str().unwrap().to_owned())).collect()
}

pub fn json(ran: &Ran) -> serde_json::Value {
    serde_json::from_str(&ran.out).unwrap_or_else(|fault| panic!("{fault}: {ran:?}"))
}

/// A typed text with codes in the place of names.
pub fn with_codes(text: &str, codes: &BTreeMap<String, String>) -> String {
    codes.iter().fold(text.to_owned(), |text, (name, code)| text.replace(&format!("{{{name}}}"), code))
}

/// Runs the program and demands that it succeeds.
pub fn must(shop: &Shop, arguments: &[&str]) -> Ran {
    let ran = shop.run(&[&["--project", "demo-data"], arguments].concat());
    assert_eq!(ran.code, 0, "{arguments:?}: {ran:?}");
    ran
}

/// The demo without its archive.
pub fn fresh() -> Shop {
    let shop = Shop::demo();
    let _ = std::fs::remove_dir_all(shop.path("demo-data/archive"));
    shop
}

/// Issues the three travelers.
pub fn issue(shop: &Shop) {
    let arguments =
        ["packet", "--issue", "TAIL-10", "TAIL-20", "TANK-10", "--on", "2026-03-07", "--entered", "2026-03-07T09:00"];
    must(shop, &arguments);
}

/// Types the first so many evenings.
pub fn type_evenings(shop: &Shop, count: usize) {
    let codes = codes(shop, "demo-data");
    for (name, entered, text) in &EVENINGS[..count] {
        let file = format!("demo-data/evenings/{name}.toml");
        shop.write(&file, with_codes(text, &codes));
        must(shop, &["archive", "enter", &shop.path(&file).display().to_string(), "--entered", entered]);
    }
}

/// Files added by hand: name, and what is typed beside it; `{TAIL-10}` stands for the sheet's code.
const FILES: &[(&str, &[&str])] = &[
    (
        "photo-12.png",
        &[
            "--sheet",
            "{TAIL-10}",
            "--step",
            "rivet",
            "--photo",
            "12",
            "--taken",
            "2026-04-04",
            "--builder-in-picture",
            "true",
            "--caption",
            "first row of the doubler",
        ],
    ),
    (
        "photo-14.png",
        &[
            "--sheet",
            "{TAIL-10}",
            "--step",
            "final-look",
            "--photo",
            "14",
            "--taken",
            "2026-04-05",
            "--builder-in-picture",
            "false",
            "--caption",
            "hinge brackets from below",
        ],
    ),
    (
        "photo-31.png",
        &[
            "--sheet",
            "{TAIL-20}",
            "--step",
            "inspect-box",
            "--photo",
            "31",
            "--taken",
            "2026-05-16",
            "--builder-in-picture",
            "false",
            "--zone",
            "stabilizer-box",
            "--caption",
            "inside from the left tip, before closing",
        ],
    ),
    ("designer-letter.txt", &["--discrepancy", "D-001", "--taken", "2026-05-09", "--caption", "the designer's answer"]),
];

/// Adds the demo's photos and the designer's letter.
pub fn add_files(shop: &Shop) {
    let codes = codes(shop, "demo-data");
    for (name, typed) in FILES {
        let file = shop.path(&format!("demo-data/evenings/{name}")).display().to_string();
        let typed: Vec<String> = typed.iter().map(|text| with_codes(text, &codes)).collect();
        let typed = typed.iter().map(String::as_str);
        let arguments = ["archive", "add", &file, "--by", "B1", "--entered", "2026-05-24T20:10"];
        must(shop, &arguments.into_iter().chain(typed).collect::<Vec<_>>());
    }
}

/// Takes over what the progress file says of the other travelers: what was done before there was an archive.
pub fn import(shop: &Shop) {
    must(shop, &["archive", "import", "--entered", "2026-05-25T20:00"]);
}
