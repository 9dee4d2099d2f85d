//! What a step requires of a joint: only what its kind of work depends on.
//!
//! A drilled hole does not depend on the length of the rivet, a primed part not on its torque. What a step depends on
//! is listed once, in `Concern::of`, what form 1 did not record in `Concern::since_two`, and how many pieces go in, which
//! is recorded since form 3, in `pieces`.

use super::{Facts, text};
use crate::archive::{About, FactValue, Form, KitSide, LayerFacts, Side};
use crate::hardware::{Fastener, Head, KitFastener};
use crate::job::{Handled, Handling, Hardware, HoleLife, Job, Joint, Layer, NamedJoint, StepKind, StepRef, Traveler};
use crate::text::Spanned;
use crate::units::{JointTorque, Length, Size, Style, TorqueRange, Unit};
use crate::words::UNDRILLED;

/// The sides of a joint that a kind of step depends on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Concern {
    /// Number of fasteners.
    Count,
    /// Edges, pitch, rows, and the place of every hole.
    Pattern,
    /// Edges, pitch, rows, as they are seen and measured at the finished joint.
    Spacing,
    /// The hole as delivered.
    Start,
    /// The hole as this step leaves it.
    Reached,
    /// The final hole.
    Final,
    /// Depth of the burr chamfer.
    Chamfer,
    /// Dimples and countersinks, with the diameter of the fastener that they fit.
    Recess,
    /// The form of the head that dimples and countersinks fit.
    Head,
    /// Call, nut, washers, pin, and holes left open.
    Fastener,
    /// Call, nut, washers, pin.
    Calls,
    /// The numbers of kit-supplied hardware, which no standard fixes.
    Kit(&'static [KitSide]),
    /// What it is set wet with.
    Wet,
    /// Torque and the state of the threads.
    Torque,
    /// Run-down torque of a nut that is used again.
    RunDown,
    /// Fit-up hardware.
    Temporary,
    /// By what the finished joint is judged.
    Judged,
    /// Limits of the plans for the pattern.
    Limits,
}

/// What a recess is cut to.
const KIT_HEAD: &[KitSide] = &[KitSide::Head, KitSide::Diameter];
/// What a wrench is set by.
const KIT_THREAD: &[KitSide] = &[KitSide::Kind, KitSide::Thread, KitSide::SelfLocking, KitSide::Castle, KitSide::Class];

impl Concern {
    const fn of(kind: StepKind) -> &'static [Self] {
        use Concern::{Chamfer, Count, Fastener, Final, Pattern, Reached, Recess, Temporary, Torque, Wet};
        match kind {
            StepKind::LayOut => &[Count, Pattern],
            StepKind::Drill | StepKind::Ream => &[Count, Pattern, Reached],
            StepKind::Countersink | StepKind::Dimple => &[Count, Recess],
            StepKind::Deburr => &[Count, Chamfer],
            StepKind::Fit => &[Temporary],
            StepKind::Rivet => &[Count, Final, Recess, Fastener, Wet],
            StepKind::Torque => &[Count, Fastener, Torque],
            StepKind::Bolt | StepKind::Inspect | StepKind::Measure | StepKind::Test => {
                &[Count, Final, Recess, Fastener, Wet, Torque]
            }
            StepKind::Bond | StepKind::Seal => &[Wet],
            StepKind::Prepare
            | StepKind::Trim
            | StepKind::Form
            | StepKind::Dress
            | StepKind::HeatTreat
            | StepKind::PressFit
            | StepKind::Install
            | StepKind::Connect
            | StepKind::Clean
            | StepKind::Prime
            | StepKind::Paint
            | StepKind::TakeApart
            | StepKind::Rig
            | StepKind::Level
            | StepKind::Photograph
            | StepKind::Close => &[],
        }
    }

    /// What form 1 did not record, each for a reason of the trade (common practice).
    const fn since_two(kind: StepKind) -> &'static [Self] {
        use Concern::{Head, Judged, Kit, Limits, RunDown, Spacing, Start};
        match kind {
            // The plans' own limits say how near the edge a hole may lie.
            StepKind::LayOut => &[Limits],
            // What is drilled depends on what was there before: a larger hole as delivered is seen at the drill.
            StepKind::Drill | StepKind::Ream => &[Start, Limits, Kit(&[KitSide::Hole])],
            // A recess is cut to the head: a reduced head stands deep in the cut of a full one.
            StepKind::Countersink | StepKind::Dimple => &[Head, Kit(KIT_HEAD)],
            // Who drives or looks has edges and spacing in front of the eyes, and judges by load, heat and movement.
            StepKind::Rivet => &[Spacing, Judged, Limits, Kit(KitSide::ALL)],
            StepKind::Bolt | StepKind::Inspect | StepKind::Measure | StepKind::Test => {
                &[Spacing, Judged, Limits, Head, RunDown, Kit(KitSide::ALL)]
            }
            StepKind::Torque => &[RunDown, Kit(KIT_THREAD)],
            _ => &[],
        }
    }
}

