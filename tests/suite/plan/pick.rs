//! Pick lists of builds small enough to count by hand.

use shophead::calendar::When;
use shophead::job::{Hand, Order, State};
use shophead::plan::{Choice, PickLine, PickList, pick_list};

use crate::build::job_of;

const PROJECT: &str = r#"
[aircraft]
name = "Dunlin"
[project]
spare = 10
[[space]]
id = "bay"
name = "Bay, left"
[callouts]
"R-A" = "MS20470AD4-4"
[[stock]]
item = "ms20470 ad 4-4"
on-hand = 30
bin = "drawer 7"
[[stock]]
item = "AN310-3"
on-hand = 4
[[stock]]
item = "P1"
on-hand = 1
"#;

const SPEC: &str = r##"
[traveler]
id = "A"
title = "t"
revision = "A"
hands = ["left", "right"]
[[part]]
id = "P1"
name = "Skin, outer"
material = "2024-T3"
thickness = "0.032"
quantity = 2
look-alike = "P2"
[[part]]
id = "P2"
name = "Rib"
material = "2024-T3"
thickness = "0.040"
[[joint]]
id = "J1"
stack = ["P1", "P2"]
fastener = "R-A"
count = 20
holes = { final = "#30" }
leave-open = { count = 2, until = "B/fill", why = "fairing" }
[[joint]]
id = "J2"
stack = ["P1", "P2"]
fastener = "AN3-3"
count = 2
nut = "AN310-3"
cotter = "MS24665-132"
washers = { nut = ["NAS1149F0363P"] }
temporary = { fastener = "AN3-6A", nut = "AN315-3R", why = "fit-up" }
[[step]]
id = "fit"
title = "Fit"
do = "fit"
joints = ["J1", "J2"]
[[step]]
id = "drill"
title = "Drill"
do = "drill"
joints = ["J1"]
spaces = ["bay"]
[[step]]
id = "rivet"
title = "Rivet"
do = "rivet"
joints = ["J1"]
[[step]]
id = "bolt"
title = "Bolt"
do = "bolt"
joints = ["J2"]
"##;

const FILL: &str = "[traveler]\nid = \"B\"\ntitle = \"t\"\nrevision = \"A\"\nafter = [\"A\"]\n[[step]]\nid = \"fill\"\ntitle = \"Fill\"\ndo = \"rivet\"\n";

fn list(choice: &Choice) -> PickList {
    let (job, ..) = job_of(PROJECT, &[SPEC.to_owned(), FILL.to_owned()]);
    pick_list(&job, &Order::of(&job), &State::default(), choice, When::parse("2026-03-02").unwrap().earliest)
}

fn line<'a>(list: &'a PickList, call: &str) -> &'a PickLine {
    list.hardware
        .iter()
        .find(|line| line.call == call)
        .unwrap_or_else(|| panic!("{call} is not in {:#?}", list.hardware))
}

#[test]
fn totals_spares_stock_and_orders_add_up() {
    let list = list(&Choice::default());
    // 18 a hand in A, and the 2 left open of each hand in B; a tenth is 4, but at least 5 are spare.
    let rivets = line(&list, "MS20470AD4-4");
    assert_eq!((rivets.needed, rivets.spare, rivets.pull), (40, 5, 45));
    assert_eq!((rivets.on_hand, rivets.short, rivets.order), (Some(30), 15, 15));
    let uses: Vec<(&str, Option<&str>, u32)> =
        rivets.uses.iter().map(|one| (one.traveler.as_str(), one.hand, one.count)).collect();
    assert_eq!(uses, [("A", Some("left"), 18), ("A", Some("right"), 18), ("B", None, 4)]);
    let nut = line(&list, "AN310-3");
    assert_eq!((nut.needed, nut.spare, nut.short, nut.order), (4, 0, 0, 0));
    let pin = line(&list, "MS24665-132");
    assert!(pin.single_use && pin.on_hand.is_none());
    assert_eq!((pin.short, pin.order), (0, 4), "what nobody has counted is ordered or looked for");
    let fit_up = line(&list, "AN3-6A");
    assert!(fit_up.temporary);
    assert_eq!(fit_up.needed, 4);
    assert_eq!(fit_up.look_alikes, ["AN3-3"]);
    assert_eq!(list.orders().map(|line| line.call.as_str()).filter(|call| *call == "AN310-3").count(), 0);
}

#[test]
fn a_check_nut_and_fit_up_hardware_without_a_step_of_their_own_are_pulled() {
    let spec = SPEC
        .replace("nut = \"AN310-3\"\ncotter = \"MS24665-132\"", "nut = \"AN315-3R\"\ncheck-nut = \"AN316-3R\"")
        .replace("do = \"fit\"", "do = \"deburr\"");
    let (job, ..) = job_of(PROJECT, &[spec, FILL.to_owned()]);
    let now = When::parse("2026-03-02").unwrap().earliest;
    let list = pick_list(&job, &Order::of(&job), &State::default(), &Choice::default(), now);
    let check_nut = list.hardware.iter().find(|line| line.call.starts_with("AN316-3"));
    assert_eq!(check_nut.map(|line| line.needed), Some(4), "{:#?}", list.hardware);
    assert_eq!(line(&list, "AN3-6A").needed, 4);
}

