//! One number everywhere: what a joint takes, by packet, step, pick list, requirement, ledger and close-out.
//!
//! Random joints in two travelers with and without hands: holes left open and filled by the own traveler, by the other one
//! or never; fit-up hardware that stays until it is fastened, or comes out for paint and goes in again.

use std::collections::BTreeMap;
use std::fmt::Write;

use proptest::collection::vec;
use proptest::prelude::*;
use shophead::calendar::When;
use shophead::job::{Done, Hand, Job, Order, State};
use shophead::plan::Source;
use shophead::plan::{Choice, Options, Packet, StepRun, packet, packets, pick_list};
use shophead::report::Report;
use shophead::work::{Held, ledger, open_counts, set_here, sheet_requirement};

use crate::build::job_of;

/// Who fills the holes that stay open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Filler {
    Own,
    Other,
    /// The other traveler, with the fasteners of a joint of its own.
    Shared,
    Never,
}

/// How fit-up hardware lives.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum FitUp {
    /// In at the first work, out at the fastening.
    Drilled,
    /// In at a step of its own, out at the fastening.
    Fitted,
    /// In, out for paint, in again, out at the fastening.
    Again,
    /// In, and out when its parts are taken apart.
    Apart,
}

#[derive(Debug, Clone)]
struct JointModel {
    bolt: bool,
    count: u32,
    /// Holes that stay open, and who fills them.
    open: Option<(u32, Filler)>,
    fit_up: Option<FitUp>,
    torqued: bool,
}

/// Traveler A with the joints, traveler B after it, which fills some of their holes.
#[derive(Debug, Clone)]
struct Model {
    hands: [bool; 2],
    joints: Vec<JointModel>,
}

fn joint() -> impl Strategy<Value = JointModel> {
    let filler = prop_oneof![Just(Filler::Own), Just(Filler::Other), Just(Filler::Shared), Just(Filler::Never)];
    let fit_up = prop_oneof![Just(FitUp::Drilled), Just(FitUp::Fitted), Just(FitUp::Again), Just(FitUp::Apart)];
    let open = proptest::option::weighted(0.7, (1..8_u32, filler));
    (any::<bool>(), 1..8_u32, open, proptest::option::weighted(0.4, fit_up), any::<bool>()).prop_map(
        |(bolt, more, open, fit_up, torqued)| {
            // Sometimes all holes stay open, mostly some do.
            let count = open.map_or(more, |(open, _)| open + more - 1);
            JointModel { bolt, count, open, fit_up, torqued }
        },
    )
}

fn models() -> impl Strategy<Value = Model> {
    (any::<[bool; 2]>(), vec(joint(), 1..5)).prop_map(|(hands, joints)| Model { hands, joints })
}

impl Model {
    fn hands_of(&self, traveler: usize) -> Vec<Option<Hand>> {
        if self.hands[traveler] { vec![Some(Hand::Left), Some(Hand::Right)] } else { vec![None] }
    }

    fn call(&self, joint: usize) -> String {
        if self.joints[joint].bolt { format!("AN3-{}A", joint + 3) } else { format!("MS20470AD4-{}", joint + 4) }
    }

    /// What the other traveler puts into shared holes: as many a hand as a hand of the joint leaves open.
    fn shared_call(joint: usize) -> String {
        format!("MS20426AD4-{}", joint + 4)
    }

    fn shared(&self, joint: usize) -> u32 {
        let (open, filler) = self.open(joint);
        if filler == Some(Filler::Shared) { open } else { 0 }
    }

    fn fit_up_call(joint: usize) -> String {
        format!("AN4-{}A", joint + 3)
    }

    /// Holes, a hand of A, that stay open, and who fills them.
    fn open(&self, joint: usize) -> (u32, Option<Filler>) {
        self.joints[joint].open.map_or((0, None), |(open, filler)| (open, Some(filler)))
    }

    /// Final fasteners of a joint that one hand of a traveler sets.
    fn set(&self, joint: usize, traveler: usize, hand: Option<Hand>) -> u32 {
        let own = &self.joints[joint];
        let (open, filler) = self.open(joint);
        match (traveler, filler) {
            (0, Some(Filler::Own)) => own.count,
            (0, _) => own.count - open,
            (_, Some(Filler::Other)) => match (self.hands[0], hand) {
                (true, None) => 2 * open,
                (false, Some(Hand::Left)) => open.div_ceil(2),
                (false, Some(Hand::Right)) => open / 2,
                _ => open,
            },
            _ => 0,
        }
    }

