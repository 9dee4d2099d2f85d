//! What a packet says about the state of the work: open counts in front, the last look at the closing step.

use shophead::job::{Job, Order, State};
use shophead::plan::{AtPrinting, Options, Packet, Source, packet};
use shophead::report::Report;
use shophead::work::packet_digest;

use super::board::{bay, board_at, done};
use crate::render::{laid, packed, whole};

fn packet_at(progress: &str) -> (Packet, Job) {
    let (_, job, state) = board_at(&bay(), progress, "2026-03-02T18:00", 60);
    (marked(&job, &state), job)
}

fn marked(job: &Job, state: &State) -> Packet {
    let work = AtPrinting::of(job, &Order::of(job), state);
    let report = Report::default();
    let source = Source::of_specs(job, 0, None, &report, Options::default());
    packet(Source { work: Some(&work), ..source }).unwrap()
}

fn steps(names: &[&str]) -> String {
    names.iter().map(|name| done(&format!("A/{name}"), "2026-03-01")).collect()
}

#[test]
fn what_is_open_stands_on_every_page_and_on_the_cover() {
    let progress =
        steps(&["fit", "rivet"]) + "[[discrepancy]]\nnumber = \"7\"\nstep = \"A/rivet\"\nwhat = \"hole long\"\n";
    let (packet, _) = packet_at(&progress);
    let open = packet.head.open.clone().unwrap();
    assert_eq!(open, "4 temporary fasteners, 2 holes left open, 1 discrepancy");
    let pages = laid(&packet.document());
    for page in pages.page_texts() {
        assert!(packed(&page).contains(&packed(&open)), "{page}");
    }
    assert!(whole(&pages).contains(&packed("7: hole long")));
    let at_step: Vec<&[String]> =
        packet.steps.iter().map(|step| step.discrepancies.as_slice()).filter(|own| !own.is_empty()).collect();
    assert_eq!(at_step, [["7: hole long"]], "and at its own step");
    let (nothing, _) = packet_at("");
    assert_eq!(nothing.head.open, None);
    assert!(!whole(&laid(&nothing.document())).contains(&packed("open at printing:")));
}

#[test]
fn the_closing_step_names_all_that_is_left_and_counts_what_is_signed() {
    let text = |names: &[&str]| whole(&laid(&packet_at(&steps(names)).0.document()));
    let begun = text(&["fit", "rivet"]);
    for left in [
        "Last chance: Bay",
        "2 of 4 steps in it were signed",
        "A steps 030, 040",
        "4 x AN3-6A, temporary hardware",
        "2 x MS20470AD4-4, holes left open",
    ] {
        assert!(begun.contains(&packed(left)), "{left} is not in\n{begun}");
    }
    assert!(!begun.contains(&packed("photo 010")), "what is signed is only counted");
    let fresh = text(&[]);
    assert!(
        fresh.contains(&packed("A steps 010, 020, 030, 040; photo 010"))
            && !fresh.contains(&packed("were signed at printing"))
    );
    let ended = text(&["fit", "rivet", "final", "fill"]);
    assert!(ended.contains(&packed("nothing else lies")) && !ended.contains(&packed("temporary hardware,")));
    assert!(!text(&["fit", "rivet", "final", "fill", "close"]).contains(&packed("Last chance")), "it is closed");
}

#[test]
fn the_state_of_the_work_changes_no_sheet_code() {
    let (before, job) = packet_at("");
    let (after, _) = packet_at(&steps(&["fit", "rivet", "final"]));
    assert_eq!(before.head.code, after.head.code);
    assert_eq!(before.head.code.unwrap(), packet_digest(&job, 0, None).code().to_string());
}
