//! Planning packets: what is computed and what is refused.

mod board;
mod book;
mod both_hands;
mod caution;
mod change_pages;
mod compared;
mod discrepancy;
mod excerpt;
mod facing;
mod figures;
mod limit;
mod notice;
mod nut_only;
mod pick;
mod procedures;
mod regime;
mod sign;
mod tall;
mod tally;
mod tools;
mod torque;
pub mod visit;
mod whereabouts;

use shophead::job::{Item, StepRef};
use shophead::plan::{Options, Packet, StepSheet, packets, values};
use shophead::report::{Finding, Severity};
use shophead::work::{packet_digest, step_digest};

use crate::build::bracket::{BRACKET, FAIRING, PROJECT, bracket, bracket_packets, job};

pub fn left() -> Packet {
    bracket_packets(Options::default()).remove(0)
}

fn step<'a>(packet: &'a Packet, id: &str) -> &'a StepSheet {
    packet.steps.iter().find(|step| step.id == id).unwrap()
}

#[test]
fn one_packet_for_each_hand_or_one_for_a_one_off() {
    let both = bracket_packets(Options::default());
    assert_eq!(both.iter().map(Packet::stem).collect::<Vec<_>>(), ["T-1-left", "T-1-right"]);
    assert_ne!(both[0].head.code, both[1].head.code, "hands are different sheets");
    let (job, report) = bracket();
    let one_off = packets(&job, 1, &report, &Options::default()).unwrap();
    assert_eq!(one_off.len(), 1);
    assert_eq!(one_off[0].head.hand, None);
}

#[test]
fn file_names_keep_to_what_file_systems_take() {
    let odd = BRACKET.replace("id = \"T-1\"", "id = \"../T 1/é:*?\"");
    let (job, report) = job(PROJECT, &[&odd, &FAIRING.replace("T-1", "../T 1/é:*?")]);
    let stem = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap()[0].stem();
    assert_eq!(stem, "-T-1-é----left-draft");
}

#[test]
fn errors_of_the_traveler_or_the_project_stop_it_and_others_do_not() {
    let (job, mut report) = bracket();
    let span = job.travelers[0].id.span;
    let mut error = Finding::new("call-unknown", Severity::Error, span, "no such call");
    error.place.traveler = Some("T-2".into());
    report.push(error.clone());
    assert!(packets(&job, 0, &report, &Options::default()).is_ok());
    error.place.traveler = Some("T-1".into());
    report.push(error.clone());
    let refused = packets(&job, 0, &report, &Options::default()).unwrap_err();
    assert_eq!(refused.to_string(), "T-1 is not printed: 1 error stops it (no such call)");
    assert!(packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).is_ok());
    let (job, mut report) = bracket();
    error.place.traveler = None;
    report.push(error);
    assert!(packets(&job, 0, &report, &Options::default()).is_err(), "an error of the project stops every packet");
}

#[test]
fn allowed_errors_are_printed_with_their_reason() {
    let (job, mut report) = bracket();
    let mut finding =
        Finding::new("edge-distance-short", Severity::Error, job.travelers[0].id.span, "0.20 in is short");
    finding.place.traveler = Some("T-1".into());
    finding.place.joint = Some("J1".into());
    finding.allowed = Some("letter of the designer".into());
    report.push(finding);
    let packet = packets(&job, 0, &report, &Options::default()).unwrap().remove(0);
    let [departure] = packet.cover.departures.as_slice() else {
        panic!("one departure: {:?}", packet.cover.departures)
    };
    assert_eq!(departure.found.as_deref(), Some("0.20 in is short"));
    assert_eq!(departure.because, "letter of the designer");
    assert_eq!(step(&packet, "rivet").departures.len(), 1, "and at the step that makes or fastens the joint");
    assert_eq!(step(&packet, "prime").departures.len(), 0);
}

