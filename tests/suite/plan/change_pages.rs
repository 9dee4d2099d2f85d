//! Change pages: which pages of a packet are replaced, what is printed in their place, and what stays.

use shophead::archive::KeptPage;
use shophead::ident::{Digest, SheetCode};
use shophead::plan::{BenchPage, ChangePages, Pieces, change_pages, in_words};

type Piece = (String, String);

fn code(of: &str) -> SheetCode {
    Digest::of_bytes(of.as_bytes()).code()
}

fn piece(text: &str) -> Piece {
    let (kind, id) = text.split_once(' ').unwrap_or((text, ""));
    (kind.to_owned(), id.to_owned())
}

/// A packet of five pages, each with its pieces; the digest of a piece is its name.
fn bench(pages: &[(&str, &[&str])]) -> Vec<BenchPage> {
    let page = |(at, (label, pieces)): (u32, &(&str, &[&str]))| BenchPage {
        sheets: vec![code("sheet")],
        page: KeptPage { print: code("print"), page: at },
        leaf: at,
        label: (*label).to_owned(),
        pieces: pieces.iter().map(|own| (piece(own).0, piece(own).1, Some((*own).to_owned()))).collect(),
    };
    (1..).zip(pages).map(page).collect()
}

const PAGES: &[(&str, &[&str])] = &[
    ("1", &["front"]),
    ("2", &["joint J1", "joint J2"]),
    ("3", &["step a", "step b"]),
    ("4", &["step c"]),
    ("5", &["step d", "step e", "end"]),
];

/// What is printed today, in its order; a piece with `*` is another than before.
fn chosen(bench: &[BenchPage], today: &[&str]) -> Option<ChangePages> {
    let order: Vec<Piece> = today.iter().map(|own| piece(own.trim_end_matches('*'))).collect();
    let now: Pieces = order.iter().cloned().zip(today.iter().map(|own| (*own).to_owned())).collect();
    change_pages(bench, &order, &now)
}

/// Pages out, each run as its numbers and pieces, and pages that stay.
fn told(pages: &ChangePages) -> (String, Vec<(String, String)>, String) {
    let labels = |own: &[BenchPage]| in_words(&own.iter().map(|page| page.label.clone()).collect::<Vec<_>>());
    let name = |(kind, id): &Piece| format!("{kind} {id}").trim_end().to_owned();
    let run =
        |run: &shophead::plan::Run| (in_words(&run.labels), run.pieces.iter().map(name).collect::<Vec<_>>().join(", "));
    (labels(&pages.remove), pages.runs.iter().map(run).collect(), labels(&pages.keep))
}

fn run(labels: &str, pieces: &str) -> (String, String) {
    (labels.to_owned(), pieces.to_owned())
}

#[test]
fn the_front_and_the_pages_with_what_changed_are_replaced() {
    let today = ["front", "joint J1", "joint J2", "step a", "step b", "step c*", "step d", "step e", "end"];
    let pages = chosen(&bench(PAGES), &today).unwrap();
    let expected = ("1, 4".to_owned(), vec![run("1", "front"), run("4", "step c")], "2, 3, 5".to_owned());
    assert_eq!(told(&pages), expected);
    // What did not change is printed again where it stands on a replaced page.
    let today = ["front", "joint J1", "joint J2*", "step a", "step b*", "step c", "step d", "step e", "end"];
    let pages = chosen(&bench(PAGES), &today).unwrap();
    let all = "front, joint J1, joint J2, step a, step b";
    assert_eq!(told(&pages), ("1 to 3".to_owned(), vec![run("1 to 3", all)], "4, 5".to_owned()));
}

#[test]
fn a_new_step_goes_where_the_one_before_it_lies_and_one_that_is_gone_leaves_its_page() {
    let today = ["front", "joint J1", "joint J2", "step a", "step b", "step x", "step c", "step d", "step e", "end"];
    let pages = chosen(&bench(PAGES), &today).unwrap();
    assert_eq!(told(&pages).1, [run("1", "front"), run("3", "step a, step b, step x")]);
    let today = ["front", "joint J1", "joint J2", "step a", "step b", "step d", "step e", "end"];
    let pages = chosen(&bench(PAGES), &today).unwrap();
    assert_eq!(
        told(&pages),
        ("1, 4".to_owned(), vec![run("1", "front")], "2, 3, 5".to_owned()),
        "nothing is put in for 4"
    );
}

