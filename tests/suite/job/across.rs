//! Joints that a step of another traveler works on: named, followed, ordered, counted, judged and printed as those of its own.

use std::collections::BTreeSet;
use std::fmt::Write;

use proptest::prelude::*;
use shophead::job::{Item, Job, JointRef, Order, StepRef};
use shophead::plan::{Options, Packet, packets};
use shophead::render::{Templates, lay_out};
use shophead::report::{Colour, Finding, Report, Severity, render_human};
use shophead::rules::check;
use shophead::text::Files;
use shophead::work::{Held, ledger, sheet_requirement};

use crate::build::{job_of, text};

const RIVETS: &str = "fastener = \"MS20470AD4-4\"\ncount = 12\nholes = { final = \"#30\" }\nedge = \"0.32\"\npitch = \"0.75\"\n\
                      structure = \"secondary\"\naccess = \"both sides\"";

const BOLTS: &str = "fastener = \"AN3-5A\"\ncount = 4\nholes = { final = \"#11\" }\nedge = \"0.6\"\npitch = \"1.5\"\n\
                     structure = \"secondary\"\naccess = \"both sides\"\nnut = \"MS21044N3\"\n\
                     washers = { nut = [\"NAS1149F0363P\"] }";

/// FUS-10 with two joints through the same parts, of which it drills and deburrs both and rivets J1.
fn fuselage(head: &str, steps: &str) -> String {
    text::traveler("FUS-10", head)
        + &text::skin_and_rib()
        + &text::joint("J1", &["P1", "P2"], RIVETS)
        + &text::joint("J2", &["P1", "P2"], RIVETS)
        + steps
}

fn drilled() -> String {
    text::step("drill", "drill", "joints = [\"J1\", \"J2\"]")
        + &text::step("deburr", "deburr", "joints = [\"J1\", \"J2\"]")
        + &text::step("rivet", "rivet", "joints = [\"J1\"]")
}

/// WING-10, which has a part of its own and steps alone.
fn wing(head: &str, steps: &str) -> String {
    text::traveler("WING-10", head) + steps
}

fn rivet(joints: &str) -> String {
    text::step("rivet-on", "rivet", &format!("joints = [{joints}]"))
}

/// The job and everything that is found in it.
fn checked(travelers: &[String]) -> (Job, Files, Report) {
    let (job, files, mut report) = job_of(text::DUNLIN, travelers);
    check(&job, &mut report);
    report.sort(&files);
    (job, files, report)
}

fn errors(report: &Report) -> Vec<&Finding> {
    report.findings.iter().filter(|finding| finding.severity == Severity::Error).collect()
}

fn printed(job: &Job, index: usize) -> Vec<Packet> {
    packets(job, index, &Report::default(), &Options::default()).unwrap()
}

fn item(traveler: usize, step: usize) -> Item {
    Item { at: StepRef { traveler, step }, hand: None }
}

#[test]
fn a_joint_drilled_here_and_fastened_there_is_whole() {
    let (job, _, report) = checked(&[fuselage("", &drilled()), wing("", &rivet("\"FUS-10/J2\""))]);
    assert_eq!(errors(&report), Vec::<&Finding>::new());
    let order = Order::of(&job);
    assert!(order.precedes(item(0, 1), item(1, 0)), "the holes are deburred before the rivets go in");
    assert!(!order.precedes(item(0, 2), item(1, 0)), "the rivets of another joint are not waited for");
    let j2 = job.joint(JointRef { traveler: 0, joint: 1 });
    let life: Vec<String> = j2.life.iter().map(|lived| job.step_name(lived.at)).collect();
    assert_eq!(life, ["FUS-10/drill", "FUS-10/deburr", "WING-10/rivet-on"]);
}

