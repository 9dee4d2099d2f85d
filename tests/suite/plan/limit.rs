//! One figure a limit: what is typed keeps its digits everywhere.

use shophead::archive::SheetRequirement;
use shophead::job::Job;
use shophead::plan::{Options, packets};
use shophead::work::sheet_requirement;

use crate::build::bracket::{PROJECT, job};
use crate::build::text::{self, part};

fn measuring(limits: &str) -> Job {
    let traveler = text::traveler("T", "")
        + &part("P", "plate", "0.250")
        + "[[step]]\nid = \"m\"\ntitle = \"Measure\"\ndo = \"measure\"\nparts = [\"P\"]\n"
        + &format!("records = [{{ id = \"bore\", label = \"Bore\", unit = \"in\", {limits} }}]\n");
    job(PROJECT, &[&traveler]).0
}

fn printed(job: &Job) -> String {
    let report = shophead::report::Report::default();
    let packet = packets(job, 0, &report, &Options::default()).unwrap().remove(0);
    packet.steps[0].records[0].requirement.clone()
}

#[test]
fn typed_limits_keep_their_zeros_on_paper_and_in_the_archive_and_count_by_their_value() {
    let plain = measuring("min = 0.5, max = 0.501");
    let code = |job: &Job| sheet_requirement(job, 0, None).code();
    for limits in ["min = 0.5000, max = 0.5010", "min = \"0.5000\", max = \"0.5010\""] {
        let job = measuring(limits);
        assert_eq!(printed(&job), "0.5000 to 0.5010 in");
        let requirement = sheet_requirement(&job, 0, None);
        let text = requirement.text();
        assert!(text.contains("0.5000") && text.contains("0.5010"), "{text}");
        let read = SheetRequirement::parse(text.as_bytes()).unwrap();
        assert_eq!(read.steps[0].limits("bore").words(Some("in")).as_deref(), Some("0.5000 to 0.5010 in"));
        assert_eq!(code(&job), code(&plain), "no other requirement");
    }
    assert_eq!(printed(&plain), "0.5 to 0.501 in");
    assert_eq!(printed(&measuring("min = \"0.50\", max = 0.5")), "exactly 0.50 in");
}
