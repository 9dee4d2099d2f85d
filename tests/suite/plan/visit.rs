//! The visit packet: which spaces, what comes first, never more than six pages, nothing that reads like an approval.

use std::fmt::Write;

use shophead::calendar::{Moment, When};
use shophead::job::{Hand, Job, Order, State};
use shophead::plan::{Document, LeftKind, ReadingVerdict, Recorded, VisitChoice, VisitPacket, visit};
use shophead::render::{Templates, lay_out, print};
use shophead::work::work_state;

use crate::build::picture::Picture;
use crate::build::signed::{Ledger, day, edited, job_of as job_of_texts};
use crate::build::{job_of, stand};
use crate::work::growth::build;

/// Words that a sheet of advice must not have.
pub const FORBIDDEN: [&str; 6] = ["approved", "approval", "airworthy", "certified", "accepted by", "conforms"];

pub const PROJECT: &str = r#"
[aircraft]
name = "Dunlin"
[[signer]]
initials = "TC1"
role = "technical counselor"
[[space]]
id = "attic"
name = "Attic"
[[space]]
id = "bay"
name = "Bay"
hold = "technical counselor"
[[space]]
id = "cellar"
name = "Cellar"
hands = ["left", "right"]
[[drawing]]
sheet = "D1"
title = "Bay"
revision = "B"
"#;

pub const BAY: &str = r#"
[traveler]
id = "A"
title = "Bay"
revision = "A"
drawings = ["D1:A"]

[[part]]
id = "P1"
name = "Skin"
material = "2024-T3"
thickness = "0.040"

[[part]]
id = "P2"
name = "Rib"
material = "2024-T3"
thickness = "0.040"

[[joint]]
id = "J1"
name = "Skin to rib"
stack = ["P1", "P2"]
fastener = "MS20470AD4-5"
count = 20
edge = "0.30"
leave-open = { count = 2, until = "A/fill", why = "bracket" }

[[joint]]
id = "J2"
name = "Fitting"
stack = ["P1", "P2"]
fastener = "AN3-3A"
nut = "MS20365-1032"
count = 4
torque = "20-25 in-lb"
temporary = { fastener = "AN3-6A", why = "fit-up" }

[[step]]
id = "fit"
title = "Fit"
do = "fit"
joints = ["J2"]
spaces = ["bay"]
records = [
  { id = "gap", label = "Gap", unit = "in", max = 0.03, tool = "feeler gauges" },
  { id = "twist", label = "Twist", unit = "deg", min = -0.1, max = 0.1 },
  { id = "length", label = "Length", unit = "in" },
  { id = "width", label = "Width", unit = "in", max = 1.0 },
]

[[step]]
id = "rivet"
title = "Rivet"
do = "rivet"
joints = ["J1"]
spaces = ["bay"]
photo = "rib before covering"

[[step]]
id = "bolt"
title = "Bolt"
do = "bolt"
joints = ["J2"]
spaces = ["bay"]
records = [{ id = "torque", label = "Torque", unit = "in-lb", min = 20, max = 25 }]

[[step]]
id = "fill"
title = "Fill"
do = "rivet"
spaces = ["bay"]

[[step]]
id = "close"
title = "Close the bay"
do = "close"
closes = ["bay"]
"#;

/// A second traveler with a space of its own, of two hands, that closes after one step.
const CELLAR: &str = "[traveler]\nid = \"B\"\ntitle = \"Cellar\"\nrevision = \"A\"\nhands = [\"left\", \"right\"]\n\
    [[part]]\nid = \"P\"\nname = \"p\"\n[[step]]\nid = \"x\"\ntitle = \"x\"\ndo = \"fit\"\nspaces = [\"cellar\"]\n\
    [[step]]\nid = \"close\"\ntitle = \"Close\"\ndo = \"close\"\ncloses = [\"cellar\"]\n";

fn done(step: &str, values: &str) -> String {
    format!("[[sign]]\nstep = \"{step}\"\non = 2026-03-01\nby = \"B1\"\nreadings = {{ {values} }}\n")
}