#[test]
fn hardware_is_totalled_with_spares() {
    let packet = left();
    let line = |call: &str| {
        packet.preparation.hardware.iter().find(|line| line.call == call).unwrap_or_else(|| panic!("{call}"))
    };
    let rivets = line("MS20470AD4-5");
    assert_eq!(
        (rivets.total, rivets.spare, rivets.pull),
        (10, 5, 15),
        "twelve holes, two stay open, at least five spare"
    );
    assert_eq!(rivets.written.as_deref(), Some("R-A"));
    assert_eq!(rivets.decode, "universal head, 2117-T4, 1/8 in dia, 5/16 in long");
    assert_eq!(line("MS20426AD3-4").pull, 45);
    let bolt = line("AN3-5");
    assert_eq!((bolt.total, bolt.spare), (1, 0), "bolts get no spare");
    assert!(line("MS24665-132").single_use && !bolt.single_use);
    assert!(line("AN3-5A").temporary && line("AN315-3R").temporary);
    assert_eq!(line("NAS1149F0363P").total, 1);
}

#[test]
fn ten_per_cent_of_many_rivets_is_more_than_five() {
    let many = BRACKET.replace("count = 40", "count = 101");
    let (job, report) = job(PROJECT, &[&many, FAIRING]);
    let packet = packets(&job, 0, &report, &Options::default()).unwrap().remove(0);
    let line = packet.preparation.hardware.iter().find(|line| line.call == "MS20426AD3-4").unwrap();
    assert_eq!((line.total, line.spare), (101, 11), "rounded up");
}

#[test]
fn tools_come_from_the_life_of_the_holes() {
    let packet = left();
    let has =
        |what: &str, size: &str| packet.preparation.tools.iter().any(|tool| tool.what == what && tool.size == size);
    assert!(has("drill", "#30 (0.1285 in)"), "{:?}", packet.preparation.tools);
    assert!(has("reamer", "0.1875 in (3/16)"));
    assert!(has("dimple dies, 100 deg", "3/32 in rivet"));
    assert!(has("rivet set, cupped", "1/8 in rivet"));
    assert!(has("rivet set, flush", "") && has("bar", ""), "one flush set and one bar serve every size");
    assert!(has("drill press", ""));
    assert!(has("sheet holders 3/32 in", "20 pieces") && has("sheet holders 1/8 in", "6 pieces"), "every other hole");
    assert!(has("shop bolts or clamps", "in holes #50"));
}

#[test]
fn steps_repeat_their_drill_and_their_fastener() {
    let packet = left();
    let drill = &step(&packet, "drill").joints[0];
    assert_eq!((drill.count.as_str(), drill.lead.as_str()), ("12 holes", "drill #30 (0.1285 in)"));
    assert_eq!(drill.lines, ["from #40"]);
    assert_eq!(step(&packet, "drill").common, ["all: final size"], "what all rows share is said once");
    let rivet = &step(&packet, "rivet").joints[0];
    assert_eq!((rivet.count.as_str(), rivet.lead.as_str()), ("10 of 12", "MS20470AD4-5"));
    assert!(rivet.lines.iter().any(|line| line == "manufactured head on P1 Plate"), "{:?}", rivet.lines);
    assert!(
        rivet
            .lines
            .iter()
            .any(|line| line.starts_with("shop head: aim at 0.188 in wide, 0.063 in high; at least 0.163"))
    );
    assert_eq!(rivet.hardware, ["WET with polysulphide sealant"]);
    assert_eq!(step(&packet, "rivet").leave_open, ["J1: 2 of 12 holes, until T-2 step 010: fairing goes on later"]);
    let torque = &step(&packet, "torque").torques[0];
    assert_eq!((torque.range.as_str(), torque.source.as_str()), ("20-25 in-lb", "from the plans"));
    assert_eq!(torque.settings, [], "a castle nut has no run-down drag");
}

