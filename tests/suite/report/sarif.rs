//! Findings as SARIF 2.1.0, judged by the schema that OASIS publishes.

use serde_json::{Value, json};
use shophead::report::{Finding, Place, Report, RuleText, Severity, Unjudged, render_sarif};
use shophead::text::{Files, Span};

use crate::build::validator::Schema;

fn schema() -> Schema {
    Schema::new(serde_json::from_str(include_str!("../../data/sarif-2.1.0.schema.json")).unwrap())
}

fn rules() -> Vec<RuleText> {
    let rule = |name: &str, severity| RuleText {
        name: name.to_owned(),
        short: "What it checks".to_owned(),
        page: format!("# {name}\n\n## What it checks\nWhat it checks.\n"),
        severity,
    };
    vec![rule("pitch-long", Severity::Warning), rule("rivet-short", Severity::Error)]
}

fn log() -> Value {
    let mut files = Files::default();
    let text = "[[joint]]\nid = \"Jé\"\nstack = [\"A\", \"B\"]\nfastener = \"MS20470AD4-3\"\n";
    let inside = files.add("specs/left wing/a#1.toml", text);
    let outside = files.add("/srv/b.toml", text);
    let span = |file, part: &str| {
        let start = text.find(part).unwrap();
        Span { file, start, end: start + part.len() }
    };
    let mut short = Finding::new(
        "rivet-short",
        Severity::Error,
        span(inside, "\"MS20470AD4-3\""),
        "0.061 in sticks out, 0.085 in is needed",
    )
    .label(span(outside, "[\"A\", \"B\"]"), "0.126 in thick")
    .help("MS20470AD4-5 fits")
    .source("AC 43.13-1B, par. 4-57");
    short.place = Place { traveler: Some("T".into()), joint: Some("Jé".into()), ..Place::default() };
    let mut long = Finding::new("pitch-long", Severity::Warning, span(inside, "\"Jé\""), "pitch 2 in");
    long.allowed = Some("drawing note 4".into());
    let unlisted =
        Finding::new("spec-unreadable", Severity::Note, Span { file: outside, start: 0, end: 0 }, "nothing there");
    let silent = Unjudged {
        place: Place { traveler: Some("T".into()), joint: Some("Jé".into()), ..Place::default() },
        why: "no `edge` is given".into(),
        rules: vec!["edge-distance-short"],
    };
    let report =
        Report { findings: vec![short, long, unlisted], travelers: 1, unjudged: vec![silent], left_out: Vec::new() };
    serde_json::from_str(&render_sarif(&report, &files, &rules())).unwrap()
}

#[test]
fn the_published_schema_accepts_the_log() {
    assert_eq!(schema().fault(&log()), None);
}

/// What is spoilt, and how.
type Spoil = (&'static str, fn(&mut Value));

#[test]
fn the_published_schema_refuses_a_log_with_a_fault() {
    let schema = schema();
    let spoil: &[Spoil] = &[
        ("version", |v| v["version"] = json!("2.0")),
        ("name of the tool", |v| drop(v["runs"][0]["tool"]["driver"].as_object_mut().unwrap().remove("name"))),
        ("level", |v| v["runs"][0]["results"][0]["level"] = json!("fatal")),
        ("line", |v| v["runs"][0]["results"][0]["locations"][0]["physicalLocation"]["region"]["startLine"] = json!(0)),
        ("message", |v| drop(v["runs"][0]["results"][0].as_object_mut().unwrap().remove("message"))),
        ("kind of suppression", |v| v["runs"][0]["results"][1]["suppressions"][0]["kind"] = json!("allowed")),
    ];
    for (name, change) in spoil {
        let mut bad = log();
        change(&mut bad);
        assert!(schema.fault(&bad).is_some(), "{name} passes the schema");
    }
}

#[test]
fn a_result_carries_level_place_related_places_and_words() {
    let log = log();
    let run = &log["runs"][0];
    let result = &run["results"][0];
    assert_eq!(
        (&result["ruleId"], &result["ruleIndex"], &result["level"]),
        (&json!("rivet-short"), &json!(1), &json!("error"))
    );
    assert_eq!(run["tool"]["driver"]["rules"][1]["id"], "rivet-short");
    let place = &result["locations"][0]["physicalLocation"];
    assert_eq!(place["artifactLocation"], json!({ "uri": "specs/left%20wing/a%231.toml", "uriBaseId": "%SRCROOT%" }));
    // "Jé" is five characters and six bytes with its quotes: columns count characters, offsets bytes.
    let region =
        json!({ "startLine": 4, "startColumn": 12, "endLine": 4, "endColumn": 26, "byteOffset": 51, "byteLength": 14 });
    assert_eq!(place["region"], region);
    let logical = json!({ "name": "Jé", "fullyQualifiedName": "T/Jé", "kind": "joint" });
    assert_eq!(result["locations"][0]["logicalLocations"], json!([logical]));
    let related = &result["relatedLocations"][0];
    assert_eq!(related["physicalLocation"]["artifactLocation"], json!({ "uri": "file:///srv/b.toml" }));
    assert_eq!(related["message"]["text"], "0.126 in thick");
    let text = "0.061 in sticks out, 0.085 in is needed\nhelp: MS20470AD4-5 fits\nsource: AC 43.13-1B, par. 4-57";
    assert_eq!(result["message"]["text"], text);
}

#[test]
fn an_accepted_finding_is_suppressed_with_its_reason_and_others_are_not() {
    let log = log();
    let results = log["runs"][0]["results"].as_array().unwrap();
    let suppressions: Vec<&Value> = results.iter().map(|result| &result["suppressions"]).collect();
    let accepted = json!([{ "kind": "inSource", "status": "accepted", "justification": "drawing note 4" }]);
    assert_eq!(suppressions, [&json!([]), &accepted, &json!([])]);
    assert_eq!(results[2].get("ruleIndex"), None, "a rule that is not in the list has no index");
}

#[test]
fn what_could_not_be_judged_is_a_notification() {
    let log = log();
    let said = &log["runs"][0]["invocations"][0]["toolExecutionNotifications"][0];
    let text = "T/Jé: no `edge` is given, so edge-distance-short stayed silent";
    assert_eq!(*said, json!({ "level": "note", "message": { "text": text } }));
}
