//! Cautions: the built-in list, what fires each, and what a project makes of them.

use shophead::job::{Job, SignalWord};
use shophead::plan::{Options, Packet, packets};
use shophead::report::Report;
use shophead::spec::{SIGN_NUMBERS, built_in_cautions, caution_signs};

use crate::build::bracket::{PROJECT, job};
use crate::build::text::{self, part};
use crate::rules::judge_project;

/// A traveler with a riveted joint, one of blind rivets and one on steel.
fn head() -> String {
    let joint = |id, inner, call| text::joint(id, &["P", inner], &format!("fastener = \"{call}\"\ncount = 4"));
    text::traveler("T", "")
        + &part("P", "skin", "0.032")
        + &part("Q", "rib", "0.032")
        + &part("S", "strap", "0.032").replace("2024-T3", "4130 steel")
        + &joint("J", "Q", "MS20470AD4-4")
        + &joint("JB", "Q", "IFI114-42")
        + &joint("JS", "S", "MS20470AD4-4")
}

fn draft(project: &str, step: &str) -> Packet {
    let traveler = format!("{}[[step]]\nid = \"s\"\n{step}\n", head());
    let (job, report): (Job, Report) = job(project, &[&traveler]);
    packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0)
}

/// The cautions of a traveler of one step, those of the cover and those of the step.
fn fired(project: &str, step: &str) -> Vec<String> {
    let packet = draft(project, step);
    packet.cover.cautions.iter().chain(&packet.steps[0].cautions).map(|caution| caution.id.clone()).collect()
}

#[test]
fn the_list_of_cautions_is_well_formed() {
    let rules = built_in_cautions();
    assert!(rules.is_sorted_by_key(|rule| rule.word), "heaviest first");
    for rule in rules {
        // Each picture takes about 9 letters of each of three lines.
        let most = 210 - 28 * rule.signs.len();
        assert!(rule.text.chars().count() <= most, "{}: three printed lines at most, {most} letters", rule.id);
        assert!(rule.words.iter().chain(&rule.or_words).all(|word| word.to_lowercase() == *word), "{}", rule.id);
        assert_eq!(rules.iter().filter(|other| other.id == rule.id).count(), 1, "{}", rule.id);
        let fires = !rule.kinds.is_empty() || !rule.words.is_empty() || rule.only.is_some();
        assert!(fires, "{} would fire everywhere", rule.id);
    }
    let numbers: Vec<&str> = caution_signs().iter().map(|sign| sign.number.as_str()).collect();
    assert_eq!(numbers, SIGN_NUMBERS, "the format page names the signs of the data file");
    assert!(caution_signs().iter().all(|sign| matches!(sign.sureness.as_str(), "B" | "C") && !sign.means.is_empty()));
}

