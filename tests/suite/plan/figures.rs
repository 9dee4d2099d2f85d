//! The figures of a packet: taken from its joints and steps, complete for every traveler of the demo.

use shophead::job::{Hand, resolve};
use shophead::plan::{Figures, Options, Source, packets};
use shophead::report::Report;
use shophead::spec::load;
use shophead::text::Files;

use crate::build::bracket::{BRACKET, FAIRING, PROJECT, job};
use crate::figure::{assert_inside, circles, labels};

#[test]
fn holes_as_delivered_are_shown_by_layer_where_they_differ_and_the_next_size_has_its_drill() {
    let spec = BRACKET.replacen("start = \"#40\"", "start = [\"#40\", \"#30\"]", 1);
    let (job, report) = job(PROJECT, &[&spec, FAIRING]);
    let packet = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0);
    let rung = &packet.joints[0].ladder[0];
    assert_eq!((rung.when.as_str(), rung.short.as_str()), ("as delivered", "#40, #30"));
    assert!(rung.more.starts_with("#40 (0.098 in) in ") && rung.more.contains(", #30 (0.1285 in"), "{}", rung.more);
    assert!(
        packet.joints[0].next_size.why.starts_with("5/32 in rivet, hole #21: "),
        "{:?}",
        packet.joints[0].next_size
    );
}

#[test]
fn a_pattern_becomes_a_strip_for_each_hand() {
    let drilled = BRACKET.replacen("pitch = \"0.75\"\n", "pitch = \"0.75\"\npattern = { end = \"0.5\" }\n", 1);
    let with_pattern =
        drilled.replacen("holes = { start = \"#40\", final = \"#30\" }", "holes = { final = \"#30\" }", 1);
    let (delivered, report) = job(PROJECT, &[&drilled, FAIRING]);
    let there = Figures::of(Source::of_specs(&delivered, 0, Some(Hand::Left), &report, Options::default()));
    assert_eq!(there.strips.len(), 0, "a hole that is delivered needs no template");
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
fn every_joint_of_the_demo_has_a_section_inside_its_frame() {
    let (mut files, mut report) = (Files::default(), Report::default());
    let project = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/build.toml");
    let job = resolve(load(&project, &mut files, &mut report).unwrap(), &mut report);
    assert!(job.travelers.len() >= 6);
    for (index, traveler) in job.travelers.iter().enumerate() {
        for hand in job.hands_of(index) {
            let figures = Figures::of(Source::of_specs(&job, index, hand, &report, Options::default()));
            for joint in figures.joints {
                let at = format!("{} {}", traveler.id.value, joint.id);
                assert_inside(&joint.section.unwrap_or_else(|| panic!("{at} has no section")));
            }
            figures.strips.iter().flat_map(|sheet| &sheet.strips).for_each(assert_inside);
        }
    }
}
