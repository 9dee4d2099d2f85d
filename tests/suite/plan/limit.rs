//! One figure a limit: what is typed keeps its digits everywhere.

use std::collections::{BTreeMap, BTreeSet};

use shophead::archive::SheetRequirement;
use shophead::hardware::Fastener;
use shophead::job::{Job, Joint, resolve};
use shophead::plan::{Options, Packet, packets};
use shophead::report::Report;
use shophead::spec::load;
use shophead::text::Files;
use shophead::units::Length;
use shophead::work::sheet_requirement;

use crate::build::bracket::{PROJECT, job};
use crate::build::shop::root;
use crate::build::text::{self, part};

fn measuring(limits: &str) -> Job {
    let traveler = text::traveler("T", "")
        + &part("P", "plate", "0.250")
        + "[[step]]\nid = \"m\"\ntitle = \"Measure\"\ndo = \"measure\"\nparts = [\"P\"]\n"
        + &format!("records = [{{ id = \"bore\", label = \"Bore\", unit = \"in\", {limits} }}]\n");
    job(PROJECT, &[&traveler]).0
}

fn printed(job: &Job) -> String {
    let report = Report::default();
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

fn rivets(records: &str) -> Packet {
    let traveler = text::traveler("T", "")
        + &part("P", "skin", "0.032")
        + &part("Q", "rib", "0.032")
        + &text::joint("J", &["P", "Q"], "fastener = \"MS20470AD5-4\"\ncount = 8")
        + &text::joint("K", &["P", "Q"], "fastener = \"MS20470AD4-4\"\ncount = 8")
        + "[[step]]\nid = \"rivet\"\ntitle = \"Rivet\"\ndo = \"rivet\"\njoints = [\"J\", \"K\"]\n"
        + "[[step]]\nid = \"look\"\ntitle = \"Look\"\ndo = \"inspect\"\njoints = [\"J\", \"K\"]\n"
        + &format!("records = [{records}]\n");
    let (job, report) = job(PROJECT, &[&traveler]);
    packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0)
}

/// What is said of the shop head of a joint at a step.
fn head(packet: &Packet, step: usize, joint: usize) -> String {
    let lines = &packet.steps[step].joints[joint].lines;
    lines.iter().find(|line| line.starts_with("shop head")).unwrap().clone()
}

#[test]
fn the_plans_limit_stands_wherever_the_sheet_says_one() {
    let table = rivets("");
    // 1.3 D and .4 D, rounded up; 1.5 D and .5 D to aim at.
    assert_eq!(
        head(&table, 0, 0),
        "shop head: aim at 0.234 in wide, 0.078 in high; at least 0.204 in wide, 0.063 in high"
    );
    let typed = rivets(
        "{ id = \"w\", label = \"Smallest shop head, 5/32 rivets, width\", unit = \"in\", min = 0.2100 }, \
         { id = \"h\", label = \"Lowest shop head of J, height\", unit = \"in\", min = \"0.080\" }",
    );
    for step in [0, 1] {
        assert_eq!(
            head(&typed, step, 0),
            "shop head: aim at 0.234 in wide, 0.080 in high; at least 0.2100 in wide, 0.080 in high",
            "the plans' limits with their digits, and nobody aims below them"
        );
        assert_eq!(head(&typed, step, 1), head(&table, step, 1), "the labels are about other rivets");
    }
    // In another language the record says what it measures.
    let told = |keys: &str| {
        rivets(&format!(
            "{{ id = \"b\", label = \"Kleinster Schließkopf, Breite\", unit = \"mm\", min = 5.4, {keys} }}"
        ))
    };
    assert!(head(&told("measures = \"shop head width\""), 0, 0).ends_with("at least 5.4 mm wide, 0.063 in high"));
    assert!(head(&told(""), 0, 0).ends_with("at least 0.204 in wide, 0.063 in high"));
    // A label that is looser than the table by more than its last place is about something else, or wrong: the table stays.
    let loose = rivets("{ id = \"w\", label = \"Smallest shop head, width\", unit = \"in\", min = 0.150 }");
    assert!(head(&loose, 0, 0).contains("at least 0.204 in wide"));
}

#[test]
fn torque_and_drag_of_the_plans_readings_are_those_of_the_strip() {
    let strip = |records: &str| {
        let traveler = text::traveler("T", "")
            + &part("P", "skin", "0.063")
            + &part("Q", "rib", "0.063")
            + &text::joint("J", &["P", "Q"], "fastener = \"AN3-5A\"\ncount = 2\nnut = \"MS21044N3\"")
            + "[[step]]\nid = \"bolt\"\ntitle = \"Bolt\"\ndo = \"bolt\"\njoints = [\"J\"]\n"
            + &format!("records = [{records}]\n");
        let (job, report) = job(PROJECT, &[&traveler]);
        let packet = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0);
        packet.steps[0].torques[0].clone()
    };
    let narrow = strip("{ id = \"t\", label = \"Torque\", unit = \"in-lb\", min = 22, max = 24 }");
    assert!(narrow.range.starts_with("22-24 in-lb") && narrow.source.starts_with("from the plans"), "{narrow:?}");
    assert_eq!((narrow.settings[1].low.as_str(), narrow.settings[1].high.as_str()), ("25", "27"));
    let setting =
        strip("{ id = \"s\", label = \"Wrench setting, drag included\", unit = \"in-lb\", min = 20, max = 40 }");
    assert!(setting.range.starts_with("20-25 in-lb"), "a setting holds the drag: {setting:?}");
}

