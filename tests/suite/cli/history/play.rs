//! The demo's history, played through the program: two sheets worked to the end, one half, a discrepancy, a closed box.
//!
//! Everything in it is invented. What is typed lies in `demo-data/evenings`.

use std::collections::BTreeMap;

use crate::build::shop::{Ran, Shop, root};

/// What was typed in one go.
pub struct Evening {
    /// Name of its file.
    pub name: &'static str,
    /// When it is typed.
    pub entered: &'static str,
}

/// The demo's evenings.
pub const EVENINGS: &[Evening] = &[
    Evening { name: "01-spar", entered: "2026-04-05T19:00" },
    Evening { name: "02-skin", entered: "2026-05-03T19:00" },
    Evening { name: "03-box", entered: "2026-05-17T18:00" },
    Evening { name: "04-tank", entered: "2026-05-24T20:00" },
];

impl Evening {
    /// Path of its file in the checkout.
    pub fn file(&self) -> String {
        format!("demo-data/evenings/{}.toml", self.name)
    }

    /// What is typed.
    pub fn typed(&self) -> String {
        let path = root().join(self.file());
        std::fs::read_to_string(&path).unwrap_or_else(|failure| panic!("{}: {failure}", path.display()))
    }
}

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
fn with_codes(text: &str, codes: &BTreeMap<String, String>) -> String {
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
    for evening in &EVENINGS[..count] {
        let file = shop.path(&evening.file()).display().to_string();
        must(shop, &["archive", "enter", &file, "--entered", evening.entered]);
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
            "--space",
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
