//! How many pages the small jobs of a shop take with the steps that follow from them: two sides of a sheet, or what is said here.

use shophead::plan::{Options, Packet, packets};
use shophead::render::Laid;

use super::fault::faults;
use crate::build::bracket::{PROJECT, job};
use crate::render::laid;

/// Parts of a job as id, name and thickness in inches, of 2024-T3.
type Parts = &'static [(&'static str, &'static str, &'static str)];

const TWO: Parts = &[("A101", "Bracket", "0.040"), ("A102", "Baggage bulkhead", "0.032")];
const THREE: Parts =
    &[("A101", "Bracket", "0.040"), ("A102", "Baggage bulkhead", "0.032"), ("A103", "Doubler", "0.032")];

/// A traveler of parts and joints alone: its steps follow from them.
fn traveler(parts: Parts, joints: &[&str]) -> String {
    let head = "[traveler]\nid = \"SM-2\"\ntitle = \"Antenna bracket on the bulkhead\"\nrevision = \"A\"\n\
                drawings = [\"W-1:C\"]\nsteps = \"usual\"\n";
    let part = |(id, name, thickness): &(&str, &str, &str)| {
        format!("[[part]]\nid = \"{id}\"\nname = \"{name}\"\nmaterial = \"2024-T3\"\nthickness = \"{thickness}\"\n")
    };
    let parts: String = parts.iter().map(part).collect();
    let joints: String = joints.iter().map(|joint| format!("[[joint]]\n{joint}\n")).collect();
    format!("{head}{parts}{joints}")
}

/// A joint that is reached from both sides, on no structure.
fn joint(id: &str, name: &str, stack: &str, fastener: &str, rest: &str) -> String {
    format!(
        "id = \"{id}\"\nname = \"{name}\"\nstack = [{stack}]\nfastener = \"{fastener}\"\nstructure = \"none\"\n\
         access = \"both sides\"\n{rest}"
    )
}

fn bracket() -> String {
    joint(
        "J1",
        "Bracket to bulkhead",
        r#""A101", "A102""#,
        "MS20470AD3",
        "count = 4\nedge = \"0.30\"\npitch = \"0.75\"",
    )
}

fn doubler() -> String {
    joint(
        "J2",
        "Doubler to bulkhead",
        r#""A103", "A102""#,
        "MS20470AD3",
        "count = 12\nedge = \"0.30\"\npitch = \"0.75\"",
    )
}

fn clip() -> String {
    joint("J3", "Bracket to doubler", r#""A101", "A103""#, "MS20470AD4", "count = 6\nedge = \"0.35\"\npitch = \"0.75\"")
}

fn printed(traveler: &str) -> (Packet, Laid) {
    let (job, report) = job(PROJECT, &[traveler]);
    let wrong: Vec<_> = report.findings.iter().filter(|finding| finding.stops()).collect();
    assert!(wrong.is_empty(), "{wrong:?}");
    let packet = packets(&job, 0, &report, &Options::default()).unwrap().remove(0);
    let pages = laid(&packet.document());
    (packet, pages)
}

#[test]
fn small_jobs_of_every_kind_go_on_the_two_sides_of_a_sheet() {
    let mut wrong = Vec::new();
    for (name, parts, joints) in [
        ("one joint", TWO, vec![bracket()]),
        ("two joints", THREE, vec![bracket(), doubler()]),
        ("three joints", THREE, vec![bracket(), doubler(), clip()]),
    ] {
        let joints: Vec<&str> = joints.iter().map(String::as_str).collect();
        let (packet, pages) = printed(&traveler(parts, &joints));
        let (steps, sides) = (packet.steps.len(), pages.page_count());
        if sides > 2 || steps > 8 {
            wrong.push(format!("{name}: {sides} pages, {steps} steps"));
        }
        wrong.extend(faults(&pages).into_iter().map(|fault| format!("{name}: {fault}")));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