/// What filling the open holes of another traveler depends on.
const FILLING: &[Concern] = &[
    Concern::Final,
    Concern::Recess,
    Concern::Calls,
    Concern::Wet,
    Concern::Torque,
    Concern::Head,
    Concern::Judged,
    Concern::RunDown,
    Concern::Kit(KitSide::ALL),
];

/// Adds what a step requires of a joint that it names.
pub(super) fn add(facts: &mut Facts, job: &Job, at: StepRef, named: NamedJoint, handled: &[Handled]) {
    let joint = named.joint;
    let traveler = &job.travelers[joint.traveler];
    let own = job.joint(joint);
    let kind = own.works_at(at).next().unwrap_or(job.step(at).kind.value);
    let mut of =
        OfJoint { facts, joint: own, id: job.joint_name(joint, named.hand, at.traveler), reached: own.hole_after(at) };
    of.layers(traveler);
    // Where a step of its own does the torque, the bolting step leaves the nut loose.
    let is_loose = kind == StepKind::Bolt && has_torque_step(own);
    for concern in Concern::of(kind) {
        if *concern != Concern::Torque || !is_loose {
            of.concern(*concern);
        }
    }
    if of.facts.form >= Form::Two {
        for concern in Concern::since_two(kind) {
            if *concern != Concern::RunDown || !is_loose {
                of.concern(*concern);
            }
        }
        // Where no step fits the parts up, fit-up hardware goes in with the first work on the joint.
        let first = job.fit_ups(joint).into_iter().next();
        if kind != StepKind::Fit && first.is_some_and(|first| first.put_in == at) {
            of.concern(Concern::Temporary);
        }
    }
    of.pieces(
        handled.iter().filter(|one| one.joint == joint && one.hand == named.hand),
        Concern::of(kind).contains(&Concern::Count),
    );
}

/// Adds what a step requires of a joint that it does not name, mostly of another traveler, and whose open holes it fills;
/// since form 3.
pub(super) fn add_filled(facts: &mut Facts, job: &Job, at: StepRef, handled: &Handled) {
    if facts.form < Form::Three {
        return;
    }
    let traveler = &job.travelers[handled.joint.traveler];
    let own = job.joint(handled.joint);
    let mut of =
        OfJoint { facts, joint: own, id: job.joint_name(handled.joint, handled.hand, at.traveler), reached: None };
    of.layers(traveler);
    for concern in FILLING {
        of.concern(*concern);
    }
    of.pieces(std::iter::once(handled), false);
}

fn has_torque_step(joint: &Joint) -> bool {
    joint.life.iter().any(|life| life.kind == StepKind::Torque)
}

fn layer_value(layer: &Layer, traveler: &Traveler) -> FactValue {
    let part = layer.part.map(|at| traveler.parts[at].id.value.clone());
    let own = LayerFacts { part, material: layer.material.clone(), thickness: layer.thickness };
    if own == LayerFacts::default() { FactValue::Text(layer.name.clone()) } else { FactValue::Layer(own) }
}

/// The facts of one joint in the making.
struct OfJoint<'a> {
    facts: &'a mut Facts,
    joint: &'a Joint,
    /// The joint's id; of another traveler's joint that traveler's id and a slash before it.
    id: String,
    /// The hole as the step leaves it.
    reached: Option<HoleLife>,
}

