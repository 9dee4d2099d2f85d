//! What the program tells a shell and a manual reader: proposals for the word that is typed, and a page a command.

use crate::build::shop::Shop;

/// What a shell is proposed for the last of the words.
fn proposed(shop: &Shop, words: &[&str]) -> String {
    let asked: Vec<&str> = ["--", "shophead"].iter().chain(words).copied().collect();
    let ran = shop.run_with("SHOPHEAD_COMPLETE", "fish", &asked);
    assert_eq!((ran.code, ran.err.as_str()), (0, ""), "{}", ran.out);
    ran.out
}

#[test]
fn a_shell_is_told_the_travelers_spaces_steps_and_rules_of_the_project() {
    let shop = Shop::demo();
    let project = ["--project", "demo-data"];
    let asked = |words: &[&str]| proposed(&shop, &[&project[..], words].concat());
    let travelers = asked(&["packet", "tail-2"]);
    assert!(travelers.starts_with("TAIL-20\t") && travelers.lines().count() == 1, "{travelers}");
    assert_eq!(travelers, asked(&["check", "TAIL-2"]));
    assert!(asked(&["packet", "WING-10", "--step", "02"]).starts_with("020\t"));
    assert!(asked(&["pick", "--space", ""]).lines().count() > 2);
    assert!(asked(&["discrepancy", "TAIL-20/J"]).lines().count() > 2);
    assert!(asked(&["archive", "sign", "TAIL-20", "010", "--by", "B"]).starts_with("B1\tbuilder"));
    assert!(asked(&["archive", "sign", "TAIL-20", "010..030", "--except", "02"]).starts_with("020\t"));
    assert!(asked(&["explain", "edge-distance-sh"]).starts_with("edge-distance-short\t"));
}

#[test]
fn a_shell_is_told_nothing_where_there_is_no_project() {
    let shop = Shop::empty();
    assert_eq!(proposed(&shop, &["packet", "WING"]), "");
    assert!(proposed(&shop, &["chec"]).starts_with("check\t"));
}

#[test]
fn every_command_has_its_page_under_the_name_that_the_pages_refer_to() {
    let shop = Shop::empty();
    assert_eq!(shop.run(&["manual", "--to", "pages"]).code, 0);
    // A second time replaces them.
    assert_eq!(shop.run(&["manual", "--to", "pages"]).code, 0);
    let pages: Vec<_> = std::fs::read_dir(shop.path("pages")).unwrap().map(|entry| entry.unwrap().path()).collect();
    assert!(pages.len() > 30, "{}", pages.len());
    let mut referred = 0;
    for page in &pages {
        let text = std::fs::read_to_string(page).unwrap();
        for named in text.lines().filter_map(|line| line.strip_suffix("(1)")).filter(|line| !line.contains(' ')) {
            let name = named.replace("\\-", "-");
            assert!(shop.path(&format!("pages/{name}.1")).exists(), "{} refers to {name}", page.display());
            referred += 1;
        }
    }
    // Every page but the first is referred to by the one above it.
    assert_eq!(referred, pages.len() - 1);
    assert!(shop.run(&["manual", "archive", "sign"]).out.contains("shophead-archive-sign"));
    assert_eq!(shop.run(&["manual", "archive", "sing"]).code, 2);
}

#[test]
fn every_shell_has_a_script_that_asks_the_program() {
    let shop = Shop::empty();
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let ran = shop.run(&["completions", shell]);
        assert!(ran.code == 0 && ran.out.contains("SHOPHEAD_COMPLETE"), "{shell}: {}", ran.out);
    }
    assert_eq!(shop.run(&["completions", "cmd"]).code, 2);
}

#[test]
fn help_is_wrapped_once() {
    let shop = Shop::empty();
    for command in ["visit", "discrepancy"] {
        let narrow = shop.run_with("COLUMNS", "60", &[command, "--help"]).out;
        let behind = narrow.split_once("Print help (see a summary").unwrap().1;
        let lines: Vec<&str> = behind.lines().collect();
        let short = lines.windows(2).filter(|pair| {
            // The next line's first word would have had room on this one.
            let room = pair[1].split(' ').next().map_or(0, str::len);
            !pair[0].is_empty() && !pair[1].is_empty() && pair[0].len() + 1 + room <= 60
        });
        assert_eq!(short.collect::<Vec<_>>(), Vec::<&[&str]>::new(), "{command}");
    }
}