#[test]
fn the_step_prints_the_facts_and_takes_the_hardware_and_the_own_packet_says_where() {
    let (job, ..) = checked(&[fuselage("", &drilled()), wing("", &rivet("\"FUS-10/J2\""))]);
    let wing = &printed(&job, 1)[0];
    let step = &wing.steps[0];
    let row = &step.joints[0];
    assert_eq!((row.id.as_str(), row.count.as_str(), row.lead.as_str()), ("FUS-10 J2", "12", "MS20470AD4-4"));
    let said = row.lines.join("\n") + &step.common.join("\n");
    for part in ["head on P1 Skin", "shop head: aim at", "through P1 Skin 0.032", "P2 Rib 0.040", "hole #30"] {
        assert!(said.contains(part), "{part} is not in\n{said}");
    }
    assert_eq!(step.needs, ["done: FUS-10 step 020 deburr"]);
    let total = |packet: &Packet| -> u32 { packet.preparation.hardware.iter().map(|line| line.total).sum() };
    let fuselage = &printed(&job, 0)[0];
    assert_eq!((total(wing), total(fuselage)), (12, 12), "each pulls the rivets that it sets");
    assert!(wing.preparation.tools.iter().any(|tool| tool.what.contains("rivet set")), "{:?}", wing.preparation.tools);
    let card = fuselage.joints.iter().find(|card| card.id == "J2").unwrap();
    assert_eq!(card.leave_open.as_deref(), Some("all 12 holes, fastened in WING-10 step 010"));
    assert_eq!(card.stages, ["010 drill", "020 deburr", "WING-10 010 rivet"]);
    let end = fuselage.closeout.as_ref().unwrap();
    assert_eq!(end.leave_open.len(), 1, "{:?}", end.leave_open);
    assert_eq!(end.leave_open[0].words, "all 12 holes, fastened in WING-10 step 010");
}

#[test]
fn drilled_there_and_fastened_here_waits_as_well() {
    let own = text::step("rivet", "rivet", "joints = [\"J1\", \"J2\"]");
    let there = text::step("match-drill", "drill", "joints = [\"FUS-10/J1\", \"FUS-10/J2\"]")
        + &text::step("deburr", "deburr", "joints = [\"FUS-10/J1\", \"FUS-10/J2\"]");
    let (job, _, report) = checked(&[fuselage("", &own), wing("", &there)]);
    assert_eq!(errors(&report), Vec::<&Finding>::new());
    assert!(report.findings.iter().all(|finding| finding.rule != "hole-undeburred"), "{:#?}", report.findings);
    assert!(Order::of(&job).precedes(item(1, 1), item(0, 0)));
    let row = &printed(&job, 1)[0].steps[0].joints[0];
    assert_eq!((row.id.as_str(), row.lead.as_str()), ("FUS-10 J1", "drill #30 (0.1285 in)"));
}

#[test]
fn what_is_written_comes_before_the_order_of_the_trade() {
    let own = text::step("pilot", "drill", "joints = [\"J1\", \"J2\"]\nto = \"#40\"")
        + &text::step("deburr", "deburr", "joints = [\"J1\", \"J2\"]");
    let there = text::step("match-drill", "drill", "joints = [\"FUS-10/J1\", \"FUS-10/J2\"]")
        + &text::step("deburr", "deburr", "joints = [\"FUS-10/J1\", \"FUS-10/J2\"]")
        + &rivet("\"FUS-10/J1\", \"FUS-10/J2\"");
    let life = |head: &str| -> Vec<String> {
        let (job, _, report) = checked(&[fuselage("", &own), wing(head, &there)]);
        assert_eq!(errors(&report), Vec::<&Finding>::new());
        job.joint(JointRef { traveler: 0, joint: 0 }).life.iter().map(|lived| job.step_name(lived.at)).collect()
    };
    assert_eq!(life("after = [\"FUS-10\"]")[..3], ["FUS-10/pilot", "FUS-10/deburr", "WING-10/match-drill"]);
    assert_eq!(life("")[..3], ["FUS-10/pilot", "WING-10/match-drill", "FUS-10/deburr"]);
}

#[test]
fn fastened_before_it_is_drilled_is_a_circle_by_name() {
    let (job, files, _) = checked(&[fuselage("after = [\"WING-10\"]", &drilled()), wing("", &rivet("\"FUS-10/J2\""))]);
    let findings = crate::build::order_findings(&job);
    let text = render_human(&Report { findings, ..Report::default() }, &files, Colour::Plain);
    for part in ["FUS-10/drill", "WING-10/rivet-on", "wait for each other", "works on a joint after FUS-10/drill"] {
        assert!(text.contains(part), "{part} is not in\n{text}");
    }
}

