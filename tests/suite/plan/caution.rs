//! Cautions: the built-in list, what fires each, and what a project makes of them.

mod triggers;

use shophead::job::{Job, SignalWord};
use shophead::plan::{Options, Packet, StepRun, packets};
use shophead::report::Report;
use shophead::spec::{SIGN_NUMBERS, Trigger, built_in_cautions, caution_signs};

use crate::build::bracket::{PROJECT, job};
use crate::build::text::{self, part};
use crate::rules::judge_project;
use triggers::TRIGGERS;

/// A traveler with joints of most kinds, and a project with a tank.
fn head() -> String {
    let joint = |id, inner, keys: &str| text::joint(id, &["P", inner], &format!("{keys}\ncount = 4"));
    text::traveler("T", "")
        + &part("P", "skin", "0.032")
        + &part("Q", "rib", "0.032")
        + &part("S", "strap", "0.032").replace("2024-T3", "4130 steel")
        + &joint("J", "Q", "fastener = \"MS20470AD4-4\"")
        + &joint("JM", "Q", "fastener = \"MS20470AD4-4\"").replace("count = 4", "count = 40")
        + &joint("JW", "Q", "fastener = \"MS20470AD4-4\"\nwet = \"polysulphide sealant\"")
        + &joint("JZ", "Q", "fastener = \"MS20470AD4-4\"\nwet = \"zinc chromate primer\"")
        + &joint("JD", "Q", "fastener = \"MS20470DD5-6\"")
        + &joint("JB", "Q", "fastener = \"IFI114-42\"")
        + &joint("JO", "Q", "fastener = \"IFI114-42\"\naccess = \"one side\"")
        + &joint("JS", "S", "fastener = \"MS20470AD4-4\"")
        + &joint("JC", "Q", "fastener = \"AN3-5\"\nnut = \"AN310-3\"\ncotter = \"MS24665-132\"")
        + &joint("JN", "Q", "fastener = \"AN3-5A\"\nnut = \"MS21044N3\"")
        + &joint("JF", "Q", "fastener = \"AN815-6D\"")
}

const TANK: &str = "[[space]]\nid = \"tank\"\nname = \"Tank\"\nholds = \"fuel\"\n";

fn draft(project: &str, step: &str) -> Packet {
    let traveler = format!("{}[[step]]\nid = \"s\"\n{step}\n", head());
    let (job, report): (Job, Report) = job(project, &[&traveler]);
    packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0)
}

/// The cautions of a traveler: those of the cover and those of its last step.
fn fired(project: &str, step: &str) -> Vec<String> {
    let packet = draft(&format!("{project}{TANK}"), step);
    let last = packet.steps.last().unwrap();
    packet.cover.cautions.iter().chain(&last.cautions).map(|caution| caution.id.clone()).collect()
}

#[test]
fn the_list_of_cautions_is_well_formed() {
    let rules = built_in_cautions();
    assert!(rules.is_sorted_by_key(|rule| rule.word), "heaviest first");
    for rule in rules {
        // Each picture takes about 9 letters of each of three lines.
        let most = 210 - 28 * rule.signs.len();
        assert!(rule.text.chars().count() <= most, "{}: three printed lines at most, {most} letters", rule.id);
        assert!(!rule.when.is_empty(), "{} fires nowhere", rule.id);
        for trigger in &rule.when {
            assert_ne!(*trigger, Trigger::default(), "{} would fire everywhere", rule.id);
            assert!(trigger.words.is_empty(), "{}: beginnings of words are for projects", rule.id);
            assert!(trigger.phrases.is_empty() || !trigger.kinds.is_empty(), "{}: phrases at any step", rule.id);
            let listed = [&trigger.verbs, &trigger.titles, &trigger.things, &trigger.phrases];
            let plain =
                |phrase: &String| phrase.chars().all(|c| c == ' ' || c.is_ascii_lowercase() || c.is_ascii_digit());
            assert!(listed.into_iter().flatten().all(plain), "{}: no phrase of this can be found", rule.id);
        }
        assert_eq!(rules.iter().filter(|other| other.id == rule.id).count(), 1, "{}", rule.id);
    }
    let numbers: Vec<&str> = caution_signs().iter().map(|sign| sign.number.as_str()).collect();
    assert_eq!(numbers, SIGN_NUMBERS, "the format page names the signs of the data file");
    assert!(caution_signs().iter().all(|sign| matches!(sign.sureness.as_str(), "B" | "C") && !sign.means.is_empty()));
}

#[test]
fn every_trigger_fires_its_caution_and_only_there() {
    for (trigger, id, fires, passes) in TRIGGERS {
        for step in *fires {
            assert!(fired(PROJECT, step).iter().any(|found| found == id), "{trigger}: `{id}` does not fire at {step}");
        }
        for step in *passes {
            assert!(!fired(PROJECT, step).iter().any(|found| found == id), "{trigger}: `{id}` fires at {step}");
        }
    }
    for rule in built_in_cautions() {
        assert!(TRIGGERS.iter().any(|(_, id, ..)| *id == rule.id), "`{}` has no trigger in this table", rule.id);
    }
}

#[test]
fn the_cover_of_an_excerpt_warns_of_what_its_own_steps_do() {
    let steps =
        "title = \"Level\"\ndo = \"level\"\n[[step]]\nid = \"t\"\ntitle = \"Drive\"\ndo = \"rivet\"\njoints = [\"J\"]";
    let traveler = format!("{}[[step]]\nid = \"s\"\n{steps}\n", head());
    let (job, report) = job(PROJECT, &[&traveler]);
    let covers = |first, last| {
        let options = Options { draft: true, steps: Some(StepRun { first, last }), ..Options::default() };
        let packet = packets(&job, 0, &report, &options).unwrap().remove(0);
        packet.cover.cautions.into_iter().map(|caution| caution.id).collect::<Vec<_>>()
    };
    assert_eq!(covers(0, 0), [""; 0], "nothing turns, flies or hammers where a level is read");
    assert_eq!(covers(1, 1), ["eye-protection", "hearing"]);
    assert_eq!(covers(0, 1), covers(1, 1));
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
    let fired_by = general.replace("general = true", "kinds = [\"inspect\"]\nwords = [\"Borescope\"]");
    assert_eq!(fired(&fired_by, "title = \"Look\"\ndo = \"inspect\"\ntools = [\"borescope\"]"), ["wash"]);
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