    fn text(&self) -> [String; 2] {
        [format!("{}{}{}", self.head(0, "A"), self.parts_and_joints(), self.steps()), self.other()]
    }

    fn head(&self, traveler: usize, id: &str) -> String {
        let hands = if self.hands[traveler] { "hands = [\"left\", \"right\"]\n" } else { "" };
        format!("[traveler]\nid = \"{id}\"\ntitle = \"t\"\nrevision = \"A\"\n{hands}")
    }

    fn parts_and_joints(&self) -> String {
        let mut text = String::new();
        for part in 0..=self.joints.len() {
            let _ = write!(
                text,
                "[[part]]\nid = \"P{part}\"\nname = \"p\"\nmaterial = \"2024-T3\"\nthickness = \"0.040\"\n"
            );
        }
        for (index, own) in self.joints.iter().enumerate() {
            // A part of its own, so that each joint can be taken apart alone; the last part is in every stack.
            let last = self.joints.len();
            let _ = write!(
                text,
                "[[joint]]\nid = \"J{index}\"\nstack = [\"P{index}\", \"P{last}\"]\nfastener = \"{}\"\ncount = {}\n",
                self.call(index),
                own.count
            );
            if own.bolt {
                text.push_str("nut = \"AN365-1032A\"\n");
            }
            if let Some((open, filler)) = own.open {
                let until = match (filler, own.bolt) {
                    (Filler::Own, true) => "A/fill-bolts",
                    (Filler::Own, false) => "fill-rivets",
                    (Filler::Other | Filler::Shared, _) => "B/fill",
                    (Filler::Never, _) => "C/nowhere",
                };
                let with = if filler == Filler::Shared { format!("joint = \"K{index}\", ") } else { String::new() };
                let _ = writeln!(text, "leave-open = {{ count = {open}, until = \"{until}\", {with}why = \"later\" }}");
            }
            if own.fit_up.is_some() {
                let call = Self::fit_up_call(index);
                let _ = writeln!(text, "temporary = {{ fastener = \"{call}\", nut = \"AN315-4R\", why = \"paint\" }}");
            }
        }
        text
    }

    fn steps(&self) -> String {
        let mut text = String::new();
        let mut step = |id: &str, kind: &str, meant: &dyn Fn(&JointModel) -> bool| {
            let named = self.joints.iter().enumerate().filter(|(_, own)| meant(own));
            let joints: Vec<String> = named.map(|(index, _)| format!("J{index}")).collect();
            let _ = write!(text, "[[step]]\nid = \"{id}\"\ntitle = \"t\"\ndo = \"{kind}\"\njoints = {joints:?}\n");
            let apart = self.joints.iter().enumerate().filter(|(_, own)| own.fit_up == Some(FitUp::Apart));
            if id == "parts-off" {
                let _ = writeln!(text, "parts = {:?}", apart.map(|(index, _)| format!("P{index}")).collect::<Vec<_>>());
            }
        };
        let own_fill = |own: &JointModel| own.open.is_some_and(|(_, filler)| filler == Filler::Own);
        // A joint of which all holes wait has no other fastening.
        let fastened = |own: &JointModel| own.open.is_none_or(|(open, _)| open < own.count);
        step("drill", "drill", &|own| own.fit_up.is_none_or(|fit_up| fit_up == FitUp::Drilled));
        step("fit", "fit", &|own| own.fit_up.is_some_and(|fit_up| fit_up != FitUp::Drilled));
        step("off", "take-apart", &|own| own.fit_up == Some(FitUp::Again));
        step("parts-off", "take-apart", &|_| false);
        step("fit-again", "fit", &|own| own.fit_up == Some(FitUp::Again));
        step("rivet", "rivet", &|own| !own.bolt && fastened(own));
        step("bolt", "bolt", &|own| own.bolt && fastened(own));
        step("torque", "torque", &|own| own.bolt && own.torqued);
        step("look", "inspect", &|_| true);
        step("fill-rivets", "rivet", &|own| !own.bolt && own_fill(own));
        step("fill-bolts", "bolt", &|own| own.bolt && own_fill(own));
        step("torque-fill", "torque", &|own| own.bolt && own.torqued && own_fill(own));
        step("look-again", "inspect", &|_| true);
        text
    }