#[test]
fn a_self_locking_nut_gets_wrench_settings_by_drag() {
    let locking = BRACKET
        .replace("AN310-3", "AN365-1032A")
        .replace("cotter = \"MS24665-132\"\n", "")
        .replace("torque = \"20-25 in-lb\"\n", "");
    let (job, report) = job(PROJECT, &[&locking, FAIRING]);
    let packet = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0);
    let torque = &step(&packet, "torque").torques[0];
    // AC 43.13-1B, Table 7-1: 10-32, nut in tension, 20 to 25 in-lb.
    assert_eq!(torque.range, "20-25 in-lb");
    assert!(torque.source.contains("7-1"), "{}", torque.source);
    let third = &torque.settings[2];
    assert_eq!((third.drag.as_str(), third.low.as_str(), third.high.as_str()), ("6", "26", "31"));
    // Table 7-1 allows 40 in-lb at most; par. 7-40f: not more than that plus the friction drag.
    assert_eq!(torque.most.as_deref(), Some("40 in-lb and the drag"));
}

#[test]
fn the_torque_stands_at_the_step_that_applies_it() {
    assert!(step(&left(), "bolt").torques.is_empty(), "a torque step follows");
    let without = BRACKET.replace("do = \"torque\"", "do = \"inspect\"");
    let (job, report) = job(PROJECT, &[&without, FAIRING]);
    let packet = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0);
    assert_eq!(step(&packet, "bolt").torques.len(), 1, "nothing else applies it");
}

#[test]
fn an_inspection_shows_what_is_in_the_holes() {
    let looked = BRACKET.replace(
        "id = \"close\"\ntitle",
        "id = \"look\"\ntitle = \"Look\"\ndo = \"inspect\"\njoints = [\"J1\", \"J-2\"]\n\n[[step]]\nid = \"close\"\ntitle",
    );
    let (job, report) = job(PROJECT, &[&looked, FAIRING]);
    let packet = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0);
    let joints = &step(&packet, "look").joints;
    assert_eq!(
        (joints[0].count.as_str(), joints[0].lead.as_str()),
        ("10", "MS20470AD4-5"),
        "two of the twelve stay open"
    );
    // MIL-HDBK-5H, par. 8.1.2: 1.3 D wide; MIL-R-47196A as quoted: .4 D high.
    assert!(
        joints[0].lines.iter().any(|line| line.ends_with("at least 0.163 in wide, 0.050 in high")),
        "{:?}",
        joints[0].lines
    );
    assert!(joints[1].lines.iter().any(|line| line.starts_with("torque 20-25 in-lb")), "{:?}", joints[1].lines);
    assert!(joints.iter().all(|joint| !joint.lines.iter().any(|line| line.starts_with("hole now"))));
}

#[test]
fn temporary_hardware_that_a_step_replaces_is_out_at_the_close() {
    let packet = left();
    assert_eq!((packet.cover.temporary.len(), packet.closeout.as_ref().unwrap().temporary.len()), (1, 0));
    let never = BRACKET.replace("do = \"bolt\"", "do = \"fit\"").replace("do = \"torque\"", "do = \"inspect\"");
    let (job, report) = job(PROJECT, &[&never, FAIRING]);
    let packet = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0);
    assert_eq!(packet.closeout.as_ref().unwrap().temporary.len(), 1, "it stays in, and the page says so");
}