/// What fires a caution, in the words of the trade: caution, a step that fires it, one that does not.
const TRIGGERS: &[(&str, &str, &str, &str)] = &[
    (
        "drill, deburr, drive",
        "eye-protection",
        "title = \"Open\"\ndo = \"drill\"",
        "title = \"Read the scales\"\ndo = \"level\"",
    ),
    (
        "grind, cut",
        "eye-protection",
        "title = \"Cut the blank\"\ndo = \"prepare\"",
        "title = \"Count the parts\"\ndo = \"prepare\"",
    ),
    ("drive with a gun", "hearing", "title = \"Drive\"\ndo = \"rivet\"", "title = \"Bolt\"\ndo = \"bolt\""),
    ("gun and bar", "vibration", "title = \"Drive\"\ndo = \"rivet\"", "title = \"Bolt\"\ndo = \"bolt\""),
    (
        "compressed air on chips",
        "compressed-air",
        "title = \"Clean\"\ndo = \"clean\"\ntext = \"Blow off the chips.\"",
        "title = \"Clean\"\ndo = \"clean\"\ntext = \"Wipe off the chips.\"",
    ),
    (
        "chromate primer",
        "chromate",
        "title = \"Prime with zinc chromate\"\ndo = \"prime\"",
        "title = \"Prime\"\ndo = \"prime\"",
    ),
    ("conversion coat", "chromate", "title = \"Conversion coat\"\ndo = \"clean\"", "title = \"Wash\"\ndo = \"clean\""),
    (
        "isocyanate paint",
        "isocyanate",
        "title = \"Paint\"\ndo = \"paint\"\ntext = \"Mix paint and hardener.\"",
        "title = \"Paint\"\ndo = \"paint\"\ntext = \"Stir the paint.\"",
    ),
    ("solvents, etch", "solvent", "title = \"Clean\"\ndo = \"clean\"", "title = \"Look\"\ndo = \"inspect\""),
    (
        "strippers",
        "solvent",
        "title = \"Old paint off\"\ndo = \"prepare\"\ntools = [\"stripper\"]",
        "title = \"Fit\"\ndo = \"fit\"",
    ),
    (
        "tank, slosh, fuel vapour",
        "fuel-vapour",
        "title = \"Look inside the tank\"\ndo = \"inspect\"",
        "title = \"Look at the tank\"\ndo = \"inspect\"",
    ),
    ("sealant", "sealant-skin", "title = \"Fay surface sealant\"\ndo = \"seal\"", "title = \"Tape\"\ndo = \"seal\""),
    (
        "cold-shrink fit",
        "cold-shrink",
        "title = \"Bush in\"\ndo = \"fit\"\ntext = \"Cool it in liquid nitrogen.\"",
        "title = \"Bush in\"\ndo = \"fit\"\ntext = \"Press it in.\"",
    ),
    (
        "frozen bolt before torque",
        "torque-warm",
        "title = \"Torque\"\ndo = \"torque\"\ntext = \"The bolt was in dry ice.\"",
        "title = \"Torque\"\ndo = \"torque\"",
    ),
    (
        "heat gun, oven, solder",
        "heat",
        "title = \"Shrink\"\ndo = \"fit\"\ntools = [\"heat gun\"]",
        "title = \"Fit\"\ndo = \"fit\"",
    ),
    (
        "drill over wires, lines, a tank",
        "behind-the-hole",
        "title = \"Drill over the tank\"\ndo = \"drill\"",
        "title = \"Drill\"\ndo = \"drill\"",
    ),
    (
        "rivet over a finished skin",
        "finished-skin",
        "title = \"Drive the painted side\"\ndo = \"rivet\"",
        "title = \"Drive\"\ndo = \"rivet\"",
    ),
    ("sheet edges", "sheet-edges", "title = \"Fit\"\ndo = \"fit\"", "title = \"Drive\"\ndo = \"rivet\""),
    (
        "turning tool and gloves",
        "gloves-and-rotation",
        "title = \"Ream\"\ndo = \"ream\"",
        "title = \"Dimple\"\ndo = \"dimple\"",
    ),
    (
        "fuel, oil, brake line",
        "fluid-line",
        "title = \"Torque the brake line\"\ndo = \"torque\"",
        "title = \"Torque the hinge\"\ndo = \"torque\"",
    ),
    ("bolt on control, spar, gear", "bolt-now", "title = \"Bolt\"\ndo = \"bolt\"", "title = \"Drive\"\ndo = \"rivet\""),
    (
        "galvanic pair",
        "unlike-metals",
        "title = \"Drive\"\ndo = \"rivet\"\njoints = [\"JS\"]",
        "title = \"Drive\"\ndo = \"rivet\"\njoints = [\"J\"]",
    ),
    (
        "jack, hoist, turn over, mate",
        "lifting",
        "title = \"Set on jacks\"\ndo = \"level\"",
        "title = \"Set the jacket on\"\ndo = \"level\"",
    ),
    (
        "close a space; hidden work late in the day",
        "close-space",
        "title = \"Close\"\ndo = \"close\"\ncloses = [\"bay\"]",
        "title = \"Look\"\ndo = \"inspect\"\nspaces = [\"bay\"]",
    ),
    ("set three and look", "first-three", "title = \"Drive\"\ndo = \"rivet\"", "title = \"Bolt\"\ndo = \"bolt\""),
    (
        "solid rivets",
        "first-three",
        "title = \"Set\"\ndo = \"rivet\"\njoints = [\"J\"]",
        "title = \"Set\"\ndo = \"rivet\"\njoints = [\"JB\"]",
    ),
    (
        "blind rivets",
        "first-three-blind",
        "title = \"Set\"\ndo = \"rivet\"\njoints = [\"JB\"]",
        "title = \"Set\"\ndo = \"rivet\"\njoints = [\"J\"]",
    ),
    ("mist of a coat", "coat-mist", "title = \"Prime\"\ndo = \"prime\"", "title = \"Wash\"\ndo = \"clean\""),
    (
        "rivets kept cold",
        "keep-cold",
        "title = \"Drive\"\ndo = \"rivet\"\ntext = \"From the cold box.\"",
        "title = \"Drive\"\ndo = \"rivet\"",
    ),
];