    fn other(&self) -> String {
        let mut other = format!("{}after = [\"A\"]\n", self.head(1, "B"));
        let mut joints = Vec::new();
        for index in (0..self.joints.len()).filter(|index| self.shared(*index) > 0) {
            let _ = write!(
                other,
                "[[joint]]\nid = \"K{index}\"\nstack = [{{ material = \"2024-T3\", thickness = \"0.040\" }}]\nfastener = \"{}\"\ncount = {}\n",
                Self::shared_call(index),
                self.shared(index)
            );
            joints.push(format!("K{index}"));
        }
        let _ = write!(other, "[[step]]\nid = \"fill\"\ntitle = \"Fill\"\ndo = \"rivet\"\njoints = {joints:?}\n");
        other
    }
}

/// The first number in some words.
fn number(words: &str) -> u32 {
    let digits: String = words.chars().skip_while(|c| !c.is_ascii_digit()).take_while(char::is_ascii_digit).collect();
    digits.parse().unwrap()
}

/// Pieces by call that packets pull: final ones and fit-up hardware.
fn pulled(packets: &[Packet]) -> BTreeMap<(String, bool), u32> {
    let mut sums: BTreeMap<(String, bool), u32> = BTreeMap::new();
    for line in packets.iter().flat_map(|packet| &packet.preparation.hardware) {
        assert_eq!(line.total, line.uses.iter().map(|one| one.count).sum::<u32>(), "{line:?}");
        *sums.entry((line.call.clone(), line.temporary)).or_default() += line.total;
    }
    sums
}

fn picked(job: &Job, travelers: Vec<usize>, hand: Option<Hand>) -> BTreeMap<(String, bool), u32> {
    let now = When::parse("2026-03-02").unwrap().earliest;
    let choice = Choice { travelers, hand, ..Choice::default() };
    let list = pick_list(job, &Order::of(job), &State::default(), &choice, now);
    list.hardware.into_iter().map(|line| ((line.call, line.temporary), line.needed)).collect()
}

/// Pieces by call that the lines of the steps name.
fn at_steps(packet: &Packet) -> BTreeMap<String, u32> {
    let fasten = |kind: &str| matches!(kind, "rivet" | "bolt");
    let mut sums: BTreeMap<String, u32> = BTreeMap::new();
    let joints = packet.steps.iter().filter(|step| fasten(step.kind)).flat_map(|step| &step.joints);
    // Where only fit-up hardware comes out, that leads.
    for joint in joints.filter(|joint| !joint.lead.starts_with("take out")) {
        *sums.entry(joint.lead.clone()).or_default() += number(&joint.count);
    }
    sums.retain(|_, count| *count > 0);
    sums
}

/// The state in which every step of the first so many travelers is done.
fn done(job: &Job, travelers: usize) -> State {
    let mut state = State::default();
    let on = When::parse("2026-03-02").unwrap();
    for item in Order::of(job).items().filter(|item| item.at.traveler < travelers) {
        state.done.insert(item, Done { on, by: "B1".into(), minutes: None, values: BTreeMap::new() });
    }
    state
}

fn packet_of(job: &Job, traveler: usize, hand: Option<Hand>, steps: Option<StepRun>) -> Packet {
    let options = Options { steps, ..Options::default() };
    packet(Source::of_specs(job, traveler, hand, &Report::default(), options)).unwrap()
}

fn check_packet(model: &Model, job: &Job, traveler: usize, hand: Option<Hand>) {
    let packet = packet_of(job, traveler, hand, None);
    let set = |joint: usize| model.set(joint, traveler, hand);
    let finals = (0..model.joints.len()).map(|joint| (model.call(joint), set(joint)));
    let of_b = if traveler == 1 { 0..model.joints.len() } else { 0..0 };
    let shared = of_b.map(|joint| (Model::shared_call(joint), model.shared(joint)));
    let expected: BTreeMap<String, u32> = finals.chain(shared).filter(|(_, count)| *count > 0).collect();
    assert_eq!(at_steps(&packet), expected, "lines of the steps");
    let pulled_here = pulled(std::slice::from_ref(&packet));
    assert_eq!(pulled_here, picked(job, vec![traveler], hand), "pick list of this packet");
    for (call, count) in &expected {
        assert_eq!(pulled_here.get(&(call.clone(), false)), Some(count), "hardware of the packet");
    }
    let bolts: u32 = (0..model.joints.len()).filter(|joint| model.joints[*joint].bolt).map(set).sum();
    // A nut that no step takes is on no list.
    assert_eq!(pulled_here.get(&("AN365-1032A".into(), false)).copied().unwrap_or_default(), bolts);
    let all: u32 = expected.values().sum();
    assert_eq!(number(packet.cover.counts.last().unwrap()), all, "{:?}", packet.cover.counts);
    let facts = sheet_requirement(job, traveler, hand);
    for joint in 0..model.joints.len() {
        let id = if traveler == 0 { format!("J{joint}") } else { format!("A/J{joint}") };
        let stated: u32 = facts.steps.iter().map(|step| set_here(&facts, step, &id)).sum();
        assert_eq!(stated, set(joint), "requirements of {id}");
    }
    let end = packet.steps.len() - 1;
    for cut in (0..end).step_by(4) {
        let part = |first, last| packet_of(job, traveler, hand, Some(StepRun { first, last }));
        assert_eq!(pulled(&[part(0, cut), part(cut + 1, end)]), pulled_here, "in two runs, cut after {cut}");
    }
    if traveler == 0 {
        check_close_out(model, &packet);
        check_fit_up(model, &packet);
    }
}

