//! The look-list: for each space the sets of fasteners that can be seen there, in words that need no table.
//!
//! It repeats what the spec says and what was recorded; how it looks is for the visitor to say.

use serde::Serialize;

use super::scene::{Chosen, PlacedJoint, Scene};
use crate::hardware::{Fastener, bolt_edge, rivet_edge};
use crate::job::{Hardware, Item, Joint, Safety, StepKind, Structure};
use crate::phrase::say;
use crate::plan::{joint as joints, told, torque};
use crate::units::Style;

/// What is looked at in every space, whatever is fastened there.
fn always() -> [&'static str; 6] {
    [
        say!("clearance of moving parts, full travel"),
        say!("nothing chafes: wires, lines, cables"),
        say!("drain holes open, nothing pools"),
        say!("corrosion protection whole, bare edges touched up"),
        say!("no loose hardware, swarf, tools"),
        say!("sharp edges, scratches, dents, cracks"),
    ]
}

/// What to look at in one space.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SpaceLook {
    /// The space.
    pub space: String,
    /// Looked at in any case.
    pub always: [&'static str; 6],
    /// Sets of fasteners: those that are set first, within that what carries most, and bolts.
    pub joints: Vec<LookJoint>,
}

/// One set of fasteners.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LookJoint {
    /// Traveler and hand.
    pub place: String,
    /// Id and name.
    pub joint: String,
    /// How many in the whole traveler and hand; some may lie outside the space.
    pub count: u32,
    /// The call.
    pub call: String,
    /// Where it is: the parts, and on which of them each head lies.
    pub parts: String,
    /// The call in plain words.
    pub words: String,
    /// Whether it has heads to sample: rivets.
    pub rivet: bool,
    /// Whether the spec calls it primary structure.
    pub primary: bool,
    /// The day on which the last of them was set; absent while some are not.
    pub set: Option<String>,
    /// Whether some of the work of setting them is signed.
    pub begun: bool,
    /// Smallest edge distance by the spec, also in diameters, and the least that is asked for.
    pub edge: Option<String>,
    /// What is particular to a bolt.
    pub bolt: Option<BoltLook>,
    /// Holes that stay open.
    pub open: Option<String>,
}

/// What is particular to a bolt.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BoltLook {
    /// Torque range and where it comes from.
    pub torque: Option<String>,
    /// Values that were recorded while it was torqued.
    pub recorded: Vec<String>,
    /// How it is kept from turning.
    pub safety: String,
}

pub(super) fn looks(scene: &Scene<'_>) -> Vec<SpaceLook> {
    let of_space = |chosen: &Chosen| {
        let mut placed: Vec<PlacedJoint> = scene.joints_in(chosen).into_iter().collect();
        placed.sort_by_key(|own| {
            let joint = scene.joint(*own);
            (set(scene, *own).is_none(), !is_primary(joint), !is_bolt(joint), *own)
        });
        let joints = placed.into_iter().map(|own| look(scene, own)).collect();
        SpaceLook { space: chosen.name(scene.job), always: always(), joints }
    };
    scene.chosen.iter().map(of_space).collect()
}

fn is_primary(joint: &Joint) -> bool {
    joint.structure.as_ref().is_some_and(|structure| structure.value == Structure::Primary)
}

const fn is_bolt(joint: &Joint) -> bool {
    matches!(joint.fastener, Ok(Fastener::Bolt(_) | Fastener::Screw(_)))
}

fn look(scene: &Scene<'_>, placed: PlacedJoint) -> LookJoint {
    let joint = scene.joint(placed);
    let set = set(scene, placed);
    let elsewhere = || joints::fastened_elsewhere(scene.job, placed.joint);
    LookJoint {
        place: scene.place(placed.joint.traveler, placed.hand),
        joint: joint.title(),
        count: joint.count.value,
        call: joint.call.clone(),
        parts: parts(joint),
        words: joints::decode(joint, &scene.job.project.style),
        rivet: matches!(joint.fastener, Ok(Fastener::SolidRivet(_) | Fastener::BlindRivet(_))),
        primary: is_primary(joint),
        begun: fastenings(scene, placed).any(|item| scene.state.is_done(item)),
        edge: edge(joint, &scene.job.project.style),
        bolt: is_bolt(joint).then(|| bolt(scene, placed)),
        open: joints::leave_open(scene.job, joint).or_else(|| elsewhere().filter(|_| set.is_none())),
        set,
    }
}