impl OfJoint<'_> {
    fn side(&mut self, side: Side, value: Option<FactValue>) {
        self.facts.maybe(About::Joint(self.id.clone(), side), value);
    }

    fn layers(&mut self, traveler: &Traveler) {
        for (number, layer) in (1_u32..).zip(&self.joint.layers) {
            self.facts.add(About::Layer(self.id.clone(), number), layer_value(layer, traveler));
        }
    }

    /// How many pieces go in, where the number of the joint does not say it.
    fn pieces<'h>(&mut self, handled: impl Iterator<Item = &'h Handled>, says_count: bool) {
        if self.facts.form < Form::Three {
            return;
        }
        let all = self.joint.count.value;
        for one in handled {
            let said = says_count && one.count == all;
            match one.what {
                what if what.is_final() && !said => self.side(Side::SetHere, Some(FactValue::Count(one.count))),
                Handling::PutIn { .. } if !said => self.side(Side::PutIn, Some(FactValue::Count(one.count))),
                _ => {}
            }
        }
    }

    fn length(&mut self, side: Side, length: Option<Length>) {
        self.side(side, length.map(FactValue::Length));
    }

    fn words(&mut self, side: Side, words: Option<&str>) {
        self.side(side, words.map(text));
    }

    fn concern(&mut self, concern: Concern) {
        let joint = self.joint;
        match concern {
            Concern::Count => self.side(Side::Count, Some(FactValue::Count(joint.count.value))),
            Concern::Pattern => self.pattern(),
            Concern::Spacing => self.spacing(),
            Concern::Start => self.start(),
            Concern::Reached => self.length(Side::HoleAfter, self.reached.map(|hole| hole.size.length)),
            Concern::Final => self.length(Side::Hole, joint.last.map(|hole| hole.size.length)),
            Concern::Chamfer => self.length(Side::Chamfer, joint.holes.chamfer.map(|size| size.value.length)),
            Concern::Recess => self.recess(),
            Concern::Head => {
                let head = joint.fastener.as_ref().ok().map(Fastener::head);
                self.words(Side::HeadForm, head.filter(|_| joint.is_recessed()).map(head_word));
            }
            Concern::Fastener => {
                self.calls();
                let open = joint.leave_open.as_ref();
                let open = open.map(|open| FactValue::LeftOpen(open.count.value, open.until.value.clone()));
                self.side(Side::LeftOpen, open);
            }
            Concern::Calls => self.calls(),
            Concern::Kit(sides) => self.kits(sides),
            Concern::Wet => self.words(Side::Wet, joint.wet.as_ref().map(|wet| wet.value.as_str())),
            Concern::Torque => {
                let limit = joint.limits.as_ref().and_then(|limits| limits.torque);
                self.side(Side::PlansTorque, limit.map(|limit| FactValue::Torque(limit.value)));
                let torque = joint.called_torque().map(|torque| torque.value);
                self.side(Side::Torque, torque.and_then(JointTorque::range).map(FactValue::Torque));
                let ours = joint.own_torque.as_ref().filter(|_| torque.is_none());
                self.side(Side::Torque, ours.map(|own| FactValue::Torque(own.range)));
                let most = ours.and_then(|own| own.most).map(|most| TorqueRange { low: most, high: most });
                self.side(Side::TorqueMost, most.map(FactValue::Torque));
                self.words(Side::TorqueSource, ours.map(|own| own.source.as_str()));
                let snug = torque.filter(|torque| *torque == JointTorque::Snug);
                self.words(Side::Tightened, snug.map(|_| JointTorque::SNUG));
                self.words(Side::Drag, joint.drag.map(|drag| drag.value.word()));
                let threads = joint.lubricated.map(|own| if own.value { "lubricated" } else { "dry" });
                self.words(Side::Threads, threads);
            }
            Concern::RunDown => self.side(Side::RunDown, joint.run_down.map(|torque| FactValue::Torque(torque.value))),
            Concern::Temporary => {
                let temporary = joint.temporary.as_ref().map(|temporary| {
                    let nut = temporary.nut.as_ref().map(|nut| nut.call.clone());
                    FactValue::Temporary(temporary.fastener.call.clone(), nut)
                });
                self.side(Side::Temporary, temporary);
            }
            Concern::Judged => self.judged(),
            Concern::Limits => self.limits(),
        }
    }

    fn pattern(&mut self) {
        self.spacing();
        for (along, across) in self.joint.places.iter().flatten() {
            self.side(Side::HoleAt, Some(FactValue::Point(*along, *across)));
        }
    }

    /// One fact for all layers, or one each where they differ.
    fn start(&mut self) {
        let length = |start: &Spanned<Option<Size>>| start.value.map(|size| size.length);
        let mut layers: Vec<Option<Length>> = self.joint.holes.start.iter().map(length).collect();
        layers.dedup();
        if layers.len() > 1 {
            layers = self.joint.holes.start.iter().map(length).collect();
        }
        for hole in layers {
            self.side(Side::HoleStart, Some(hole.map_or_else(|| text(UNDRILLED), FactValue::Length)));
        }
    }

    fn spacing(&mut self) {
        let joint = self.joint;
        for edge in &joint.edge {
            self.length(Side::Edge, Some(edge.value));
        }
        self.length(Side::Pitch, joint.pitch.map(|pitch| pitch.value));
        self.side(Side::Rows, Some(FactValue::Count(joint.rows.value)));
        self.length(Side::RowGap, joint.row_gap.map(|gap| gap.value));
    }

    fn recess(&mut self) {
        let joint = self.joint;
        if !joint.is_recessed() {
            return;
        }
        for (number, layer) in (1_u32..).zip(&joint.layers) {
            let about = About::Preparation(self.id.clone(), number);
            self.facts.add(about, text(layer.preparation.word()));
        }
        self.length(Side::HeadOf, joint.diameter());
    }

    fn calls(&mut self) {
        let joint = self.joint;
        self.words(Side::Fastener, Some(&joint.call));
        let call = |hardware: &Option<Hardware>| hardware.as_ref().map(|own| text(&own.call));
        self.side(Side::Nut, call(&joint.nut));
        self.side(Side::CheckNut, call(&joint.check_nut));
        for (side, washers) in [(Side::WasherHead, &joint.washers_head), (Side::WasherNut, &joint.washers_nut)] {
            for washer in washers {
                self.words(side, Some(&washer.call));
            }
        }
        self.side(Side::Cotter, call(&joint.cotter));
    }

    fn judged(&mut self) {
        let joint = self.joint;
        // A fact does not depend on how the project prints: one form for all.
        let archived = Style::of(Unit::Inch).with_both();
        self.words(Side::Structure, joint.structure.map(|structure| structure.value.word()));
        self.words(Side::Rotates, joint.rotates.map(|own| yes(own.value)));
        self.words(Side::Clamped, joint.clamped.map(|own| own.value.word()));
        self.words(Side::Temperature, joint.temperature.map(|own| archived.temperature(own.value)).as_deref());
        self.words(Side::OftenRemoved, joint.often_removed.map(|own| yes(own.value)));
        self.length(Side::StringerLeg, joint.stringer_leg.map(|leg| leg.value));
        self.length(Side::Tube, joint.tube.map(|tube| tube.value));
    }

    fn limits(&mut self) {
        let Some(limits) = &self.joint.limits else { return };
        let least =
            [(Side::LeastEdge, limits.edge), (Side::LeastPitch, limits.pitch), (Side::LeastRowGap, limits.row_gap)];
        for (side, ratio) in least.into_iter().chain([(Side::LeastBend, limits.bend)]) {
            self.side(side, ratio.map(|ratio| FactValue::Ratio(ratio.value)));
        }
        for (side, range) in [(Side::PlansHole, limits.hole), (Side::PlansGrip, limits.grip)] {
            self.side(side, range.map(|range| FactValue::Range(range.value.0.length, range.value.1.length)));
        }
    }

    /// The kit's numbers of everything that the joint takes; hardware of a standard has none.
    fn kits(&mut self, sides: &[KitSide]) {
        let joint = self.joint;
        let more = joint
            .nut
            .iter()
            .chain(&joint.check_nut)
            .chain(&joint.washers_head)
            .chain(&joint.washers_nut)
            .chain(&joint.cotter);
        let fasteners = std::iter::once(&joint.fastener).chain(more.map(|hardware| &hardware.fastener));
        for kit in fasteners.filter_map(|fastener| fastener.as_ref().ok()?.kit()) {
            for side in sides {
                let about = About::Kit(kit.id.clone(), *side);
                if self.facts.list.iter().all(|fact| fact.about != about) {
                    self.facts.maybe(about, kit_value(kit, *side));
                }
            }
        }
    }
}

