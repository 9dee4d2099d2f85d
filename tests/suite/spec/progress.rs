//! The progress file: what it says, and every way in which it can be wrong.

use shophead::calendar::{Day, Moment, When};
use shophead::job::{Item, Job, State, StepRef, check_days};
use shophead::report::{Finding, Report};
use shophead::spec::read_evening;
use shophead::text::Files;

use crate::build::{job_of, stand};

const PROJECT: &str = "[aircraft]\nname = \"Dunlin\"\n[[signer]]\ninitials = \"B1\"\nrole = \"builder\"\n";

const SPEC: &str = "[traveler]\nid = \"A\"\ntitle = \"t\"\nrevision = \"A\"\nhands = [\"left\", \"right\"]\n\
    [[step]]\nid = \"one\"\ntitle = \"t\"\ndo = \"fit\"\nrecords = [{ id = \"level\", label = \"Level\", unit = \"deg\", min = -0.1, max = 0.1 }]\n\
    [[step]]\nid = \"two\"\ntitle = \"t\"\ndo = \"fit\"\n";

fn read(text: &str) -> (State, Vec<String>, Job) {
    let (job, mut files, _) = job_of(PROJECT, &[SPEC.to_owned()]);
    let (_, state, report) = stand(&job, &mut files, text);
    let line = |f: &Finding| format!("{}: {}: {}", f.rule, f.severity.word(), f.message);
    (state, report.findings.iter().map(line).collect(), job)
}

#[test]
fn one_line_a_step_tells_what_is_done() {
    let text = "[[sign]]\nstep = \"A/one\"\nhand = \"left\"\non = 2026-03-02T19:30\nby = \"B1\"\nminutes = 45\nreadings = { level = \"0.05\" }\n\
        [[started]]\nstep = \"A/one\"\nhand = \"right\"\non = 2026-03-03\nnote = \"half the row\"\n\
        [[waiting]]\nstep = \"A/two\"\nhand = \"left\"\nfor = \"answer\"\nwhat = \"designer\"\nuntil = 2026-03-05\n\
        [[discrepancy]]\nnumber = \"D-1\"\nstep = \"A/one\"\nwhat = \"hole off the line\"\n";
    let (state, findings, job) = read(text);
    assert!(findings.is_empty(), "{findings:?}");
    let hands = job.hands_of(0);
    let item = |step, hand: usize| Item { at: StepRef { traveler: 0, step }, hand: hands[hand] };
    let done = &state.done[&item(0, 0)];
    assert_eq!((done.by.as_str(), done.minutes, done.values["level"].as_str()), ("B1", Some(45), "0.05"));
    assert_eq!(done.on, When::at(Moment::parse("2026-03-02T19:30").unwrap()));
    assert_eq!(state.started[&item(0, 1)].note.as_deref(), Some("half the row"));
    assert_eq!(state.waiting.len(), 1);
    assert_eq!(state.discrepancies[0].items, [item(0, 0), item(0, 1)]);
    assert!(state.discrepancies[0].open);
}

#[test]
fn what_leads_nowhere_or_cannot_be_is_found() {
    let entry = |rest: &str| format!("[[sign]]\n{rest}\non = 2026-03-02\nby = \"B1\"\n");
    let cases = [
        (entry("step = \"B/one\""), "reference-dangling: error: there is no traveler `B`"),
        (entry("step = \"A/tow\""), "reference-dangling: error: traveler A has no step `tow`; it has 010 one, 020 two"),
        (entry("step = \"one\""), "reference-dangling: error: `one` does not name a traveler and a step"),
        (
            entry("step = \"A/one\"").replace("B1", "B2"),
            "value-invalid: warning: `B2` is nobody's initials in the project file",
        ),
        (entry("step = \"A/one\"").repeat(2), "id-repeated: error: A/one (left) is signed off twice"),
        (
            entry("step = \"A/two\"\nhand = \"left\""),
            "value-invalid: warning: A/two (left) is signed off, but A/one (left) comes first and is not",
        ),
        (
            entry("step = \"A/one\"\nreadings = { level = 0.2 }"),
            "value-invalid: warning: Level is 0.2 deg, above 0.1 deg",
        ),
        (
            entry("step = \"A/one\"\nreadings = { level = \"ok\" }"),
            "value-invalid: error: Level is `ok`, which is not a number",
        ),
        (
            entry("step = \"A/one\"\nreadings = { levl = 0.05 }"),
            "reference-dangling: error: no step of this entry asks for a reading `levl`",
        ),
        (
            entry("step = \"A/one\"").replace("2026-03-02", "2026-03-02T10:00:00Z"),
            "value-invalid: error: `on` is a date",
        ),
        (entry("step = \"A/one\"\nhands = \"left\""), "key-unknown: error: `sign` has no key `hands`"),
    ];
    for (text, expected) in cases {
        let (_, findings, _) = read(&text);
        assert!(findings.iter().any(|line| line.starts_with(expected)), "{expected} is not in {findings:#?}");
    }
}

