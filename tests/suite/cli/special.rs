//! Files that are no files, and folders that must lie apart: said at once, nothing waited for, nothing written.

use std::os::unix::fs::symlink;
use std::process::Command;

use crate::build::shop::Shop;

/// Puts a pipe or the endless device into the place of a file.
fn put(shop: &Shop, name: &str, pipe: bool) {
    let path = shop.path(name);
    std::fs::create_dir_all(path.parent().unwrap()).unwrap();
    // The file may not be there.
    let _ = std::fs::remove_file(&path);
    if pipe {
        assert!(Command::new("mkfifo").arg(&path).status().unwrap().success());
    } else {
        symlink("/dev/zero", &path).unwrap();
    }
}

const NO_FILE: &str = "it is a pipe or a device, not a file";

#[test]
fn a_pipe_or_a_device_in_the_place_of_a_file_is_refused_at_once() {
    for pipe in [true, false] {
        for (name, arguments, code) in [
            ("build.toml", &["check"][..], 2),
            ("progress.toml", &["board", "--format", "json"], 2),
            ("templates/packet.typ.j2", &["packet"], 2),
            ("evening.toml", &["archive", "enter", "evening.toml"], 2),
            ("evening.toml", &["archive", "sign", "--file", "evening.toml"], 2),
            ("photo.jpg", &["archive", "add", "photo.jpg"], 1),
            ("tasks.toml", &["archive", "book", "--tasks", "tasks.toml"], 2),
            ("progress.toml", &["archive", "import"], 2),
            ("specs/other.toml", &["check"], 1),
            ("list.csv", &["new", "stock", "list.csv"], 2),
            ("list.csv", &["new", "parts", "list.csv"], 2),
        ] {
            let shop = Shop::small();
            put(&shop, name, pipe);
            let ran = shop.run(arguments);
            assert_eq!(ran.code, code, "{name} {arguments:?}\n{}\n{}", ran.out, ran.err);
            assert!((ran.out + &ran.err).contains(NO_FILE), "{name} {arguments:?}");
            assert!(!shop.path("archive").exists(), "{name} {arguments:?}");
        }
    }
}

#[test]
fn a_folder_in_the_place_of_a_file_is_refused() {
    let shop = Shop::small();
    std::fs::create_dir_all(shop.path("evening.toml")).unwrap();
    let ran = shop.run(&["archive", "enter", "evening.toml"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("it is a folder, not a file"), "{}", ran.err);
}

#[test]
fn a_pipe_in_the_archive_is_damage_and_holds_nobody_up() {
    let shop = Shop::small();
    assert_eq!(shop.run(&["packet", "--issue"]).code, 0);
    for name in ["archive/head.txt", "archive/README.txt", "archive/lock.txt"] {
        let kept = std::fs::read(shop.path(name)).unwrap();
        put(&shop, name, true);
        let ran = shop.run(&["archive", "verify"]);
        assert_ne!(ran.code, 0, "{name}: {}", ran.out);
        std::fs::remove_file(shop.path(name)).unwrap();
        shop.write(name, kept);
    }
    assert_eq!(shop.run(&["archive", "verify"]).code, 0);
}

#[test]
fn an_evening_of_sixty_megabytes_is_refused_with_both_numbers() {
    let shop = Shop::small();
    let note = format!("[[finding]]\nwhat = \"{}\"\n", "x".repeat(60_000_000));
    shop.write("evening.toml", &note);
    let ran = shop.run(&["archive", "enter", "evening.toml"]);
    let expected = format!("cannot read evening.toml: it has {} bytes; the most is 4194304", note.len());
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains(&expected), "{}", ran.err);
}

/// A small shop whose project file says where the archive lies.
fn archived_in(place: &str) -> Shop {
    let shop = Shop::small();
    let text = std::fs::read_to_string(shop.path("build.toml")).unwrap();
    let text = format!("{text}\n[project]\narchive = \"{place}\"\n");
    shop.write("build.toml", text);
    shop
}

#[test]
fn an_archive_that_is_holds_or_lies_in_another_folder_is_refused() {
    for (place, said) in [
        ("output", "the archive `output` is the output folder `output`, which can be deleted at any time"),
        ("./output/../output", "is the output folder"),
        ("output/archive", "lies in the output folder"),
        ("specs", "is the specs folder `specs`, which is read for travelers"),
        ("specs/a", "lies in the specs folder"),
        ("pictures", "is the pictures folder"),
        ("templates/a", "lies in the templates folder"),
        (".", "the archive `.` would hold the project itself"),
        ("..", "would hold the project itself"),
    ] {
        let shop = archived_in(place);
        let ran = shop.run(&["check"]);
        assert_eq!(ran.code, 1, "{place}: {}", ran.out);
        assert!(ran.out.contains("error[value-invalid]") && ran.out.contains(said), "{place}: {}", ran.out);
        let ran = shop.run(&["archive", "sign", "X", "010"]);
        assert_ne!(ran.code, 0, "{place}");
        assert!(!shop.path("output/ledger").exists() && !shop.path("ledger").exists(), "{place}");
    }
    assert_eq!(archived_in("records").run(&["check"]).code, 0);
}

