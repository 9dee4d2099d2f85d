//! `board` and `pick` as commands, and the pages that they print.

use serde_json::Value;
use shophead::calendar::When;
use shophead::job::{Order, State};
use shophead::plan::{BoardOptions, Choice, Document, board, drawing_index, pick_list};
use shophead::render::{Templates, lay_out, print};

use crate::build::job_of;
use crate::build::shop::Shop;
use crate::work::growth::build;

const NOW: [&str; 2] = ["--now", "2026-03-07T09:00"];

fn run(shop: &Shop, arguments: &[&str]) -> crate::build::shop::Ran {
    let mut all = vec!["--project", "demo-data"];
    all.extend(arguments);
    all.extend(NOW);
    shop.run(&all)
}

fn json(shop: &Shop, arguments: &[&str]) -> Value {
    let ran = run(shop, arguments);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    serde_json::from_str(&ran.out).unwrap()
}

#[test]
fn the_demo_board_says_what_its_progress_file_leaves_to_do() {
    // An archive outranks the progress file: here the file alone is asked.
    let shop = Shop::demo();
    std::fs::remove_dir_all(shop.path("demo-data/archive")).unwrap();
    let board = json(&shop, &["board", "--minutes", "90", "--format", "json"]);
    assert_eq!(board["version"], 1);
    assert_eq!(board["errors"], 0);
    let count = |key: &str| board["counts"][key].as_u64().unwrap();
    assert_eq!(count("all"), count("done") + count("in-work") + count("ready") + count("waiting") + count("later"));
    let cure = board["waiting"].as_array().unwrap().iter().find(|row| row["step"] == "FUS-20/rivet-bottom").unwrap();
    assert_eq!(cure["waits"][0]["until"], "Sun 2026-03-08 08:00");
    assert_eq!(board["in-work"][0]["step"], "WING-40/conduit");
    assert_eq!(board["discrepancies"][0]["steps"][0], "TAIL-10/open-bearing");
    let bay = board["last-chances"]
        .as_array()
        .unwrap()
        .iter()
        .find(|chance| chance["closes"] == "WING-50/close (left)")
        .unwrap();
    let travelers: std::collections::BTreeSet<&str> = bay["steps"]
        .as_array()
        .unwrap()
        .iter()
        .map(|line| line["step"].as_str().unwrap().split('/').next().unwrap())
        .collect();
    assert!(travelers.len() >= 3, "the bay closes after work from {travelers:?}");
}

#[test]
fn pages_are_written_once_and_the_same_bytes_again() {
    let shop = Shop::demo();
    for (arguments, name) in [
        (&["board"][..], "board.pdf"),
        (&["board", "--drawings"], "drawings.pdf"),
        (&["pick", "--next", "3"], "pick.pdf"),
    ] {
        let first = run(&shop, arguments);
        assert_eq!(first.code, 0, "{}{}", first.out, first.err);
        let path = shop.path("output").join(name);
        let bytes =
            std::fs::read(&path).unwrap_or_else(|failure| panic!("{}: {failure}: {}", path.display(), first.out));
        run(&shop, arguments);
        assert!(bytes == std::fs::read(&path).unwrap(), "{name} differs on a second run");
    }
}

#[test]
fn every_document_prints_in_large_type_on_as_many_pages_or_more() {
    let shop = Shop::demo();
    let pages = |arguments: &[&str]| -> u32 {
        let ran = shop.run(&[&["--project", "demo-data"], arguments].concat());
        assert_eq!(ran.code, 0, "{arguments:?}: {}{}", ran.out, ran.err);
        let words: Vec<&str> = ran.out.split_whitespace().collect();
        let at = words.iter().position(|word| word.starts_with("pages")).unwrap();
        words[at - 1].parse().unwrap()
    };
    let moment = ["--now", "2026-03-07T09:00"];
    for (command, usual, large) in [
        ([&["board"][..], &moment].concat(), 2, 3),
        ([&["pick"][..], &moment].concat(), 6, 10),
        ([&["discrepancy", "TANK-10/J1"][..], &moment].concat(), 2, 4),
        ([&["visit"][..], &moment].concat(), 4, 6),
        (vec!["archive", "book", "--on", "2026-06-01"], 13, 19),
    ] {
        assert_eq!(pages(&command), usual, "{command:?}");
        assert_eq!(pages(&[&command[..], &["--large"]].concat()), large, "{command:?} in large type");
    }
}