#[test]
fn marks_follow_the_holds_of_steps_and_of_closing_spaces() {
    let packet = left();
    let point = |kind, role: &str| (kind, role.to_owned());
    let kinds =
        |id: &str| step(&packet, id).signs.iter().map(|sign| (sign.kind, sign.role.clone())).collect::<Vec<_>>();
    assert_eq!(kinds("drill"), [point("done", "builder")]);
    assert_eq!(kinds("bolt"), [point("done", "builder"), point("witness", "technical counselor")]);
    assert_eq!(kinds("torque"), [point("done", "builder"), point("hold", "inspector")]);
    assert_eq!(kinds("close"), [point("done", "builder"), point("hold", "technical counselor")]);
    let first =
        |id: &str| step(&packet, id).signs.iter().filter(|sign| sign.first).map(|sign| sign.kind).collect::<Vec<_>>();
    let days = packet.steps.iter().flat_map(|step| &step.signs).filter(|sign| sign.other_day);
    assert_eq!(days.count(), 0, "nobody holds his own work here");
    assert_eq!(
        (first("torque"), first("close")),
        (vec![], vec!["hold"]),
        "who looks before it closes signs before it closes"
    );
}

#[test]
fn joints_know_their_ladder_and_the_room_for_the_next_size() {
    let packet = left();
    let joint = &packet.joints[0];
    let ladder: Vec<_> = joint.ladder.iter().map(|rung| (rung.when.as_str(), rung.short.as_str())).collect();
    assert_eq!(ladder, [("as delivered", "#40"), ("step 010", "#30")]);
    assert_eq!(joint.next_size.verdict, "yes", "edge .35 is at least twice 5/32");
    assert_eq!(packet.joints[1].next_size.verdict, "not judged");
    assert_eq!(packet.joints[2].next_size.verdict, "not judged", "no edge given");
    let (job, report) = job(PROJECT, &[&BRACKET.replace("edge = \"0.35\"", "edge = \"0.30\""), FAIRING]);
    let tight = packets(&job, 0, &report, &Options::default()).unwrap().remove(0);
    assert_eq!(tight.joints[0].next_size.verdict, "no");
}

#[test]
fn cautions_fire_by_kind_words_and_materials() {
    let packet = left();
    let ids = |id: &str| step(&packet, id).cautions.iter().map(|caution| caution.id.as_str()).collect::<Vec<_>>();
    assert_eq!(ids("prime").first(), Some(&"chromate"), "heaviest first: {:?}", ids("prime"));
    assert!(ids("rivet").contains(&"sealant-skin"));
    assert!(ids("close").contains(&"close-space"));
    assert!(!ids("drill").contains(&"eye-protection"), "the general set stands on the cover");
    assert!(packet.cover.cautions.iter().any(|caution| caution.id == "eye-protection"));
    let torque = &step(&packet, "torque").cautions;
    assert!(torque.iter().any(|caution| caution.id == "eye-protection"), "but a spec may ask for it at a step");
    assert!(torque.iter().any(|caution| caution.word == "WARNING" && caution.text == "the spring bites"));
}

#[test]
fn it_is_good_to_stop_at_cures_and_holds_and_not_said_of_the_last_step() {
    let packet = left();
    assert_eq!(packet.cover.rests, ["030", "040 (cures)", "060", "070 (hold)"], "after 080 the packet ends");
}

#[test]
fn wording_leaves_the_code_alone_and_requirements_change_it() {
    let code_of = |text: &str| {
        let (job, _) = job(PROJECT, &[text, FAIRING]);
        packet_digest(&job, 0, None).code().to_string()
    };
    let same = code_of(BRACKET);
    let wordings = [
        ("title = \"Open the holes\"", "title = \"Open all the holes\""),
        ("Hole to {{", "The hole to {{"),
        ("tools = [\"drill press\"]", "tools = [\"hand drill\"]"),
        ("minutes = 50", "minutes = 55"),
        ("photo = \"before covering\"", "photo = \"before it is covered\""),
        ("name = \"Rib\"", "name = \"Main rib\""),
        ("because = \"letter of the designer\"", "because = \"letter of 2026\""),
    ];
    for (from, to) in wordings {
        assert!(BRACKET.contains(from), "{from}");
        assert_eq!(code_of(&BRACKET.replace(from, to)), same, "{to}");
    }
    let requirements = [
        ("revision = \"A\"", "revision = \"B\""),
        ("final = \"#30\"", "final = \"#29\""),
        ("count = 12", "count = 13"),
        ("thickness = \"0.040\"", "thickness = \"0.050\""),
        ("fastener = \"R-A\"", "fastener = \"MS20470AD4-6\""),
        ("max = 0.1885", "max = 0.189"),
        ("hold = \"inspector\"", "witness = \"inspector\""),
        ("cure = \"24 h\"", "cure = \"36 h\""),
        ("prepare = \"dimple\"", "prepare = \"countersink\""),
        ("torque = \"20-25 in-lb\"", "torque = \"20-24 in-lb\""),
        ("closes = [\"bay\"]\n", ""),
        ("drawings = [\"W-1:B\"]", "drawings = [\"W-1:C\"]"),
    ];
    for (from, to) in requirements {
        assert!(BRACKET.contains(from), "{from}");
        assert_ne!(code_of(&BRACKET.replace(from, to)), same, "{to}");
    }
}