fn packet_of(texts: &[&str], progress: &str, choice: &VisitChoice) -> (VisitPacket, Job) {
    let texts: Vec<String> = texts.iter().map(|text| (*text).to_owned()).collect();
    let (job, mut files, report) = job_of(PROJECT, &texts);
    assert!(!report.stops(), "{:?}", report.findings);
    let (order, state, _) = stand(&job, &mut files, progress);
    (visit(&job, &order, &state, None, choice), job)
}

fn bay(progress: &str) -> (VisitPacket, Job) {
    packet_of(&[BAY], progress, &VisitChoice::default())
}

fn now() -> Moment {
    When::parse("2026-03-07T09:00").unwrap().earliest
}

pub fn pages(document: &Document) -> Vec<String> {
    lay_out(document, &Templates::load(None).unwrap()).unwrap().page_texts()
}

/// The text of pages without its line ends.
pub fn joined(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn names(packet: &VisitPacket) -> Vec<&str> {
    packet.spaces.iter().map(|space| space.space.as_str()).collect()
}

#[test]
fn the_spaces_are_those_that_close_next_and_others_are_asked_for() {
    let (next, ..) = packet_of(&[BAY, CELLAR], "", &VisitChoice::default());
    assert_eq!(names(&next), ["Cellar (left)"]);
    let (right, ..) = packet_of(
        &[BAY, CELLAR],
        "",
        &VisitChoice { spaces: Vec::new(), stages: Vec::new(), hand: Some(Hand::Right), visitor: None },
    );
    assert_eq!(names(&right), ["Cellar (right)"]);
    // Both hands wait for nothing but the closing: one visit serves both.
    let (both, ..) = packet_of(&[BAY, CELLAR], &done("B/x", ""), &VisitChoice::default());
    assert_eq!(names(&both), ["Cellar (left)", "Cellar (right)"]);
    let closed = done("B/x", "") + &done("B/close", "");
    let (bay, ..) = packet_of(&[BAY, CELLAR], &closed, &VisitChoice::default());
    assert_eq!(names(&bay), ["Bay"]);
    let (again, ..) = packet_of(
        &[BAY, CELLAR],
        &closed,
        &VisitChoice { spaces: vec![2], stages: Vec::new(), hand: Some(Hand::Left), visitor: None },
    );
    assert_eq!((names(&again), again.spaces[0].closed.as_deref()), (vec!["Cellar (left)"], Some("2026-03-01")));
    // No step works in the attic.
    let (nothing, ..) =
        packet_of(&[BAY], "", &VisitChoice { spaces: vec![0], stages: Vec::new(), hand: None, visitor: None });
    assert!(nothing.spaces.is_empty());
}

#[test]
fn a_space_says_what_closes_it_and_the_look_list_reads_without_a_table() {
    let (packet, _) = bay(&done("A/fit", ""));
    let space = &packet.spaces[0];
    assert_eq!(space.closes.as_deref(), Some("A step 050, Close the bay"));
    assert_eq!((space.hold.as_deref(), space.before, space.done), (Some("technical counselor"), 3, (1, 4)));
    let looks: Vec<(&str, u32, bool)> =
        packet.looks[0].joints.iter().map(|joint| (joint.joint.as_str(), joint.count, joint.rivet)).collect();
    assert_eq!(looks, [("J2 Fitting", 4, false), ("J1 Skin to rib", 20, true)]);
    let (bolt, rivet) = (&packet.looks[0].joints[0], &packet.looks[0].joints[1]);
    assert_eq!(rivet.words, "universal head, 2117-T4, 1/8 in dia, 5/16 in long");
    // .30 over .125, against 2 D of AC 43.13-1B, par. 4-57c.
    assert_eq!(rivet.edge.as_deref(), Some("0.300 in, 2.4 D (2 D or more)"));
    let bolt = bolt.bolt.as_ref().unwrap();
    assert!(bolt.torque.as_ref().unwrap().starts_with("20-25 in-lb") && bolt.recorded.is_empty());
    assert_eq!(bolt.safety, "self-locking nut MS20365-1032");
    assert_eq!(
        (&packet.drawings[0].revision, packet.drawings[0].behind.as_slice()),
        (&Some("B".into()), &["A is written to rev A".into()][..])
    );
    assert_eq!(packet.gauges, ["feeler gauges"]);
}

#[test]
fn what_lies_outside_comes_first_and_what_is_missing_second() {
    let (packet, _) = bay(&done("A/fit", "gap = 0.05, twist = 0.0, length = 12.5"));
    let seen: Vec<(ReadingVerdict, &str)> =
        packet.readings.iter().map(|line| (line.verdict, line.label.as_str())).collect();
    let expected = [
        (ReadingVerdict::Outside, "Gap"),
        (ReadingVerdict::NotWritten, "Width"),
        (ReadingVerdict::NoLimits, "Length"),
        (ReadingVerdict::Inside, "Twist"),
    ];
    assert_eq!(seen, expected);
    assert_eq!(
        (packet.readings[0].read.as_deref(), packet.readings[0].limits.as_str()),
        (Some("0.05 in"), "at most 0.03 in")
    );
}

#[test]
fn a_reading_on_its_limit_comes_before_those_inside_and_a_repeated_label_has_its_step() {
    let again = BAY.replace("label = \"Torque\"", "label = \"Twist\"");
    let progress =
        done("A/fit", "gap = 0.030, twist = 0.05, length = 12.5, width = 0.5") + &done("A/bolt", "torque = 25");
    let (packet, job) = packet_of(&[&again], &progress, &VisitChoice::default());
    let seen: Vec<_> =
        packet.readings.iter().map(|line| (line.verdict, line.label.as_str(), line.step.as_deref())).collect();
    let expected = [
        (ReadingVerdict::OnLimit, "Gap", None),
        (ReadingVerdict::OnLimit, "Twist", Some("Bolt")),
        (ReadingVerdict::NoLimits, "Length", None),
        (ReadingVerdict::Inside, "Twist", Some("Fit")),
        (ReadingVerdict::Inside, "Width", None),
    ];
    assert_eq!(seen, expected);
    let page = joined(&pages(&packet.document(&job, now(), None))[2]);
    assert!(page.contains("5 readings; outside: 0, missing: 0, on the limit: 2"), "{page}");
    assert!(!page.contains("inside"), "{page}");
}

#[test]
fn the_counts_of_the_first_page_are_those_of_the_lists() {
    let (packet, job) = bay(&(done("A/fit", "") + &done("A/rivet", "")));
    let steps = packet.left.iter().filter(|line| line.kind == LeftKind::Step).count();
    let (signed, all) = packet.spaces[0].done;
    assert_eq!((packet.since.signed.len(), steps), (signed, all - signed));
    // Of one day the later step stands first.
    assert_eq!(packet.since.signed, ["2026-03-01  A 020 Rivet (B1)", "2026-03-01  A 010 Fit (B1)"]);
    // What is set comes before what is not, though that is a bolt.
    let looks: Vec<_> =
        packet.looks[0].joints.iter().map(|own| (own.joint.as_str(), own.set.is_some(), own.begun)).collect();
    assert_eq!(looks, [("J1 Skin to rib", true, true), ("J2 Fitting", false, false)]);
    let all = pages(&packet.document(&job, now(), None));
    let first = joined(&all[0]);
    assert!(first.contains("Of 4 steps in this space before it is closed, 2 are signed; 2 are still to do"), "{first}");
    assert!(first.contains("A 050: step 050 of A") && first.contains("B1"), "{first}");
    assert!(joined(&all[2]).contains("2 steps to do"), "{}", all[2]);
    assert!(first.contains("NOT READY") && first.contains("2 steps are open: A 030, A 040; part 3."), "{first}");
    let seen = joined(&all[1]);
    assert!(seen.contains("head on P1 Skin, shop head on P2 Rib"), "{seen}");
}

#[test]
fn temporary_and_open_on_purpose_are_told_so_that_nobody_reports_them() {
    let (packet, job) = bay(&(done("A/fit", "") + &done("A/rivet", "")));
    let (temporary, open) = (&packet.temporary[0], &packet.on_purpose[0]);
    assert_eq!((temporary.count, temporary.call.as_str(), temporary.until.as_deref()), (4, "AN3-6A", Some("A/bolt")));
    assert_eq!((open.count, open.until.as_deref(), open.why.as_deref()), (2, Some("A/fill"), Some("bracket")));
    let left: Vec<(LeftKind, &str)> = packet.left.iter().map(|line| (line.kind, line.place.as_str())).collect();
    assert_eq!(
        left,
        [(LeftKind::Parked, "A"), (LeftKind::Parked, "A"), (LeftKind::Step, "A 030"), (LeftKind::Step, "A 040"),]
    );
    assert_eq!((packet.photos.len(), packet.photos[0].what.as_str()), (1, "rib before covering"));
    let all = pages(&packet.document(&job, now(), None));
    assert_eq!(all.len(), 4);
    assert!(all[2].contains("AN3-6A") && all[2].contains("bracket"), "{}", all[2]);
    assert!(all[2].contains("A 030") && all[2].contains("rib before covering"), "{}", all[2]);
}

#[test]
fn the_findings_page_asks_and_says_whose_the_responsibility_is() {
    let (packet, job) = bay("");
    let planned = When::parse("2026-03-21").unwrap().earliest;
    let all = pages(&packet.document(&job, now(), Some(planned)));
    let last = joined(all.last().unwrap());
    for words in [
        "Findings",
        "Visited by",
        "with these areas open",
        "Advice only; the responsibility stays with the builder",
        "report no.",
        "planned 2026-03-21",
        "Nobody came",
    ] {
        assert!(last.contains(words), "`{words}` is not in {last}");
    }
    assert!(last.contains(&packet.code), "{last}");
    let whole = all.concat();
    assert!(!whole.contains("[[") && !whole.contains("shophead"), "a page for a visitor tells a program something");
    assert!(packet.typed.contains(&"[[visit.finding]]".to_owned()));
}

/// One space with more of everything than any page has room for, in long words.
pub fn crowded() -> (String, String, String) {
    let (mut text, mut progress) = (BAY.split("[[joint]]").next().unwrap().to_owned(), String::new());
    let long = "a long name that goes on and on ".repeat(9);
    for n in 0..150 {
        let _ = write!(
            text,
            "[[joint]]\nid = \"J{n}\"\nname = \"{long}\"\nstack = [\"P1\", \"P2\"]\nfastener = \"MS20470AD4-5\"\ncount = 20\nedge = \"0.30\"\n\
             leave-open = {{ count = 2, until = \"A/fill\", why = \"{long}\" }}\n"
        );
    }
    for n in 0..150 {
        let _ = write!(
            text,
            "[[step]]\nid = \"s{n}\"\ntitle = \"{long}\"\ndo = \"rivet\"\njoints = [\"J{n}\"]\nspaces = [\"bay\"]\nphoto = \"{long}\"\n\
             records = [{{ id = \"r\", label = \"{long}\", unit = \"in\", max = 0.03, tool = \"{long} {n}\" }}]\n"
        );
        if n < 75 {
            progress.push_str(&done(&format!("A/s{n}"), "r = 0.05"));
            let _ = write!(progress, "[[discrepancy]]\nnumber = \"{n}\"\nstep = \"A/s{n}\"\nwhat = \"{long}\"\n");
        }
    }
    text.push_str("[[step]]\nid = \"fill\"\ntitle = \"Fill\"\ndo = \"rivet\"\nspaces = [\"bay\"]\n[[step]]\nid = \"close\"\ntitle = \"Close\"\ndo = \"close\"\ncloses = [\"bay\"]\n");
    (PROJECT.replace("[[signer]]", "[project]\npaper = \"a4\"\n[[signer]]"), text, progress)
}

#[test]
fn six_pages_hold_any_build_and_what_is_cut_is_counted() {
    let (a4, text, progress) = crowded();
    for project in [a4.clone(), a4.replace("\"a4\"", "\"us-letter\"")] {
        let (job, mut files, _) = job_of(&project, std::slice::from_ref(&text));
        let (order, state, _) = stand(&job, &mut files, &progress);
        let packet = visit(&job, &order, &state, None, &VisitChoice::default());
        assert_eq!((packet.looks[0].joints.len(), packet.readings.len(), packet.open.len()), (150, 75, 75));
        let all = pages(&packet.document(&job, now(), None));
        assert_eq!(all.len(), 6);
        for (page, text) in all.iter().enumerate().filter(|(page, _)| ![1, 5].contains(page)) {
            assert!(joined(text).contains("more: ask the builder"), "page {}: {text}", page + 1);
        }
        assert!(all[5].contains("Findings"));
        let lost = cut(&all.concat());
        assert!(lost > 300, "{lost} rows are counted as cut");
    }
}

/// The sum of the numbers in `and N more: ask the builder`.
fn cut(text: &str) -> u32 {
    let text = joined(text);
    let before =
        text.split(" more: ask the builder").filter_map(|part| part.rsplit("and ").next()?.trim().parse::<u32>().ok());
    before.sum()
}

#[test]
fn a_large_generated_build_fits_with_every_space_asked_for() {
    let (project, specs) = build(80);
    let (job, ..) = job_of(&project, &specs);
    let choice =
        VisitChoice { spaces: (0..job.project.spaces.len()).collect(), stages: Vec::new(), hand: None, visitor: None };
    let packet = visit(&job, &Order::of(&job), &State::default(), None, &choice);
    assert_eq!((packet.spaces.len(), packet.left_out.len()), (6, 14));
    let all = pages(&packet.document(&job, now(), None));
    assert!(all.len() <= 6, "{} pages", all.len());
    assert!(all[0].contains("14 more"), "{}", all[0]);
    for space in &packet.spaces {
        assert!(all[1..3].concat().contains(&space.space), "{} is not on the look-list", space.space);
    }
}

#[test]
fn the_archive_tells_what_is_outside_what_was_opened_and_what_came_since_a_visit() {
    use shophead::archive::{Class, DiscrepancyOpened, Stops, Visited};
    let job = job_of_texts(
        crate::build::signed::PROJECT,
        &[&edited("do = \"measure\"", "do = \"measure\"\nspaces = [\"bay\"]")],
    );
    let mut ledger = Ledger::default();
    ledger.issue(&job, &[]);
    ledger.sign("T1", "open", "2026-03-02", None);
    let spaces = vec!["bay".to_owned()];
    ledger.add(Visited {
        by: "TC1".into(),
        role: "technical counselor".into(),
        on: day("2026-03-03"),
        spaces,
        reference: None,
        note: None,
    });
    ledger.sign("T1", "level", "2026-03-05", Some("0.3"));
    ledger.add(DiscrepancyOpened {
        number: "D-001".into(),
        cause: shophead::archive::Cause::Found,
        sheet: None,
        traveler: None,
        hand: None,
        step: None,
        also: Vec::new(),
        space: Some("bay".into()),
        joint: None,
        what: "scratch".into(),
        should: None,
        is: None,
        stops: Stops::Nothing,
        class: Class::Minor,
        photos: Vec::new(),
        by: "B1".into(),
        found: day("2026-03-05"),
    });
    let (archived, order) = (ledger.state(), Order::of(&job));
    let state = work_state(&job, &archived, State::default());
    let recorded = Recorded { state: &archived, sheets: &ledger.archived };
    let packet = visit(&job, &order, &state, Some(recorded), &VisitChoice::default());
    assert_eq!(packet.readings[0].verdict, ReadingVerdict::Outside);
    assert_eq!(packet.since.visit.as_deref(), Some("2026-03-03 TC1 (technical counselor); open then: bay"));
    assert_eq!(packet.since.signed, ["2026-03-05  T1 060 Level (B1)"]);
    assert_eq!((packet.open.len(), packet.open[0].what.as_str()), (1, "scratch"));
    assert!(packet.left.iter().any(|line| line.kind == LeftKind::Discrepancy && line.place == "D-001"));
}

#[test]
fn a_reading_keeps_the_label_and_unit_under_which_it_was_read() {
    let measured = |text: &str| text.replace("do = \"measure\"", "do = \"measure\"\nspaces = [\"bay\"]");
    let then = job_of_texts(crate::build::signed::PROJECT, &[&measured(crate::build::signed::SPEC)]);
    let mut ledger = Ledger::default();
    ledger.issue(&then, &[]);
    ledger.sign("T1", "level", "2026-03-05", Some("0.05"));
    let now = measured(&edited("label = \"Level\", unit = \"deg\"", "label = \"Twist\", unit = \"mm\""));
    let job = job_of_texts(crate::build::signed::PROJECT, &[&now]);
    let archived = ledger.state();
    let recorded = Recorded { state: &archived, sheets: &ledger.archived };
    let state = work_state(&job, &archived, State::default());
    let read = |recorded| {
        let packet = visit(&job, &Order::of(&job), &state, recorded, &VisitChoice::default());
        let line = &packet.readings[0];
        (packet.readings.len(), line.label.clone(), line.read.clone())
    };
    assert_eq!(read(Some(recorded)), (1, "Level".to_owned(), Some("0.05 deg".to_owned())));
    // Without an archive nothing tells under which label a value was read.
    assert_eq!(read(None), (1, "Twist".to_owned(), Some("0.05 mm".to_owned())));
}

#[test]
fn no_page_reads_like_an_approval_and_no_text_runs_as_code() {
    let odd = "#import \\\"x\\\" ] $ @ * _ < // \\\\";
    let project = PROJECT.replace("\"Bay\"", &format!("\"{odd}\""));
    let text = BAY.replace("\"Fit\"", &format!("\"{odd}\"")).replace("\"bracket\"", &format!("\"{odd}\""));
    let (job, ..) = job_of(&project, &[text]);
    let (order, mut state) = (Order::of(&job), State::default());
    for item in order.items().take(3) {
        let values = [("gap".to_owned(), odd.to_owned())].into();
        state.done.insert(item, shophead::job::Done { on: When::at(now()), by: "B1".into(), minutes: None, values });
    }
    let packet = visit(&job, &order, &state, None, &VisitChoice::default());
    let document = packet.document(&job, now(), None);
    let all = pages(&document).concat().to_lowercase();
    assert!(all.contains("#import \"x\" ] $ @ * _ < // \\"), "{all}");
    for word in FORBIDDEN {
        assert!(!all.contains(word), "`{word}` is on a page");
    }
    assert!(!print(&document, &Templates::load(None).unwrap()).unwrap().pdf.is_empty());
}

#[test]
fn every_page_of_a_visit_can_be_read_back_from_a_scan() {
    let (packet, job) = bay("");
    let document = packet.document(&job, now(), None);
    let printed = print(&document, &Templates::load(None).unwrap()).unwrap();
    assert!(printed.boxes.iter().any(|one| one.field == "before-close 1"), "{:?}", printed.boxes);
    for page in 1..=printed.pages {
        let Some(codes) = Picture::of(&printed.pdf, page, 200).and_then(|picture| picture.codes()) else { return };
        let said = document.page_text(u32::try_from(page).unwrap(), &printed.print);
        assert!(said.starts_with(&format!("{}/{page}/", packet.code)), "{said}");
        assert_eq!(codes, [said.clone(), said]);
    }
}