#[test]
fn two_travelers_do_not_fasten_one_joint() {
    let both = drilled().replace("do = \"rivet\"\njoints = [\"J1\"]", "do = \"rivet\"\njoints = [\"J1\", \"J2\"]");
    let (_, files, report) = checked(&[fuselage("", &both), wing("", &rivet("\"FUS-10/J2\""))]);
    let text = render_human(&report, &files, Colour::Plain);
    assert!(text.contains("joint J2 is fastened in step rivet and again in step WING-10/rivet-on"), "{text}");
}

#[test]
fn a_name_that_leads_nowhere_is_told_where_it_stands() {
    let handed = "hands = [\"left\", \"right\"]";
    let cases: &[(&str, &str, &str, &str, &str)] = &[
        ("", "", "FUZ-10/J2", "there is no traveler `FUZ-10`", "did you mean `FUS-10`?"),
        ("", "", "FUS-10/J7", "there is no joint `J7`", "did you mean `J1`?"),
        (
            "",
            handed,
            "FUS-10/J2",
            "`joints` names `FUS-10/J2`, and WING-10 would work one set of holes with each hand",
            "name it in a step of a traveler without hands",
        ),
        (
            handed,
            "",
            "FUS-10/J2",
            "`joints` names `FUS-10/J2`, and FUS-10 has hands",
            "write `FUS-10/left/J2` or `FUS-10/right/J2`, or name each",
        ),
        ("", "", "FUS-10/left/J2", "`joints` names `FUS-10/left/J2`, and FUS-10 has no hands", "write `FUS-10/J2`"),
        (
            handed,
            handed,
            "FUS-10/left/J2",
            "`joints` names `FUS-10/left/J2`, and each hand of WING-10 works its own",
            "write `FUS-10/J2`",
        ),
        (
            handed,
            "",
            "FUS-10/port/J2",
            "`joints` names `FUS-10/port/J2`, and `port` is no hand of FUS-10",
            "write `FUS-10/left/J2` or `FUS-10/right/J2`",
        ),
        (
            "hands = [\"left\"]",
            handed,
            "FUS-10/J2",
            "`joints` names `FUS-10/J2`, and FUS-10 has no right hand",
            "name it where that hand is built",
        ),
    ];
    for (own, other, joint, message, help) in cases {
        let (_, files, report) = checked(&[fuselage(own, &drilled()), wing(other, &rivet(&format!("\"{joint}\"")))]);
        let errors = errors(&report);
        let [error] = errors.as_slice() else { panic!("{joint}: one error: {errors:#?}") };
        assert_eq!((error.message.as_str(), error.help.as_deref()), (*message, Some(*help)), "{joint}");
        let shown = render_human(&report, &files, Colour::Plain);
        assert!(shown.contains("specs/1.toml:10:11"), "{joint}: the place is not in\n{shown}");
    }
    let own = drilled().replace("joints = [\"J1\"]", "joints = [\"J1\", \"FUS-10/J2\"]");
    let (_, _, report) = checked(&[fuselage("", &own)]);
    let errors = errors(&report);
    let [error] = errors.as_slice() else { panic!("one error: {errors:#?}") };
    assert_eq!(error.message, "`joints` names `FUS-10/J2`, and it is a joint of this traveler");
    assert_eq!(error.help.as_deref(), Some("write `J2`"));
}