#[test]
fn a_link_does_not_hide_where_the_archive_lies() {
    let shop = archived_in("records");
    std::fs::create_dir_all(shop.path("output")).unwrap();
    symlink(shop.path("output"), shop.path("records")).unwrap();
    let ran = shop.run(&["check"]);
    assert!(ran.code == 1 && ran.out.contains("is the output folder"), "{}", ran.out);
}

#[test]
fn a_planted_link_leads_no_output_elsewhere() {
    let shop = Shop::small();
    let victim = "nothing may come here\n";
    shop.write("victim.txt", victim);
    std::fs::create_dir_all(shop.path("output")).unwrap();
    let names: Vec<String> = match shop.run(&["packet"]) {
        ran if ran.code == 0 => std::fs::read_dir(shop.path("output"))
            .unwrap()
            .map(|entry| entry.unwrap().file_name().into_string().unwrap())
            .collect(),
        ran => panic!("{}{}", ran.out, ran.err),
    };
    for name in &names {
        for planted in [name.clone(), format!(".{name}.part"), ".shophead-1-0.part".to_owned()] {
            let path = shop.path("output").join(planted);
            // The file may not be there.
            let _ = std::fs::remove_file(&path);
            symlink(shop.path("victim.txt"), path).unwrap();
        }
    }
    assert_eq!(shop.run(&["packet"]).code, 0);
    assert_eq!(std::fs::read_to_string(shop.path("victim.txt")).unwrap(), victim);
    for name in &names {
        assert!(shop.path("output").join(name).symlink_metadata().unwrap().is_file(), "{name} is a link");
    }
}

#[test]
fn a_template_that_nothing_uses_is_told_of() {
    let shop = Shop::small();
    for name in ["paket.typ.j2", "mine.typ", "loose.typ"] {
        shop.write(&format!("templates/{name}"), "#let x = 1\n");
    }
    let packet = std::fs::read_to_string(crate::build::shop::root().join("templates/packet.typ.j2")).unwrap();
    shop.write("templates/packet.typ.j2", format!("{packet}\n#import \"mine.typ\": *\n"));
    let ran = shop.run(&["packet"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let said: Vec<&str> = ran.err.lines().collect();
    assert_eq!(
        said,
        [
            "shophead: templates/loose.typ is not used: no template is called so, and none of yours names it",
            "shophead: templates/paket.typ.j2 is not used: no template is called so; the nearest is packet.typ.j2",
        ]
    );
}

#[test]
fn a_text_that_no_page_has_room_for_is_refused_with_both_numbers() {
    let shop = Shop::small();
    assert_eq!(shop.run(&["packet", "--issue"]).code, 0);
    let long = "x".repeat(5_000);
    shop.write("evening.toml", format!("[[discrepancy]]\nstops = \"nothing\"\nwhat = \"{long}\"\n"));
    for arguments in
        [&["archive", "enter", "evening.toml"][..], &["archive", "reopen", "bay", "--by", "B1", "--because", &long]]
    {
        let ran = shop.run(arguments);
        assert_ne!(ran.code, 0);
        assert!(ran.err.contains("has 5000 letters; the most is 4000"), "{}", &ran.err[..300.min(ran.err.len())]);
    }
}

#[test]
fn control_characters_of_files_never_reach_the_terminal_raw() {
    let shop = Shop::small();
    let odd = "\\u001b[2J\\u202e";
    shop.edit("specs/bracket.toml", "id = \"B-1\"", &format!("id = \"B-1{odd}\""));
    shop.write("specs/\u{1b}[31mred.toml", "no toml");
    shop.write("progress.toml", format!("[[sign]]\nstep = \"{odd}/drill\"\non = 2026-03-01\nby = \"B1\"\n"));
    for arguments in
        [&["check"][..], &["check", "--unjudged"], &["packet"], &["board"], &["pick"], &["archive", "list"]]
    {
        let ran = shop.run(arguments);
        let said = ran.out.clone() + &ran.err;
        let raw = said.chars().find(|c| c.is_control() && !matches!(c, '\n' | '\t') || *c == '\u{202e}');
        assert_eq!(raw, None, "{arguments:?}: {said:?}");
    }
}
