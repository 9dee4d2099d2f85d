//! What could not be judged, as a reader and as a program see it.

use shophead::report::{Place, Report, Unjudged, render_json, render_unjudged};
use shophead::text::Files;

fn report() -> Report {
    let one = |joint: &str, why: &str, rules: &[&'static str]| Unjudged {
        place: Place { traveler: Some("T".into()), joint: Some(joint.into()), ..Place::default() },
        why: why.into(),
        rules: rules.to_vec(),
    };
    let unjudged = vec![
        one("J1", "no `edge` is given", &["edge-distance-short", "edge-distance-lean"]),
        one("J1", "no `pitch` is given", &["pitch-short"]),
        one("J2", "no `edge` is given", &["edge-distance-short"]),
    ];
    Report { unjudged, travelers: 1, ..Report::default() }
}

#[test]
fn a_reader_gets_the_count_with_the_reasons_and_the_places_on_request() {
    let counted = render_unjudged(&report(), false);
    assert_eq!(
        counted,
        "not judged in full: 2 places: no `edge` is given (2), no `pitch` is given (1); --unjudged lists them\n"
    );
    let listed = render_unjudged(&report(), true);
    assert_eq!(listed.lines().count(), 4);
    assert!(
        listed.contains("\n  T/J1: no `edge` is given, so edge-distance-short, edge-distance-lean stayed silent\n"),
        "{listed}"
    );
    assert_eq!(render_unjudged(&Report::default(), true), "");
}

#[test]
fn a_program_gets_every_place() {
    let value: serde_json::Value = serde_json::from_str(&render_json(&report(), &Files::default())).unwrap();
    assert_eq!(value["unjudged"].as_array().unwrap().len(), 3);
    let expected = serde_json::json!({
        "traveler": "T", "joint": "J2", "step": null, "part": null, "why": "no `edge` is given", "rules": ["edge-distance-short"],
    });
    assert_eq!(value["unjudged"][2], expected);
}
