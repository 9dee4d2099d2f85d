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
    let now = When::parse(now).unwrap().earliest;
    wanted("", travelers, progress, BoardOptions { now, minutes, alone: false })
}

/// The board of a project with more in its file.
fn wanted(more: &str, travelers: &[String], progress: &str, options: BoardOptions) -> (Board, Job, State) {
    let (job, mut files, _) = job_of(&format!("{PROJECT}{more}"), travelers);
    let (order, state, report) = stand(&job, &mut files, progress);
    assert!(report.findings.is_empty(), "{:?}", report.findings);
    (board(&job, &order, &state, options), job, state)
}

pub fn done(step: &str, on: &str) -> String {
    format!("[[sign]]\nstep = \"{step}\"\non = {on}\nby = \"B1\"\n")
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
    assert_eq!(board.tonight.why, "This takes about 1 h 25 min. LONG/a comes first because 2 later steps wait for it.");
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
           [[discrepancy]]\nnumber = \"7\"\nstep = \"OFF/drill\"\nwhat = \"hole long\"\n";
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

fn fits(id: &str) -> String {
    let step = |step: &str| format!("id = \"{step}\"\ntitle = \"{step}\"\ndo = \"fit\"\nminutes = 10");
    traveler(id, "", &skin_and_rib(), &["a", "b", "c", "d", "e", "f", "g"].map(step).each_ref().map(String::as_str))
}

#[test]
fn a_job_stands_once_with_its_next_five_steps() {
    let progress = done("ONE/a", "2026-03-01");
    let (board, ..) = board_at(&[fits("ONE"), fits("TWO")], &progress, "2026-03-02T18:00", 20);
    let jobs: Vec<(&str, Vec<&str>, usize)> = board
        .jobs
        .iter()
        .map(|job| {
            let steps = std::iter::once(&job.next).chain(&job.then);
            (job.traveler.as_str(), steps.map(|row| row.number.as_str()).collect(), job.left)
        })
        .collect();
    let expected =
        [("TWO", vec!["010", "020", "030", "040", "050"], 2), ("ONE", vec!["020", "030", "040", "050", "060"], 1)];
    assert_eq!(jobs, expected);
    assert_eq!((board.jobs[0].title.as_str(), board.jobs[0].put_off), ("t", false));
}

#[test]
fn what_the_builder_wants_first_leads_and_what_is_put_off_is_not_proposed() {
    let travelers = [fits("A"), fits("B"), fits("C")];
    let options = BoardOptions { now: When::parse("2026-03-02T18:00").unwrap().earliest, minutes: 600, alone: false };
    let (board, ..) = wanted("[board]\nfirst = [\"C\"]\nlater = [\"A\"]\n", &travelers, "", options);
    let order: Vec<(&str, bool)> = board.jobs.iter().map(|job| (job.traveler.as_str(), job.put_off)).collect();
    assert_eq!(order, [("C", false), ("B", false), ("A", true)]);
    assert!(board.tonight.why.contains("C/a comes first because you want it first"), "{}", board.tonight.why);
    assert!(board.tonight.rows.iter().all(|row| row.traveler != "A") && !board.tonight.rows.is_empty());
}

#[test]
fn a_whole_job_waits_until_its_day() {
    let wait = "[[board.wait]]\ntraveler = \"A\"\nfor = \"decision\"\nwhat = \"colour\"\nuntil = 2026-03-04\n";
    let at = |now: &str| {
        let options = BoardOptions { now: When::parse(now).unwrap().earliest, minutes: 60, alone: false };
        wanted(wait, &[fits("A"), fits("B")], "", options).0
    };
    let before = at("2026-03-04T18:00");
    assert_eq!(names(&before.ready), ["B/a"]);
    let held = &before.waiting[0];
    assert_eq!((held.row.step.as_str(), held.waits[0].kind), ("A/a", WaitKind::Decision));
    assert_eq!((held.waits[0].words.as_str(), held.waits[0].until.as_deref()), ("colour", Some("Wed 2026-03-04")));
    assert_eq!(names(&at("2026-03-05T18:00").ready), ["A/a", "B/a"]);
}

#[test]
fn alone_nothing_that_needs_a_helper_is_proposed() {
    let step = |more: &str| format!("id = \"a\"\ntitle = \"a\"\ndo = \"fit\"\nminutes = 10{more}");
    let with = traveler("WITH", "", &skin_and_rib(), &[&step("\nhelper = true")]);
    let own = traveler("OWN", "", &skin_and_rib(), &[&step("")]);
    let now = When::parse("2026-03-02T18:00").unwrap().earliest;
    let (board, ..) = wanted("", &[with, own], "", BoardOptions { now, minutes: 60, alone: true });
    assert_eq!((names(&board.ready), names(&board.tonight.rows)), (vec!["OWN/a"], vec!["OWN/a"]));
    assert_eq!((board.waiting[0].row.step.as_str(), board.waiting[0].waits[0].words.as_str()), ("WITH/a", "a helper"));
}

#[test]
fn a_job_that_board_names_must_exist_and_is_wanted_first_or_later() {
    let (_, _, report) = job_of(&format!("{PROJECT}[board]\nfirst = [\"A\", \"Q\"]\nlater = [\"A\"]\n"), &[fits("A")]);
    let said: Vec<&str> = report.findings.iter().map(|finding| finding.message.as_str()).collect();
    assert_eq!(said, ["`A` stands under `first` and under `later`", "there is no traveler `Q`"]);
}

#[test]
fn the_page_says_what_must_not_be_closed() {
    let progress = done("A/fit", "2026-03-01");
    let now = "2026-03-02T18:00";
    let shut = |progress: &str| {
        let (board, job, _) = board_at(&bay(), progress, now, 60);
        board.document(&job, When::parse(now).unwrap().earliest).data["shut"].clone()
    };
    assert_eq!((shut(""), shut(&progress)), (serde_json::Value::Null, serde_json::json!("Bay")));
}
