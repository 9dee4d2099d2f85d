//! The form of a print: on both sides, in large type, for one hand or both. A change prints pages in the form of what lies on
//! the bench, and a print of another form is another packet.

use shophead::archive::{Archive, KeptPage};
use shophead::ident::SheetCode;

use super::hands::{ISSUE, issue, notice, packet, sheets};
use super::pages::{GAP, pages_of, revised_to, state};
use super::play::{fresh, must};
use crate::build::shop::{Shop, paper_text_of};

const DROP: &str = "label = \"Drop of the column in 30 minutes\", unit = \"in of water\", max = 1.0";

fn less_drop(shop: &Shop, letters: (&str, &str), most: (&str, &str), on: &str) {
    let drop = |most: &str| DROP.replace("max = 1.0", &format!("max = {most}"));
    revised_to(shop, letters, (&drop(most.0), &drop(most.1)), on);
}

/// The layout of the newest print of a sheet.
fn layout(shop: &Shop, sheet: SheetCode) -> serde_json::Value {
    let state = state(shop);
    let places = &state.newest_print(sheet).unwrap().places;
    serde_json::from_slice(&Archive::at(shop.path("demo-data/archive")).blob(places).unwrap()).unwrap()
}

fn labels(layout: &serde_json::Value) -> Vec<String> {
    layout["labels"].as_array().unwrap().iter().map(|label| label.as_str().unwrap().to_owned()).collect()
}

/// Whether the other side of the paper stays too, or there is none.
fn stays_with_its_back(kept: &KeptPage, all: &[KeptPage], pages: u32) -> bool {
    let back = if kept.page.is_multiple_of(2) { kept.page - 1 } else { kept.page + 1 };
    back > pages || all.contains(&KeptPage { page: back, ..*kept })
}

#[test]
fn a_changed_page_of_a_print_on_both_sides_comes_out_with_its_back() {
    for more in [&["--duplex"][..], &["--duplex", "--both-hands"]] {
        let shop = fresh();
        issue(&shop, more);
        let whole = packet(&state(&shop), sheets(&shop)[0]);
        less_drop(&shop, ("C", "D"), ("1.0", "0.9"), "2026-06-05");
        let new = sheets(&shop);
        let pages = packet(&state(&shop), new[0]);
        assert!(!pages.2.is_empty(), "{more:?}");
        assert!(pages.2.iter().all(|kept| stays_with_its_back(kept, &pages.2, whole.1)), "{more:?}: {:?}", pages.2);
        let layout = layout(&shop, new[0]);
        assert_eq!((&layout["duplex"], &layout["both-hands"]), (&true.into(), &(more.len() == 2).into()));
        // Each run of numbers begins on the front of a piece of paper, and no number stands on two.
        let labels = labels(&layout);
        let numbers: Vec<u32> = labels.iter().filter_map(|label| label.parse().ok()).collect();
        assert!(numbers.is_sorted_by(|one, next| one < next), "{labels:?}");
        let mut fronts = labels.iter().step_by(2).filter_map(|label| label.parse::<u32>().ok());
        assert!(fronts.all(|front| !front.is_multiple_of(2)), "{more:?}: {labels:?}");
        let told = notice(&shop);
        assert_eq!((&told["remove"][0]["both-sides"], &told["insert"][0]["both-sides"]), (&true.into(), &true.into()));
        assert_eq!(told["remove"][0]["pages"], whole.1 - u32::try_from(pages.2.len()).unwrap());
        if let Some(notice) = paper_text_of(&shop.path("output/notice-N-001.pdf")) {
            assert!(notice.contains("eachwiththepage"), "{notice}");
        }
        // The next change finds pages of both prints.
        less_drop(&shop, ("D", "E"), ("0.9", "0.8"), "2026-06-07");
        let second = packet(&state(&shop), sheets(&shop)[0]);
        assert!(!second.2.is_empty() && second.2.iter().all(|kept| pages.2.contains(kept)), "{more:?}: {:?}", second.2);
    }
}

#[test]
fn change_pages_of_a_print_in_large_type_are_in_large_type() {
    let shop = fresh();
    issue(&shop, &["--large"]);
    let whole = packet(&state(&shop), sheets(&shop)[0]);
    less_drop(&shop, ("C", "D"), ("1.0", "0.9"), "2026-06-05");
    let pages = packet(&state(&shop), sheets(&shop)[0]);
    assert!(pages.1 < whole.1 / 2 && pages.2.iter().all(|kept| kept.print == whole.0), "{pages:?} of {whole:?}");
    assert_eq!(layout(&shop, sheets(&shop)[0])["large"], true);
    if let Some(printed) = pages_of(&shop.path("output/TANK-10-left-change-large.pdf")) {
        assert_eq!(printed, usize::try_from(pages.1).unwrap());
    }
    assert_eq!(notice(&shop)["remove"][0]["both-sides"], false);
}

/// A whole packet is printed as what lay on the bench was, too.
#[test]
fn a_packet_that_is_printed_whole_keeps_its_form() {
    let shop = fresh();
    issue(&shop, &["--large", "--duplex"]);
    let layouts = |shop: &Shop| layout(shop, sheets(shop)[0]);
    shop.edit("demo-data/build.toml", "paper = \"us-letter\"", "paper = \"a4\"");
    revised_to(&shop, ("C", "D"), (GAP, &GAP.replace("0.03", "0.02")), "2026-06-05");
    let form = layouts(&shop);
    assert_eq!(packet(&state(&shop), sheets(&shop)[0]).2, [], "no page of other paper stays");
    assert_eq!((&form["large"], &form["duplex"], &form["paper"]), (&true.into(), &true.into(), &"a4".into()));
}

/// What lies in the packet is the print of its newest form, though an older one is made again byte for byte.
#[test]
fn a_print_of_another_form_is_recorded_and_the_same_once_more_is_not() {
    let shop = fresh();
    issue(&shop, &[]);
    let prints = || state(&shop).prints.len();
    let again = |more: &[&str]| {
        let before = prints();
        let ran = must(&shop, &[&ISSUE[..3], &["--entered", "2026-03-08T09:00"], more].concat());
        (prints() - before, ran.out.matches("printed as before").count())
    };
    assert_eq!(again(&[]), (0, 2));
    for form in [&["--both-hands"][..], &[], &["--duplex"], &["--large"], &["--both-hands", "--duplex"], &[]] {
        assert_eq!(again(form), (2, 0), "{form:?} after another");
        assert_eq!(again(form), (0, 2), "{form:?} once more");
        let [left, right] = sheets(&shop);
        let both = form.contains(&"--both-hands");
        assert_eq!(state(&shop).share_a_packet(left, right), both, "{form:?}");
        let layout = layout(&shop, left);
        let is = |word: &str| form.contains(&format!("--{word}").as_str());
        for word in ["both-hands", "duplex", "large"] {
            assert_eq!(layout[word], is(word), "{form:?}: {word}");
        }
    }
    // A change prints pages of what was printed last: one hand a packet, on one side, in usual type.
    revised_to(&shop, ("C", "D"), (GAP, &GAP.replace("0.03", "0.02")), "2026-06-05");
    let [left, right] = sheets(&shop);
    assert!(!state(&shop).share_a_packet(left, right) && !packet(&state(&shop), left).2.is_empty());
    assert!(must(&shop, &["archive", "verify"]).out.contains("archive: whole; "));
}
