//! Steps that are taller than a page: in the form that their traveler asks for it is an error, in any other a note.

use shophead::plan::{suspects, tall_steps};
use shophead::render::{Templates, too_tall};
use shophead::report::Severity;

use crate::build::shop::job_of;

const PROJECT: &str = "[aircraft]\nname = \"Dunlin two-seat\"\n";

/// A traveler with one step of so many lines; after a `#` the step is held and witnessed.
fn traveler(head: &str, lines: usize) -> String {
    let text = "- Look.\\n".repeat(lines);
    let points = if head.ends_with('#') { "hold = \"inspector\"\nwitness = \"technical counselor\"\n" } else { "" };
    format!(
        "[traveler]\nid = \"T-1\"\ntitle = \"Rib\"\nrevision = \"A\"\n{head}\n[[part]]\nid = \"P1\"\nname = \"Rib\"\n\
         [[step]]\nid = \"look\"\ntitle = \"Look\"\ndo = \"inspect\"\nparts = [\"P1\"]\ntext = \"{text}\"\n{points}"
    )
}

/// What is said of it, each with how heavy it is.
fn said(head: &str, lines: usize) -> Vec<(Severity, String)> {
    let (job, _, report) = job_of(PROJECT, &[traveler(head, lines)]);
    assert_eq!(report.findings, []);
    let templates = Templates::load(None).unwrap();
    let found = tall_steps(&job, &suspects(&job, &report), |document| too_tall(document, &templates)).unwrap();
    found.into_iter().map(|own| (own.severity, own.message + "; " + &own.help.unwrap())).collect()
}

const TWO: &str = "hands = [\"left\", \"right\"]";
const BOTH: &str = "hands = [\"left\", \"right\"]\npacket = \"both hands\"";

/// The most lines that have room, by what is said of one more.
fn most(head: &str, what: &str) -> usize {
    let fits = |lines: &usize| !said(head, *lines).iter().any(|(_, words)| words.contains(what));
    (30..60).take_while(fits).last().unwrap()
}

#[test]
fn large_type_has_room_for_less_and_that_is_a_note() {
    let large = most("", "in the smallest large type");
    let usual = most("", "on paper");
    assert!(large < usual, "{large} and {usual} lines");
    let told = said("", large + 1);
    assert_eq!(told.len(), 1);
    assert_eq!(told[0].0, Severity::Note);
    assert!(told[0].1.contains("; `packet --large` refuses it: shorten it by 1 line of text"), "{}", told[0].1);
    let told = said("", usual + 1);
    assert_eq!(told.len(), 1, "one that cannot be printed at all is told once: {told:?}");
    assert_eq!(told[0].0, Severity::Error);
    assert!(told[0].1.contains("tall on paper, and a page holds 220 mm; a step never splits"), "{}", told[0].1);
}

/// Marks of both hands take more room than those of one: an error where the traveler asks for them, else a note.
#[test]
fn the_boxes_of_both_hands_are_measured_where_they_are_printed() {
    let with = |head: &str| head.to_owned() + "\n#";
    let alone = most(&with(TWO), "on paper");
    let both = most(&with(BOTH), "with the boxes of both hands");
    assert!(both < alone, "{both} and {alone} lines");
    let asked = said(&with(BOTH), both + 1);
    assert_eq!(asked.len(), 1);
    assert_eq!(asked[0].0, Severity::Error);
    assert!(asked[0].1.ends_with(", or give each hand a packet"), "{}", asked[0].1);
    let may = said(&with(TWO), both + 1);
    let notes = may.iter().filter(|own| own.1.contains("`packet --both-hands` refuses it")).count();
    assert!(notes == 1 && may.iter().all(|own| own.0 == Severity::Note), "{may:?}");
    assert_eq!(said(&with(BOTH), both), []);
}
