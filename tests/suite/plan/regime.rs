//! Roles and stages on paper: one box a signer, the builder's words beside whose act they are, and none of our own.

use shophead::archive::{Capacity, Signed};
use shophead::job::{Item, Job, Order, State, StepRef};
use shophead::plan::{
    Options, Packet, Signed as Printed, Source, StepSheet, Tone, VisitChoice, VisitPacket, packet as plan_packet,
    packets, visit as plan_visit,
};
use shophead::report::Report;
use shophead::rules::check;
use shophead::words::PacketName;

use super::visit::{self, joined, pages};
use crate::build::bracket::{BRACKET, FAIRING, PROJECT};
use crate::build::regime::{BOX, BUILD, RIB};
use crate::build::signed::{Ledger, day, signed};
use crate::build::{job_of, stand};

fn build_of(project: &str) -> (Job, Report) {
    let (job, _, mut report) = job_of(project, &[RIB, BOX]);
    check(&job, &mut report);
    assert!(!report.stops(), "{:?}", report.findings);
    (job, report)
}

fn packet(traveler: &str) -> (Packet, String) {
    let (job, report) = build_of(BUILD);
    let index = job.travelers.iter().position(|own| own.id.value == traveler).unwrap();
    let packet = packets(&job, index, &report, &Options::default()).unwrap().remove(0);
    let text = joined(&pages(&packet.document()).join(" "));
    (packet, text)
}

fn step<'a>(packet: &'a Packet, id: &str) -> &'a StepSheet {
    packet.steps.iter().find(|step| step.id == id).unwrap()
}

#[test]
fn a_stage_has_one_box_for_each_who_signs_with_what_the_role_asks_for() {
    let (packet, text) = packet("BOX-10");
    let signs: Vec<_> = step(&packet, "close").signs.iter().filter(|sign| sign.kind == "stage").collect();
    assert_eq!(
        signs.iter().map(|sign| (sign.role.as_str(), sign.title.as_str(), sign.first)).collect::<Vec<_>>(),
        [("S2 1", "STAGE S2 Examiner", true), ("S2 2", "STAGE S2 one of B2, A1", true)]
    );
    assert_eq!(signs[0].fields, ["authorisation no.", "report no."]);
    assert_eq!(signs[0].says, ["The examiner signs for what was seen on that day."]);
    assert_eq!(signs[0].outcomes, ["in order", "in order with remarks", "not in order"]);
    assert!(signs[0].act.as_ref().unwrap().contains("Examiner"), "{:?}", signs[0].act);
    assert!(signs[1].fields.is_empty() && signs[1].outcomes.is_empty() && signs[1].act.is_none());
    for words in ["STAGE S2 Examiner", "authorisation no.", "in order with remarks", "not by whoever did the work"] {
        assert!(text.contains(words), "`{words}` is not in {text}");
    }
    let points: Vec<_> = packet.cover.points.iter().map(|point| (point.kind, point.role.as_str())).collect();
    assert_eq!(points, [("stage", "STAGE S2 Examiner"), ("stage", "STAGE S2 one of B2, A1")]);
    assert_eq!(packet.cover.spaces[0].hold.as_deref(), Some("Examiner and one of B2, A1 (stage S2)"));
}

#[test]
fn a_stage_after_the_work_comes_behind_the_builders_own_mark() {
    let (packet, _) = packet("RIB-10");
    let kinds: Vec<_> = step(&packet, "look").signs.iter().map(|sign| (sign.kind, sign.first)).collect();
    assert_eq!(kinds, [("done", false), ("stage", false)]);
}

#[test]
fn a_signed_stage_is_printed_with_its_outcome_and_whose_act_it_was_and_one_that_stops_with_its_box() {
    let (job, report) = build_of(BUILD);
    let mut ledger = Ledger::default();
    ledger.issue(&job, &[]);
    let packet_name = PacketName::new("RIB-10", None);
    let issue = ledger.state().in_force(&packet_name).unwrap().issued.clone();
    let step = issue.steps.iter().find(|step| step.id == "look").unwrap();
    let written = |outcome: &str| Signed {
        capacity: Capacity::Stage,
        stage: Some("S1".into()),
        outcome: Some(outcome.into()),
        role: "examiner".into(),
        by: "P1".into(),
        ..signed(issue.sheet, "RIB-10", "look", step.requirement, day("2026-03-02"))
    };
    let printed = |ledger: &Ledger| {
        let state = ledger.state();
        let issue = state.in_force(&packet_name).unwrap();
        let index = job.travelers.iter().position(|own| own.id.value == "RIB-10").unwrap();
        let source = Source::of_specs(&job, index, None, &report, Options::default());
        let packet = plan_packet(Source { signed: Printed::InForce(&state, issue), ..source }).unwrap();
        packet.steps.into_iter().find(|step| step.id == "look").unwrap().signs.remove(1)
    };
    ledger.add(written("not in order"));
    let sign = printed(&ledger);
    assert_eq!((sign.signed.as_ref(), sign.outcomes.len()), (None, 2));
    let act = "\u{201c}not in order\u{201d}, the act of P1 as Examiner";
    assert!(sign.words.ends_with(act), "{}", sign.words);
    ledger.add(written("in order"));
    let sign = printed(&ledger);
    assert!(sign.outcomes.is_empty() && sign.act.is_none(), "{:?}", sign.outcomes);
    let act = "\u{201c}in order\u{201d}, the act of P1 as Examiner";
    assert!(sign.signed.as_ref().unwrap().ends_with(act), "{:?}", sign.signed);
    assert!(!sign.words.contains("not in order"), "{}", sign.words);
}