#[test]
fn a_steps_digest_follows_its_own_joints_only() {
    let digests = |text: &str| {
        let (job, _) = job(PROJECT, &[text, FAIRING]);
        let at = |step| step_digest(&job, Item { at: StepRef { traveler: 0, step }, hand: job.hands_of(0)[0] });
        (0..job.travelers[0].steps.len()).map(at).collect::<Vec<_>>()
    };
    let (before, after) = (digests(BRACKET), digests(&BRACKET.replace("final = \"#30\"", "final = \"#29\"")));
    let changed: Vec<usize> = (0..before.len()).filter(|at| before[*at] != after[*at]).collect();
    assert_eq!(changed, [0, 4], "drilling and riveting J1, nothing else");
    let revised = digests(&BRACKET.replace("revision = \"A\"", "revision = \"B\""));
    assert_eq!(before, revised, "a new revision alone lets every signature stand");
}

#[test]
fn values_name_only_what_is_known() {
    let (job, _) = bracket();
    let known = values(&job, 0, Some(shophead::job::Hand::Left));
    assert_eq!(known["joint"]["J1"]["hole"]["final"], "#30 (0.1285 in)");
    assert_eq!(known["joint"]["J1"]["hole"]["ladder"], "#40 -> #30");
    assert_eq!(known["joint"]["J-2"]["torque"], "20-25 in-lb");
    assert_eq!(known["record"]["pivot-hole"]["pivot"], "0.1875 to 0.1885 in");
    assert_eq!(known["traveler"]["hand"], "left");
    assert!(
        known["joint"]["J3"].get("pitch").is_none(),
        "what is not given is not there, so a text that asks is wrong"
    );
}

#[test]
fn the_final_hole_of_a_table_yields_to_a_larger_one_that_is_delivered() {
    let printed = |start: &str| {
        let traveler = BRACKET
            .replace("holes = { start = \"#40\", final = \"#30\" }", &format!("holes = {{ start = \"{start}\" }}"))
            .replace("do = \"drill\"\njoints = [\"J1\", \"J3\"]", "do = \"drill\"\njoints = [\"J3\"]");
        let (job, report) = job(PROJECT, &[&traveler, FAIRING]);
        let packet = packets(&job, 0, &report, &Options { draft: true, ..Options::default() }).unwrap().remove(0);
        let value = packet.values["joint"]["J1"]["hole"]["final"].as_str().unwrap().to_owned();
        assert_eq!(packet.joints[0].last.as_ref(), Some(&value), "the schedule and the texts say the same");
        (value, packet.joints[0].notes[0].clone())
    };
    // The nominal hole of a 1/8 in solid rivet in the table is #30.
    let (small, source) = printed("#40");
    assert!(small.starts_with("#30") && source == "final hole #30: usual hole of the table", "{small}, {source}");
    let (large, source) = printed("#28");
    assert!(
        large.starts_with("#28") && source.starts_with("final hole #28: as drilled or delivered"),
        "{large}, {source}"
    );
}