/// The parts from the manufactured head to the other side, each face that can be seen said.
fn parts(joint: &Joint) -> String {
    let names: Vec<&str> = joint.layers.iter().map(|layer| layer.name.as_str()).collect();
    let [first, between @ .., last] = &names[..] else { return names.concat() };
    let other = match joint.fastener {
        Ok(Fastener::SolidRivet(_)) => say!("shop head"),
        Ok(Fastener::BlindRivet(_)) => say!("blind head"),
        Ok(Fastener::Bolt(_) | Fastener::Screw(_)) => "nut",
        _ => return names.join(", "),
    };
    let through =
        if between.is_empty() { String::new() } else { say!(", through {between}", between = between.join(", ")) };
    say!("head on {first}{through}, {other} on {last}", first, through, other, last)
}

/// The items that set a joint's fasteners.
fn fastenings(scene: &Scene<'_>, placed: PlacedJoint) -> impl Iterator<Item = Item> {
    scene.life(placed).filter(|item| scene.job.step(item.at).kind.value.fastens())
}

/// The day on which the last of the joint's fastenings was signed.
fn set(scene: &Scene<'_>, placed: PlacedJoint) -> Option<String> {
    let days: Option<Vec<_>> =
        fastenings(scene, placed).map(|item| Some(scene.state.done.get(&item)?.on.earliest)).collect();
    days?.into_iter().max().map(|last| last.day().to_string())
}

fn edge(joint: &Joint, style: &Style) -> Option<String> {
    let (smallest, d) = (joint.least_edge()?, joint.diameter()?);
    let fastener = joint.fastener.as_ref().ok()?;
    let least = match (&joint.limits, fastener) {
        (Some(limits), _) if limits.edge.is_some() => limits.edge?.value,
        (_, Fastener::SolidRivet(_) | Fastener::BlindRivet(_)) => rivet_edge(fastener.head()).least.value,
        _ => bolt_edge().least.value,
    };
    Some(say!(
        "{smallest}, {ratio_to} D ({least} D or more)",
        smallest = style.length(smallest),
        ratio_to = smallest.ratio_to(d)?,
        least
    ))
}

fn bolt(scene: &Scene<'_>, placed: PlacedJoint) -> BoltLook {
    let joint = scene.joint(placed);
    let torque = torque::words(joint, &scene.job.project.style);
    let torqued = scene
        .life(placed)
        .filter(|item| matches!(scene.job.step(item.at).kind.value, StepKind::Torque | StepKind::Bolt));
    let recorded = torqued.flat_map(|item| {
        let values = scene.state.done.get(&item).map(|done| &done.values);
        let records = scene.job.step(item.at).records.iter();
        let read = records.filter_map(move |record| {
            let value = values?.get(&record.id.value)?;
            let unit = record.unit.as_ref().map_or(String::new(), |unit| format!(" {}", unit.value));
            Some(format!("{}: {value}{unit}", told::label(record)))
        });
        read.collect::<Vec<_>>()
    });
    BoltLook { torque, recorded: recorded.collect(), safety: safety(joint) }
}

/// How a bolt is kept from turning, as far as the spec says it.
fn safety(joint: &Joint) -> String {
    let called =
        |hardware: &Option<Hardware>| hardware.as_ref().map_or("", |hardware| hardware.call.as_str()).to_owned();
    let nut = called(&joint.nut);
    match joint.safety() {
        Safety::Pin if joint.cotter.is_some() => {
            let nut = if nut.is_empty() { nut } else { say!("nut {nut}, ", nut) };
            say!("{nut}cotter pin {cotter}", nut, cotter = called(&joint.cotter))
        }
        Safety::Itself if matches!(joint.decoded_nut(), Some(Fastener::Nutplate(_))) => say!("nutplate {nut}", nut),
        Safety::Itself => say!("self-locking nut {nut}", nut),
        Safety::CheckNut => say!("nut {nut}, check nut {check_nut}", nut, check_nut = called(&joint.check_nut)),
        Safety::LockWasher => say!("nut {nut} on a lock washer", nut),
        Safety::Wire => say!("safety wire through the head").to_owned(),
        Safety::Pin | Safety::Open if nut.is_empty() => say!("the builder's file names no nut: ask").to_owned(),
        Safety::Pin | Safety::Open => say!("nut {nut}; the builder's file names nothing that locks it: ask", nut),
    }
}
