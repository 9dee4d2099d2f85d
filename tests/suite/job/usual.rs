//! Usual steps: made from parts and joints, changed by entries, named and numbered so that signed work stands.

use shophead::job::Step;

use crate::build::bracket::{PROJECT, job};
use crate::build::text;

/// The usual steps of a traveler with one joint, as they print: title and text.
fn steps_of(joint: &str) -> String {
    let traveler = text::traveler("T", "")
        + &text::part("P", "skin", "0.063")
        + &text::part("Q", "rib", "0.063")
        + &text::joint("J", &["P", "Q"], joint);
    let (job, _) = job(PROJECT, &[&traveler]);
    let printed = |step: &Step| format!("{}\n{}\n", step.title.value, step.text.as_ref().unwrap().value);
    job.travelers[0].steps.iter().map(printed).collect()
}

/// What a joint's steps say, and what they must not.
const CALLED_FOR: &[(&str, &str, &[&str], &[&str])] = &[
    (
        "a self-locking nut",
        "fastener = \"AN3-5A\"\ncount = 2\nnut = \"MS21044N3\"",
        &["Bolt and torque", "Measure the nut's drag", "Mark each one with lacquer"],
        &["afety", "otter", "Sheet holder", "sheet holder", "Every head"],
    ),
    (
        "a self-locking nut whose torque holds the drag",
        "fastener = \"AN3-5A\"\ncount = 2\nnut = \"MS21044N3\"\ntorque = \"24-30 in-lb\"\ndrag = \"included\"",
        &["holds the nut's drag already"],
        &["Measure the nut's drag", "afety"],
    ),
    (
        "a plain castle nut",
        "fastener = \"AN3-5\"\ncount = 2\nnut = \"AN310-3\"\ncotter = \"MS24665-132\"",
        &["Bolt, torque and safety", "New cotter pin now", "Every cotter pin in"],
        &["drag", "check nut"],
    ),
    (
        "a self-locking castle nut with a pin",
        "fastener = \"AN3-5\"\ncount = 2\nnut = \"MS17825-3\"\ncotter = \"MS24665-132\"",
        &["Bolt, torque and safety", "Measure the nut's drag", "New cotter pin now"],
        &["check nut"],
    ),
    (
        "a self-locking castle nut without a pin",
        "fastener = \"AN3-5\"\ncount = 2\nnut = \"MS17825-3\"",
        &["Bolt and torque", "Measure the nut's drag"],
        &["afety", "otter"],
    ),
    (
        "a castle nut that turns with the joint",
        "fastener = \"AN3-5\"\ncount = 1\nnut = \"AN310-3\"\ncotter = \"MS24665-132\"\nrotates = true",
        &["Bolt, set snug and safety", "turns freely by hand", "New cotter pin now"],
        &["drag", "orque"],
    ),
    (
        "a plain nut with a check nut",
        "fastener = \"AN3-5A\"\ncount = 1\nnut = \"AN315-3R\"\ncheck-nut = \"AN316-3R\"",
        &["lock it with the check nut now"],
        &["drag", "otter"],
    ),
    (
        "a nutplate",
        "fastener = \"AN525-10R8\"\ncount = 4\nnut = \"MS21047L3\"",
        &["Bolt and torque", "Measure the nut's drag", "Head side as"],
        &["afety", "washers", "shank", "sheet holder"],
    ),
    (
        "two rivets",
        "fastener = \"MS20470AD4-5\"\ncount = 2",
        &["Drive one, measure its shop head", "sheet holder", "Every head seated"],
        &["three", "bolt", "drag", "stay open", "otter"],
    ),
    (
        "rivets with holes left open",
        "fastener = \"MS20470AD4-5\"\ncount = 20\nleave-open = { count = 2, until = \"T\", why = \"later\" }",
        &["Drive three", "Holes that stay open"],
        &["bolt", "drag"],
    ),
    ("blind rivets", "fastener = \"IFI114-42\"\ncount = 20", &["Count the stems"], &["shop head", "bolt", "drag"]),
];

#[test]
fn a_step_says_only_what_its_fastener_calls_for() {
    for (what, joint, says, silent) in CALLED_FOR {
        let steps = steps_of(joint);
        for words in *says {
            assert!(steps.contains(words), "{what}: `{words}` is missing in {steps}");
        }
        for words in *silent {
            assert!(!steps.contains(words), "{what}: `{words}` stands in {steps}");
        }
    }
}
