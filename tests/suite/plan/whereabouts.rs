//! The picture in front of a packet: marks are placed by per cent or by length; one that lies nowhere is a finding.

use shophead::job::{Hand, resolve};
use shophead::plan::whereabouts;
use shophead::report::{Report, Severity};
use shophead::spec::{Spec, read_project, read_traveler};
use shophead::text::Files;

use crate::build::bracket::{BRACKET, PROJECT};

/// What the bracket's spec with this picture resolves to on the second hand, and all findings that speak of marks or pictures.
fn with(picture: &str) -> (Option<shophead::plan::Whereabouts>, Vec<(Severity, String)>) {
    let (mut files, mut report) = (Files::default(), Report::default());
    let id = files.add("build.toml", PROJECT);
    let project = read_project(id, &files, &mut report);
    let text = BRACKET.replace("summary =", &format!("picture = {picture}\nsummary ="));
    let id = files.add("specs/t.toml", text);
    let travelers = read_traveler(id, &project, &files, &mut report).into_iter().collect();
    let job = resolve(Spec { travelers, project, unread: 0 }, &mut report);
    let found = report.findings.into_iter().filter(|finding| {
        ["`marks`", "`width`", "there is no joint"].iter().any(|words| finding.message.starts_with(words))
    });
    (whereabouts(&job, 0, Some(Hand::Right)), found.map(|finding| (finding.severity, finding.message)).collect())
}

#[test]
fn marks_stand_where_the_spec_places_them() {
    let (shown, found) = with(r#"{ file = "p.svg", width = "100 mm", marks = { J1 = "12.5 %, 45 %; 80 mm, 10 mm" } }"#);
    assert_eq!(found, []);
    let shown = shown.unwrap();
    let picture = shown.picture.unwrap();
    let marks: Vec<_> = picture.marks.iter().map(|m| (m.joint.as_str(), m.right.as_str(), m.down.as_str())).collect();
    assert_eq!(marks, [("J1", "12.5%", "45%"), ("J1", "80mm", "10mm")]);
    assert_eq!((picture.file.as_str(), picture.width.as_deref()), ("p.svg", Some("100")));
    let shown_joints: Vec<_> =
        shown.joints.iter().map(|joint| (joint.id.as_str(), joint.leave_open, joint.shown)).collect();
    assert_eq!(shown_joints, [("J1", true, true), ("J-2", false, false), ("J3", false, false)]);
    assert_eq!(shown.note.as_deref(), Some("the picture shows the other hand: this one is its mirror image"));
}

#[test]
fn a_mark_that_lies_nowhere_is_said() {
    let cases = [
        (r#"{ file = "p.svg", marks = { J1 = "101 %, 5 %" } }"#, "`marks`, J1: 101 % lies outside the picture"),
        (r#"{ file = "p.svg", marks = { J1 = "-1 %, 5 %" } }"#, "`marks`, J1: -1 % lies outside the picture"),
        (
            r#"{ file = "p.svg", marks = { J1 = "5 %" } }"#,
            "`marks`, J1: `5 %` is no place: write it from the left and from the top, as `30 %, 45 %`",
        ),
        (
            r#"{ file = "p.svg", marks = { J1 = "5 mm, 5 %" } }"#,
            "`marks`, J1: 5 mm is a length: give the `width` of the picture too, or write per cent",
        ),
        (
            r#"{ file = "p.svg", width = "4 in", marks = { J1 = "5 in, 5 %" } }"#,
            "`marks`, J1: 5.000 in from the left lies outside the picture, which is printed 4.000 in wide",
        ),
        (
            r#"{ file = "p.svg", width = "7 in", marks = { } }"#,
            "`width` is 7.000 in, but a page has room for 6.4961 in",
        ),
        (r#"{ file = "p.svg", marks = { J7 = "5 %, 5 %" } }"#, "there is no joint `J7`"),
    ];
    for (picture, wanted) in cases {
        let (_, found) = with(picture);
        assert_eq!(found, [(Severity::Error, wanted.to_owned())], "{picture}");
    }
}
