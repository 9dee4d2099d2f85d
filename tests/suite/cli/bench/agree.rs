//! What the calculators propose passes every rule of `check`, and both read a call and a length alike.
//!
//! Limits are not compared here: both ask the same look-ups for them.

use proptest::prelude::*;
use shophead::hardware::{
    BlindQuestion, Bolt, Head, LengthFit, RIVET_DASHES, RivetProposal, bolt_edge, judge_length, propose_blind,
    propose_bolt, propose_rivet, propose_torque, rivet_of_diameter, standard_sheets,
};
use shophead::job::resolve;
use shophead::report::{Finding, Report, Severity};
use shophead::rules;
use shophead::spec::{Spec, read_project, read_traveler};
use shophead::text::Files;
use shophead::units::{Length, Torque};

use super::{bolt, length, nut, rivet};
use crate::build::text::{self, DUNLIN, part, steps_on, traveler};

/// Judges one traveler text; a text that does not read is a fault of the test.
fn judge(traveler: &str) -> Vec<Finding> {
    let (mut files, mut report) = (Files::default(), Report::default());
    let id = files.add("build.toml", DUNLIN);
    let project = read_project(id, &files, &mut report);
    let id = files.add("t.toml", traveler);
    let read = read_traveler(id, &project, &files, &mut report).unwrap();
    let job = resolve(Spec { project, travelers: vec![read], unread: 0 }, &mut report);
    assert!(report.findings.is_empty(), "{:?}\n{traveler}", report.findings);
    rules::check(&job, &mut report);
    report.findings
}

/// A traveler with one joint through a stack, drilled, deburred and fastened by `fasten`.
fn one_joint(stack: &[Length], fasten: &str, joint: &str) -> String {
    let names: Vec<String> = (0..stack.len()).map(|index| format!("P{index}")).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let parts = names.iter().zip(stack).map(|(name, thickness)| part(name, "sheet", &thickness.inch_exact()));
    let joint = text::joint("J1", &names, &format!("count = 12\n{joint}"));
    traveler("T", "") + &parts.collect::<String>() + &joint + &steps_on("J1", &["drill", "deburr", fasten])
}

/// What is said of sheets that the test made up: no standard ones, thin or thick for their rivet.
const MADE_UP: [&str; 4] =
    ["sheet-not-standard", "rivet-large-for-sheet", "rivet-small-for-sheet", "stack-thick-for-rivet"];

/// Errors and warnings as `rule: message`, but for a thickness that the test made up.
fn faults(findings: &[Finding]) -> Vec<String> {
    let heavy =
        findings.iter().filter(|finding| finding.severity != Severity::Note && !MADE_UP.contains(&finding.rule));
    heavy.map(|finding| format!("{} {}: {}", finding.severity.word(), finding.rule, finding.message)).collect()
}

/// The severity with which a rule fires.
fn fires(findings: &[Finding], rule: &str) -> Option<Severity> {
    findings.iter().find(|finding| finding.rule == rule).map(|finding| finding.severity)
}

/// How each layer is prepared for the rivet's head; none where a sheet suits no preparation without a warning.
fn preparation(found: &RivetProposal, stack: &[Length]) -> Option<Vec<&'static str>> {
    if !found.rivet.head.is_flush() {
        return Some(vec!["plain"; stack.len()]);
    }
    let least = found.countersinks.iter().find(|(_, used)| *used).map(|(least, _)| least.value)?;
    if stack[0] >= least {
        let rest = std::iter::repeat_n("plain", stack.len() - 1);
        return Some(std::iter::once("countersink").chain(rest).collect());
    }
    stack.iter().all(|layer| *layer <= length("0.040")).then(|| vec!["dimple"; stack.len()])
}

/// The joint that a proposal describes, at its recommended distances.
fn joint_of(found: &RivetProposal, call: &str, rows: u32, prepare: &[&str]) -> String {
    // A rivet under 3/32 is not for structure, whatever else is right with it.
    let structure = if found.rivet.diameter < length("3/32") { "none" } else { "primary" };
    let gap = found
        .row_gap
        .as_ref()
        .map_or_else(String::new, |gap| format!("row-gap = \"{}\"\n", gap.recommended.value.inch_exact()));
    format!(
        "fastener = \"{call}\"\nedge = \"{}\"\npitch = \"{}\"\nrows = {rows}\n{gap}prepare = {prepare:?}\nstructure = \"{structure}\"\naccess = \"both sides\"",
        found.edge.recommended.value.inch_exact(),
        found.pitch.value.inch_exact(),
    )
}