fn check_close_out(model: &Model, packet: &Packet) {
    let close_out = packet.closeout.as_ref().unwrap();
    for (index, own) in model.joints.iter().enumerate() {
        let id = format!("J{index}");
        let (open, filler) = model.open(index);
        let open = if filler == Some(Filler::Own) { 0 } else { open };
        let is_deferred = open == own.count;
        // Fit-up hardware of a joint that no step here fastens stays in, unless it was taken apart.
        let stays_in = is_deferred && own.fit_up.is_some_and(|fit_up| fit_up != FitUp::Apart);
        let line = close_out.leave_open.iter().find(|line| line.joint == id);
        let listed = line.map_or(0, |line| number(&line.words));
        assert_eq!(listed, if stays_in { 0 } else { open }, "open holes of {id} at the end");
        let line = close_out.temporary.iter().find(|line| line.joint == id);
        let left = line.map_or(0, |line| line.count);
        assert_eq!(left, if stays_in { own.count } else { 0 }, "fit-up hardware of {id} at the end");
    }
}

/// Every piece of fit-up hardware that a step puts in is named there, and where it comes out.
fn check_fit_up(model: &Model, packet: &Packet) {
    for (index, own) in model.joints.iter().enumerate() {
        let call = format!("{} x {} with AN315-4R", own.count, Model::fit_up_call(index));
        let lines = |verb: &str| -> usize {
            let words = format!("{verb} {call}");
            let joints =
                packet.steps.iter().flat_map(|step| &step.joints).filter(|joint| joint.id == format!("J{index}"));
            let says = |joint: &&shophead::plan::StepJoint| {
                joint.lead == words || joint.lines.iter().any(|line| line.starts_with(&words))
            };
            joints.filter(says).count()
        };
        let deferred = own.open.is_some_and(|(open, filler)| open == own.count && filler != Filler::Own);
        let (first, again, out) = match own.fit_up {
            None => (0, 0, 0),
            Some(FitUp::Again) => (1, 1, if deferred { 1 } else { 2 }),
            Some(FitUp::Apart) => (1, 0, 1),
            Some(FitUp::Drilled | FitUp::Fitted) => (1, 0, usize::from(!deferred)),
        };
        assert_eq!((lines("fit"), lines("fit again"), lines("take out")), (first, again, out), "{call}");
    }
}

