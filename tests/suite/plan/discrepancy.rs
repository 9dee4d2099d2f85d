//! The discrepancy sheet: its numbers against published arithmetic, and the same numbers as the hole schedule.

use serde_json::Value;
use shophead::calendar::When;
use shophead::hardware::most_oversize;
use shophead::job::{Job, Order, State, resolve};
use shophead::plan::{DiscrepancySheet, DiscrepancySubject, Options, blank_discrepancy, discrepancy_of, packets};
use shophead::render::{Templates, lay_out};
use shophead::report::Report;
use shophead::spec::load;
use shophead::text::Files;

use crate::build::job_of;
use crate::build::shop::{Shop, root};
use crate::build::text::{joint, part, step, traveler};
use crate::plan::visit::{FORBIDDEN, joined, pages};

const PROJECT: &str = "[aircraft]\nname = \"Dunlin\"\n[[space]]\nid = \"bay\"\nname = \"Bay\"\n";

/// A traveler with one joint; `keys` are its fastener, edge and so on.
fn job(keys: &str) -> Job {
    let text = traveler("A", "hands = [\"left\", \"right\"]")
        + &part("P1", "p", "0.063")
        + &joint("J1", &["P1", "P1"], keys)
        + &step("drill", "drill", "joints = [\"J1\"]\nspaces = [\"bay\"]")
        + &step("close", "close", "closes = [\"bay\"]");
    let (job, _, report) = job_of(PROJECT, &[text]);
    assert!(!report.stops(), "{:?}", report.findings);
    job
}

fn sheet(job: &Job) -> DiscrepancySheet {
    let (order, state) = (Order::of(job), State::default());
    let subject =
        DiscrepancySubject { job, order: &order, state: &state, archived: None, traveler: 0, joint: 0, hand: None };
    discrepancy_of(&subject, None, None)
}

/// `1.667 D` in hundredths, rounded.
fn hundredths(diameters: &str) -> u32 {
    let (whole, part) =
        diameters.trim_end_matches(" D").split_once('.').unwrap_or((diameters.trim_end_matches(" D"), "0"));
    let thousandths: u32 = whole.parse::<u32>().unwrap() * 1_000 + format!("{part:0<3}").parse::<u32>().unwrap();
    (thousandths + 5) / 10
}

/// Source: arithmetic. An edge of 2 D becomes 1.50, 1.60, 1.67, 1.50 D of the next size; one of 2.5 D becomes 1.88, 2.00,
/// 2.08, 1.88 D; what just holds is 2.67, 2.50, 2.40, 2.67 D, and for a pitch of 3 D: 4, 3.75, 3.6, 4 D.
#[test]
fn the_edge_at_the_next_size_is_that_of_the_arithmetic() {
    // Dash, edge or pitch in ten-thousandths of an inch, hundredths of the next diameter, whether it holds.
    let edges = [
        (3, "0.1875", 150, "no"),
        (4, "0.250", 160, "no"),
        (5, "0.3125", 167, "no"),
        (6, "0.375", 150, "no"),
        (3, "0.2344", 188, "no"),
        (4, "0.3125", 200, "yes"),
        (5, "0.3906", 208, "yes"),
        (6, "0.46875", 188, "no"),
        (3, "0.250", 200, "yes"),
        (5, "0.375", 200, "yes"),
        (6, "0.500", 200, "yes"),
    ];
    for (dash, edge, expected, holds) in edges {
        let sheet = sheet(&job(&format!("fastener = \"MS20470AD{dash}\"\ncount = 20\nedge = \"{edge}\"")));
        let set = sheet.subject.unwrap();
        let check = &set.checks[0];
        assert_eq!(
            (check.what, hundredths(check.next.as_ref().unwrap()), check.verdict),
            ("edge distance", expected, holds),
            "-{dash} {edge}"
        );
        assert_eq!(set.next.unwrap().room, holds);
        assert_eq!(set.checks[1].verdict, "not judged");
    }
    for (dash, pitch, holds) in
        [(3, "0.375", "yes"), (3, "0.370", "no"), (4, "0.46875", "yes"), (4, "0.46", "no"), (6, "0.750", "yes")]
    {
        let sheet = sheet(&job(&format!("fastener = \"MS20470AD{dash}\"\ncount = 20\npitch = \"{pitch}\"")));
        assert_eq!(sheet.subject.unwrap().checks[1].verdict, holds, "-{dash} {pitch}");
    }
}

