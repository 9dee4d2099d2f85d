//! The board, the ledger and the drawing index of builds small enough to read.

use shophead::calendar::When;
use shophead::job::{Job, Order, State};
use shophead::plan::{Board, BoardOptions, WaitKind, board, drawing_index};
use shophead::work::{Held, last_chances, ledger, open_counts};

use crate::build::text::{self, skin_and_rib};
use crate::build::{job_of, stand};

const PROJECT: &str = r#"
[aircraft]
name = "Dunlin"
[[space]]
id = "bay"
name = "Bay"
hold = "technical counselor"
[[drawing]]
sheet = "D1"
title = "Bay"
revision = "B"
[[drawing]]
sheet = "D2"
revision = "A"
[[stock]]
item = "MS20470AD4-4"
on-hand = 12
"#;

fn joint(id: &str, count: u32, more: &str) -> String {
    text::joint(id, &["P1", "P2"], &format!("fastener = \"MS20470AD4-4\"\ncount = {count}\n{more}"))
}

fn traveler(id: &str, head: &str, body: &str, steps: &[&str]) -> String {
    text::traveler(id, head) + body + &text::written_steps("", steps)
}

/// The board at a moment, with the progress file's text.
pub fn board_at(travelers: &[String], progress: &str, now: &str, minutes: u32) -> (Board, Job, State) {
    let (job, mut files, _) = job_of(PROJECT, travelers);
    let (order, state, report) = stand(&job, &mut files, progress);
    assert!(report.findings.is_empty(), "{:?}", report.findings);
    let now = When::parse(now).unwrap().earliest;
    (board(&job, &order, &state, BoardOptions { now, minutes }), job, state)
}

pub fn done(step: &str, on: &str) -> String {
    format!("[[done]]\nstep = \"{step}\"\non = {on}\nby = \"B1\"\n")
}

fn names(rows: &[shophead::plan::Row]) -> Vec<&str> {
    rows.iter().map(|row| row.step.as_str()).collect()
}

fn primed() -> Vec<String> {
    let steps = [
        "id = \"prime\"\ntitle = \"Prime\"\ndo = \"prime\"\nparts = [\"P1\"]\ncure = \"24 h\"\ncure-latest = \"72 h\"\nminutes = 30",
        "id = \"paint\"\ntitle = \"Paint\"\ndo = \"paint\"\nparts = [\"P1\"]\nminutes = 40",
        "id = \"rivet\"\ntitle = \"Rivet\"\ndo = \"rivet\"\njoints = [\"J1\"]\nminutes = 60\nhelper = true",
    ];
    vec![traveler("A", "", &(skin_and_rib() + &joint("J1", 10, "")), &steps)]
}

#[test]
fn a_cure_holds_the_next_step_until_its_end_and_the_window_is_told() {
    let progress = done("A/prime", "2026-03-02T18:00");
    let (early, ..) = board_at(&primed(), &progress, "2026-03-03T17:59", 60);
    assert!(early.ready.is_empty());
    let wait = &early.waiting[0].waits[0];
    assert_eq!((wait.kind, wait.until.as_deref()), (WaitKind::Cure, Some("Tue 2026-03-03 18:00")));
    let (cured, ..) = board_at(&primed(), &progress, "2026-03-03T18:00", 60);
    assert_eq!(names(&cured.ready), ["A/paint"]);
    assert_eq!(cured.ready[0].remarks, ["not after Thu 2026-03-05 18:00 (A/prime)"]);
    let (late, ..) = board_at(&primed(), &progress, "2026-03-06T18:00", 60);
    assert_eq!(late.ready[0].remarks, ["LATE: window after A/prime ended Thu 2026-03-05 18:00"]);
    // A date alone: the cure may have begun at the end of that day, the window at its start.
    let (day, ..) = board_at(&primed(), &done("A/prime", "2026-03-02"), "2026-03-03T23:59", 60);
    assert_eq!(day.waiting[0].waits[0].until.as_deref(), Some("Wed 2026-03-04 00:00"));
}

