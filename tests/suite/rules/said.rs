//! What a finding says: both numbers, the place that makes it wrong, what would pass; and what could not be judged.

use super::{judge, judge_joint, one_joint};

const REST: &str = "pitch = \"0.75\"\nstructure = \"secondary\"\naccess = \"both sides\"";

#[test]
fn a_short_edge_names_both_numbers_the_fastener_and_the_source() {
    let judged = judge_joint(["0.032", "0.040"], &format!("fastener = \"MS20470AD4-4\"\nedge = \"0.22\"\n{REST}"));
    let finding = judged.of("edge-distance-short")[0];
    assert_eq!(finding.message, "edge distance 0.220 in is 1.76 D; a rivet wants 2 D, 0.250 in");
    assert_eq!(judged.files.slice(finding.span), "\"0.22\"");
    assert_eq!(judged.files.slice(finding.labels[0].span), "\"MS20470AD4-4\"");
    assert_eq!(finding.help.as_deref(), Some("at least 0.250 in passes"));
    assert_eq!(finding.source.as_deref(), Some("AC 43.13-1B, par. 4-57c"));
    assert_eq!((finding.place.traveler.as_deref(), finding.place.joint.as_deref()), (Some("T"), Some("J1")));
}

#[test]
fn limits_of_the_plans_cite_the_plans() {
    let limits = "limits = { edge = \"1.8 D\", because = \"drawing W-210 note 4\" }";
    let judged =
        judge_joint(["0.032", "0.040"], &format!("fastener = \"MS20470AD4-4\"\nedge = \"0.22\"\n{limits}\n{REST}"));
    let finding = judged.of("edge-distance-short")[0];
    assert_eq!(finding.source.as_deref(), Some("plans: drawing W-210 note 4"));
    assert!(finding.message.ends_with("the plans' limit wants 1.8 D, 0.225 in"), "{}", finding.message);
}

#[test]
fn a_blind_rivet_out_of_range_is_told_the_code_that_fits() {
    let judged = judge_joint(["0.063", "0.063"], &format!("fastener = \"IFI114-42\"\nedge = \"0.32\"\n{REST}"));
    assert_eq!(judged.of("grip-out-of-range")[0].help.as_deref(), Some("IFI114-43 fits, grip 0.126 to 0.187 in"));
}

#[test]
fn a_kit_fastener_is_judged_by_the_kit() {
    let judged = judge_joint(["0.063", "0.063"], &format!("fastener = \"K-PULL-5\"\nedge = \"0.4\"\n{REST}"));
    assert_eq!(judged.of("grip-out-of-range")[0].source.as_deref(), Some("kit drawing H-2"));
}

#[test]
fn a_wrong_length_is_told_every_call_that_passes() {
    let judged = judge_joint(["0.032", "0.040"], &format!("fastener = \"MS20470AD4-6\"\nedge = \"0.32\"\n{REST}"));
    let help = judged.of("rivet-long")[0].help.clone().unwrap();
    assert!(help.starts_with("MS20470AD4-4 fits best; "), "{help}");
    for call in ["MS20470AD4-4.5", "MS20470AD4-5"] {
        assert!(help.contains(call), "{help}");
    }
}

#[test]
fn a_size_from_memory_alone_does_not_make_an_error() {
    // Holes for AN7 and larger follow a pattern, from memory: a warning, whatever the hole.
    let bolt = "fastener = \"AN7-15A\"\nholes = { final = \"0.470\" }\nedge = \"1.0\"\npitch = \"2.0\"";
    let judged = judge_joint(["0.250", "0.250"], bolt);
    let finding = judged.of("hole-too-large")[0];
    assert_eq!(finding.severity, shophead::report::Severity::Warning);
    assert!(finding.source.as_deref().unwrap().contains("from memory"), "{:?}", finding.source);
}

#[test]
fn a_missing_fact_is_said_once_with_every_rule_that_needs_it() {
    let judged = judge_joint(["0.032", "0.040"], "fastener = \"MS20470AD4-4\"");
    assert_eq!(judged.lines(), Vec::<String>::new());
    let said = judged.unjudged();
    let whys: Vec<&str> = said.iter().map(|unjudged| unjudged.why.as_str()).collect();
    assert_eq!(whys, ["no `access` is given", "no `edge` is given", "no `pitch` is given"]);
    assert_eq!(said[1].rules, ["edge-distance-short", "edge-distance-long", "edge-no-room-for-next-size"]);
    assert_eq!(said[1].place.joint.as_deref(), Some("J1"));
}

#[test]
fn a_call_without_length_over_an_unknown_stack_is_said_not_guessed() {
    let text = one_joint(["0.032", "0.040"], "fastener = \"MS20470AD4\"\nedge = \"0.32\"").replacen(
        "thickness = \"0.040\"\n",
        "",
        1,
    );
    let judged = judge(&[("t.toml", &text)]);
    let whys: Vec<String> = judged.unjudged().into_iter().map(|unjudged| unjudged.why).collect();
    assert!(whys.contains(&"the thickness of a layer is not given".to_owned()), "{whys:?}");
    assert!(judged.of("rivet-short").is_empty());
}

#[test]
fn holes_left_open_until_a_traveler_that_comes_before_are_not_parked() {
    let open = "fastener = \"MS20470AD4-4\"\nleave-open = { count = 10, until = \"EARLY/fill\", why = \"later\" }";
    let unfastened = one_joint(["0.032", "0.040"], open).replace("do = \"rivet\"", "do = \"inspect\"");
    let early = "[traveler]\nid = \"EARLY\"\ntitle = \"t\"\nrevision = \"A\"\n[[step]]\nid = \"fill\"\ntitle = \"Fill\"\ndo = \"rivet\"\n";
    let parked = judge(&[("t.toml", &unfastened), ("early.toml", early)]);
    assert!(parked.of("joint-never-fastened").is_empty(), "{:?}", parked.lines());
    let after = unfastened.replacen("revision = \"A\"\n", "revision = \"A\"\nafter = [\"EARLY\"]\n", 1);
    let lost = judge(&[("t.toml", &after), ("early.toml", early)]);
    assert_eq!(lost.of("joint-never-fastened").len(), 1, "{:?}", lost.lines());
}