/// Source: MIL-R-47196A as summarised: 20 per cent of the rivets of a pattern or 10, whichever is less.
#[test]
fn the_oversize_share_is_a_fifth_and_ten_at_most() {
    let expected = [(0, 0), (4, 0), (12, 2), (20, 4), (49, 9), (50, 10), (80, 10), (u32::MAX, 10)];
    for (rivets, most) in expected {
        assert_eq!(most_oversize(rivets).value, most, "{rivets}");
    }
    let share = sheet(&job("fastener = \"MS20470AD4\"\ncount = 12")).subject.unwrap().share.unwrap();
    assert_eq!((share.rivets, share.most, share.source.as_str()), (12, 2, "MIL-R-47196A"));
}

#[test]
fn the_next_rivet_is_of_the_same_standard_and_alloy_and_fits_the_stack() {
    let set = sheet(&job("fastener = \"MS20470AD4\"\ncount = 20\nedge = \"0.4\"")).subject.unwrap();
    let next = set.next.unwrap();
    // Stack .126 + 1.5 x 5/32 = .360: 3/8 is the nearest of 1/16 in (NAVEDTRA 14018, chapter 13).
    assert_eq!((next.size.as_str(), next.call.as_deref()), ("5/32 in", Some("MS20470AD5-6")));
    assert!(next.hole.unwrap().starts_with("#21"));
    let flush =
        sheet(&job("fastener = \"MS20426AD4\"\ncount = 20\nprepare = [\"countersink\", \"plain\"]")).subject.unwrap();
    assert!(flush.next.unwrap().head.unwrap().contains("thick enough"));
}

#[test]
fn a_bolt_has_no_next_size_and_the_plans_limit_goes_first() {
    let bolt = sheet(&job("fastener = \"AN3-5A\"\ncount = 4\nedge = \"0.5\"")).subject.unwrap();
    assert!(bolt.next.is_none() && bolt.checks.is_empty() && bolt.share.is_none());
    assert!(bolt.no_next.unwrap().contains("for the designer to choose"));
    let limits = "limits = { edge = \"1.5 D\", because = \"note 4\" }";
    let plans =
        sheet(&job(&format!("fastener = \"MS20470AD4\"\ncount = 4\nedge = \"0.25\"\n{limits}"))).subject.unwrap();
    assert_eq!((plans.checks[0].verdict, plans.checks[0].needs.as_str()), ("yes", "1.5 D, 0.235 in"));
    assert_eq!(plans.checks[0].source, "limit of the plans");
    assert_eq!(plans.access, ["Bay: can be reached until A/close (left) (step 020)"]);
}

/// The hole schedule and the discrepancy sheet never say two things.
#[test]
fn room_is_the_same_as_on_the_hole_schedule() {
    for edge in ["0.24", "0.25", "0.30", "0.312", "0.3125", "0.5"] {
        let job = job(&format!("fastener = \"MS20470AD4\"\ncount = 20\nedge = \"{edge}\""));
        let packet = packets(&job, 0, &Report::default(), &Options::default()).unwrap();
        let schedule = packet[0].joints[0].next_size.verdict;
        assert_eq!(schedule, sheet(&job).subject.unwrap().next.unwrap().room, "{edge}");
    }
}

#[test]
fn a_blank_sheet_has_two_pages_on_either_paper_and_a_filled_one_three_at_most() {
    let now = When::parse("2026-03-07").unwrap().earliest;
    for paper in ["us-letter", "a4"] {
        let (job, ..) = job_of(&format!("[project]\npaper = \"{paper}\"\n{PROJECT}"), &[] as &[&str]);
        let blank = pages(&blank_discrepancy(None, None, &job.project).document(&job, now));
        assert_eq!(blank.len(), 2, "{paper}");
        let all = joined(&blank.join(" "));
        for words in
            ["sketch", "use as is", "return to supplier", "after the second: stop and ask", "900", "AFTER", "of 12: 2"]
        {
            assert!(all.contains(words), "`{words}` is not in {all}");
        }
        for word in FORBIDDEN {
            assert!(!all.to_lowercase().contains(word), "`{word}` is on a page");
        }
    }
    let job = job("fastener = \"MS20470AD4\"\ncount = 20\nedge = \"0.25\"\npitch = \"0.5\"\nstructure = \"primary\"");
    let filled = pages(&sheet(&job).document(&job, now));
    assert!(filled.len() <= 3, "{} pages", filled.len());
    let all = joined(&filled.join(" "));
    for words in [
        "1.6 D",
        "0.313 in",
        "at most 4",
        "MIL-R-47196A",
        "highly stressed tension members",
        "AC 43.13-1B, par. 4-54 and 4-55",
    ] {
        assert!(all.contains(words), "`{words}` is not in {all}");
    }
    for word in FORBIDDEN {
        assert!(!all.to_lowercase().contains(word), "`{word}` is on a page");
    }
}