#[test]
fn the_evening_is_filled_by_what_unblocks_most() {
    let long = traveler(
        "LONG",
        "",
        &skin_and_rib(),
        &[
            "id = \"a\"\ntitle = \"a\"\ndo = \"fit\"\nminutes = 50",
            "id = \"b\"\ntitle = \"b\"\ndo = \"fit\"\nminutes = 30",
            "id = \"c\"\ntitle = \"c\"\ndo = \"fit\"\nminutes = 30",
        ],
    );
    let short = traveler("SHORT", "", &skin_and_rib(), &["id = \"a\"\ntitle = \"a\"\ndo = \"fit\"\nminutes = 5"]);
    let (board, ..) = board_at(&[short, long], "", "2026-03-02T18:00", 90);
    assert_eq!(names(&board.ready), ["LONG/a", "SHORT/a"]);
    assert_eq!(names(&board.tonight.rows), ["LONG/a", "LONG/b", "SHORT/a"]);
    assert_eq!(board.tonight.planned, 85);
    assert!(
        board.tonight.why.starts_with("85 of 90 min: LONG/a first, because 2 later steps wait for it"),
        "{}",
        board.tonight.why
    );
    let (nothing, ..) = board_at(
        &[traveler("L", "", &skin_and_rib(), &["id = \"a\"\ntitle = \"a\"\ndo = \"fit\"\nminutes = 50"])],
        "",
        "2026-03-02T18:00",
        20,
    );
    assert!(nothing.tonight.rows.is_empty());
    assert_eq!(nothing.tonight.why, "Nothing that can be started fits into 20 min.");
}

#[test]
fn what_is_short_or_asked_or_needs_a_visitor_waits_and_says_for_what() {
    let body = skin_and_rib() + &joint("J1", 10, "") + &joint("J2", 10, "");
    let rivet = |id: &str, joint: &str| {
        traveler(id, "", &body, &[&format!("id = \"rivet\"\ntitle = \"r\"\ndo = \"rivet\"\njoints = [\"{joint}\"]")])
    };
    let look = traveler(
        "LOOK",
        "",
        &skin_and_rib(),
        &["id = \"look\"\ntitle = \"l\"\ndo = \"inspect\"\nhold = \"inspector\""],
    );
    let ask = traveler("ASK", "", &skin_and_rib(), &["id = \"cut\"\ntitle = \"c\"\ndo = \"fit\""]);
    let off = traveler(
        "OFF",
        "",
        &body,
        &[
            "id = \"drill\"\ntitle = \"d\"\ndo = \"drill\"\njoints = [\"J1\"]",
            "id = \"set\"\ntitle = \"s\"\ndo = \"rivet\"\njoints = [\"J1\"]",
        ],
    );
    let progress = done("OFF/drill", "2026-03-01")
        + "[[waiting]]\nstep = \"ASK/cut\"\nfor = \"answer\"\nwhat = \"designer\"\nuntil = 2026-03-04\n\
           [[discrepancy]]\nid = \"7\"\nstep = \"OFF/drill\"\nwhat = \"hole long\"\n";
    let (board, ..) =
        board_at(&[rivet("R1", "J1"), rivet("R2", "J2"), look, ask.clone(), off], &progress, "2026-03-02T18:00", 60);
    let mut waits: Vec<(&str, WaitKind, &str)> = board
        .waiting
        .iter()
        .map(|row| (row.row.step.as_str(), row.waits[0].kind, row.waits[0].words.as_str()))
        .collect();
    waits.sort_unstable();
    let expected = [
        ("ASK/cut", WaitKind::Answer, "designer"),
        ("LOOK/look", WaitKind::Person, "inspector must look; invite"),
        ("OFF/set", WaitKind::Answer, "discrepancy 7: hole long"),
        ("R2/rivet", WaitKind::Part, "MS20470AD4-4: needs 10, 2 left on the shelf"),
    ];
    assert_eq!(waits, expected);
    assert_eq!(names(&board.ready), ["R1/rivet"]);
    assert_eq!(board.discrepancies[0].steps, ["OFF/drill"]);
    // A wait that is over holds nothing.
    let over = "[[waiting]]\nstep = \"ASK/cut\"\nfor = \"answer\"\nwhat = \"designer\"\nuntil = 2026-03-01\n";
    let (board, ..) = board_at(&[ask], over, "2026-03-02T18:00", 60);
    assert_eq!(names(&board.ready), ["ASK/cut"]);
}

pub fn bay() -> Vec<String> {
    let temporary = "temporary = { fastener = \"AN3-6A\", why = \"fit-up\" }";
    let open = "leave-open = { count = 2, until = \"A/fill\", why = \"bracket\" }";
    let steps = [
        "id = \"fit\"\ntitle = \"Fit\"\ndo = \"fit\"\njoints = [\"J1\"]\nspaces = [\"bay\"]\nphoto = \"bay\"",
        "id = \"rivet\"\ntitle = \"Rivet\"\ndo = \"rivet\"\njoints = [\"J2\"]\nspaces = [\"bay\"]",
        "id = \"final\"\ntitle = \"Final\"\ndo = \"rivet\"\njoints = [\"J1\"]\nspaces = [\"bay\"]",
        "id = \"fill\"\ntitle = \"Fill\"\ndo = \"rivet\"\nspaces = [\"bay\"]",
        "id = \"close\"\ntitle = \"Close\"\ndo = \"close\"\ncloses = [\"bay\"]\nhold = \"technical counselor\"",
    ];
    vec![traveler("A", "", &(skin_and_rib() + &joint("J1", 4, temporary) + &joint("J2", 10, open)), &steps)]
}