#[test]
fn each_hand_works_its_own_and_who_works_both_names_each() {
    let handed = "hands = [\"left\", \"right\"]";
    let (job, _, report) = checked(&[fuselage(handed, &drilled()), wing(handed, &rivet("\"FUS-10/J2\""))]);
    assert_eq!(errors(&report), Vec::<&Finding>::new());
    let order = Order::of(&job);
    let on = |traveler, step, hand| Item { at: StepRef { traveler, step }, hand };
    let hands = job.hands_of(0);
    assert!(order.precedes(on(0, 1, hands[0]), on(1, 0, hands[0])));
    assert!(!order.precedes(on(0, 1, hands[1]), on(1, 0, hands[0])), "the other hand is not waited for");

    let each = "\"FUS-10/left/J2\", \"FUS-10/right/J2\"";
    let (job, _, report) = checked(&[fuselage(handed, &drilled()), wing("", &rivet(each))]);
    assert_eq!(errors(&report), Vec::<&Finding>::new());
    let packet = &printed(&job, 1)[0];
    let rows: Vec<(&str, &str)> =
        packet.steps[0].joints.iter().map(|row| (row.id.as_str(), row.count.as_str())).collect();
    assert_eq!(rows, [("FUS-10 left J2", "12"), ("FUS-10 right J2", "12")]);
    assert_eq!(packet.preparation.hardware[0].total, 24);

    let (_, _, report) = checked(&[fuselage(handed, &drilled()), wing("", &rivet("\"FUS-10/left/J2\""))]);
    let errors = errors(&report);
    let [error] = errors.as_slice() else { panic!("one error: {errors:#?}") };
    assert_eq!(error.message, "no step rivets or bolts joint J2 of the right hand");
    let parted = rivet("\"FUS-10/left/J2\"") + &text::step("rivet-right", "rivet", "joints = [\"FUS-10/right/J2\"]");
    let (job, _, report) = checked(&[fuselage(handed, &drilled()), wing("", &parted)]);
    assert_eq!(self::errors(&report), Vec::<&Finding>::new());
    let order = Order::of(&job);
    assert!(order.precedes(on(0, 1, hands[1]), item(1, 1)));
    assert!(!order.precedes(on(0, 1, hands[1]), item(1, 0)), "the left rivets wait for the left holes alone");
}

#[test]
fn usual_steps_leave_out_what_another_traveler_does() {
    let names = |job: &Job, traveler: usize| -> Vec<String> {
        let named = |step: &shophead::job::Step| {
            let joints = step.joints.iter().map(|named| job.joint_name(named.joint, named.hand, traveler));
            format!("{} [{}]", step.id.value, joints.collect::<Vec<_>>().join(" "))
        };
        job.travelers[traveler].steps.iter().map(named).collect()
    };
    let own = "[[step]]\nid = \"on\"\ntitle = \"Rivet the fairing on\"\ndo = \"rivet\"\njoints = [\"FUS-10/J2\"]\nbefore = \"inspect\"\n";
    let cover = text::traveler("WING-10", "steps = \"usual\"")
        + &text::part("W1", "Fairing", "0.032")
        + &text::part("W2", "Rib", "0.032")
        + &text::joint("J1", &["W1", "W2"], RIVETS)
        + own;
    let (job, _, report) = checked(&[fuselage("", ""), cover]);
    assert_eq!(errors(&report), Vec::<&Finding>::new());
    let fuselage = names(&job, 0).join("\n");
    for part in ["drill [J1 J2]", "deburr [J1 J2]", "rivet [J1]", "inspect [J1]"] {
        assert!(fuselage.contains(part), "{part} is not in\n{fuselage}");
    }
    let wing = names(&job, 1).join("\n");
    for part in ["on [FUS-10/J2]", "inspect [J1 FUS-10/J2]"] {
        assert!(wing.contains(part), "{part} is not in\n{wing}");
    }
    let inspect = job.travelers[1].steps.iter().find(|step| step.id.value == "inspect").unwrap();
    assert!(inspect.records.iter().any(|record| record.label.value == "Smallest shop head of FUS-10/J2, width"));
    let prime = job.travelers[0].steps.iter().position(|step| step.id.value == "prime").unwrap();
    let rivets = job.travelers[1].steps.iter().position(|step| step.id.value == "on").unwrap();
    assert!(Order::of(&job).precedes(item(0, prime), item(1, rivets)), "the parts are primed before");
}

#[test]
fn bolted_elsewhere_is_torqued_there() {
    let bolts = text::traveler("GEAR-10", "")
        + &text::part("P1", "Plate", "0.125")
        + &text::part("P2", "Fitting", "0.125")
        + &text::joint("J1", &["P1", "P2"], BOLTS);
    let there = text::step("bolt-on", "bolt", "joints = [\"GEAR-10/J1\"]");
    let (job, _, report) = checked(&[bolts, wing("", &there)]);
    assert_eq!(errors(&report), Vec::<&Finding>::new());
    let kinds: Vec<&str> = job.travelers[0].steps.iter().map(|step| step.kind.value.word()).collect();
    assert!(!kinds.contains(&"bolt") && !kinds.contains(&"torque"), "{kinds:?}");
    let step = &printed(&job, 1)[0].steps[0];
    assert_eq!(step.torques.len(), 1);
    assert_eq!(step.torques[0].joint, "GEAR-10 J1");
    assert!(step.joints[0].hardware.iter().any(|line| line == "nut MS21044N3"), "{:?}", step.joints[0].hardware);
}

