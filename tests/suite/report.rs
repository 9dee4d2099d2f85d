//! Findings as a reader and as a program see them.

mod sarif;
mod unjudged;

use shophead::report::{Colour, Finding, Place, Report, Severity, render_human, render_json};
use shophead::text::{Files, Span};

fn sample() -> (Report, Files) {
    let mut files = Files::default();
    let text = "[[joint]]\nid = \"J1\"\nstack = [\"A\", \"B\"]\nfastener = \"MS20470AD4-3\"\n";
    let file = files.add("specs/a.toml", text);
    let span = |part: &str| {
        let start = text.find(part).unwrap();
        Span { file, start, end: start + part.len() }
    };
    let mut finding = Finding::new(
        "rivet-short",
        Severity::Error,
        span("\"MS20470AD4-3\""),
        "0.061 in sticks out, 0.085 in is needed",
    )
    .label(span("[\"A\", \"B\"]"), "0.126 in thick")
    .help("MS20470AD4-5")
    .source("AC 43.13-1B, par. 4-57");
    finding.place = Place { traveler: Some("A".into()), joint: Some("J1".into()), ..Place::default() };
    let mut allowed = Finding::new("pitch-long", Severity::Error, span("id"), "pitch 2 in");
    allowed.allowed = Some("drawing note 4".into());
    let mut report = Report { travelers: 1, ..Report::default() };
    report.extend([finding, allowed]);
    report.sort(&files);
    (report, files)
}

#[test]
fn a_reader_sees_the_call_the_line_that_makes_it_wrong_the_help_and_the_source() {
    let (report, files) = sample();
    let text = render_human(&report, &files, Colour::Plain);
    for expected in [
        "error[rivet-short]: 0.061 in sticks out, 0.085 in is needed",
        "specs/a.toml:4:12",
        "3 | stack = [\"A\", \"B\"]",
        "0.126 in thick",
        "4 | fastener = \"MS20470AD4-3\"",
        "help: MS20470AD4-5",
        "source: AC 43.13-1B, par. 4-57",
        "allowed: because drawing note 4",
        "1 error, 0 warnings, 0 notes in 1 traveler (1 allowed, with reasons printed on the sheets)",
    ] {
        assert!(text.contains(expected), "{expected:?} is not in:\n{text}");
    }
    assert!(!text.contains('\u{1b}'), "plain text carries no colour");
    assert!(render_human(&report, &files, Colour::Terminal).contains('\u{1b}'));
}

#[test]
fn a_program_sees_every_key_and_allowed_findings_are_not_counted() {
    let (report, files) = sample();
    let value: serde_json::Value = serde_json::from_str(&render_json(&report, &files)).unwrap();
    assert_eq!(
        (value["version"].as_i64(), value["errors"].as_i64(), value["travelers"].as_i64()),
        (Some(1), Some(1), Some(1))
    );
    let finding = value["findings"].as_array().unwrap().iter().find(|f| f["rule"] == "rivet-short").unwrap();
    let expected = serde_json::json!({
        "rule": "rivet-short", "severity": "error", "file": "specs/a.toml", "line": 4, "column": 12, "start": 50, "end": 64,
        "traveler": "A", "joint": "J1", "step": null, "part": null,
        "message": "0.061 in sticks out, 0.085 in is needed", "help": "MS20470AD4-5", "source": "AC 43.13-1B, par. 4-57", "allowed": null,
    });
    assert_eq!(*finding, expected);
}

#[test]
fn an_error_stops_unless_it_is_allowed() {
    let (mut report, _) = sample();
    assert!(report.stops());
    report.findings.retain(|f| f.allowed.is_some());
    assert!(!report.stops() && report.count(Severity::Error) == 0);
}

#[test]
fn an_absurdly_long_line_does_not_fill_the_screen() {
    let mut files = Files::default();
    let text = format!("x = \"{}\"", "y".repeat(1_000_000));
    let file = files.add("a.toml", text.as_str());
    let mut report = Report::default();
    report.push(Finding::new("value-invalid", Severity::Error, Span { file, start: 4, end: text.len() }, "too long"));
    assert!(render_human(&report, &files, Colour::Plain).len() < 3_000);
}
