//! A project in another language: what its file must be, what prints in it, and what stays as it was.

use crate::build::shop::{Shop, paper_text_of};

const NOW: &str = "2026-03-02T18:00";

/// A small project whose documents print by a file of this text.
fn in_words(text: &str) -> Shop {
    let shop = Shop::small();
    shop.edit("build.toml", "[aircraft]\n", "[project]\nwords = \"deutsch\"\n[aircraft]\n");
    shop.write("templates/words/deutsch.toml", text);
    shop
}

#[test]
fn a_page_prints_in_the_language_and_its_data_in_english() {
    let text = "plural = [\"1\"]\n\"What comes next\" = \"Was als Nächstes kommt\"\n\"In {minutes} minutes\" = \"In {minutes} Minuten\"\n";
    let shop = in_words(text);
    let ran = shop.run(&["board", "--now", NOW]);
    assert_eq!(ran.code, 0, "{ran:?}");
    let own = shop.run(&["board", "--now", NOW, "--format", "json"]).out;
    assert_eq!(own, Shop::small().run(&["board", "--now", NOW, "--format", "json"]).out);
    // Without blanks.
    let Some(paper) = paper_text_of(&shop.path("output/board.pdf")) else { return };
    assert!(paper.contains("WasalsNächsteskommt") && paper.contains("In120Minuten"), "{paper}");
    // What has no words prints in English.
    assert!(paper.contains("Jobsthatcangoon"), "{paper}");
}

#[test]
fn a_language_changes_no_sheet() {
    let issue = ["packet", "--issue", "--on", "2026-03-02", "--entered", NOW];
    let of = |shop: &Shop| {
        let ran = shop.run(&issue);
        let line = ran.out.lines().find_map(|line| line.split_once("sheet code ")).map(|(_, code)| code.to_owned());
        line.unwrap_or_else(|| panic!("{ran:?}"))
    };
    let shop = in_words("plural = []\n\"Tools\" = \"Werkzeug\"\n\"Revision {revision}\" = \"Stand {revision}\"\n");
    assert_eq!(of(&shop), of(&Shop::small()));
}

#[test]
fn faults_of_a_file_are_findings_with_their_place() {
    let shop = in_words("plural = []\n\"In {minutes} minutes\" = \"In Minuten\"\n\"Never said\" = \"Nie\"\n");
    let ran = shop.run(&["check"]);
    assert_eq!(ran.code, 1, "{ran:?}");
    for said in [
        "templates/words/deutsch.toml:2:26",
        "the value {minutes} is left out",
        "no document says this",
        "phrases have no words here; they print in English",
    ] {
        assert!(ran.out.contains(said), "{said}: {}", ran.out);
    }
    for (words, said) in [("../x", "no name of a file of words"), ("dansk", "there is no file ")] {
        let shop = Shop::small();
        shop.edit("build.toml", "[aircraft]\n", &format!("[project]\nwords = \"{words}\"\n[aircraft]\n"));
        let ran = shop.run(&["check"]);
        assert!(ran.code == 1 && ran.out.contains(said), "{words}: {ran:?}");
    }
}

#[test]
fn the_list_of_words_is_itself_a_whole_file() {
    let shop = in_words("");
    let list = shop.run(&["words"]).out;
    shop.write("templates/words/deutsch.toml", &list);
    assert_eq!(shop.run(&["check"]).out, Shop::small().run(&["check"]).out);
    assert_eq!(shop.run(&["words", "--missing"]).out, "");
    shop.write("templates/words/deutsch.toml", list.replace("\"Helper needed\" = \"Helper needed\"\n", ""));
    assert_eq!(shop.run(&["words", "--missing"]).out, "\"Helper needed\" = \"Helper needed\"\n");
}
