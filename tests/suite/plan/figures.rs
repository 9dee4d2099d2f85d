//! The figures of a packet: taken from its joints and steps, complete for every traveler of the demo.

use shophead::job::{Hand, resolve};
use shophead::plan::{Figures, Options, Source, packets, rungs};
use shophead::report::Report;
use shophead::spec::load;
use shophead::text::Files;

use crate::build::bracket::{BRACKET, FAIRING, PROJECT, bracket, job};
use crate::figure::{assert_inside, circles, labels};

fn figures(hand: Hand) -> Figures {
    let (job, report) = bracket();
    Figures::of(Source::of_specs(&job, 0, Some(hand), &report, Options::default()))
}

#[test]
fn the_map_shows_holds_witnesses_waits_and_what_closes() {
    let map = figures(Hand::Left).map.unwrap();
    let text = labels(&map);
    for wanted in ["010", "080", "drill", "H", "W", "CLOSES"] {
        assert!(text.contains(&wanted), "{wanted} is not in {text:?}");
    }
    let expected = [
        "040 then wait: 1 d at least, 3 d at most",
        "060 WITNESS: technical counselor is invited",
        "070 HOLD for inspector",
        "080 HOLD for technical counselor; closes Left bay behind the spar",
    ];
    assert_eq!(map.notes, expected);
    assert_eq!(circles(&map).len(), 8, "one circle a step");
    assert_inside(&map);
}

#[test]
fn a_hole_is_shown_from_delivery_to_the_next_size() {
    let (job, _) = bracket();
    let traveler = &job.travelers[0];
    let said = |joint: usize| -> Vec<String> {
        let short = |size: Option<shophead::units::Size>| size.map_or("none".to_owned(), |size| crate::INCH.name(size));
        rungs(&traveler.joints[joint], traveler, &crate::INCH)
            .iter()
            .map(|rung| format!("{}: {}", rung.when, short(rung.size)))
            .collect()
    };
    assert_eq!(said(0), ["as delivered: #40", "010 drill: #30", "next size 5/32 in: #21"]);
    assert_eq!(said(1), ["as delivered: none", "020 ream: 3/16 in"], "a bolt has no next size in a table");
    assert_eq!(said(2), ["as delivered: #50", "010 drill: #40", "next size 1/8 in: #30"]);
}

#[test]
fn holes_as_delivered_are_shown_by_layer_where_they_differ() {
    let spec = BRACKET.replacen("start = \"#40\"", "start = [\"#40\", \"#30\"]", 1);
    let (job, report) = job(PROJECT, &[&spec, FAIRING]);
    let traveler = &job.travelers[0];
    let shown: Vec<String> =
        rungs(&traveler.joints[0], traveler, &crate::INCH).into_iter().map(|rung| rung.when).collect();
    let ids: Vec<&str> =
        traveler.joints[0].layers.iter().map(|layer| traveler.parts[layer.part.unwrap()].id.value.as_str()).collect();
    assert_eq!(shown[..2], [format!("as delivered: {}", ids[0]), format!("as delivered: {}", ids[1])]);
    let packet = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0);
    let rung = &packet.joints[0].ladder[0];
    assert_eq!(rung.short, "#40, #30");
    assert!(rung.full.starts_with("#40 (0.098 in) in ") && rung.full.contains(", #30 (0.1285 in"), "{}", rung.full);
}

#[test]
fn steps_that_form_or_fasten_show_the_section() {
    let shown: Vec<usize> = figures(Hand::Left).steps.iter().map(Vec::len).collect();
    assert_eq!(shown, [0, 0, 1, 0, 0, 1, 0, 0], "dimple and bolt; the rivet step has two joints");
}

#[test]
fn gauges_are_for_the_calls_of_the_packet() {
    let gauges = figures(Hand::Left).gauges.unwrap();
    let text = labels(&gauges).join("|");
    for wanted in [
        "1/8 in rivets",
        "MS20470AD4-5",
        "3/32 in rivets",
        "MS20426AD3-4",
        "holes of 1/8 in solid rivets",
        "holes of 0.190 in bolts",
    ] {
        assert!(text.contains(wanted), "{wanted} is not in {text}");
    }
    assert_inside(&gauges);
}

#[test]
fn a_pattern_becomes_a_strip_for_each_hand() {
    let with_pattern = BRACKET.replacen("pitch = \"0.75\"\n", "pitch = \"0.75\"\npattern = { end = \"0.5\" }\n", 1);
    let (job, report) = job(PROJECT, &[&with_pattern, FAIRING]);
    assert_eq!(report.findings, []);
    let of = |hand| Figures::of(Source::of_specs(&job, 0, Some(hand), &report, Options::default())).strips;
    let (left, right) = (of(Hand::Left), of(Hand::Right));
    assert_eq!((left.len(), left[0].id.as_str(), left[0].refused.clone()), (1, "J1", None));
    assert!(
        labels(&left[0].strips[0])[0..]
            .iter()
            .any(|text| text.starts_with("J1 Plate to rib, LEFT, seen from the head side"))
    );
    assert_eq!(left[0].strips.len(), right[0].strips.len());
    let across =
        |strip: &[shophead::figure::Drawing]| circles(&strip[0]).into_iter().map(|(at, _)| at.0).collect::<Vec<_>>();
    let width = left[0].strips[0].width;
    let mirrored: Vec<_> = across(&right[0].strips).into_iter().map(|x| width - x).collect();
    assert_eq!(across(&left[0].strips), mirrored);
}

#[test]
fn every_joint_of_the_demo_has_a_section_and_a_ladder_inside_their_frames() {
    let (mut files, mut report) = (Files::default(), Report::default());
    let project = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/build.toml");
    let job = resolve(load(&project, &mut files, &mut report).unwrap(), &mut report);
    assert!(job.travelers.len() >= 6);
    for (index, traveler) in job.travelers.iter().enumerate() {
        for hand in job.hands_of(index) {
            let figures = Figures::of(Source::of_specs(&job, index, hand, &report, Options::default()));
            assert_inside(&figures.map.unwrap());
            for joint in figures.joints {
                let at = format!("{} {}", traveler.id.value, joint.id);
                assert_inside(&joint.section.unwrap_or_else(|| panic!("{at} has no section")));
                assert_inside(&joint.ladder.unwrap_or_else(|| panic!("{at} has no ladder")));
            }
            figures.gauges.iter().for_each(assert_inside);
            figures.strips.iter().flat_map(|sheet| &sheet.strips).for_each(assert_inside);
        }
    }
}