/// Words of a release that no page of ours may have.
const OURS: [&str; 4] = ["release", "refuse", "accept", "in order"];

#[test]
fn without_roles_of_the_builders_own_nothing_printed_speaks_of_a_release() {
    let (job, _, report) = job_of(PROJECT, &[BRACKET, FAIRING]);
    let packet = packets(&job, 0, &report, &Options::default()).unwrap().remove(0);
    let order = Order::of(&job);
    let choice = VisitChoice { visitor: Some("inspector".into()), ..VisitChoice::default() };
    let visit = plan_visit(&job, &order, &State::default(), None, &choice);
    let now = shophead::calendar::When::parse("2026-03-07").unwrap().earliest;
    for document in [packet.document(), visit.document(&job, now, None)] {
        let text = joined(&pages(&document).join(" ")).to_lowercase();
        for word in OURS {
            // The packet's own departures are accepted by the builder, and say so.
            let said = text.replace("accepted departure", "");
            assert!(!said.contains(word), "`{word}` in {text}");
        }
    }
    assert_eq!(visit.visitor.tone, Tone::Look);
}

fn visit_of(project: &str, visitor: Option<&str>, stages: &[usize]) -> (VisitPacket, String) {
    let (job, _) = build_of(project);
    let order = Order::of(&job);
    let choice = VisitChoice { stages: stages.to_vec(), visitor: visitor.map(str::to_owned), ..VisitChoice::default() };
    let packet = plan_visit(&job, &order, &State::default(), None, &choice);
    let now = shophead::calendar::When::parse("2026-03-07").unwrap().earliest;
    let all = pages(&packet.document(&job, now, None));
    assert!(all.len() <= 6, "{} pages", all.len());
    (packet, joined(&all.join(" ")))
}

#[test]
fn a_visit_speaks_in_the_words_of_the_visitors_role() {
    let (packet, text) = visit_of(BUILD, Some("P1"), &[1]);
    assert_eq!((packet.visitor.tone, packet.visitor.says.len()), (Tone::Stage, 1));
    for words in [
        "what the Examiner looks at before the stage is signed",
        "What is written about a stage is the act of the Examiner alone.",
        "The examiner signs for what was seen on that day.",
        "Stage S2, Box before closing",
        "in order with remarks",
        "authorisation no.",
    ] {
        assert!(text.contains(words), "`{words}` is not in {text}");
    }
    assert!(!text.contains("Advice only"), "{text}");
    let (packet, text) = visit_of(BUILD, Some("adviser"), &[1]);
    assert_eq!((packet.visitor.tone, packet.visitor.initials), (Tone::Advice, None));
    assert!(text.contains("Advice only; the responsibility stays with the builder."), "{text}");
    let (_, both) = visit_of(BUILD, Some("P1"), &[0, 1]);
    for words in ["Stage S1, Rib before the box at RIB-10/look", "Fin, inside the box", "in order with remarks"] {
        assert!(both.contains(words), "`{words}` is not in {both}");
    }
    // Nobody is named: the roles that the stage asks for, and a blank for the initials.
    let (packet, _) = visit_of(BUILD, None, &[1]);
    assert_eq!(packet.visitor.roles, ["Examiner", "adviser"]);
    assert!(packet.typed.contains(&"by = \"INITIALS\"".to_owned()), "{:?}", packet.typed);
}

