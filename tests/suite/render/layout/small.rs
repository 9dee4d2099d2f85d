//! A small job goes on one sheet, signatures included, and loses nothing by it; a longer one is printed as ever.

use shophead::plan::{Edition, Options, Packet, packets};
use shophead::render::{BoxPlace, Laid};

use super::fault::faults;
use crate::build::bracket::{PROJECT, job};
use crate::render::{laid, packed, whole};

/// Four rivets through two layers, in the eight steps that follow from them.
const ONE_JOINT: &str = r##"
[traveler]
id = "SM-1"
title = "Antenna bracket"
revision = "A"
[[part]]
id = "B1"
name = "Bracket"
material = "6061-T6"
thickness = "0.063"
[[part]]
id = "B2"
name = "Skin doubler"
material = "2024-T3"
thickness = "0.032"
[[joint]]
id = "J1"
stack = ["B1", "B2"]
holes = { start = "#50" }
fastener = "MS20470AD4"
count = 4
edge = "0.30"
[[step]]
id = "verify"
title = "Verify, lay out the holes, pin the parts"
do = "lay-out"
joints = ["J1"]
text = """
- Compare the revision on each drawing in hand with the one printed in front.
- Count the parts, measure their thickness, mark each with its id and which way is up.
- Mark edge lines, then rows, then holes, on the upper part alone; measure the smallest edge distance.
- Clamp on the lines, square and straight; a sheet holder in every second hole as soon as there are holes."""
[[step]]
id = "pilot"
title = "Drill pilot holes through all layers"
do = "drill"
joints = ["J1"]
to = "#40"
text = "Drill square to the sheet; hold each end first, then from the middle outward."
[[step]]
id = "drill"
title = "Match-drill to final size"
do = "drill"
joints = ["J1"]
text = "Try the drill in scrap of the same stack first, and the fastener in its hole."
[[step]]
id = "deburr"
title = "Take apart and deburr"
do = "deburr"
joints = ["J1"]
text = """
- Mark mating faces and ends before anything comes apart.
- Both faces of every layer, then all edges; break the burr, do not countersink."""
[[step]]
id = "prime"
title = "Clean and prime"
do = "prime"
parts = ["B1", "B2"]
cure = "24 h"
text = """
- Degrease, abrade, wipe until the cloth stays clean; gloves from here on.
- Thin and even, also on faces that will meet; write batch and time of mixing on the sheet."""
[[step]]
id = "fit"
title = "Fit together for fastening"
do = "fit"
parts = ["B1", "B2"]
text = "A sheet holder in every second hole; no gap between the layers; heads on the side that the card shows."
[[step]]
id = "rivet"
title = "Rivet"
do = "rivet"
joints = ["J1"]
text = """
- Drive three, measure their shop heads, then go on.
- A bad one: stop, mark it, write a discrepancy before drilling it out."""
[[step]]
id = "inspect"
title = "Inspect and photograph"
do = "inspect"
joints = ["J1"]
photo = "whole assembly, then each joint; you in one of them"
records = [
    { id = "wide", label = "Smallest shop head, width", unit = "in", min = 0.163, tool = "head gauge" },
    { id = "high", label = "Smallest shop head, height", unit = "in", min = 0.050, tool = "head gauge" },
]
text = "Every head seated, no crack, no gap, no mark on the sheet. Look at it on another day than it was made."
"##;

fn printed(traveler: &str, options: Options) -> (Packet, Laid) {
    let (job, report) = job(PROJECT, &[traveler]);
    let packet = packets(&job, 0, &report, &options).unwrap().remove(0);
    let pages = laid(&packet.document());
    (packet, pages)
}

/// Boxes that a signature, a reading or a photo goes into; what is not foreseen, the state of a joint and the rows of those
/// who sign apart.
fn counting(pages: &Laid) -> Vec<(String, String)> {
    let boxes = pages.boxes().unwrap();
    let counts = |one: &&BoxPlace| {
        !one.step.starts_with("90") && !one.field.starts_with("state:") && one.step != "signature-log"
    };
    let mut all: Vec<_> = boxes.iter().filter(counts).map(|one| (one.step.clone(), one.field.clone())).collect();
    all.sort();
    all
}

#[test]
fn a_small_job_goes_on_one_sheet_with_every_box() {
    let (packet, pages) = printed(ONE_JOINT, Options::default());
    assert!(packet.head.small);
    assert_eq!(pages.page_count(), 2);
    let found = faults(&pages);
    assert!(found.is_empty(), "{}", found.join("\n"));
    // Large type is not set closer: it has the boxes of the usual layout.
    let large = Edition { large: true, ..Edition::default() };
    let (_, usual) = printed(ONE_JOINT, Options { edition: large, ..Options::default() });
    assert!(usual.page_count() > 2);
    assert_eq!(counting(&pages), counting(&usual));
}

/// What a step does not repeat, the card of its joint says on the same sheet.
#[test]
fn the_sheet_of_a_small_job_says_what_the_packet_says() {
    let (packet, pages) = printed(ONE_JOINT, Options::default());
    let text = whole(&pages);
    let mut wanted: Vec<&str> = Vec::new();
    for joint in &packet.joints {
        wanted.extend(joint.ladder.iter().map(|rung| rung.short.as_str()));
        wanted.extend(joint.shop_head.as_deref());
        wanted.extend(joint.places.iter().chain(&joint.brief).map(String::as_str));
        wanted.push(&joint.next_size.brief);
    }
    for step in &packet.steps {
        wanted.push(&step.title);
        wanted.extend(step.cautions.iter().map(|caution| caution.text.as_str()));
        wanted.extend(step.records.iter().map(|record| record.requirement.as_str()));
        for joint in &step.joints {
            wanted.extend(joint.short.iter().chain(&joint.hardware).chain([&joint.lead]).map(String::as_str));
        }
    }
    assert!(wanted.len() > 25, "{}", wanted.len());
    for words in wanted {
        assert!(text.contains(&packed(words)), "`{words}` is not on the sheet");
    }
    let rivet = packet.steps.iter().find(|step| step.id == "rivet").unwrap();
    assert!(rivet.joints.iter().all(|joint| joint.short.iter().any(|line| line.starts_with("manufactured head on"))));
}

#[test]
fn a_job_that_does_not_fit_one_sheet_is_not_set_closer() {
    let more: String = (1..=20).fold(String::new(), |text, n| {
        text + &format!("[[step]]\nid = \"s{n}\"\ntitle = \"Look again\"\ndo = \"inspect\"\n")
    });
    let (_, pages) = printed(&format!("{ONE_JOINT}{more}"), Options::default());
    assert!(whole(&pages).contains("Whosigns"), "the part of the usual front that the sheet of a small job has not");
}