#[test]
fn every_trigger_fires_its_caution_and_only_there() {
    for (trigger, id, fires, passes) in TRIGGERS {
        assert!(fired(PROJECT, fires).iter().any(|found| found == id), "{trigger}: `{id}` does not fire at {fires}");
        assert!(!fired(PROJECT, passes).iter().any(|found| found == id), "{trigger}: `{id}` fires at {passes}");
    }
    for rule in built_in_cautions() {
        assert!(TRIGGERS.iter().any(|(_, id, ..)| *id == rule.id), "`{}` has no trigger in this table", rule.id);
    }
}

#[test]
fn a_project_adds_cautions() {
    let general = format!(
        "{PROJECT}[[caution]]\nid = \"wash\"\nword = \"CAUTION\"\ntext = \"Wash your hands.\"\ngeneral = true\n"
    );
    assert!(
        fired(&general, "title = \"Look\"\ndo = \"inspect\"").contains(&"wash".to_owned()),
        "general, with no trigger: on every cover"
    );
    let named = general.replace("general = true", "signs = \"M009\"");
    assert_eq!(fired(&named, "title = \"Look\"\ndo = \"inspect\""), [""; 0]);
    let packet = draft(&named, "title = \"Look\"\ndo = \"inspect\"\ncautions = [\"wash\"]");
    let caution = &packet.steps[0].cautions[0];
    assert_eq!(
        (caution.word, caution.text.as_str(), caution.signs.as_slice()),
        ("CAUTION", "Wash your hands.", ["M009"].as_slice())
    );
    let fired_by = general.replace("general = true", "kinds = [\"inspect\"]\nwords = [\"Mirror\"]");
    assert_eq!(fired(&fired_by, "title = \"Look\"\ndo = \"inspect\"\ntools = [\"mirror\"]"), ["wash"]);
    assert_eq!(fired(&fired_by, "title = \"Look\"\ndo = \"inspect\""), [""; 0]);
}

#[test]
fn a_project_changes_built_in_cautions_and_cannot_narrow_what_fires_them() {
    let paint = "title = \"Paint\"\ndo = \"paint\"\ntext = \"Mix the hardener.\"";
    let project = format!(
        "{PROJECT}[[caution]]\nid = \"isocyanate\"\ntext = \"Hose mask on.\"\nwords = [\"catalyst\"]\nkinds = [\"clean\"]\n"
    );
    let packet = draft(&project, paint);
    assert_eq!(packet.steps[0].cautions[0].text, "Hose mask on.");
    assert_eq!(packet.steps[0].cautions[0].word, "DANGER");
    assert_eq!(packet.cover.weakened, [], "nothing is weaker than before");
    assert!(fired(&project, "title = \"Wash with catalyst\"\ndo = \"clean\"").contains(&"isocyanate".to_owned()));
    // `heat` fires at any kind of step: a kind does not bind it to that kind.
    let heat = format!("{PROJECT}[[caution]]\nid = \"heat\"\nword = \"WARNING\"\nkinds = [\"clean\"]\n");
    let packet = draft(&heat, "title = \"Shrink\"\ndo = \"fit\"\ntools = [\"heat gun\"]");
    assert!(packet.steps[0].cautions.iter().any(|caution| caution.id == "heat" && caution.word == "WARNING"), "raised");
}