fn check_ledger(model: &Model, job: &Job) {
    for (travelers, filled) in [(1, false), (2, true)] {
        let state = done(job, travelers);
        for hand in model.hands_of(0) {
            let counts = open_counts(job, &state, 0, hand);
            let open = |deferred: bool| -> u32 {
                let joints = model.joints.iter().filter_map(|own| Some((own, own.open?)));
                let here = joints.filter(|(own, (open, filler))| {
                    let stays = match filler {
                        Filler::Own => false,
                        Filler::Other | Filler::Shared => !filled,
                        Filler::Never => true,
                    };
                    stays && (*open == own.count) == deferred
                });
                here.map(|(_, (open, _))| open).sum()
            };
            assert_eq!((counts.left_open, counts.put_off), (open(false), open(true)), "open in the ledger");
            assert_eq!(counts.not_torqued, 0, "every bolting has its torque step behind it");
        }
        let open = |kind: &str| {
            ledger(job, &state)
                .into_iter()
                .filter(|line| line.held == Held::Open && line.kind == kind)
                .map(|line| line.count)
                .sum::<u32>()
        };
        let own = packets(job, 0, &Report::default(), &Options::default()).unwrap();
        if !filled {
            let close_outs = own.iter().flat_map(|packet| &packet.closeout);
            let listed: u32 = close_outs.clone().flat_map(|end| &end.temporary).map(|line| line.count).sum();
            assert_eq!(open("temporary hardware"), listed, "fit-up hardware in ledger and close-out");
            let holes: u32 = close_outs.flat_map(|end| &end.leave_open).map(|line| number(&line.words)).sum();
            let not_temporary = open("holes left open") + open("fasteners put off") - listed;
            assert_eq!(not_temporary, holes, "open holes in ledger and close-out");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn every_page_and_list_gives_one_number(model in models()) {
        let (job, ..) = job_of("[aircraft]\nname = \"Dunlin\"\n", &model.text());
        let mut all: Vec<Packet> = Vec::new();
        for traveler in 0..2 {
            for hand in model.hands_of(traveler) {
                check_packet(&model, &job, traveler, hand);
                all.push(packet_of(&job, traveler, hand, None));
            }
        }
        prop_assert_eq!(pulled(&all), picked(&job, Vec::new(), None), "packets and pick list of the whole build");
        for (index, own) in model.joints.iter().enumerate() {
            let hands = u32::try_from(model.hands_of(0).len()).unwrap();
            let (open, filler) = model.open(index);
            let never = if matches!(filler, Some(Filler::Never | Filler::Shared)) { open } else { 0 };
            let taken = pulled(&all);
            let of = |call: String, temporary: bool| taken.get(&(call, temporary)).copied().unwrap_or_default();
            prop_assert_eq!(of(model.call(index), false), hands * (own.count - never), "joint {}", index);
            let fit_up = if own.fit_up.is_some() { hands * own.count } else { 0 };
            prop_assert_eq!(of(Model::fit_up_call(index), true), fit_up, "fit-up of joint {}", index);
        }
        check_ledger(&model, &job);
    }
}

#[test]
fn a_step_that_fills_for_another_traveler_has_what_the_hand_needs_there() {
    let a = "[traveler]\nid = \"A\"\ntitle = \"t\"\nrevision = \"A\"\n[[joint]]\nid = \"J1\"\n\
        stack = [{ material = \"2024-T3\", thickness = \"0.125\" }, { material = \"2024-T3\", thickness = \"0.125\" }]\n\
        fastener = \"AN3-5\"\nnut = \"AN310-3\"\ncotter = \"MS24665-132\"\ncount = 6\nwet = \"sealant\"\n\
        leave-open = { count = 2, until = \"B/fill\", why = \"bracket\" }\n[[step]]\nid = \"bolt\"\ntitle = \"t\"\ndo = \"bolt\"\njoints = [\"J1\"]\n";
    let b = "[traveler]\nid = \"B\"\ntitle = \"t\"\nrevision = \"A\"\n[[step]]\nid = \"fill\"\ntitle = \"Fit the bracket\"\ndo = \"bolt\"\n";
    let (job, ..) = job_of("[aircraft]\nname = \"Dunlin\"\n", &[a, b]);
    let packet = packet_of(&job, 1, None, None);
    let step = &packet.steps[0];
    assert_eq!(step.fill, ["A J1: the 2 holes left open at A step 010"]);
    assert!(step.leave_open.is_empty());
    let [joint] = step.joints.as_slice() else { panic!("one joint: {:?}", step.joints) };
    assert_eq!((joint.id.as_str(), joint.count.as_str(), joint.lead.as_str()), ("A J1", "2 of 6", "AN3-5"));
    assert_eq!(step.torques.iter().map(|torque| torque.joint.as_str()).collect::<Vec<_>>(), ["A J1"]);
    assert_eq!(packet.preparation.consumables, ["sealant"]);
    assert_eq!(packet.preparation.hardware.iter().map(|line| line.total).collect::<Vec<_>>(), [2, 2, 2]);
    let own = packet_of(&job, 0, None, None);
    assert_eq!(own.steps[0].joints[0].count, "4 of 6");
    assert_eq!(own.steps[0].leave_open, ["J1: 2 of 6 holes, until B step 010: bracket"]);
    let cautions = |packet: &Packet| packet.steps[0].cautions.iter().map(|one| one.id.clone()).collect::<Vec<_>>();
    assert_eq!(cautions(&packet), cautions(&own), "the same work is warned of alike");
}
