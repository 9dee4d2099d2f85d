//! Runs of steps by themselves, copies for reading, large type, both sides of a sheet.

use std::collections::BTreeMap;

use shophead::job::Paper;
use shophead::plan::{Edition, Options, Packet, StepRun};
use shophead::render::BoxPlace;

use crate::build::bracket::bracket_packets;
use crate::render::{laid, packed, whole};

fn run(first: usize, last: usize) -> Packet {
    bracket_packets(Options { steps: Some(StepRun { first, last }), ..Options::default() }).remove(0)
}

fn printed(options: Options) -> Packet {
    bracket_packets(options).remove(0)
}

/// Pieces set by call, fit-up hardware left out: it goes in once and stays over several steps.
fn pieces(packets: &[&Packet]) -> BTreeMap<String, u32> {
    let mut sums = BTreeMap::new();
    for line in packets.iter().flat_map(|packet| &packet.preparation.hardware).filter(|line| !line.temporary) {
        *sums.entry(line.call.clone()).or_default() += line.total;
    }
    sums
}

#[test]
fn a_run_says_of_its_steps_exactly_what_the_packet_says() {
    let whole = super::left();
    let end = whole.steps.len() - 1;
    for first in 0..=end {
        for last in first..=end {
            let part = run(first, last);
            let json = |steps: &[shophead::plan::StepSheet]| serde_json::to_string(steps).unwrap();
            assert_eq!(json(&part.steps), json(&whole.steps[first..=last]));
            assert_eq!(part.figures.joints.len(), part.joints.len());
            assert_eq!(part.head.code, whole.head.code, "the boxes count for the same sheet");
            assert_eq!(part.closeout.is_some(), last == end);
            let named: Vec<&String> = part.steps.iter().flat_map(|step| &step.joints).map(|joint| &joint.id).collect();
            assert!(part.joints.iter().all(|joint| named.contains(&&joint.id)), "{first}..{last}");
            let numbers: Vec<&String> = part.steps.iter().map(|step| &step.number).collect();
            assert!(part.preparation.tools.iter().flat_map(|tool| &tool.steps).all(|number| numbers.contains(&number)));
        }
    }
}

#[test]
fn the_runs_of_a_packet_take_together_what_the_packet_takes() {
    let whole = super::left();
    let end = whole.steps.len() - 1;
    for cut in 0..end {
        assert_eq!(pieces(&[&run(0, cut), &run(cut + 1, end)]), pieces(&[&whole]), "cut after {cut}");
    }
}

#[test]
fn every_page_of_a_run_says_so() {
    let part = run(1, 2);
    let (first, last) = (&part.steps[0].number, &part.steps[1].number);
    assert_eq!(part.stem(), format!("T-1-left-{first}-{last}"));
    for page in laid(&part.document()).page_texts() {
        assert!(packed(&page).contains(&packed(&format!("steps {first} to {last} only"))), "{page}");
    }
    assert_ne!(part.document().identifier(), super::left().document().identifier());
    let one = run(2, 2);
    assert_eq!(one.stem(), format!("T-1-left-{last}"));
}

#[test]
fn a_copy_for_reading_has_no_box_and_no_machine_readable_code() {
    let reference = printed(Options { reference: true, ..Options::default() });
    assert_eq!(reference.stem(), "T-1-left-reference");
    let document = reference.document();
    assert_eq!(document.code, None);
    let pages = laid(&document);
    assert!(pages.boxes().unwrap().is_empty());
    let code = reference.head.code.clone().unwrap();
    for page in pages.page_texts() {
        assert!(
            packed(&page).contains("REFERENCE:nothingissignedhere") && packed(&page).contains(&packed(&code)),
            "{page}"
        );
        assert!(!packed(&page).contains("recordcopy") && !packed(&page).contains("DRAFT"));
    }
}

fn boxes(edition: Edition) -> Vec<BoxPlace> {
    laid(&printed(Options { edition, ..Options::default() }).document()).boxes().unwrap()
}

#[test]
fn large_type_has_the_same_boxes_of_the_same_size_and_stays_on_the_page() {
    let about = |one: &BoxPlace| (one.step.clone(), one.role.clone(), one.field.clone(), one.width, one.height);
    let large = Edition { large: true, ..Edition::default() };
    // Rows for what was not foreseen are as many as leave room for the close-out on its page.
    let foreseen = |one: &&BoxPlace| !one.step.starts_with("90");
    let of = |edition| boxes(edition).iter().filter(foreseen).map(about).collect::<Vec<_>>();
    let (usual, larger) = (of(Edition::default()), of(large));
    assert_eq!(usual, larger);
    for paper in [Paper::UsLetter, Paper::A4] {
        let packet = printed(Options { edition: large, paper: Some(paper), ..Options::default() });
        assert_eq!(packet.stem(), "T-1-left-large");
        let pages = laid(&packet.document());
        let (width, _) = pages.page_sizes()[0];
        // The word beside the change column is turned, and ends where it starts.
        for (page, x, text) in pages.text_ends().into_iter().filter(|(_, _, text)| text != "changed") {
            assert!(x.0 <= width.0 - 14_000, "page {page}: `{text}` ends at {x:?} of {width:?}");
        }
        assert!(whole(&pages).contains(&packed(&packet.steps[0].title)));
    }
}

#[test]
fn on_the_back_of_a_sheet_the_margins_change_sides() {
    let (usual, duplex) = (boxes(Edition::default()), boxes(Edition { duplex: true, ..Edition::default() }));
    assert_eq!(usual.len(), duplex.len());
    for (one, other) in usual.iter().zip(&duplex) {
        // 28 mm of margin on the hole side, 14 mm on the other: on a back everything stands 14 mm further left.
        let moved = if one.page % 2 == 0 { 14_000 } else { 0 };
        assert_eq!((one.page, one.y), (other.page, other.y));
        assert!((one.x.0 - other.x.0 - moved).abs() <= 10, "page {}: {} and {}", one.page, one.x.0, other.x.0);
    }
    let document =
        printed(Options { edition: Edition { duplex: true, ..Edition::default() }, ..Options::default() }).document();
    for body in laid(&document).bodies().unwrap() {
        assert_eq!(body.left.0, if body.page % 2 == 0 { 14_000 } else { 28_000 }, "page {}", body.page);
    }
}