#[test]
fn the_last_chance_lists_steps_photos_and_what_is_parked() {
    let progress = done("A/fit", "2026-03-01") + &done("A/rivet", "2026-03-01");
    let (board, job, state) = board_at(&bay(), &progress, "2026-03-02T18:00", 60);
    let chance = &board.last_chances[0];
    assert_eq!(
        (chance.space.as_str(), chance.closes.as_str(), chance.holds.as_slice()),
        ("Bay", "A/close", ["technical counselor".to_owned()].as_slice())
    );
    let steps: Vec<(&str, bool, bool)> =
        chance.steps.iter().map(|line| (line.step.as_str(), line.done, line.photo)).collect();
    assert_eq!(
        steps,
        [("A/fit", true, true), ("A/rivet", true, false), ("A/final", false, false), ("A/fill", false, false)]
    );
    let parked: Vec<(&str, u32, Held)> = chance.parked.iter().map(|line| (line.kind, line.count, line.held)).collect();
    assert_eq!(parked, [("temporary hardware", 4, Held::Open), ("holes left open", 2, Held::Open)]);
    assert_eq!(chance.before, 2);
    let counts = open_counts(&job, &state, 0, None);
    assert_eq!((counts.temporary, counts.left_open, counts.put_off, counts.not_torqued), (4, 2, 0, 0));
    let plan: Vec<Held> = ledger(&job, &State::default()).iter().map(|line| line.held).collect();
    assert_eq!(plan, [Held::Planned, Held::Planned]);
    let all: String = ["fit", "rivet", "final", "fill", "close"]
        .iter()
        .map(|step| done(&format!("A/{step}"), "2026-03-01"))
        .collect();
    let (board, job, state) = board_at(&bay(), &all, "2026-03-02T18:00", 60);
    assert!(board.last_chances.is_empty() && board.ledger.is_empty());
    assert!(last_chances(&job, &Order::of(&job), &state)[0].closed);
    assert_eq!((board.counts.done, board.counts.all), (5, 5));
}

#[test]
fn batches_gather_helpers_set_ups_and_the_primer_day() {
    let body = skin_and_rib() + &joint("J1", 4, "holes = { final = \"#30\" }");
    let drill = |id: &str| {
        traveler(
            id,
            "",
            &body,
            &[
                "id = \"drill\"\ntitle = \"d\"\ndo = \"drill\"\njoints = [\"J1\"]\nhelper = true\nminutes = 10",
                "id = \"prime\"\ntitle = \"p\"\ndo = \"prime\"\nminutes = 15",
            ],
        )
    };
    let (board, ..) = board_at(&[drill("A"), drill("B")], "", "2026-03-02T18:00", 60);
    let seen: Vec<(&str, usize, u32)> =
        board.batches.iter().map(|batch| (batch.name.as_str(), batch.rows.len(), batch.minutes)).collect();
    assert_eq!(seen, [("Helper needed", 2, 20), ("Primer day", 2, 30), ("Same set-up: drill #30", 2, 20)]);
    assert_eq!(board.batches[1].rows[0].first, ["A/drill"]);
}

#[test]
fn every_sheet_knows_who_cites_it_at_which_revision() {
    let a = traveler(
        "A",
        "drawings = [\"D1:A\"]",
        &skin_and_rib(),
        &["id = \"x\"\ntitle = \"x\"\ndo = \"fit\"\ndrawings = [\"D1 view C-C\", \"D2\"]"],
    );
    let (job, ..) = job_of(PROJECT, &[a]);
    let index = drawing_index(&job);
    assert_eq!(index.sheets.len(), 2);
    let cited = &index.sheets[0].cited[0];
    assert_eq!((cited.traveler.as_str(), cited.revision.as_deref(), cited.current), ("A", Some("A"), false));
    assert_eq!(cited.steps, ["010 view C-C"]);
    assert_eq!(index.sheets[1].cited[0].steps, ["010"]);
    assert!(index.sheets[1].cited[0].current);
    assert_eq!(index.travelers[0].sheets, ["D1 rev B", "D2 rev A"]);
}