#[test]
fn pages_of_one_number_are_replaced_together() {
    let more: Vec<(&str, &[&str])> =
        vec![("1", &["front"]), ("2", &["step a"]), ("2a", &["step b"]), ("3", &["step c", "end"])];
    let pages = chosen(&bench(&more), &["front", "step a*", "step b", "step c", "end"]).unwrap();
    assert_eq!(told(&pages).1, [run("1 , 2, 2a".replace(" ,", ",").as_str(), "front, step a, step b")]);
}

#[test]
fn a_page_comes_out_with_the_one_on_its_back() {
    let both_sides = |bench: Vec<BenchPage>| {
        let on_leaf = |page: BenchPage| BenchPage { leaf: page.page.page.div_ceil(2), ..page };
        bench.into_iter().map(on_leaf).collect::<Vec<_>>()
    };
    let pages: Vec<(&str, &[&str])> = vec![
        ("1", &["front"]),
        ("2", &["joint J1"]),
        ("3", &["step a"]),
        ("4", &["step b"]),
        ("5", &["step c"]),
        ("6", &["step d", "end"]),
    ];
    let bench = both_sides(bench(&pages));
    let today = ["front", "joint J1", "step a", "step b*", "step c", "step d", "end"];
    let all = ("1 to 4".to_owned(), vec![run("1 to 4", "front, joint J1, step a, step b")], "5, 6".to_owned());
    assert_eq!(told(&chosen(&bench, &today).unwrap()), all);
    let today = ["front", "joint J1", "step a", "step b", "step c*", "step d", "end"];
    let pages = chosen(&bench, &today).unwrap();
    let expected = vec![run("1, 2", "front, joint J1"), run("5, 6", "step c, step d, end")];
    assert_eq!(told(&pages), ("1, 2, 5, 6".to_owned(), expected, "3, 4".to_owned()));
    assert_eq!(
        chosen(&both_sides(bench[..2].to_vec()), &["front", "joint J1"]),
        None,
        "the front takes its back with it"
    );
}

/// A page that a change put behind another brings the other side of its own paper along, and that the pages of its number.
#[test]
fn backs_and_numbers_pull_each_other() {
    let page = |label: &str, leaf: u32, own: &str| BenchPage {
        sheets: vec![code("sheet")],
        page: KeptPage { print: code("print"), page: leaf },
        leaf,
        label: label.to_owned(),
        pieces: vec![(piece(own).0, piece(own).1, Some(own.to_owned()))],
    };
    let bench = [
        page("1", 1, "front"),
        page("2", 2, "joint J1"),
        page("3", 3, "step a"),
        page("3a", 4, "step b"),
        page("4", 4, "step c"),
        page("5", 5, "end"),
    ];
    let pages = chosen(&bench, &["front", "joint J1", "step a*", "step b", "step c", "end"]).unwrap();
    assert_eq!(told(&pages).1, [run("1", "front"), run("3, 3a, 4", "step a, step b, step c")]);
}

#[test]
fn a_packet_is_printed_whole_where_nothing_stays_or_the_order_changed() {
    let today = ["front", "joint J1*", "joint J2", "step a*", "step b", "step c*", "step d*", "step e", "end"];
    assert_eq!(chosen(&bench(PAGES), &today), None);
    let swapped = ["front", "joint J1", "joint J2", "step a", "step c", "step b", "step d", "step e", "end"];
    assert_eq!(chosen(&bench(PAGES), &swapped), None);
    assert_eq!(chosen(&[], &["front"]), None);
}

#[test]
fn page_numbers_are_told_in_runs() {
    let words = |labels: &[&str]| in_words(&labels.iter().map(|own| (*own).to_owned()).collect::<Vec<_>>());
    assert_eq!(words(&["1", "2", "4", "5", "6", "6a", "7"]), "1, 2, 4 to 6, 6a, 7");
    assert_eq!(words(&[]), "");
}