#[test]
fn a_fault_is_said_once_and_with_what_would_pass() {
    let helps = |text: &str| {
        let (job, mut files, _) = job_of(PROJECT, &[SPEC.to_owned()]);
        let (_, _, report) = stand(&job, &mut files, text);
        let line = |own: &Finding| format!("{}; {}", own.message, own.help.clone().unwrap_or_default());
        report.findings.iter().map(line).collect::<Vec<_>>()
    };
    let sign = |on: &str| {
        format!("[[sign]]\nstep = \"A/one\"\nhand = \"left\"\non = {on}\nby = \"B1\"\nreadings = {{ level = 0 }}\n")
    };
    // A day that cannot be read is not missing as well.
    assert_eq!(helps(&sign("\"2.3.2026\"")), ["`on`: `2.3.2026` begins with the day: write `2026-03-02`; "]);
    let waiting = |keys: &str| helps(&format!("[[waiting]]\n{keys}\nfor = \"part\"\nwhat = \"rivets\"\n"));
    let board = "`wait` under";
    assert!(waiting("step = \"A\"")[0].contains("A is a traveler: add the step, as `A/step`"));
    assert!(waiting("step = \"A\"")[0].contains(board) && waiting("traveler = \"A\"")[0].contains(board));
    let stops = "[[discrepancy]]\nnumber = \"D-1\"\nstep = \"A/one\"\nwhat = \"oval\"\nstops = true\n";
    assert!(helps(stops)[0].contains("; one of: "), "{:?}", helps(stops));
}

#[test]
fn a_step_that_is_signed_off_without_its_values_is_told() {
    let done = |rest: &str| format!("[[sign]]\nstep = \"A/one\"\non = 2026-03-02\nby = \"B1\"\n{rest}");
    let (_, findings, _) = read(&done(""));
    let expected = "value-invalid: warning: A/one is signed off without the values that it asks for: `level`";
    assert_eq!(findings, [expected]);
    let (state, findings, _) = read(&done("readings = { level = \"N/A\" }\n"));
    assert!(findings.is_empty(), "{findings:?}");
    assert!(state.done.values().all(|done| done.values["level"] == "N/A"));
}

#[test]
fn work_that_is_dated_after_today_is_told() {
    let text = "[[sign]]\nstep = \"A/one\"\non = 2026-03-03\nby = \"B1\"\n[[started]]\nstep = \"A/two\"\non = 2026-03-02T19:00\n\
        [[discrepancy]]\nnumber = \"D-1\"\nstep = \"A/one\"\nwhat = \"long\"\non = 2027-03-02\n";
    let (mut files, mut report) = (Files::default(), Report::default());
    let id = files.add("progress.toml", text);
    let spec = read_evening(id, &files, &mut report);
    check_days(&spec, Day::parse("2026-03-02").unwrap(), &mut report);
    let messages: Vec<&str> = report.findings.iter().map(|finding| finding.message.as_str()).collect();
    assert_eq!(
        messages,
        [
            "this is done on 2026-03-03, which is after today, 2026-03-02",
            "this is found on 2027-03-02, which is after today, 2026-03-02",
        ]
    );
}