#[test]
fn it_is_open_until_it_is_fastened_and_a_space_does_not_close_over_it() {
    let project = format!("{}[[space]]\nid = \"bay\"\nname = \"Bay\"\n", text::DUNLIN);
    let own = text::step("drill", "drill", "joints = [\"J1\", \"J2\"]\nspaces = [\"bay\"]")
        + &text::step("deburr", "deburr", "joints = [\"J1\", \"J2\"]")
        + &text::step("rivet", "rivet", "joints = [\"J1\"]")
        + &text::step("close", "close", "closes = [\"bay\"]");
    let (job, ..) = job_of(&project, &[fuselage("", &own), wing("", &rivet("\"FUS-10/J2\""))]);
    let lines = ledger(&job, &shophead::job::State::default());
    let line = lines.iter().find(|line| line.joint == "J2").expect("J2 waits for its rivets");
    assert_eq!((line.kind, line.count, line.held), ("fasteners put off", 12, Held::Planned));
    assert_eq!((line.since.as_str(), line.until.as_deref()), ("FUS-10/deburr", Some("WING-10/rivet-on")));
    let found = crate::build::order_findings(&job);
    let closed: Vec<&Finding> = found.iter().filter(|finding| finding.rule == "close-unfinished").collect();
    let [closed] = closed.as_slice() else { panic!("one closing: {found:#?}") };
    assert!(closed.message.contains("12 x fasteners put off of joint J2"), "{}", closed.message);
}

#[test]
fn a_change_of_the_joint_changes_the_other_sheet() {
    let code = |joint: &str, place: usize| {
        let own = fuselage("", &drilled()).replacen(RIVETS, joint, 2);
        let (job, ..) = checked(&[own, wing("", &rivet("\"FUS-10/J2\""))]);
        sheet_requirement(&job, place, None).code()
    };
    let longer = RIVETS.replace("MS20470AD4-4", "MS20470AD4-4-5");
    assert_ne!(code(RIVETS, 1), code(&longer, 1), "the call");
    assert_ne!(code(RIVETS, 1), code(&RIVETS.replace("count = 12", "count = 14"), 1), "the count");
    let torque = RIVETS.to_owned() + "\nwet = \"primer\"";
    assert_ne!(code(RIVETS, 1), code(&torque, 1), "what it is set with");
    let start = RIVETS.replace("holes = { final", "holes = { start = \"#40\", final");
    assert_eq!(code(RIVETS, 1), code(&start, 1), "what only the drill meets");
}

#[test]
fn the_joints_own_traveler_accepts_a_departure_and_the_other_prints_it() {
    let pilot = text::step("drill", "drill", "joints = [\"J1\", \"J2\"]\nto = \"#40\"")
        + &text::step("deburr", "deburr", "joints = [\"J1\", \"J2\"]")
        + &text::step("open", "drill", "joints = [\"J1\"]")
        + &text::step("deburr-again", "deburr", "joints = [\"J1\"]")
        + &text::step("rivet", "rivet", "joints = [\"J1\"]");
    let text = "text = 'Drive {{ joint[\"FUS-10/J2\"].call }}.'\n";
    let there = text::step("rivet-on", "rivet", &format!("joints = [\"FUS-10/J2\"]\n{text}"));
    let (_, _, report) = checked(&[fuselage("", &pilot), wing("", &there)]);
    assert_eq!(errors(&report).iter().map(|error| error.rule).collect::<Vec<_>>(), ["hole-not-final"]);
    let allow =
        "[[allow]]\nrule = \"hole-not-final\"\njoint = \"J2\"\nbecause = \"the kit's rivet is for this hole\"\n";
    let (job, _, report) = checked(&[fuselage("", &(pilot + allow)), wing("", &there)]);
    assert_eq!(report.count(Severity::Error), 0, "{:#?}", report.findings);
    let packet = &packets(&job, 1, &report, &Options::default()).unwrap()[0];
    let departures: Vec<(&str, &str)> =
        packet.steps[0].departures.iter().map(|own| (own.at.as_str(), own.because.as_str())).collect();
    assert_eq!(departures, [("joint FUS-10 J2", "the kit's rivet is for this hole")]);
    let pages = lay_out(&packet.document(), &Templates::load(None).unwrap()).unwrap().page_texts().concat();
    assert!(pages.contains("Drive MS20470AD4-4."), "{pages}");
}

