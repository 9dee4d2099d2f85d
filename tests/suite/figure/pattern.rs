//! Hole patterns: read from the spec, laid out, cut into strips; refused where they contradict the joint or the paper.

use shophead::figure::{Hole, Strip, StripFault, strips};
use shophead::spec::{Spec, read_project, read_traveler};
use shophead::text::Files;
use shophead::units::Length;
use shophead::words::Direction;

use super::{ROOM, assert_inside, circles, labels, length, mm, size};
use crate::build::bracket::PROJECT;

const HEAD: &str = "[traveler]\nid = \"T\"\ntitle = \"t\"\nrevision = \"A\"\n[[joint]]\nid = \"J1\"\nstack = [{ material = \"2024-T3\", thickness = \"0.032\" }]\nfastener = \"MS20470AD4-4\"\n";

/// The holes of a joint with these further keys, and what was said about them.
fn read(keys: &str) -> (Option<Vec<(Length, Length)>>, Vec<String>) {
    let (mut files, mut report) = (Files::default(), shophead::report::Report::default());
    let id = files.add("build.toml", PROJECT);
    let project = read_project(id, &files, &mut report);
    let id = files.add("specs/t.toml", format!("{HEAD}{keys}"));
    let spec =
        Spec { travelers: read_traveler(id, &project, &files, &mut report).into_iter().collect(), project, unread: 0 };
    let holes =
        spec.travelers.first().and_then(|traveler| traveler.joints[0].hole_places(&crate::INCH)).and_then(Result::ok);
    (holes, report.findings.into_iter().map(|finding| finding.message).collect())
}

#[test]
fn rows_take_their_numbers_from_the_joint() {
    let keys = "count = 6\nedge = \"0.30\"\npitch = \"0.75\"\nrows = 2\nrow-gap = \"0.40\"\npattern = { end = \"0.5\", stagger = true }\n";
    let (holes, said) = read(keys);
    assert!(said.is_empty(), "{said:?}");
    let expected =
        [("0.5", "0.30"), ("1.25", "0.30"), ("2.0", "0.30"), ("0.875", "0.70"), ("1.625", "0.70"), ("2.375", "0.70")];
    assert_eq!(holes.unwrap(), expected.map(|(along, across)| (length(along), length(across))));
}

#[test]
fn points_stand_as_they_are_written() {
    let (holes, said) = read("count = 2\npattern = { points = [[\"12 mm\", \"0.25\"], [\"1\", \"0.5\"]] }\n");
    assert!(said.is_empty(), "{said:?}");
    assert_eq!(holes.unwrap(), [(mm(12), length("0.25")), (length("1"), length("0.5"))]);
}

#[test]
fn a_pattern_that_contradicts_its_joint_is_said_with_both_numbers() {
    let cases = [
        ("count = 3\npattern = { points = [[\"1\", \"1\"]] }\n", "`pattern`: 1 points are given, but `count` is 3"),
        (
            "count = 3\nedge = \"0.3\"\npitch = \"1\"\nrows = 2\nrow-gap = \"1\"\npattern = { end = \"1\" }\n",
            "`pattern`: 3 fasteners do not make 2 equal rows",
        ),
        ("count = 3\nedge = \"0.3\"\npattern = { end = \"1\" }\n", "`pattern`: no pitch is given"),
        ("count = 3\npitch = \"1\"\npattern = { end = \"1\" }\n", "`pattern`: no edge distance is given"),
        ("count = 3\npitch = \"1\"\npattern = { edge = \"1\" }\n", "`pattern`: neither `end` nor `points` is given"),
        (
            "count = 4\nedge = \"0.3\"\npitch = \"1\"\nrows = 2\npattern = { end = \"1\" }\n",
            "`pattern`: no row gap is given",
        ),
        (
            "count = 1\npattern = { end = \"1\", points = [[\"1\", \"1\"]] }\n",
            "`pattern`: `points` and rows exclude each other",
        ),
        (
            "count = 2\nedge = \"0.3\"\npitch = \"1\"\npattern = { end = \"0.25\" }\n",
            "`pattern`: a hole lies 0.250 in from edge or end, but the joint's smallest `edge` is 0.300 in",
        ),
        (
            "count = 2\nedge = \"0.3\"\npitch = \"1\"\npattern = { end = \"0.3\", pitch = \"0.9\" }\n",
            "`pattern`: two holes of a row lie 0.900 in apart, but the joint's `pitch` is 1.000 in",
        ),
        (
            "count = 2\npattern = { points = [[\"1\", \"1\"], [\"1\", \"1\"]] }\n",
            "`pattern`: two holes lie at the same place, 1.000 in from the end",
        ),
        (
            "count = 1\npattern = { points = [[\"1\", \"1\"]], across = \"up\", along = \"down\" }\n",
            "`pattern`: `across` is `up` and `along` is `down`: both run the same way",
        ),
        (
            "count = 1\npattern = { points = [\"1\"] }\n",
            "`points` is a text, but it must be a pair of sizes, as [\"0.5\", \"0.25\"]",
        ),
    ];
    for (keys, wanted) in cases {
        let (_, said) = read(keys);
        assert!(said.iter().any(|message| message == wanted), "{wanted} is not in {said:?}");
    }
}