/// Every proposal for one stack passes, in every length and every listed hole that is proposed.
fn rivet_proposal_passes(stack: &[Length], dash: u16, head: Head, rows: u32) -> usize {
    let family = rivet_of_diameter(Length::from_64ths(2 * i64::from(dash)), head, &crate::INCH).unwrap();
    let found = propose_rivet(&family, stack, rows).unwrap();
    let Some(prepare) = preparation(&found, stack) else { return 0 };
    for fitting in &found.fitting {
        let joint = joint_of(&found, &fitting.call.usual, rows, &prepare);
        assert_eq!(
            faults(&judge(&one_joint(stack, "rivet", &joint))),
            Vec::<String>::new(),
            "{} through {stack:?}",
            fitting.call.usual
        );
    }
    // Family and diameter alone: `check` takes the length from the stack, by the same look-up.
    let joint = joint_of(&found, &family.call.usual, rows, &prepare);
    if !found.fitting.is_empty() {
        assert_eq!(
            faults(&judge(&one_joint(stack, "rivet", &joint))),
            Vec::<String>::new(),
            "{} through {stack:?}",
            family.call.usual
        );
    }
    for hole in &found.holes {
        let joint = format!("{joint}\nholes = {{ final = \"{}\" }}", hole.size.length.inch_exact());
        let findings = judge(&one_joint(stack, "rivet", &joint));
        for rule in ["hole-too-small", "hole-too-large"] {
            assert_eq!(fires(&findings, rule), None, "{hole:?} for {}", family.call.usual);
        }
    }
    found.fitting.len()
}

#[test]
fn every_rivet_for_every_pair_of_standard_sheets_passes() {
    let sheets: Vec<Length> = standard_sheets().collect();
    let mut proposals = 0;
    for dash in RIVET_DASHES {
        for head in [Head::Protruding, Head::Flush100] {
            for outer in &sheets {
                for inner in sheets.iter().filter(|inner| *inner >= outer) {
                    proposals += rivet_proposal_passes(&[*outer, *inner], dash, head, 1);
                }
            }
        }
    }
    assert!(proposals > 3_000, "only {proposals} lengths were proposed");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn every_rivet_for_any_stack_passes(
        stack in prop::collection::vec(120_i64..2_500, 1..5), dash in 0_usize..RIVET_DASHES.len(), flush: bool, rows in 1_u32..4,
    ) {
        let stack: Vec<Length> = stack.into_iter().map(Length::from_ten_thousandths).collect();
        let head = if flush { Head::Flush100 } else { Head::Protruding };
        rivet_proposal_passes(&stack, RIVET_DASHES[dash], head, rows);
    }

    #[test]
    fn the_verdict_on_a_length_is_that_of_the_rules(stack in 200_i64..6_000, dash in 0_usize..RIVET_DASHES.len(), halves in 2_i64..60) {
        let stack = [Length::from_ten_thousandths(stack)];
        let family = rivet_of_diameter(Length::from_64ths(2 * i64::from(RIVET_DASHES[dash])), Head::Protruding, &crate::INCH).unwrap();
        let rivet = family.with_length(Length::from_64ths(2 * halves));
        let hole = rivet.usual_hole().unwrap().value.length;
        let joint = format!("fastener = \"{}\"\nstructure = \"none\"", rivet.call.usual);
        let findings = judge(&one_joint(&stack, "rivet", &joint));
        let said = (fires(&findings, "rivet-short"), fires(&findings, "rivet-long"));
        let expected = match judge_length(&rivet, stack[0], hole).unwrap() {
            LengthFit::TooShort => (Some(Severity::Error), None),
            LengthFit::Short => (Some(Severity::Warning), None),
            LengthFit::Fits => (None, None),
            LengthFit::Long => (None, Some(Severity::Warning)),
            LengthFit::TooLong => (None, Some(Severity::Error)),
        };
        prop_assert_eq!(said, expected, "{} through {}", rivet.call.usual, crate::INCH.length(stack[0]));
    }

    #[test]
    fn every_bolt_for_any_stack_passes(stack in 500_i64..20_000, size in 0_usize..BOLTS.len(), head in 0_i64..2, nut in 1_i64..3) {
        bolt_proposal_passes(BOLTS[size], Length::from_ten_thousandths(stack), head, nut);
    }
}

#[test]
fn every_blind_rivet_for_every_stack_passes() {
    let mut proposals = 0;
    for dash in [3_i64, 4, 5, 6, 8] {
        for mils in (20..600).step_by(3) {
            let (diameter, stack) = (Length::from_64ths(2 * dash), [Length::from_mils(mils)]);
            let Ok(found) = propose_blind(BlindQuestion::Commercial(diameter, Head::Protruding), &stack, &crate::INCH)
            else {
                continue;
            };
            proposals += 1;
            for hole in &found.holes {
                let call = &found.rivet.call.usual;
                let hole = hole.size.length.inch_exact();
                let joint = format!(
                    "fastener = \"{call}\"\nholes = {{ final = \"{hole}\" }}\nstructure = \"secondary\"\naccess = \"one side\""
                );
                assert_eq!(
                    faults(&judge(&one_joint(&stack, "rivet", &joint))),
                    Vec::<String>::new(),
                    "{call} through {mils} mils, {hole}"
                );
            }
        }
    }
    assert!(proposals > 400, "only {proposals} rivets were proposed");
}

