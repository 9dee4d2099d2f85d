//! A packet of both hands through the program: one set of change pages, each page named once, a sheet recorded for each hand.

use shophead::archive::{Archive, KeptPage, State};
use shophead::ident::SheetCode;

use super::json;
use super::pages::{GAP, TANK, pages_of, revised_to, state};
use super::play::{codes, fresh, must};
use crate::build::shop::{Shop, paper_text_of};

pub const ISSUE: [&str; 7] = ["packet", "--issue", "TANK-10", "--on", "2026-03-07", "--entered", "2026-03-07T09:00"];

pub fn issue(shop: &Shop, more: &[&str]) {
    must(shop, &[&ISSUE[..], more].concat());
}

/// Codes of the left and the right sheet in force.
pub fn sheets(shop: &Shop) -> [SheetCode; 2] {
    let codes = codes(shop, "demo-data");
    ["TANK-10 left", "TANK-10 right"].map(|name| SheetCode::parse(&codes[name]).unwrap())
}

/// What lies in the packet of a sheet: the print, its pages and those that it kept.
pub fn packet(state: &State, sheet: SheetCode) -> (SheetCode, u32, Vec<KeptPage>) {
    let print = state.newest_print(sheet).unwrap();
    (print.code, print.pages.unwrap(), print.kept.clone())
}

fn narrower(shop: &Shop) {
    revised_to(shop, ("C", "D"), (GAP, &GAP.replace("0.03", "0.02")), "2026-06-05");
}

/// The notice as it was recorded last.
pub fn notice(shop: &Shop) -> serde_json::Value {
    let state = state(shop);
    let blob = state.notices.last().unwrap().1.data.clone().unwrap();
    let text = Archive::at(shop.path("demo-data/archive")).blob(&blob).unwrap();
    serde_json::from_slice::<serde_json::Value>(&text).unwrap()["notice"].clone()
}

#[test]
fn a_change_prints_one_set_of_pages_for_both_hands() {
    let shop = fresh();
    issue(&shop, &["--both-hands"]);
    let old = sheets(&shop);
    let before = state(&shop);
    assert!(before.share_a_packet(old[0], old[1]));
    let whole = packet(&before, old[0]);
    narrower(&shop);
    let after = state(&shop);
    let new = sheets(&shop);
    assert!(new.iter().all(|code| !old.contains(code)));
    let pages = packet(&after, new[0]);
    assert_eq!(packet(&after, new[1]), pages, "both sheets are in one packet");
    assert!(pages.1 < whole.1 / 2 + 2, "{} pages for one limit, of {}", pages.1, whole.1);
    assert!(!pages.2.is_empty() && pages.2.iter().all(|kept| kept.print == whole.0), "{:?}", pages.2);
    for (code, hand) in new.iter().zip(["left", "right"]) {
        let issued = &after.sheet(*code).unwrap().issued;
        assert_eq!(issued.kept, pages.2, "{hand}");
        assert_eq!(issued.hand.map(shophead::words::Hand::word), Some(hand));
        assert!(issued.supersedes.is_some_and(|before| old.contains(&before)), "{hand}");
    }
    assert_eq!(after.sheets_of(pages.0), new);
    // Each page is named once, with both codes on it.
    let notice = notice(&shop);
    let lines = |list: &str| notice[list].as_array().unwrap().clone();
    assert_eq!((lines("remove").len(), lines("insert").len()), (1, 1));
    let both = |codes: [SheetCode; 2]| serde_json::json!(codes.map(|code| code.to_string()));
    assert_eq!((&lines("remove")[0]["codes"], &lines("insert")[0]["codes"]), (&both(old), &both(new)));
    assert_eq!(lines("remove")[0]["pages"], whole.1 - u32::try_from(pages.2.len()).unwrap());
    let recorded = after.notices.last().unwrap().1.clone();
    assert_eq!((recorded.remove, recorded.insert), (old.to_vec(), new.to_vec()));
    let out = shop.path("output/TANK-10-both-hands-change.pdf");
    if let Some(printed) = pages_of(&out) {
        assert_eq!(printed, usize::try_from(pages.1).unwrap());
    }
    if let (Some(front), Some(notice)) = (paper_text_of(&out), paper_text_of(&shop.path("output/notice-N-001.pdf"))) {
        assert!(front.contains(&format!("of{}+{}asbefore", old[0], old[1])), "{front}");
        assert_eq!(notice.matches("pagestakenout").count(), 1);
        assert!(notice.contains("TANK-10bothhands"), "{notice}");
    }
}

