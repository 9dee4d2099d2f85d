//! Resolving: references followed or reported, calls decoded, lengths taken from the stack, lives of holes.

mod across;
mod order;
mod parts;
mod usual;

use shophead::job::{FileKey, Job, OwnDocument};
use shophead::report::Finding;
use shophead::units::Length;

const PROJECT: &str = r#"
[aircraft]
name = "Dunlin two-seat"
[[space]]
id = "bay"
name = "Bay"
[callouts]
"R-A" = "MS20470AD4"
[[fastener]]
id = "K-1"
kind = "blind-rivet"
diameter = "5/32"
hole = ["0.160", "0.164"]
grip = ["0.020", "0.125"]
source = "kit drawing H-2"
[[drawing]]
sheet = "W-1"
revision = "B"
"#;

const HEAD: &str = "[traveler]\nid = \"T1\"\ntitle = \"t\"\nrevision = \"A\"\ndrawings = [\"W-1:B\"]\n";

const PARTS: &str = r#"
[[part]]
id = "P1"
name = "Skin"
material = "2024-T3"
thickness = "0.032"
[[part]]
id = "P2"
name = "Rib"
thickness = "0.040"
"#;

/// Resolves travelers given as texts.
fn job(texts: &[&str]) -> (Job, Vec<Finding>) {
    let (job, _, report) = crate::build::shop::job_of(PROJECT, texts);
    (job, report.findings)
}

fn joint(call: &str) -> String {
    format!("{HEAD}{PARTS}\n[[joint]]\nid = \"J1\"\nstack = [\"P1\", \"P2\"]\nfastener = \"{call}\"\ncount = 8\n")
}

#[test]
fn a_callout_stands_for_a_family_and_the_stack_gives_the_length() {
    let (job, findings) = job(&[&joint("R-A")]);
    assert!(findings.is_empty(), "{findings:#?}");
    let joint = &job.travelers[0].joints[0];
    // T + 1.5 D = 0.072 + 0.1875 = 0.2595; the nearest half size is 1/4.
    assert_eq!(joint.call, "MS20470AD4-4");
    assert!(joint.length_from_stack);
    assert_eq!(joint.spec.fastener.value, "R-A");
    assert_eq!(joint.thickness(), Some(Length::from_mils(72)));
    assert_eq!(joint.thickest(), Some(Length::from_mils(40)));
    let last = joint.last.unwrap();
    assert_eq!((crate::INCH.name(last.size).as_str(), last.span), ("#30", None));
}

#[test]
fn a_written_length_is_kept() {
    let (job, _) = job(&[&joint("MS20470AD4-6")]);
    let joint = &job.travelers[0].joints[0];
    assert_eq!((joint.call.as_str(), joint.length_from_stack), ("MS20470AD4-6", false));
}

#[test]
fn a_kit_fastener_is_known_by_its_id() {
    let (job, findings) = job(&[&joint("K-1")]);
    assert!(findings.is_empty());
    let fastener = job.travelers[0].joints[0].fastener.as_ref().unwrap();
    assert_eq!(fastener.kit().map(|kit| kit.source.as_str()), Some("kit drawing H-2"));
}

#[test]
fn a_call_that_does_not_decode_stays_with_its_reason() {
    let (job, findings) = job(&[&joint("MS20470QQ4-4")]);
    assert!(findings.is_empty(), "the rules report it, not resolving");
    assert!(job.travelers[0].joints[0].fastener.is_err());
}