#[test]
fn a_blind_rivet_one_step_out_fails() {
    let stack = [length("0.165")];
    let found =
        propose_blind(BlindQuestion::Commercial(length("1/8"), Head::Protruding), &stack, &crate::INCH).unwrap();
    assert_eq!(found.rivet.call.usual, "IFI114-43");
    for next in ["IFI114-42", "IFI114-44"] {
        let findings = judge(&one_joint(&stack, "rivet", &format!("fastener = \"{next}\"")));
        assert_eq!(fires(&findings, "grip-out-of-range"), Some(Severity::Error), "{next}");
    }
}

/// Sizes whose grip is listed, undrilled so that a fibre nut suits them.
const BOLTS: [&str; 6] = ["AN3A", "AN4A", "AN5A", "AN6A", "NAS6203", "NAS6204"];

/// The plain .063 washer, the fibre nut and the edge of a bolt.
fn bolt_joint(found: &Bolt, head_washers: i64, nut_washers: i64) -> String {
    let thread = found.thread.unwrap();
    let washer = format!("\"NAS1149F{:02}63P\"", thread.sixteenths().unwrap());
    let list = |count: i64| vec![washer.clone(); usize::try_from(count).unwrap()].join(", ");
    let nut_call = format!("MS20365-{}", thread.code());
    let torque = propose_torque(thread, &nut(&nut_call), Torque::default()).unwrap().range;
    format!(
        "fastener = \"{}\"\nnut = \"{nut_call}\"\nwashers = {{ head = [{}], nut = [{}] }}\ntorque = \"{}-{} in-lb\"\nedge = \"{}\"\nstructure = \"primary\"\naccess = \"both sides\"\nrotates = false",
        found.call.usual,
        list(head_washers),
        list(nut_washers),
        torque.low.inch_pound_text(),
        torque.high.inch_pound_text(),
        bolt_edge().recommended.at(found.diameter).value.inch_exact(),
    )
}

/// Every dash and every listed hole that is proposed passes; gives the number of dashes.
fn bolt_proposal_passes(size: &str, stack: Length, head_washers: i64, nut_washers: i64) -> usize {
    let washers = |count| length("0.063") * count;
    let Ok(found) = propose_bolt(&bolt(size), &[stack], washers(head_washers), washers(nut_washers), &crate::INCH)
    else {
        return 0;
    };
    let dashes = std::iter::once(&found.dash).chain(&found.others);
    let calls = dashes.map(|dash| found.bolt.with_dash(dash.parse().unwrap()));
    for call in calls {
        let joint = bolt_joint(&call, head_washers, nut_washers);
        assert_eq!(
            faults(&judge(&one_joint(&[stack], "bolt", &joint))),
            Vec::<String>::new(),
            "{} through {}",
            call.call.usual,
            crate::INCH.length(stack)
        );
    }
    for hole in &found.holes {
        let joint = format!(
            "{}\nholes = {{ final = \"{}\" }}",
            bolt_joint(&found.bolt, head_washers, nut_washers),
            hole.size.length.inch_exact()
        );
        assert_eq!(faults(&judge(&one_joint(&[stack], "bolt", &joint))), Vec::<String>::new(), "{hole:?} for {size}");
    }
    1 + found.others.len()
}

#[test]
fn every_bolt_for_every_sixteenth_passes() {
    for size in BOLTS {
        let stacks = (2..32).map(|sixteenths| Length::from_64ths(4 * sixteenths));
        let proposed: usize = stacks.map(|stack| bolt_proposal_passes(size, stack, 0, 1)).sum();
        assert!(proposed >= 20, "only {proposed} dashes of {size} were proposed");
    }
}

#[test]
fn a_call_is_read_alike() {
    // The calculators take a call without a project, `check` with one: the same decoder, the same verdict.
    for (call, fit, said) in [
        ("an 470 ad 4 - 4", LengthFit::Fits, None),
        ("MS20470 AD 4-3", LengthFit::Short, Some(Severity::Warning)),
        ("ms20470ad4-2", LengthFit::TooShort, Some(Severity::Error)),
    ] {
        let stack = [length("0.072")];
        assert_eq!(propose_rivet(&rivet(call), &stack, 1).unwrap().fit, Some(fit), "{call}");
        let findings = judge(&one_joint(&stack, "rivet", &format!("fastener = \"{call}\"")));
        assert_eq!(fires(&findings, "rivet-short"), said, "{call}");
    }
}