const fn yes(own: bool) -> &'static str {
    if own { "yes" } else { "no" }
}

const fn head_word(head: Head) -> &'static str {
    match head {
        Head::Protruding => "protruding",
        Head::Flush82 => "flush, 82 degrees",
        Head::Flush100 => "flush, 100 degrees",
        Head::FlushReduced100 => "reduced flush, 100 degrees",
        Head::Flush120 => "flush, 120 degrees",
    }
}

fn kit_value(kit: &KitFastener, side: KitSide) -> Option<FactValue> {
    let range = |range: Option<(Length, Length)>| range.map(|(least, most)| FactValue::Range(least, most));
    match side {
        KitSide::Kind => Some(text(kit.kind.word())),
        KitSide::Diameter => Some(FactValue::Length(kit.diameter)),
        KitSide::Hole => range(kit.hole),
        KitSide::Grip => range(kit.grip),
        KitSide::Head => Some(text(head_word(kit.head))),
        KitSide::Material => (!kit.material.is_empty()).then(|| text(&kit.material)),
        KitSide::Thread => kit.thread.as_deref().map(text),
        KitSide::Length => kit.length.map(FactValue::Length),
        KitSide::ThreadLength => kit.thread_length.map(FactValue::Length),
        KitSide::Thickness => kit.thickness.map(FactValue::Length),
        KitSide::Height => kit.height.map(FactValue::Length),
        KitSide::SelfLocking => kit.self_locking.then(|| text(yes(true))),
        KitSide::Castle => kit.castle.then(|| text(yes(true))),
        KitSide::PinHole => kit.pin_hole.map(FactValue::Length),
        KitSide::DrilledShank => kit.drilled_shank.map(|own| text(yes(own))),
        KitSide::Class => kit.property_class.as_deref().map(text),
        KitSide::Source => (!kit.source.is_empty()).then(|| text(&kit.source)),
    }
}
