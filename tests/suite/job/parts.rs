//! Parts that the whole build knows: what a traveler takes from them, and which are on the aircraft already.

use shophead::job::{Item, StepRef};
use shophead::units::Length;
use shophead::work::Needs;

use crate::rules::{Judged, judge_project};

const BUILD: &str = r#"
[aircraft]
name = "Dunlin"
[[part]]
id = "BS4"
name = "Bottom skin"
material = "2024-T3"
thickness = "0.050"
fitted = "FUS-30"
[[part]]
id = "HS2"
name = "Spar"
thickness = "0.063"
fitted = true
"#;

fn traveler(id: &str, after: &str, parts: &str, steps: &str) -> String {
    format!("[traveler]\nid = \"{id}\"\ntitle = \"Work\"\nrevision = \"A\"\nafter = [{after}]\n{parts}\n{steps}")
}

fn judged(travelers: &[&str]) -> Judged {
    let named: Vec<(String, &str)> =
        travelers.iter().enumerate().map(|(at, text)| (format!("{at}.toml"), *text)).collect();
    let named: Vec<(&str, &str)> = named.iter().map(|(name, text)| (name.as_str(), *text)).collect();
    judge_project(BUILD, &named)
}

const BARE: &str = "[[part]]\nid = \"BS4\"\n[[part]]\nid = \"HS2\"\n[[part]]\nid = \"P1\"\nname = \"Bracket\"\n";
const WORK: &str = "[[step]]\nid = \"s\"\ntitle = \"Fit\"\ndo = \"fit\"\nparts = [\"BS4\", \"HS2\", \"P1\"]\n";

/// The parts that a traveler's first step fetches.
fn fetched(judged: &Judged, traveler: usize) -> Vec<&str> {
    let item = Item { at: StepRef { traveler, step: 0 }, hand: None };
    let parts = &judged.job.travelers[traveler].parts;
    Needs::of(&judged.job).parts(item).into_iter().map(|(part, _)| parts[part].id.value.as_str()).collect()
}

#[test]
fn a_bare_part_takes_its_facts_from_the_build() {
    let judged = judged(&[&traveler("FUS-30", "", BARE, WORK)]);
    assert_eq!(judged.lines(), Vec::<String>::new());
    let skin = judged.job.travelers[0].part("BS4").unwrap();
    assert_eq!((skin.name.value.as_str(), skin.quantity.value), ("Bottom skin", 1));
    assert_eq!(skin.material.as_ref().unwrap().value, "2024-T3");
    assert_eq!(skin.thickness.unwrap().value.length, Length::from_mils(50));
}

/// The traveler that fits the skin, one that comes before it, one after it and one that nothing orders.
#[test]
fn what_is_on_the_aircraft_is_not_fetched() {
    let judged = judged(&[
        &traveler("FUS-10", "", BARE, WORK),
        &traveler("FUS-20", "\"FUS-10\"", BARE, WORK),
        &traveler("FUS-30", "\"FUS-20\"", BARE, WORK),
        &traveler("INST-10", "\"FUS-30\"", BARE, WORK),
        &traveler("LGT-10", "", BARE, WORK),
    ]);
    assert_eq!(judged.lines(), Vec::<String>::new());
    for (at, wanted) in [&["BS4", "P1"][..], &["BS4", "P1"], &["BS4", "P1"], &["P1"], &["P1"]].into_iter().enumerate() {
        assert_eq!(fetched(&judged, at), wanted, "traveler {at}");
    }
}

#[test]
fn a_part_that_nothing_names_says_so() {
    let odd = "[[part]]\nid = \"BS5\"\n[[part]]\nid = \"P2\"\nname = \"Clip\"\nfitted = \"FUS-40\"\n";
    let steps = "[[step]]\nid = \"s\"\ntitle = \"Fit\"\ndo = \"fit\"\nparts = [\"BS5\", \"P2\"]\n";
    let judged = judged(&[&traveler("FUS-30", "", odd, steps)]);
    let mut said: Vec<(String, Option<String>)> =
        judged.standing().map(|finding| (finding.message.clone(), finding.help.clone())).collect();
    said.sort();
    assert_eq!(
        said,
        [
            (
                "part BS5 has no `name`, and build.toml has no such part".to_owned(),
                Some("did you mean `BS4`? Else add `name`".to_owned())
            ),
            ("there is no traveler `FUS-40`".to_owned(), Some("did you mean `FUS-30`?".to_owned())),
        ]
    );
}

/// Two jobs on one skin, each with a primer that cures: one finding, with the line that orders them.
#[test]
fn two_travelers_on_one_fitted_part_are_one_finding_with_the_line_to_paste() {
    let steps = |joints: usize| {
        let deburr = (0..joints)
            .map(|at| format!("[[step]]\nid = \"d{at}\"\ntitle = \"Deburr\"\ndo = \"deburr\"\nparts = [\"BS4\"]\n"));
        let prime = "[[step]]\nid = \"prime\"\ntitle = \"Prime\"\ndo = \"prime\"\nparts = [\"BS4\"]\ncure = \"24 h\"\n";
        deburr.collect::<String>() + prime
    };
    let part = "[[part]]\nid = \"BS4\"\n";
    let fuselage =
        traveler("FUS-30", "", part, "[[step]]\nid = \"s\"\ntitle = \"Fit\"\ndo = \"fit\"\nparts = [\"BS4\"]\n");
    let one = traveler("INST-10", "\"FUS-30\"", part, &steps(8));
    let two = traveler("LGT-10", "\"FUS-30\"", part, &steps(8));
    let found = judged(&[&fuselage, &one, &two]);
    let cures = found.of("cure-ignored");
    assert_eq!(cures.len(), 1, "{:#?}", found.lines());
    let help = cures[0].help.as_deref().unwrap();
    assert!(help.contains("write `after = [\"INST-10\"]` under `[traveler]` of LGT-10"), "{help}");
    let after = traveler("LGT-10", "\"FUS-30\", \"INST-10\"", part, &steps(8));
    assert!(judged(&[&fuselage, &one, &after]).of("cure-ignored").is_empty());
}
