//! Every box of the demo's packets is there for one thing, and no tick is made twice: the boxes on paper are counted against
//! what the steps ask for.

use std::collections::BTreeMap;

use shophead::job::State;
use shophead::plan::{AtPrinting, Options, Packet, Source, packet};
use shophead::render::lay_out;

use super::{Demo, SMALL};

/// Boxes by what they are for: work, hold, witness, stage, reading, photo, state of a joint.
type Counts = BTreeMap<String, usize>;

/// What the steps of a packet ask for: three boxes a signature; a state only where a step has several joints, else the
/// signature is the state.
fn asked(packet: &Packet) -> Counts {
    let mut counts = Counts::new();
    let mut add = |what: &str, many: usize| {
        if many > 0 {
            *counts.entry(what.to_owned()).or_default() += many;
        }
    };
    for step in &packet.steps {
        for sign in &step.signs {
            add(sign.kind, 3 + sign.fields.len() + sign.outcomes.len());
        }
        add("record", step.records.len());
        add("photo", usize::from(step.photo.is_some()));
        add("state", if step.joints.len() > 1 { step.joints.len() } else { 0 });
    }
    counts
}

#[test]
fn no_tick_of_the_demo_is_made_twice() {
    let demo = Demo::load();
    let state = State::default();
    let work = AtPrinting::of(&demo.job, &demo.order, &state);
    let mut all = Counts::new();
    let mut wrong = Vec::new();
    for index in 0..demo.job.travelers.len() {
        // The one sheet of a small job has places to tick in a line in place of boxes.
        if SMALL.contains(&demo.job.travelers[index].id.value.as_str()) {
            continue;
        }
        let hand = demo.job.hands_of(index)[0];
        let source = Source::of_specs(&demo.job, index, hand, &demo.report, Options::default());
        let packet = packet(Source { work: Some(&work), ..source }).unwrap();
        let laid = lay_out(&packet.document(), &demo.templates).unwrap_or_else(|failure| panic!("{failure}"));
        typst::comemo::evict(0);
        let mut found = Counts::new();
        let mut once = BTreeMap::new();
        for one in laid.boxes().unwrap() {
            *once.entry((one.step.clone(), one.role.clone(), one.field.clone())).or_insert(0) += 1;
            let what = one.field.split(':').next().unwrap_or_default().to_owned();
            // The revision of a drawing in hand is no step's.
            if what != "drawing" && packet.steps.iter().any(|step| step.id == one.step) {
                *found.entry(what.clone()).or_default() += 1;
                *all.entry(what).or_default() += 1;
            }
        }
        let name = &packet.head.traveler;
        wrong.extend(once.iter().filter(|(_, times)| **times > 1).map(|(one, _)| format!("{name}: {one:?} twice")));
        if found != asked(&packet) {
            wrong.push(format!("{name}: {found:?} on paper, {:?} asked for", asked(&packet)));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(all.len() >= 6, "the demo has boxes of most kinds: {all:?}");
}