#[test]
fn what_is_left_out_stands_on_the_cover_where_it_would_have_fired() {
    let project =
        format!("{PROJECT}[[caution]]\nid = \"isocyanate\"\nomit = true\nbecause = \"water-borne paint only\"\n");
    let paint = "title = \"Paint\"\ndo = \"paint\"\ntext = \"Mix the hardener.\"";
    let packet = draft(&project, paint);
    assert!(!packet.steps[0].cautions.iter().any(|caution| caution.id == "isocyanate"));
    let [line] = packet.cover.weakened.as_slice() else { panic!("{:?}", packet.cover.weakened) };
    assert_eq!((line.id.as_str(), line.word, line.what.as_str()), ("isocyanate", "DANGER", "left out"));
    assert_eq!(line.because.as_deref(), Some("water-borne paint only"));
    assert_eq!(draft(&project, "title = \"Drill\"\ndo = \"drill\"").cover.weakened, [], "it would not have stood here");
    let asked = draft(&project, &format!("{paint}\ncautions = [\"isocyanate\"]"));
    assert!(asked.steps[0].cautions.iter().any(|caution| caution.word == "DANGER"), "a step that asks for it gets it");
    let lowered = format!(
        "{PROJECT}[[caution]]\nid = \"isocyanate\"\nword = \"CAUTION\"\nbecause = \"supplied air in the booth\"\n"
    );
    assert_eq!(draft(&lowered, paint).cover.weakened[0].what, "printed as CAUTION");
    let moved = format!(
        "{PROJECT}[[caution]]\nid = \"isocyanate\"\ngeneral = true\nbecause = \"booth rules hang at the door\"\n"
    );
    assert_eq!(draft(&moved, paint).cover.weakened[0].what, "printed on the cover only");
}

#[test]
fn entries_that_make_no_caution_are_findings_at_their_place() {
    let said = |entry: &str| {
        let judged = judge_project(&format!("[aircraft]\nname = \"Dunlin\"\n[[caution]]\n{entry}\n"), &[]);
        judged
            .report
            .findings
            .iter()
            .map(|found| format!("{}: {} ({})", found.rule, found.message, found.help.clone().unwrap_or_default()))
            .collect::<Vec<_>>()
    };
    let lines = said("id = \"isocyanat\"\ntext = \"x\"");
    assert!(
        lines[0].starts_with("value-invalid") && lines[0].contains("no `word`") && lines[0].contains("`isocyanate`"),
        "{lines:?}"
    );
    let lines = said("id = \"dust\"\nword = \"CAUTION\"");
    assert!(lines[0].contains("no `text`"), "{lines:?}");
    let lines = said("id = \"isocyanat\"\nomit = true");
    assert!(lines[0].starts_with("reference-dangling: there is no built-in caution `isocyanat`"), "{lines:?}");
    let lines = said("id = \"two words\"\nword = \"CAUTION\"\ntext = \"x\"");
    assert!(lines[0].contains("one word"), "{lines:?}");
    let lines = said("id = \"heat\"\ncloses = true");
    assert!(lines[0].starts_with("value-invalid: `closes` would narrow"), "{lines:?}");
    let lines = said("id = \"heat\"\nsigns = [\"M999\"]");
    assert!(lines[0].starts_with("value-invalid"), "{lines:?}");
    let lines = said("id = \"heat\"\n[[caution]]\nid = \"heat\"\nomit = true");
    assert!(lines[0].starts_with("id-repeated"), "{lines:?}");
}

#[test]
fn signal_words_are_in_the_order_of_their_weight() {
    assert!(SignalWord::ALL.is_sorted());
    assert_eq!(SignalWord::ALL.first(), Some(&SignalWord::Danger));
}