/// A traveler of two joints with faults, whose last step fastens both.
#[derive(Debug, Clone)]
struct Model {
    joints: [usize; 2],
    /// None, of the joints, of the parts.
    deburr: usize,
    /// Drilled to a pilot size alone, dimpled, primed, inspected.
    steps: [bool; 4],
    /// Whether the other traveler comes after it.
    after: bool,
}

/// Joints with the faults that rules look for: none, a short edge, a small hole, a short rivet, bare steel, no facts.
const JOINTS: [(&str, &str); 6] = [
    ("", ""),
    ("edge = \"0.32\"", "edge = \"0.20\""),
    ("#30", "#40"),
    ("MS20470AD4-4", "MS20470AD4-3"),
    ("count = 12", "count = 12\nprepare = \"dimple\""),
    ("holes = { final = \"#30\" }\n", ""),
];

fn models() -> impl Strategy<Value = Model> {
    let joints = [0..JOINTS.len(), 0..JOINTS.len()];
    (joints, 0..3_usize, any::<[bool; 4]>(), any::<bool>()).prop_map(|(joints, deburr, steps, after)| Model {
        joints,
        deburr,
        steps,
        after,
    })
}

impl Model {
    /// The two travelers, where the second one fastens, or the first alone does.
    fn travelers(&self, elsewhere: bool) -> Vec<String> {
        let joint = |at: usize| {
            let (from, to) = JOINTS[self.joints[at]];
            if from.is_empty() { RIVETS.to_owned() } else { RIVETS.replace(from, to) }
        };
        let [pilot, dimple, prime, inspect] = self.steps;
        let both = "joints = [\"J1\", \"J2\"]";
        let mut own = text::traveler("A", "")
            + &text::skin_and_rib()
            + &text::joint("J1", &["P1", "P2"], &joint(0))
            + &text::joint("J2", &["P1", "P2"], &joint(1));
        let mut step = |id: &str, kind: &str, keys: &str| write!(own, "{}", text::step(id, kind, keys)).unwrap();
        step("drill", "drill", if pilot { "joints = [\"J1\", \"J2\"]\nto = \"#40\"" } else { both });
        match self.deburr {
            0 => {}
            1 => step("deburr", "deburr", both),
            _ => step("deburr", "deburr", "parts = [\"P1\", \"P2\"]"),
        }
        if dimple {
            step("dimple", "dimple", both);
        }
        if prime {
            step("prime", "prime", "parts = [\"P1\", \"P2\"]");
        }
        if !elsewhere {
            step("rivet", "rivet", both);
        }
        if inspect {
            step("inspect", "inspect", both);
        }
        let after = if self.after { "after = [\"A\"]" } else { "" };
        let rivet = text::step("rivet", "rivet", "joints = [\"A/J1\", \"A/J2\"]");
        let look = text::step("look", "inspect", "");
        vec![own, text::traveler("B", after) + if elsewhere { &rivet } else { "" } + &look]
    }

    /// What is found, by rule, weight and joint; what watches the order left out.
    fn found(&self, elsewhere: bool) -> BTreeSet<(&'static str, String, Option<String>)> {
        const OF_ORDER: [&str; 4] = ["order-circular", "access-lost", "close-unfinished", "cure-ignored"];
        let (_, _, report) = checked(&self.travelers(elsewhere));
        let all = report.findings.into_iter().filter(|finding| !OF_ORDER.contains(&finding.rule));
        all.map(|finding| (finding.rule, format!("{:?}", finding.severity), finding.place.joint)).collect()
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn who_fastens_changes_nothing_that_is_found(model in models()) {
        prop_assert_eq!(model.found(true), model.found(false));
    }
}