#[test]
fn a_visit_lists_the_items_of_its_stage_and_says_what_is_missing() {
    let (packet, text) = visit_of(BUILD, None, &[0]);
    assert_eq!(packet.spaces[0].space, "Stage S1, Rib before the box at RIB-10/look");
    assert_eq!(packet.looks[0].joints.len(), 1, "the rivets of the rib");
    assert_eq!(
        packet.left.iter().map(|left| left.place.as_str()).collect::<Vec<_>>(),
        ["RIB-10 010", "RIB-10 020", "RIB-10 030"]
    );
    assert!(packet.lacks[0].contains("NOT READY. 4 steps are open before it"), "{:?}", packet.lacks);
    assert!(text.contains("NOT READY"), "{text}");
    let empty = BUILD.replace("stage = \"S2\"", "") + "[[space]]\nid = \"nose\"\nname = \"Nose\"\n";
    let (job, _, _) = job_of(&empty, &[RIB, &BOX.replace("spaces = [\"fin-box\"]\n", "")]);
    let order = Order::of(&job);
    let choice = VisitChoice { spaces: vec![0], ..VisitChoice::default() };
    let packet = plan_visit(&job, &order, &State::default(), None, &choice);
    assert!(packet.lacks[0].starts_with("Fin, inside the box: EMPTY."), "{:?}", packet.lacks);
}

#[test]
fn a_stage_is_signed_where_a_step_says_it_and_else_where_the_space_closes() {
    let at = |boxed: &str| {
        let (job, _, _) = job_of(BUILD, &[RIB, boxed]);
        let step = |at: &StepRef| job.step_name(*at);
        job.stage_points(1).iter().map(step).collect::<Vec<_>>()
    };
    assert_eq!(at(BOX), ["BOX-10/close"]);
    let silent = BOX.replace("stage = \"S2\"\n", "");
    assert_eq!(at(&silent), ["BOX-10/close"], "the space asks for it");
    let inspected = silent.replace("spaces = [\"fin-box\"]", "spaces = [\"fin-box\"]\nstage = \"S2\"");
    assert_eq!(at(&inspected), ["BOX-10/rivet"], "once is enough");
    let hand = |traveler, step| Item { at: StepRef { traveler, step }, hand: None };
    let (job, _, _) = job_of(BUILD, &[RIB, BOX]);
    let order = Order::of(&job);
    let stages = shophead::work::Stages::of(&job, &order);
    assert_eq!(
        stages.steps(0, hand(0, 3)).into_iter().collect::<Vec<_>>(),
        (0..4).map(|step| hand(0, step)).collect::<Vec<_>>()
    );
    assert_eq!(
        stages.steps(1, hand(1, 2)).into_iter().collect::<Vec<_>>(),
        [hand(1, 0), hand(1, 1)],
        "a closing is worked afterwards"
    );
}

/// Roles and stages with more to say than fits beside them.
fn under_a_regime(project: &str) -> String {
    let long = "what a signature of this role means under a rule that goes on ".repeat(4);
    let fields = "asks = [\"authorisation no.\", \"valid until\", \"report no.\", \"stamp\"]";
    let stage = |id: &str, releases: &str| {
        format!(
            "[[stage]]\nid = \"{id}\"\nname = \"{long}\"\nsign = {{ all = [\"examiner\"], any = [\"TC1\"] }}\nreleases = [\"{releases}\"]\n\
             outcomes = [\"in order\", \"in order with remarks that are written below\", \"not in order\"]\n"
        )
    };
    format!(
        "{project}[[role]]\nid = \"builder\"\nmay = \"do\"\n[[role]]\nid = \"technical counselor\"\nmay = [\"look\", \"advise\"]\nsays = \"{long}\"\n\
         [[role]]\nid = \"examiner\"\nmay = \"release\"\n{fields}\nsays = \"{long}\"\n{}{}{}",
        stage("S1", "bay"),
        stage("S2", "bay"),
        stage("S3", "bay")
    )
}

#[test]
fn six_pages_hold_any_build_under_any_regime() {
    let (a4, text, progress) = visit::crowded();
    let crowded = (under_a_regime(&a4), vec![text], progress.as_str());
    let letter = (under_a_regime(&a4.replace("\"a4\"", "\"us-letter\"")), crowded.1.clone(), progress.as_str());
    let bay = (under_a_regime(visit::PROJECT), vec![visit::BAY.to_owned()], "");
    let nothing_done = (crowded.0.clone(), crowded.1.clone(), "");
    let now = shophead::calendar::When::parse("2026-03-07").unwrap().earliest;
    for (project, texts, progress) in [crowded, letter, bay, nothing_done] {
        let (job, mut files, _) = job_of(&project, &texts);
        let (order, state, _) = stand(&job, &mut files, progress);
        let choice = VisitChoice { visitor: Some("examiner".into()), ..VisitChoice::default() };
        let packet = plan_visit(&job, &order, &state, None, &choice);
        assert_eq!((packet.stages.len(), packet.visitor.tone), (3, Tone::Stage));
        let all = pages(&packet.document(&job, now, None));
        assert!(all.len() <= 6, "{} pages: {}", all.len(), all[1]);
        assert!(all.last().unwrap().contains("Findings"), "{}", all.last().unwrap());
        assert!(joined(&all[0]).contains("in order with remarks that are written below"), "{}", all[0]);
    }
}