#[test]
fn a_choice_that_does_not_exist_cannot_run() {
    let shop = Shop::demo();
    for (arguments, said) in [
        (&["pick", "WING-1O"][..], "there is no traveler WING-1O; did you mean WING-10?"),
        (&["pick", "--space", "wing-bay"], "there is no space wing-bay"),
        (&["pick", "--hand", "port"], "one of: left, right"),
        (&["board", "--minutes", "0"], "0 is not in 1..=10080"),
    ] {
        let ran = run(&shop, arguments);
        assert_eq!(ran.code, 2, "{arguments:?}");
        assert!(ran.err.contains(said), "{}", ran.err);
    }
    let ran = shop.run(&["--project", "demo-data", "board", "--now", "soon"]);
    assert!(ran.code == 2 && ran.err.contains("`soon` is not a date and time"), "{}", ran.err);
}

#[test]
fn a_fault_in_the_progress_file_is_told_and_the_board_still_printed() {
    let shop = Shop::demo();
    shop.write("demo-data/progress.toml", "[[sign]]\nstep = \"WING-10/prepair\"\non = 2026-01-05\nby = \"B1\"\n");
    let ran = run(&shop, &["board"]);
    assert_eq!(ran.code, 1);
    assert!(
        ran.out.contains("traveler WING-10 has no step `prepair`; it has 010 verify") && ran.out.contains("board.pdf"),
        "{}",
        ran.out
    );
}

#[test]
fn the_csv_order_list_of_the_demo_adds_up() {
    let ran = run(&Shop::demo(), &["pick", "--format", "csv"]);
    assert_eq!(ran.code, 0);
    let mut lines = ran.out.split("\r\n");
    assert!(lines.next().unwrap().starts_with("kind,item,"));
    assert!(lines.clone().any(|line| line.starts_with("hardware,AN3-5A,")));
    assert!(lines.any(|line| line.starts_with("part,")));
}

fn texts(document: &Document) -> Vec<String> {
    lay_out(document, &Templates::load(None).unwrap()).unwrap().page_texts()
}

/// A large build still fits on two pages, and what is not shown is counted.
#[test]
fn the_board_of_a_large_build_has_two_pages_and_holds_what_the_plan_put_there() {
    let (project, specs) = build(80);
    let (job, ..) = job_of(&project, &specs);
    let (order, now) = (Order::of(&job), When::parse("2026-03-07T09:00").unwrap().latest);
    let board = board(&job, &order, &State::default(), BoardOptions { now, minutes: 90, alone: false });
    let pages = texts(&board.document(&job, now));
    assert!(pages.len() <= 2, "{} pages", pages.len());
    let all = pages.concat();
    for row in &board.tonight.rows {
        let step = format!("{} {} ({} min)", row.traveler, row.number, row.minutes.unwrap());
        assert!(all.contains(&step), "{step} is not on the page");
    }
    assert!(all.contains("Sat 2026-03-07") && !all.contains("09:00") && all.contains("Can go on too: "), "{all}");
    for chance in board.last_chances.iter().take(3) {
        assert!(all.contains(&chance.closes));
    }
}

/// Text that means something to the typesetter prints as itself.
#[test]
fn no_text_of_a_spec_can_run_as_code() {
    let odd = "#import \\\"x\\\" ] $ @ * _ < // \\\\ Ω";
    let project = format!(
        "[aircraft]\nname = \"{odd}\"\n[[space]]\nid = \"bay\"\nname = \"{odd}\"\n[[drawing]]\nsheet = \"D#1\"\ntitle = \"{odd}\"\nrevision = \"$A\"\n"
    );
    let long = "X".repeat(200);
    let spec = format!(
        "[traveler]\nid = \"T]\"\ntitle = \"{odd}\"\nrevision = \"A\"\ndrawings = [\"D#1:$A\"]\n[[part]]\nid = \"{long}\"\nname = \"{odd}\"\n[[step]]\nid = \"a#b\"\ntitle = \"{odd}\"\ndo = \"fit\"\nparts = [\"{long}\"]\nspaces = [\"bay\"]\n"
    );
    let (job, _, report) = job_of(&project, &[spec]);
    assert!(!report.stops(), "{:?}", report.findings);
    let (order, state, now) = (Order::of(&job), State::default(), When::parse("2026-03-07").unwrap().earliest);
    let documents = [
        board(&job, &order, &state, BoardOptions { now, minutes: 90, alone: false }).document(&job, now),
        pick_list(&job, &order, &state, &Choice::default(), now).document(&job, now),
        drawing_index(&job).document(&job, now),
    ];
    for document in documents {
        let pages = texts(&document).concat();
        assert!(pages.contains("#import \"x\" ] $ @ * _ < // \\ Ω"), "{}: {pages}", document.stem);
        assert!(!print(&document, &Templates::load(None).unwrap()).unwrap().pdf.is_empty());
    }
}