fn run(shop: &Shop, arguments: &[&str]) -> crate::build::shop::Ran {
    shop.run(&[arguments, &["--project", "demo-data", "--now", "2026-05-25T18:00"]].concat())
}

#[test]
fn the_demo_knows_what_happened_to_a_joint_before() {
    let shop = Shop::demo();
    let ran = run(&shop, &["discrepancy", "TAIL-20/J2", "--format", "json"]);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let sheet: Value = serde_json::from_str(&ran.out).unwrap();
    assert_eq!((&sheet["sheet"], &sheet["subject"]["earlier"][0]["number"]), (&"X89H0-HCXC7".into(), &"D-001".into()));
    assert!(sheet["subject"]["access"][0].as_str().unwrap().contains("CLOSED by TAIL-20/close-tips"));
    let ran = run(&shop, &["discrepancy", "TANK-10/J1", "--hand", "left", "--number", "D-002"]);
    assert!(ran.code == 0 && shop.path("output/discrepancy-D-002.pdf").exists(), "{}{}", ran.out, ran.err);
    let path = shop.path("output/discrepancy-blank.pdf");
    run(&shop, &["discrepancy"]);
    let bytes = std::fs::read(&path).unwrap();
    run(&shop, &["discrepancy"]);
    assert!(bytes == std::fs::read(&path).unwrap());
}

#[test]
fn what_the_sheet_says_can_be_typed_and_entered() {
    let shop = Shop::demo();
    let typed = run(&shop, &["discrepancy", "TANK-10/J1", "--hand", "left", "--typed"])
        .out
        .replace("DAY", "2026-05-24")
        .replace("INITIALS", "B1")
        .replace("NUMBER", "40")
        .replace("what = \"\"", "what = \"long hole\"");
    let typed = typed.replace("should-be = \"\"", "should-be = \"0.098\"").replace("is = \"\"", "is = \"0.104\"");
    shop.write("found.toml", &typed);
    let ran = shop.run(&["--project", "demo-data", "archive", "enter", "found.toml", "--entered", "2026-05-25T20:00"]);
    assert_eq!(ran.code, 0, "{}{}", ran.out, ran.err);
    let ran = run(&shop, &["discrepancy", "TANK-10/J1", "--hand", "left", "--format", "json"]);
    let sheet: Value = serde_json::from_str(&ran.out).unwrap();
    assert!(sheet["subject"]["earlier"][0]["what"].as_str().unwrap().contains("long hole"));
}

#[test]
fn a_hole_set_that_does_not_exist_has_no_sheet() {
    let shop = Shop::demo();
    for (arguments, said) in [
        (&["discrepancy", "TAIL-20/J22"][..], "there is no joint in TAIL-20 called J22; did you mean J2?"),
        (&["discrepancy", "TAIL-2O/J2"], "there is no traveler TAIL-2O; did you mean TAIL-20?"),
        (&["discrepancy", "TAIL-20"], "write TRAVELER/JOINT"),
        (&["discrepancy", "TAIL-20/J2", "--hand", "left"], "traveler TAIL-20 is not built in the hand `left`"),
        (&["discrepancy", "--sheet", "XYZ"], "a sheet code has 10 characters"),
        (&["discrepancy", "--hand", "left"], "required"),
    ] {
        let ran = run(&shop, arguments);
        assert!(ran.code == 2 && ran.err.contains(said), "{arguments:?}: {}", ran.err);
    }
}

/// Both sides of one sheet, whatever the hole set.
#[test]
fn every_hole_set_of_the_demo_has_one_sheet() {
    let (mut files, mut report) = (Files::default(), Report::default());
    let spec = load(&root().join("demo-data/build.toml"), &mut files, &mut report).unwrap();
    let job = resolve(spec, &mut report);
    let order = Order::of(&job);
    let (state, now) = (State::default(), When::parse("2026-05-24").unwrap().earliest);
    let templates = Templates::load(None).unwrap();
    let mut sheets = 0;
    for (traveler, own) in job.travelers.iter().enumerate() {
        for joint in 0..own.joints.len() {
            let subject = DiscrepancySubject {
                job: &job,
                order: &order,
                state: &state,
                archived: None,
                traveler,
                joint,
                hand: None,
            };
            let sheet = discrepancy_of(&subject, None, None).document(&job, now);
            let pages = lay_out(&sheet, &templates).unwrap().page_count();
            assert!(pages <= 2, "{}: {pages} pages", sheet.stem);
            sheets += 1;
        }
    }
    assert!(sheets > 50, "{sheets}");
}