/// The second change finds pages of two prints; what was printed whole in between is one.
#[test]
fn a_second_change_of_both_hands_keeps_pages_of_the_first_print() {
    let shop = fresh();
    issue(&shop, &["--both-hands"]);
    narrower(&shop);
    let first = packet(&state(&shop), sheets(&shop)[0]);
    let wider = (&*GAP.replace("0.03", "0.02"), &*GAP.replace("0.03", "0.025"));
    revised_to(&shop, ("D", "E"), wider, "2026-06-07");
    let after = state(&shop);
    let codes = sheets(&shop);
    let second = packet(&after, codes[0]);
    assert_eq!(packet(&after, codes[1]), second);
    assert!(!second.2.is_empty() && second.2.iter().all(|kept| first.2.contains(kept)), "{:?}", second.2);
    must(&shop, &[&ISSUE[..3], &["--both-hands", "--entered", "2026-06-08T09:00"]].concat());
    let whole = packet(&state(&shop), codes[0]);
    assert_eq!(whole.2, []);
    assert_eq!(packet(&state(&shop), codes[1]), whole);
}

#[test]
fn the_spec_says_how_hands_that_had_other_packets_are_printed_after_a_change() {
    let shop = fresh();
    issue(&shop, &[]);
    let old = sheets(&shop);
    shop.edit(TANK, "hands = [\"left\", \"right\"]", "hands = [\"left\", \"right\"]\npacket = \"both hands\"");
    narrower(&shop);
    let after = state(&shop);
    let new = sheets(&shop);
    assert!(after.share_a_packet(new[0], new[1]));
    assert_eq!(packet(&after, new[0]).2, [], "printed whole");
    let told = notice(&shop);
    assert_eq!((told["remove"].as_array().unwrap().len(), told["insert"].as_array().unwrap().len()), (2, 1));
    let again = state(&shop).notices.last().unwrap().1.clone();
    assert_eq!((again.remove, again.insert), (old.to_vec(), new.to_vec()));
    // And back.
    shop.edit(TANK, "packet = \"both hands\"", "packet = \"one hand\"");
    let wider = (&*GAP.replace("0.03", "0.02"), &*GAP.replace("0.03", "0.025"));
    revised_to(&shop, ("D", "E"), wider, "2026-06-07");
    let apart = sheets(&shop);
    assert!(!state(&shop).share_a_packet(apart[0], apart[1]));
    let told = notice(&shop);
    assert_eq!((told["remove"].as_array().unwrap().len(), told["insert"].as_array().unwrap().len()), (1, 2));
    if let Some(notice) = paper_text_of(&shop.path("output/notice-N-002.pdf")) {
        assert!(apart.iter().all(|code| notice.contains(&code.to_string())), "{notice}");
    }
}

/// A hand that is left alone gets a packet of its own under the code that it has.
#[test]
fn a_hand_whose_other_is_gone_is_printed_alone() {
    let shop = fresh();
    issue(&shop, &["--both-hands"]);
    let [left, right] = sheets(&shop);
    shop.edit(TANK, "hands = [\"left\", \"right\"]", "hands = [\"left\"]");
    must(&shop, &["change", "--issue", "--by", "B1", "--on", "2026-06-05", "--entered", "2026-06-05T20:00"]);
    let state = state(&shop);
    assert!(state.sheet(right).unwrap().voided.is_some());
    let own = state.newest_print(left).unwrap();
    assert_eq!((state.sheets_of(own.code), own.kept.clone()), (vec![left], Vec::new()));
    let recorded = state.notices.last().unwrap().1.clone();
    assert_eq!((recorded.remove, recorded.insert), (vec![right], Vec::new()));
    let told = notice(&shop);
    assert_eq!(told["remove"][0]["codes"], serde_json::json!([left.to_string(), right.to_string()]));
    assert_eq!(told["insert"][0]["codes"], serde_json::json!([left.to_string()]));
    let listed = json(&must(&shop, &["archive", "list", "--format", "json", "--traveler", "TANK-10"]));
    assert_eq!(listed["sheets"].as_array().unwrap().len(), 1);
}