#[test]
fn every_reference_that_leads_nowhere_is_reported_with_the_nearest_name() {
    let text = format!(
        "{HEAD}after = [\"T9\"]\n{PARTS}\n[[joint]]\nid = \"J1\"\nstack = [\"P1\", \"P3\"]\nfastener = \"K-1\"\ncount = 1\n\
         leave-open = {{ count = 1, until = \"T1/nowhere\", why = \"w\" }}\n\n\
         [[step]]\nid = \"s\"\ntitle = \"t\"\ndo = \"drill\"\njoints = [\"J2\"]\nparts = [\"P9\"]\nneeds = [\"T1/x\", \"T7/y\"]\nspaces = [\"bey\"]\ndrawings = [\"W-2 view A\"]\n\n\
         [[allow]]\nrule = \"pitch-long\"\njoint = \"J7\"\nbecause = \"b\"\n"
    );
    let (_, findings) = job(&[&text]);
    let mut seen: Vec<&str> = findings.iter().map(|f| f.message.as_str()).collect();
    seen.sort_unstable();
    let expected = [
        "there is no drawing sheet `W-2`",
        "there is no joint `J2`",
        "there is no joint `J7`",
        "there is no part `P3`",
        "there is no part `P9`",
        "there is no space `bey`",
        "there is no step `nowhere`",
        "there is no step `x`",
        "there is no traveler `T7`",
        "there is no traveler `T9`",
    ];
    assert_eq!(seen, expected);
    assert!(findings.iter().all(|f| f.rule == "reference-dangling" && f.place.traveler.as_deref() == Some("T1")));
    let space = findings.iter().find(|f| f.message.contains("bey")).unwrap();
    assert_eq!(space.help.as_deref(), Some("did you mean `bay`?"));
}

#[test]
fn two_things_with_one_id_are_reported_in_their_scope() {
    let double = format!("{HEAD}{PARTS}{PARTS}");
    let (_, findings) = job(&[&double, &format!("{HEAD}{PARTS}")]);
    let mut seen: Vec<&str> = findings.iter().map(|f| f.message.as_str()).collect();
    seen.sort_unstable();
    // Parts of two travelers do not share a scope, travelers of one project do.
    assert_eq!(
        seen,
        [
            "two entries are called part `P1`",
            "two entries are called part `P2`",
            "two entries are called traveler `T1`"
        ]
    );
}

#[test]
fn the_life_of_a_hole_follows_the_steps() {
    let step = |id: &str, kind: &str, more: &str| {
        format!("\n[[step]]\nid = \"{id}\"\ntitle = \"t\"\ndo = \"{kind}\"\njoints = [\"J1\"]\n{more}")
    };
    let text = joint("MS20470AD4-4")
        + &step("pilot", "drill", "to = \"#40\"\n")
        + &step("open", "drill", "")
        + &step("deburr", "deburr", "")
        + &step("drive", "rivet", "");
    let (job, findings) = job(&[&text]);
    assert!(findings.is_empty(), "{findings:#?}");
    let joint = &job.travelers[0].joints[0];
    let sizes: Vec<Option<String>> =
        joint.life.iter().map(|at| at.hole.map(|hole| crate::INCH.name(hole.size))).collect();
    assert_eq!(sizes, [Some("#40".into()), Some("#30".into()), None, None]);
    assert_eq!(joint.fastenings().map(|at| at.at.step).collect::<Vec<_>>(), [3]);
    assert_eq!(job.travelers[0].steps.iter().map(|step| step.number).collect::<Vec<_>>(), [10, 20, 30, 40]);
}

#[test]
fn file_names_are_one_whatever_their_case_and_unicode_form() {
    // Published: Unicode Standard, chapter 3.12: Hangul U+1100 U+1161 composes to U+AC00.
    for (one, other) in [("WNG-10", "wng-10"), ("\u{1100}\u{1161}-1", "\u{AC00}-1"), ("\u{C5}", "a\u{30A}")] {
        assert_eq!(FileKey::of(one), FileKey::of(other));
    }
    assert_ne!(FileKey::of("WNG-10"), FileKey::of("WNG-1O"));
}

#[test]
fn every_document_of_the_program_is_known_by_its_name() {
    for own in OwnDocument::ALL {
        assert_eq!(OwnDocument::taking(&own.stem(None).to_uppercase()), Some(*own));
        let has_more = matches!(own, OwnDocument::Visit | OwnDocument::Discrepancy | OwnDocument::Notice);
        assert_eq!(OwnDocument::taking(&own.stem(Some("a b"))), has_more.then_some(*own));
        assert_eq!(OwnDocument::taking(&format!("{own}s")), None);
    }
}