#[test]
fn parts_are_counted_where_they_are_first_touched() {
    let list = list(&Choice { hand: Some(Hand::Left), ..Choice::default() });
    let parts: Vec<(&str, u32, u32)> =
        list.parts.iter().map(|part| (part.part.as_str(), part.pieces, part.short)).collect();
    assert_eq!(parts, [("P1", 2, 1), ("P2", 1, 0)]);
    assert_eq!(list.parts[0].look_alike.as_deref(), Some("P2"));
    assert_eq!(list.parts[0].thickness.as_deref(), Some("0.032 in"));
}

#[test]
fn a_choice_narrows_by_traveler_space_hand_and_what_is_ready() {
    assert_eq!(list(&Choice { travelers: vec![1], ..Choice::default() }).steps, 1);
    let space = list(&Choice { spaces: vec![0], ..Choice::default() });
    assert_eq!((space.steps, space.title.as_str()), (2, "Bay, left"));
    let next = list(&Choice { next: Some(1), ..Choice::default() });
    assert_eq!((next.steps, next.title.as_str()), (1, "the next ready step"));
    assert_eq!(next.hardware.iter().map(|line| line.call.as_str()).collect::<Vec<_>>(), ["AN3-6A", "AN315-3R"]);
    assert_eq!(list(&Choice { hand: Some(Hand::Right), ..Choice::default() }).steps, 5);
}

#[test]
fn sheet_fasteners_are_the_most_that_one_step_has_in() {
    let holders = list(&Choice::default()).holders;
    let rows: Vec<(u32, &str)> = holders.iter().map(|line| (line.peak, line.step.as_str())).collect();
    // Every other of 20 holes at the rivet step; before that there is no hole to hold in.
    assert_eq!(rows, [(10, "A/rivet (left)")]);
}

#[test]
fn the_csv_quotes_what_must_be_quoted() {
    let csv = list(&Choice::default()).to_csv();
    let lines: Vec<&str> = csv.split("\r\n").collect();
    assert!(lines[0].starts_with("kind,item,description,needed,spare,pull"));
    assert!(csv.contains("part,P1,\"Skin, outer, 2024-T3, 0.032 in\",2,,2,1,1,1,,,P2\r\n"), "{csv}");
    assert_eq!(lines.last(), Some(&""));
}

#[test]
fn no_cell_of_the_csv_is_a_formula() {
    for (id, cell) in
        [("=1+1", "'=1+1"), ("@SUM(A1)", "'@SUM(A1)"), ("+1", "'+1"), ("-1+1", "'-1+1"), ("-3", "-3"), ("P-3", "P-3")]
    {
        let mut list = list(&Choice::default());
        list.parts[0].part = id.to_owned();
        let csv = list.to_csv();
        assert!(csv.contains(&format!("\r\npart,{cell},")), "{csv}");
    }
}

#[test]
fn the_page_says_where_a_call_lies_and_keeps_assemblies_off_the_shelf() {
    let shell = "[traveler]\nid = \"S\"\ntitle = \"t\"\nrevision = \"A\"\nhands = [\"left\", \"right\"]\n\
        [[part]]\nid = \"Q1\"\nname = \"Shell of A\"\n\
        [[part]]\nid = \"Q2\"\nname = \"Skin\"\nmaterial = \"2024-T3\"\nthickness = \"0.032\"\n\
        [[part]]\nid = \"Q3\"\nname = \"Rib\"\nmaterial = \"2024-T3\"\nthickness = \"0.032\"\n\
        [[joint]]\nid = \"J1\"\nstack = [\"Q2\", \"Q3\"]\nfastener = \"MS20470AD4-4\"\ncount = 20\n\
        [[step]]\nid = \"set\"\ntitle = \"Set\"\ndo = \"rivet\"\njoints = [\"J1\"]\nparts = [\"Q1\", \"Q2\", \"Q3\"]\n";
    let (job, ..) = job_of(PROJECT, &[shell.to_owned()]);
    let now = When::parse("2026-03-02").unwrap().earliest;
    let list = pick_list(&job, &Order::of(&job), &State::default(), &Choice::default(), now);
    let page = list.document(&job, now).data;
    let row = &page["hardware"][0];
    assert_eq!((&row["bin"], &row["sum"]), (&"drawer 7".into(), &"40 + 5".into()));
    assert!(row["words"].as_str().unwrap().ends_with("; for S 40"), "{row}");
    let parts: Vec<&str> =
        page["parts"].as_array().unwrap().iter().map(|part| part["part"].as_str().unwrap()).collect();
    assert_eq!(parts, ["Q2", "Q3"]);
    assert_eq!(page["parts"][0]["pieces"].as_array().unwrap().len(), 2, "both hands in one row");
    assert_eq!(page["assemblies"], "Q1 Shell of A (S)");
}