#[test]
fn a_new_traveler_asks_for_the_figure_that_its_sheet_says() {
    for call in ["MS20470AD3-4", "MS20470AD5-4", "MS20470AD6-5"] {
        let traveler = text::traveler("T", "")
            + &part("P", "skin", "0.032")
            + &part("Q", "rib", "0.032")
            + &text::joint("J", &["P", "Q"], &format!("fastener = \"{call}\"\ncount = 8"));
        let (job, report) = job(PROJECT, &[&traveler]);
        let packet = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0);
        assert_eq!(disagreements(&job, 0, &packet), [""; 0], "{call}");
        let asked = packet.steps.iter().flat_map(|step| &step.records).filter(|record| record.label.contains("head"));
        assert_eq!(asked.count(), 2);
    }
}

/// The numbers after `at least` in a line, by what stands behind them: `wide`, `high`.
fn least(line: &str) -> BTreeMap<&str, &str> {
    let Some((_, least)) = line.split_once("at least ") else { return BTreeMap::new() };
    let words: Vec<&str> = least.split([' ', ',', ';']).filter(|word| !word.is_empty()).collect();
    words.windows(3).filter(|three| matches!(three[2], "wide" | "high")).map(|three| (three[2], three[0])).collect()
}

/// The joints that a reading of a shop head is about.
fn is_about(joint: &Joint, label: &str) -> bool {
    let size = joint.diameter().and_then(Length::fraction_text).unwrap_or_default();
    let sized = label.contains('/');
    let is_solid = matches!(joint.fastener, Ok(Fastener::SolidRivet(_)));
    is_solid && (!sized || label.contains(&format!(" {size} ")))
}

/// Measurements of a sheet for which two limits are printed.
fn disagreements(job: &Job, index: usize, packet: &Packet) -> Vec<String> {
    let mut figures: BTreeMap<(String, &str), BTreeSet<String>> = BTreeMap::new();
    for step in &packet.steps {
        for joint in &step.joints {
            for (what, figure) in joint.lines.iter().flat_map(|line| least(line)) {
                let key = if what == "wide" { "width" } else { "height" };
                figures.entry((joint.id.clone(), key)).or_default().insert(figure.to_owned());
            }
        }
        for record in step.records.iter().filter(|record| record.label.contains(" head")) {
            let Some(least) = record.requirement.strip_prefix("at least ") else { continue };
            let figure = least.split(' ').next().unwrap().to_owned();
            let names = |joint: &str| record.label.split([' ', ',']).any(|word| word == joint);
            let some_named = step.joints.iter().any(|joint| names(&joint.id));
            for joint in step.joints.iter().filter(|joint| !some_named || names(&joint.id)) {
                let at = job.travelers[index].joints.iter().find(|own| own.id.value == joint.id).unwrap();
                let what = ["width", "height"].into_iter().find(|what| record.label.contains(what));
                if let Some(what) = what.filter(|_| is_about(at, &record.label)) {
                    figures.entry((joint.id.clone(), what)).or_default().insert(figure.clone());
                }
            }
        }
        for strip in &step.torques {
            for record in step.records.iter().filter(|record| record.unit.as_deref() == Some("in-lb")) {
                let numbers: Vec<&str> =
                    record.requirement.split(' ').filter(|word| word.parse::<f64>().is_ok()).collect();
                if record.label.contains("drag") && numbers.len() == 1 {
                    let last = strip.settings.last().map(|setting| setting.drag.clone());
                    let drags = figures.entry((strip.joint.clone(), "drag")).or_default();
                    drags.extend(last);
                    drags.insert(numbers[0].to_owned());
                } else if record.label.to_lowercase().contains("torque") {
                    let range = strip.range.split(' ').next().unwrap().to_owned();
                    let torques = figures.entry((strip.joint.clone(), "torque")).or_default();
                    torques.extend([range, numbers.join("-")]);
                }
            }
        }
    }
    let several = figures.into_iter().filter(|(_, figures)| figures.len() > 1);
    several.map(|((joint, what), figures)| format!("{} {joint} {what}: {figures:?}", packet.head.title)).collect()
}

fn demo() -> (Job, Report) {
    let (mut files, mut report) = (Files::default(), Report::default());
    let spec = load(&root().join("demo-data/build.toml"), &mut files, &mut report).unwrap();
    let job = resolve(spec, &mut report);
    (job, report)
}

#[test]
fn no_sheet_of_the_demo_prints_two_limits_for_one_measurement() {
    let (job, report) = demo();
    let mut wrong = Vec::new();
    let mut seen = 0;
    for index in 0..job.travelers.len() {
        for packet in packets(&job, index, &report, &Options { draft: true, ..Options::default() }).unwrap() {
            seen += packet.steps.iter().map(|step| step.records.len()).sum::<usize>();
            wrong.extend(disagreements(&job, index, &packet));
        }
    }
    assert!(seen > 100, "{seen} readings");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}
