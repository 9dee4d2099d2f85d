//! The pages for people against the program: what they show is what it prints, and what they say to write checks clean.

use std::collections::BTreeMap;

use crate::build::shop::{Shop, root};

/// Holds the text between two marks of a page against a fresh one; `SHOPHEAD_BLESS` writes it.
fn hold(page: &str, mark: &str, fresh: &str) {
    let path = root().join(page);
    let text = std::fs::read_to_string(&path).unwrap();
    let parts: Vec<&str> = text.split(mark).collect();
    let [before, shown, after] = parts[..] else { panic!("{page} holds the output between two marks {mark}") };
    let fresh = format!("\n```text\n{}\n```\n", fresh.trim());
    if std::env::var_os("SHOPHEAD_BLESS").is_some() {
        std::fs::write(&path, [before, &fresh, after].join(mark)).unwrap();
    } else {
        assert!(shown == fresh, "{page} is stale at {mark}: run the tests with SHOPHEAD_BLESS=1 and read the change");
    }
}

#[test]
fn the_pages_show_what_the_program_says() {
    let demo = Shop::demo();
    for (page, mark, arguments, code) in [
        ("demo-data/faults/README.md", "<!-- faults -->", &["--project", "demo-data/faults", "check"], 1),
        ("README.md", "<!-- change -->", &["--project", "demo-data/revision", "change"], 0),
    ] {
        let ran = demo.run(arguments);
        assert_eq!(ran.code, code, "{ran:?}");
        hold(page, mark, &ran.out);
    }
}

/// From nothing to signed steps, as the README shows it.
const FIRST: &[&str] = &[
    "new project . --name 'Dunlin two-seat'",
    "new traveler BR-1 --title 'Antenna bracket' --part 'B1:Bracket:2024-T3:0.040' --part 'B2:Rib:2024-T3:0.032' \
     --joint 'J1:B1+B2:MS20470AD4:4:0.35:pitch=0.75'",
    "steps BR-1",
    "packet BR-1 --issue --entered 2026-03-02T18:00",
    "archive sign BR-1 010..020 --by B1 --on 2026-03-02 --minutes 35 --entered 2026-03-02T22:00",
    "evening BR-1 --now 2026-03-03T18:00",
    "archive list",
];

/// The words of a line, as a shell takes them apart.
fn words(line: &str) -> Vec<String> {
    let pieces = line.split('\'').enumerate();
    let mut words = Vec::new();
    for (nth, piece) in pieces {
        if nth % 2 == 1 {
            words.push(piece.to_owned());
        } else {
            words.extend(piece.split_whitespace().map(str::to_owned));
        }
    }
    words
}

#[test]
fn the_readme_goes_from_nothing_to_signed_steps() {
    let shop = Shop::empty();
    let mut shown = String::new();
    for line in FIRST {
        let typed = words(line);
        let ran = shop.run(&typed.iter().map(String::as_str).collect::<Vec<_>>());
        assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{line}: {}", ran.out);
        // The time of an entry, and the day of an evening, is given for the page's sake.
        let typed = line.split(" --entered").next().unwrap_or_default();
        let typed = typed.split(" --now").next().unwrap_or_default();
        shown.push_str("$ shophead ");
        shown.push_str(typed);
        shown.push('\n');
        shown.push_str(ran.out.trim_end());
        shown.push('\n');
    }
    assert!(shown.contains("2 of 6 steps signed"), "{shown}");
    hold("README.md", "<!-- first -->", &shown);
}

#[test]
fn every_recipe_checks_without_error_or_warning_and_prints() {
    let page = std::fs::read_to_string(root().join("specs/RECIPES.md")).unwrap();
    let recipes: Vec<&str> = page.split("\n## ").skip(1).collect();
    assert!(recipes.len() >= 6, "{}", recipes.len());
    for recipe in recipes {
        let title = recipe.lines().next().unwrap();
        let files: BTreeMap<&str, &str> = recipe
            .split("```toml\n# ")
            .skip(1)
            .map(|block| block.split("```").next().unwrap().split_once('\n').unwrap())
            .collect();
        let shop = Shop::empty();
        let people = "[aircraft]\nname = \"Dunlin\"\n[[signer]]\ninitials = \"B1\"\nrole = \"builder\"\n";
        shop.write("build.toml", format!("{people}{}", files.get("build.toml").copied().unwrap_or_default()));
        for (name, text) in files.iter().filter(|(name, _)| **name != "build.toml") {
            shop.write(name, *text);
        }
        let checked = shop.run(&["check"]);
        assert!(checked.code == 0 && checked.out.contains("0 errors, 0 warnings, "), "{title}: {}", checked.out);
        let printed = shop.run(&["packet"]);
        assert_eq!(printed.code, 0, "{title}: {}{}", printed.out, printed.err);
        let board = shop.run(&["board", "--format", "json"]);
        assert_eq!((board.code, board.err.as_str()), (0, ""), "{title}");
        if recipe.contains("wait = ") {
            assert!(board.out.contains("backordered rivets"), "{title}: {}", board.out);
        }
    }
}
