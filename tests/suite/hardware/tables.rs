//! Guards over the table files themselves: embedded, graded, sourced, sorted, and no unsure row in front.

use std::collections::BTreeSet;
use std::path::Path;

use shophead::hardware::{all_sources, find_source, source, table_digest_input, table_names, table_text};
use toml::{Table, Value};

use super::inch;

fn tables() -> Vec<(&'static str, Table)> {
    table_names().map(|name| (name, table_text(name).unwrap().parse::<Table>().unwrap())).collect()
}

fn rows(table: &Table) -> Vec<&Table> {
    table["row"].as_array().unwrap().iter().map(|row| row.as_table().unwrap()).collect()
}

#[test]
fn every_file_of_the_folder_is_embedded() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/hardware/tables");
    let files: BTreeSet<String> =
        std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().file_name().into_string().unwrap()).collect();
    let embedded: BTreeSet<String> = table_names().map(|name| format!("{name}.toml")).collect();
    assert_eq!(files, embedded);
}

#[test]
fn every_table_says_what_it_is_and_how_sure() {
    for (name, table) in tables() {
        for key in ["what", "unit", "source", "sureness"] {
            assert!(table.get(key).and_then(Value::as_str).is_some_and(|text| !text.is_empty()), "{name}: {key}");
        }
        assert!(!rows(&table).is_empty(), "{name}");
    }
}

#[test]
fn every_source_key_exists_and_every_grade_is_one() {
    for (name, table) in tables() {
        let all = std::iter::once(&table).chain(rows(&table));
        for row in all {
            for (key, value) in row {
                if key == "source" || key.ends_with("_source") {
                    let written = value.as_str().unwrap();
                    assert!(find_source(written).is_some(), "{name}: there is no source {written}");
                }
                if key == "sureness" || key.ends_with("_sureness") {
                    assert!(
                        ["A", "A-calc", "B", "A-else", "C", "D"].contains(&value.as_str().unwrap()),
                        "{name}: {value}"
                    );
                }
            }
        }
    }
}

#[test]
fn no_unsure_row_is_put_in_front() {
    for (name, table) in tables() {
        for row in rows(&table) {
            let unsure = row.get("sureness").or_else(|| table.get("sureness")).and_then(Value::as_str) == Some("D");
            let in_front = ["nominal", "used"].iter().any(|key| row.get(*key).and_then(Value::as_bool) == Some(true));
            assert!(!(unsure && in_front), "{name}: {row:?}");
        }
    }
}

/// What rests on a page about something else says so by its grade; the blind rivets of a shelter speak of blind rivets.
#[test]
fn rows_of_a_page_about_something_else_are_graded_so() {
    let mut seen = 0;
    for (name, table) in tables() {
        let whole = |key: &str| table[key].as_str().unwrap();
        for row in rows(&table) {
            let word = |key: &str| row.get(key).and_then(Value::as_str).unwrap_or_else(|| whole(key));
            let elsewhere = source(word("source")).elsewhere;
            let graded = word("sureness") == "A-else";
            assert!(elsewhere || !graded, "{name}: {row:?}");
            let of_blind_rivets = name.starts_with("blind_") && word("source") == "TM-221";
            assert!(
                !elsewhere || graded || of_blind_rivets || ["C", "D"].contains(&word("sureness")),
                "{name}: {row:?}"
            );
            seen += usize::from(graded);
        }
    }
    assert!(seen > 20, "{seen}");
}

#[test]
fn no_row_is_written_twice() {
    for (name, table) in tables() {
        let texts: BTreeSet<String> = rows(&table).iter().map(|row| toml::to_string(row).unwrap()).collect();
        assert_eq!(texts.len(), rows(&table).len(), "{name}");
    }
}

#[test]
fn rows_stand_in_the_order_of_their_sizes() {
    let text = |row: &Table, key: &str| row[key].as_str().unwrap().to_owned();
    for (name, keys) in [("sheet", &["thickness"][..]), ("thin_sheet", &["sheet"]), ("cotter_size", &["diameter"])] {
        let (_, table) = tables().into_iter().find(|(its_name, _)| *its_name == name).unwrap();
        let sizes: Vec<_> =
            rows(&table).iter().map(|row| keys.iter().map(|key| inch(&text(row, key))).collect::<Vec<_>>()).collect();
        assert!(sizes.is_sorted(), "{name}");
    }
    for name in ["solid_rivet_hole", "blind_hole", "blind_commercial"] {
        let (_, table) = tables().into_iter().find(|(its_name, _)| *its_name == name).unwrap();
        let dashes: Vec<i64> = rows(&table).iter().map(|row| row["dash"].as_integer().unwrap()).collect();
        assert!(dashes.is_sorted(), "{name}");
    }
    let (_, codes) = tables().into_iter().find(|(name, _)| *name == "blind_commercial").unwrap();
    for pair in rows(&codes).windows(2) {
        let same = pair[0]["dash"] == pair[1]["dash"];
        let follows = inch(&text(pair[1], "low")) > inch(&text(pair[0], "high")) || text(pair[1], "code") == "53";
        assert!(!same || follows, "{} after {}", text(pair[1], "code"), text(pair[0], "code"));
    }
}

#[test]
fn sources_cite_document_and_place() {
    assert_eq!(source("AC-4-57c").cite(), "AC 43.13-1B, par. 4-57c");
    assert_eq!(source("common-practice").cite(), "common practice");
    assert_eq!(source("TM-BD74").cite(), "TM 1-1520-240-BD, par. 2-5 and 2-6 (battle-damage repair of a helicopter)");
    assert!(all_sources().all(|source| !source.about.is_empty()));
    assert!(all_sources().all(|source| !source.document.is_empty() && find_source(&source.key).is_some()));
    assert!(find_source("no such key").is_none());
    // The sources that the rules name.
    for key in [
        "AC-4-16",
        "AN-2",
        "AC-7-1",
        "NAV-547",
        "AC-4-57d",
        "AC-4-24",
        "common-practice",
        "H5-T8.1.2a",
        "TM-221",
        "TM-BD74",
        "arithmetic",
        "M47196",
        "AC-4-57c",
        "AC-4-57b",
        "AC65-15A",
        "FAA-HB",
        "AC-F4-5",
        "TRADE",
        "TM-303",
        "TM-229",
        "AC-4-36",
        "AC-4-25",
        "AC-4-27",
        "AC-F4-6",
        "TM-363",
        "geometry",
        "ISO15981",
        "WW2",
        "AC-7-37",
        "AC-7-38",
        "AC-T7-1",
        "AC-7-64",
        "AC-7-64f",
        "AC1A-5",
        "B18.8.1",
        "TM-23-6",
        "AC-7-41",
        "TM-BD82",
        "AC-7-40a",
        "AC-T7-2",
        "AC-T4-6",
        "H5J-DB",
        "completeness",
        "practice",
        "format",
    ] {
        assert!(find_source(key).is_some(), "{key}");
    }
}

#[test]
fn the_digest_input_holds_every_table() {
    let whole = table_digest_input();
    for (name, _) in tables() {
        assert!(whole.contains(table_text(name).unwrap()), "{name}");
    }
    assert!(whole.contains("NAVEDTRA 14018"), "the list of sources too");
}
