//! How time grows with the build: four times the travelers take not much more than four times as long.
//!
//! Left out of an ordinary run, because the clock of a busy machine proves little; run with `--ignored --nocapture`.

use std::fmt::Write;
use std::time::{Duration, Instant};

use shophead::calendar::When;
use shophead::job::{Job, Order, State};
use shophead::plan::{BoardOptions, board};
use shophead::report::Report;
use shophead::rules::check;

use crate::build::job_of;
use crate::build::text::{self, DUNLIN, traveler};

/// A build of `travelers` travelers with 25 steps each: four stand on one another, every fourth closes a bay over them.
pub fn build(travelers: usize) -> (String, Vec<String>) {
    let mut project = DUNLIN.to_owned();
    for bay in 0..travelers.div_ceil(4) {
        let _ = write!(project, "[[space]]\nid = \"bay-{bay}\"\nname = \"Bay {bay}\"\n");
    }
    (project, (0..travelers).map(spec).collect())
}

fn spec(index: usize) -> String {
    let bay = index / 4;
    let after = if index.is_multiple_of(4) { String::new() } else { format!("after = [\"T{}\"]", index - 1) };
    let mut text = traveler(&format!("T{index}"), &after);
    for (part, thickness) in [(1, "0.032"), (2, "0.040")] {
        text.push_str(&text::part(&format!("P{index}-{part}"), "p", thickness));
    }
    for joint in 1..=5 {
        let _ = write!(
            text,
            "[[joint]]\nid = \"J{joint}\"\nstack = [\"P{index}-1\", \"P{index}-2\"]\nfastener = \"MS20470AD4-4\"\n{JOINT}"
        );
        for kind in ["fit", "drill", "deburr", "prime", "rivet"] {
            let _ = write!(
                text,
                "[[step]]\nid = \"{kind}-{joint}\"\ntitle = \"t\"\ndo = \"{kind}\"\njoints = [\"J{joint}\"]\nspaces = [\"bay-{bay}\"]\nminutes = 20\n"
            );
            if kind == "prime" {
                text.push_str("cure = \"24 h\"\n");
            }
            if joint == 5 && kind == "rivet" && index % 4 == 3 {
                let _ = writeln!(text, "closes = [\"bay-{bay}\"]");
            }
        }
    }
    text
}

const JOINT: &str = "count = 12\nholes = { final = \"#30\" }\nedge = \"0.40\"\npitch = \"0.75\"\nstructure = \"secondary\"\naccess = \"both sides\"\n";

fn timed<T>(work: impl Fn() -> T) -> (Duration, T) {
    let mut best = Duration::MAX;
    let mut result = work();
    for _ in 0..3 {
        let start = Instant::now();
        result = work();
        best = best.min(start.elapsed());
    }
    (best, result)
}

fn times(job: &Job) -> [Duration; 3] {
    let (order, _) = timed(|| Order::of(job).circles());
    let (checked, findings) = timed(|| {
        let mut report = Report::default();
        check(job, &mut report);
        report.findings.iter().filter(|finding| finding.stops()).count()
    });
    assert_eq!(findings, 0);
    let (state, now) = (State::default(), When::parse("1970-01-01").unwrap().earliest);
    let (planned, board) =
        timed(|| board(job, &Order::of(job), &state, BoardOptions { now, minutes: 90, alone: false }));
    assert!(!board.ready.is_empty());
    [order, checked, planned]
}

#[test]
#[ignore = "measures time"]
#[allow(clippy::print_stderr)]
fn order_check_and_board_grow_with_the_build() {
    let mut before: Option<[Duration; 3]> = None;
    let mut ratios = Vec::new();
    for travelers in [50, 200, 800] {
        let (project, specs) = build(travelers);
        let (job, ..) = job_of(&project, &specs);
        let own = times(&job);
        eprintln!(
            "{travelers} travelers, {} steps: order {:?}, check {:?}, board {:?}",
            Order::of(&job).len(),
            own[0],
            own[1],
            own[2]
        );
        if let Some(before) = before {
            ratios
                .extend(own.iter().zip(before).map(|(now, then)| now.as_micros() * 10 / then.as_micros().max(10_000)));
        }
        before = Some(own);
    }
    // Below ten milliseconds the clock measures the machine, not the work.
    eprintln!("growth over four times the build, in tenths: {ratios:?}");
    assert!(
        ratios.iter().all(|tenths| *tenths < 120),
        "twelve times as long or more for four times the build: {ratios:?}"
    );
}

#[test]
fn five_thousand_steps_are_one_build() {
    let (project, specs) = build(200);
    let (job, ..) = job_of(&project, &specs);
    let order = Order::of(&job);
    assert_eq!(order.len(), 5_000);
    let mut report = Report::default();
    check(&job, &mut report);
    assert!(!report.stops(), "{:?}", report.findings.iter().find(|finding| finding.stops()));
}
