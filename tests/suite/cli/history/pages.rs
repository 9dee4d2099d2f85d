//! A revision replaces pages: what is printed, what stays and is still signed, and that the notice and the archive agree on both.

use shophead::archive::{Archive, KeptPage, State};
use shophead::ident::SheetCode;

use super::json;
use super::play::{codes, fresh, issue, must};
use crate::build::shop::{Shop, paper_text_of};

pub const TANK: &str = "specs/tanks/fuel-tank.toml";
pub const GAP: &str = "label = \"Largest gap bar to baffle\", unit = \"in\", max = 0.03";

pub fn state(shop: &Shop) -> State {
    let survey = Archive::at(shop.path("demo-data/archive")).verify().unwrap();
    assert_eq!(survey.flaws, []);
    State::of(&survey.records)
}

/// The same under another letter.
pub fn revised_to(shop: &Shop, letters: (&str, &str), (from, to): (&str, &str), on: &str) {
    let line = |letter| format!("revision = \"{letter}\"");
    shop.edit(TANK, &line(letters.0), &line(letters.1));
    revised(shop, from, to, on);
}

/// The shop with its sheets issued and one text of the tank's spec in the place of another; the new sheets are issued.
pub fn revised(shop: &Shop, from: &str, to: &str, on: &str) {
    shop.edit(TANK, from, to);
    let entered = format!("{on}T20:00");
    must(shop, &["change", "--issue", "--by", "B1", "--source", "letter 4", "--on", on, "--entered", &entered]);
}

pub fn pages_of(pdf: &std::path::Path) -> Option<usize> {
    let output = std::process::Command::new("pdfinfo").arg(pdf).output().ok()?;
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    text.lines().find_map(|line| line.strip_prefix("Pages:"))?.trim().parse().ok()
}

#[test]
fn a_narrower_limit_prints_its_page_and_the_front_and_the_rest_of_the_packet_stays() {
    let shop = fresh();
    issue(&shop);
    let old = codes(&shop, "demo-data")["TANK-10 left"].clone();
    let before = state(&shop);
    let whole = before.sheet(SheetCode::parse(&old).unwrap()).unwrap().issued.clone();
    revised_to(&shop, ("C", "D"), (GAP, &GAP.replace("0.03", "0.02")), "2026-06-05");
    let after = state(&shop);
    let new = codes(&shop, "demo-data")["TANK-10 left"].clone();
    let issued = &after.sheet(SheetCode::parse(&new).unwrap()).unwrap().issued;
    assert!(issued.pages < whole.pages / 2 + 2, "{} pages for one limit, of {}", issued.pages, whole.pages);
    // The last pages carry none of it and stay, as pages of the print that was there.
    let last = KeptPage { print: whole.print.unwrap(), page: whole.pages };
    assert!(issued.kept.contains(&last), "{:?}", issued.kept);
    assert!(!issued.kept.iter().any(|kept| kept.page == 1), "the front is always new");
    assert!(issued.kept.iter().all(|kept| Some(kept.print) == whole.print && kept.page <= whole.pages));
    // The notice names what is taken out and put in.
    let listed = json(&must(&shop, &["archive", "list", "--format", "json"]));
    assert!(listed["sheets"].is_array());
    let out = shop.path("output/TANK-10-left-change.pdf");
    if let Some(pages) = pages_of(&out) {
        assert_eq!(pages, usize::try_from(issued.pages).unwrap());
    }
    if let (Some(front), Some(notice)) = (paper_text_of(&out), paper_text_of(&shop.path("output/notice-N-001.pdf"))) {
        assert!(front.contains("Pagesinforce:1,2,"), "{front}");
        assert!(front.contains(&format!("of{old}asbefore")), "{front}");
        assert!(notice.contains(&old) && notice.contains(&new) && notice.contains("pagestakenout"), "{notice}");
    }
}

#[test]
fn a_page_that_stays_is_signed_under_the_code_that_it_carries() {
    let shop = fresh();
    issue(&shop);
    let old = codes(&shop, "demo-data")["TANK-10 left"].clone();
    revised_to(&shop, ("C", "D"), (GAP, &GAP.replace("0.03", "0.02")), "2026-06-05");
    let new = codes(&shop, "demo-data")["TANK-10 left"].clone();
    let sign = |step: &str| {
        let why = ["--because", "the trial of a page that stays", "--by", "B1", "--on", "2026-06-06"];
        let sign = ["archive", "sign", &old, step, "--entered", "2026-06-06T20:00", "--minutes", "30"];
        must(&shop, &[&sign[..], &why].concat())
    };
    let signed = sign("open-eighth");
    assert!(format!("{}{}", signed.out, signed.err).contains(&format!("recorded on {new}")), "{signed:?}");
    let listed = json(&must(&shop, &["archive", "list", "--format", "json", "--traveler", "TANK-10"]));
    let sheet = listed["sheets"].as_array().unwrap().iter().find(|own| own["sheet"] == new.as_str()).unwrap().clone();
    let step = sheet["steps"].as_array().unwrap().iter().find(|own| own["step"] == "open-eighth").unwrap();
    assert_eq!(step["standing"], "signed");
}

/// The second change finds pages of two prints in the packet, and a whole print after it one.
#[test]
fn a_second_change_replaces_pages_of_whatever_print_they_are() {
    let shop = fresh();
    issue(&shop);
    revised_to(&shop, ("C", "D"), (GAP, &GAP.replace("0.03", "0.02")), "2026-06-05");
    let first = codes(&shop, "demo-data")["TANK-10 left"].clone();
    let between = state(&shop).sheet(SheetCode::parse(&first).unwrap()).unwrap().issued.clone();
    revised(&shop, "and deburr\"", "and deburr well\"", "2026-06-06");
    assert_eq!(codes(&shop, "demo-data")["TANK-10 left"], first, "words alone are no new sheet");
    let wider = (&*GAP.replace("0.03", "0.02"), &*GAP.replace("0.03", "0.025"));
    revised_to(&shop, ("D", "E"), wider, "2026-06-07");
    let second = codes(&shop, "demo-data")["TANK-10 left"].clone();
    let issued = state(&shop).sheet(SheetCode::parse(&second).unwrap()).unwrap().issued.clone();
    let stays = |kept: &KeptPage| between.kept.contains(kept);
    assert!(issued.kept.iter().all(stays), "pages of the first print: {:?}", issued.kept);
    assert!(issued.kept.len() < between.kept.len(), "the page with the new words was replaced too");
}
