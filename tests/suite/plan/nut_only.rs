//! The same bolt, another nut until paint: the bolt is pulled once, and the paper says that the nut alone is changed.

use shophead::calendar::When;
use shophead::job::{Order, State};
use shophead::plan::{Choice, Options, packets, pick_list};

use crate::build::bracket::{PROJECT, job};
use crate::build::text;

const JOINT: &str = "fastener = \"AN3-5A\"\ncount = 4\nnut = \"MS21044N3\"\n\
    temporary = { nut = \"AN315-3R\", why = \"comes off for paint\" }";

const STEPS: &[&str] = &[
    "id = \"drill\"\ntitle = \"Drill\"\ndo = \"drill\"\njoints = [\"J1\"]",
    "id = \"fit\"\ntitle = \"Fit\"\ndo = \"fit\"\njoints = [\"J1\"]",
    "id = \"bolt\"\ntitle = \"Bolt\"\ndo = \"bolt\"\njoints = [\"J1\"]",
];

#[test]
fn the_bolt_is_pulled_once_and_the_nut_alone_is_changed() {
    let traveler = text::traveler("T", "")
        + &text::part("P", "plate", "0.125")
        + &text::part("Q", "web", "0.125")
        + &text::joint("J1", &["P", "Q"], JOINT)
        + &text::written_steps("", STEPS);
    let (job, report) = job(PROJECT, &[&traveler]);
    let packet = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0);
    let said = |step: usize| {
        let joint = &packet.steps[step].joints[0];
        [vec![joint.lead.clone()], joint.lines.clone()].concat().join("; ")
    };
    assert!(said(1).contains("fit 4 x AN3-5A with AN315-3R: only the nut is temporary"), "{}", said(1));
    assert!(said(2).contains("change the nut only: take off 4 x AN315-3R, AN3-5A stays in"), "{}", said(2));
    assert_eq!(packet.cover.temporary[0].what, "AN315-3R");
    let now = When::parse("2026-03-02").unwrap().earliest;
    let list = pick_list(&job, &Order::of(&job), &State::default(), &Choice::default(), now);
    let mut pulled: Vec<(&str, u32, bool)> =
        list.hardware.iter().map(|line| (line.call.as_str(), line.needed, line.temporary)).collect();
    pulled.sort_unstable();
    assert_eq!(pulled, [("AN3-5A", 4, false), ("AN315-3R", 4, true), ("MS21044N3", 4, false)]);
}