fn strip(holes: &[(&str, &str)], mirrored: bool) -> Strip {
    Strip {
        title: "J1".into(),
        drill: "drill #40 (0.098 in)".into(),
        edge: "edge: rear flange".into(),
        end: "root".into(),
        across: Some(Direction::Up),
        along: Some(Direction::Outboard),
        holes: holes.iter().map(|(along, across)| Hole { along: length(along), across: length(across) }).collect(),
        hole: size("#30"),
        least: ("2 D".into(), length("0.25")),
        next: Some(("5/32".into(), length("0.3125"))),
        mirrored,
    }
}

#[test]
fn a_strip_is_life_size_and_the_other_hand_is_its_mirror() {
    let holes = [("0.5", "0.3"), ("1.25", "0.3"), ("2.0", "0.3")];
    let drawn = [false, true].map(|mirrored| strips(&strip(&holes, mirrored), ROOM, &crate::INCH).unwrap());
    for one in &drawn {
        assert_eq!((one.len(), one[0].scale.as_deref()), (1, Some("1:1")));
        assert_inside(&one[0]);
    }
    for (one, along) in drawn.iter().zip(["↑ UP   OUTBOARD →", "↑ UP   ← OUTBOARD"]) {
        let text = labels(&one[0]);
        for wanted in ["drill #40 (0.098 in)", "EDGE: REAR FLANGE", "ROOT", along] {
            assert!(text.contains(&wanted), "{wanted} is not in {text:?}");
        }
    }
    let places = drawn.each_ref().map(|one| circles(&one[0]));
    for (index, ((left, radius), (right, _))) in places[0].iter().zip(&places[1]).enumerate() {
        assert_eq!(*radius * 2, length("#30"));
        assert_eq!(left.0 - places[0][0].0.0, length("0.75") * i64::try_from(index).unwrap());
        assert_eq!(left.0 + right.0, drawn[0][0].width, "mirrored about the strip's middle");
        assert_eq!(left.1, right.1);
    }
}

#[test]
fn long_patterns_are_cut_at_holes_that_both_strips_show() {
    let all: Vec<String> = (0..20).map(|n| format!("{n}.5")).collect();
    let holes: Vec<(&str, &str)> = all.iter().map(|along| (along.as_str(), "0.3")).collect();
    let drawn = strips(&strip(&holes, false), ROOM, &crate::BOTH).unwrap();
    let shown: Vec<usize> = drawn.iter().map(|one| circles(one).len()).collect();
    assert_eq!(shown.iter().sum::<usize>(), 20 + drawn.len() - 1, "each cut shows its hole twice: {shown:?}");
    for (index, one) in drawn.iter().enumerate() {
        assert!(one.width <= ROOM.width);
        assert_inside(one);
        let text = labels(one);
        assert!(text.iter().any(|line| line.contains(&format!("strip {} of {}", index + 1, drawn.len()))), "{text:?}");
        assert!(text.contains(&"50 mm") && text.contains(&"2 in"), "every strip has its bars: {text:?}");
        let (before, after) = (index.checked_sub(1), (index + 1 < drawn.len()).then_some(index));
        for letter in [before, after].into_iter().flatten() {
            let wanted = format!("match {}", char::from(b'A' + u8::try_from(letter).unwrap()));
            assert!(text.contains(&wanted.as_str()), "{wanted} is not in {text:?}");
        }
    }
}

#[test]
fn a_pattern_that_does_not_fit_the_paper_is_refused_never_shrunk() {
    assert_eq!(strips(&strip(&[], false), ROOM, &crate::INCH), Err(StripFault::Empty));
    assert!(matches!(strips(&strip(&[("1", "8")], false), ROOM, &crate::INCH), Err(StripFault::TooWide { .. })));
    assert!(matches!(
        strips(&strip(&[("1", "0.3"), ("9", "0.3")], false), ROOM, &crate::INCH),
        Err(StripFault::TooFarApart { .. })
    ));
    let all: Vec<String> = (0..100).map(|n| format!("{n}.5")).collect();
    let holes: Vec<(&str, &str)> = all.iter().map(|along| (along.as_str(), "0.3")).collect();
    let fault = strips(&strip(&holes, false), ROOM, &crate::INCH).unwrap_err();
    let said = fault.words(&crate::INCH);
    assert!(said.starts_with("No 1:1 strip: it would take "), "{said}");
}
