//! Follows the references of one joint: layers, callouts and calls, hole sizes, and what the steps do to it.
//!
//! A call that does not decode stays in the joint with the reason; the rules report it.

use super::Resolving;
use super::names::{Names, dangling};
use crate::hardware::{Fastener, OwnTorque, Shop, TorqueAsked, Undecoded, decode};
use crate::job::{
    FinalHole, Hardware, HoleLife, Joint, JointRef, Layer, LivesAt, Part, Step, StepRef, Temporary, Text, Traveler,
};
use crate::report::{Finding, Place, Report};
use crate::spec::{JointSpec, LayerSpec, Preparation, TemporarySpec};
use crate::text::Spanned;
use crate::units::{Length, Size, Unit};
use crate::words::{Lubrication, StepKind};

impl Resolving<'_> {
    pub(super) fn resolve_joint(&mut self, spec: JointSpec, parts: &[Part], names: &Names) -> Joint {
        let place = Place { joint: Some(spec.id.value.clone()), ..self.place() };
        let layer_specs = spec.stack.value.iter().enumerate();
        let layers: Vec<Layer> =
            layer_specs.map(|(i, layer)| self.resolve_layer(layer, i, &spec.prepare, parts, names, &place)).collect();
        let hardware = |text: &Option<Text>| text.as_ref().map(|text| self.hardware(text));
        let washers_head = self.hardware_list(&spec.washers.head);
        let washers_nut = self.hardware_list(&spec.washers.nut);
        let call = self.follow_callout(&spec.fastener.value);
        let decoded = decode(&call, &self.project.kit);
        let stack = layers.iter().map(|layer| layer.thickness).sum::<Option<Length>>();
        let start = spec.holes.start.iter().filter_map(|start| start.value).max_by_key(|size| size.length);
        let of_plans = spec.limits.as_ref().and_then(|limits| limits.hole);
        let last = final_hole(spec.holes.last, of_plans, start, decoded.as_ref().ok(), self.project.style.unit);
        let next = decoded.as_ref().ok().and_then(|fastener| Joint::find_next(fastener, &self.project.shop));
        let total = |list: &[Hardware]| list.iter().filter_map(Hardware::thickness).sum();
        let washers = (total(&washers_head), total(&washers_nut));
        let open = decoded.as_ref().ok().filter(|fastener| fastener.lacks_length());
        let fitted = open.and_then(|fastener| fastener.fitted(stack?, Some(last?.size.length), washers));
        let length_from_stack = fitted.is_some();
        let fastener = fitted.map_or(decoded, Ok);
        let nut = hardware(&spec.nut);
        let (own_torque, torque_for_others) = self.own_torque(&spec, &fastener, nut.as_ref());
        Joint {
            layers,
            call: fastener.as_ref().map_or(call, |fastener| fastener.usual_call().to_owned()),
            fastener,
            length_from_stack,
            last,
            next,
            places: spec.hole_places(&self.project.style).and_then(Result::ok),
            nut,
            own_torque,
            torque_for_others,
            check_nut: hardware(&spec.check_nut),
            cotter: hardware(&spec.cotter),
            replaces: hardware(&spec.replaces),
            temporary: spec.temporary.as_ref().map(|temporary| self.resolve_temporary(temporary, &spec.fastener)),
            washers_head,
            washers_nut,
            // Known once the steps of every traveler are.
            filled_by: None,
            shares_with: None,
            life: Vec::new(),
            recorded: Vec::new(),
            spec,
        }
    }

    /// The build's own torque that is for a joint, and whether there are some for its thread without one for it.
    fn own_torque(
        &self,
        spec: &JointSpec,
        fastener: &Result<Fastener, Undecoded>,
        nut: Option<&Hardware>,
    ) -> (Option<OwnTorque>, bool) {
        let Ok(bolt @ (Fastener::Bolt(_) | Fastener::Screw(_))) = fastener else { return (None, false) };
        let asked = TorqueAsked {
            thread: bolt.thread_name(),
            class: bolt.property_class(),
            nut: nut.and_then(|nut| nut.fastener.as_ref().ok()),
            lubrication: match spec.lubricated {
                Some(Spanned { value: true, .. }) => Lubrication::Lubricated,
                _ => Lubrication::Dry,
            },
        };
        let found = asked.among(&self.project.torques).cloned();
        let others = found.is_none() && self.project.torques.iter().any(|own| asked.has_thread_of(own));
        (found, others)
    }

    /// Follows the steps that fill the holes left open.
    pub(super) fn follow_fills(&mut self, joints: &mut [Joint]) {
        for joint in joints {
            let Some(open) = &joint.spec.leave_open else { continue };
            let place = Place { joint: Some(joint.spec.id.value.clone()), ..self.place() };
            joint.filled_by = self.resolve_step_ref(&open.until, place).map(|at| at.value);
        }
    }

    fn resolve_layer(
        &mut self,
        spec: &LayerSpec,
        index: usize,
        prepare: &[Spanned<Preparation>],
        parts: &[Part],
        names: &Names,
        place: &Place,
    ) -> Layer {
        let part = spec.part.as_ref().and_then(|id| {
            let found = names.get(&id.value);
            if found.is_none() {
                self.dangling(id, "part", names.known(), place.clone());
            }
            found
        });
        let of_part = part.map(|index| &parts[index]);
        let own = spec.thickness;
        let thickness = own.or_else(|| of_part.and_then(|part| part.thickness));
        let material = spec.material.as_ref().or_else(|| of_part.and_then(|part| part.material.as_ref()));
        let preparation = if prepare.len() == 1 { prepare.first() } else { prepare.get(index) };
        Layer {
            part,
            name: layer_name(of_part, spec),
            material: material.map(|text| text.value.clone()),
            thickness: thickness.map(|size| size.value.length),
            preparation: preparation.map_or(Preparation::Plain, |word| word.value),
            preparation_span: preparation.map(|word| word.span),
            span: spec.span,
            thickness_span: thickness.map(|size| size.span),
        }
    }

    fn follow_callout(&self, call: &str) -> String {
        let callouts = &self.project.callouts;
        callouts
            .iter()
            .find(|(name, _)| name.value == call)
            .map_or_else(|| call.to_owned(), |(_, meaning)| meaning.value.clone())
    }

    fn hardware(&self, written: &Text) -> Hardware {
        let call = self.follow_callout(&written.value);
        let fastener = decode(&call, &self.project.kit);
        Hardware { written: written.clone(), call, fastener }
    }

    fn hardware_list(&self, texts: &[Text]) -> Vec<Hardware> {
        texts.iter().map(|text| self.hardware(text)).collect()
    }

    fn resolve_temporary(&self, spec: &TemporarySpec, own: &Text) -> Temporary {
        Temporary {
            // The joint's own bolt goes in at once where only its nut is for a time.
            fastener: self.hardware(spec.fastener.as_ref().unwrap_or(own)),
            nut_only: spec.fastener.is_none() && spec.nut.is_some(),
            nut: spec.nut.as_ref().map(|nut| self.hardware(nut)),
            why: spec.why.clone(),
        }
    }
}

fn layer_name(part: Option<&Part>, spec: &LayerSpec) -> String {
    match (part, &spec.part, &spec.material) {
        (Some(part), ..) => part.called(),
        (None, Some(id), _) => id.value.clone(),
        (None, None, Some(material)) => material.value.clone(),
        (None, None, None) => "unnamed layer".to_owned(),
    }
}

/// The hole that the spec gives, or the plans' limits; else the usual one of the tables that is not below what is delivered.
fn final_hole(
    written: Option<Spanned<Size>>,
    of_plans: Option<Spanned<(Size, Size)>>,
    start: Option<Size>,
    fastener: Option<&Fastener>,
    unit: Unit,
) -> Option<FinalHole> {
    let start_length = start.map(|start| start.length);
    // Whether the drawing's hole comes from the table does not depend on what the builder happens to own.
    let usual = |fastener: &Fastener| Shop::usual(unit).usual_hole(fastener, start_length);
    if let Some(size) = written {
        return Some(FinalHole { size: size.value, span: Some(size.span) });
    }
    if let Some(Spanned { value: (low, high), span }) = of_plans {
        let usual = fastener.and_then(usual);
        let inside = |size: &Size| (low.length..=high.length).contains(&size.length);
        let size = usual.map(|usual| usual.value).filter(inside).unwrap_or(low);
        return Some(FinalHole { size, span: Some(span) });
    }
    let usual = usual(fastener?)?.value;
    // As it was written: #40 is not to come back as .098.
    let size = start.filter(|start| start.length == usual.length).unwrap_or(usual);
    Some(FinalHole { size, span: None })
}

/// Follows the joints that share holes left open; they are joints of the traveler that fills the holes.
pub(super) fn trace_shares(travelers: &mut [Traveler], report: &mut Report) {
    let mut shares: Vec<(JointRef, JointRef)> = Vec::new();
    for (traveler, own) in travelers.iter().enumerate() {
        for (joint, spec) in own.joints.iter().enumerate() {
            let named = spec.leave_open.as_ref().and_then(|open| open.joint.as_ref());
            let Some((named, until)) = named.zip(spec.filled_by) else { continue };
            let others = &travelers[until.traveler].joints;
            if let Some(at) = others.iter().position(|other| other.id.value == named.value) {
                let with = JointRef { traveler: until.traveler, joint: at };
                shares.push((JointRef { traveler, joint }, with));
            } else {
                let known = others.iter().map(|other| other.id.value.as_str());
                let place = Place {
                    traveler: Some(own.id.value.clone()),
                    joint: Some(spec.id.value.clone()),
                    ..Place::default()
                };
                report.push(Finding { place, ..dangling(named, "joint", known) });
            }
        }
    }
    for (own, with) in shares {
        travelers[own.traveler].joints[own.joint].shares_with = Some(with);
    }
}

/// Tells every step which open holes it fills.
pub(super) fn trace_fills(travelers: &mut [Traveler]) {
    let mut fills: Vec<(StepRef, JointRef)> = Vec::new();
    for (traveler, own) in travelers.iter().enumerate() {
        for (joint, until) in own.joints.iter().enumerate().filter_map(|(at, joint)| Some((at, joint.filled_by?))) {
            fills.push((until, JointRef { traveler, joint }));
        }
    }
    for (until, joint) in fills {
        travelers[until.traveler].steps[until.step].fills.push(joint);
    }
}

/// Writes down what the steps do to each joint, in working order.
pub(super) fn trace_lives(travelers: &mut [Traveler]) {
    let mut lives: Vec<(JointRef, LivesAt)> = Vec::new();
    for (traveler, own) in travelers.iter().enumerate() {
        for (index, step) in own.steps.iter().enumerate() {
            let at = StepRef { traveler, step: index };
            for named in &step.joints {
                let joint = &travelers[named.joint.traveler].joints[named.joint.joint];
                let written = step.to.map(|to| HoleLife { size: to.value, span: Some(to.span) });
                let last = joint.last.map(|last| HoleLife { size: last.size, span: last.span });
                let hole = |kind: StepKind| if kind.makes_holes() { written.or(last) } else { None };
                let work = |kind| LivesAt { at, hand: named.hand, kind, span: named.span, hole: hole(kind) };
                lives.extend(kinds_at(step, joint).into_iter().map(|kind| (named.joint, work(kind))));
            }
        }
    }
    for (joint, lived) in lives {
        travelers[joint.traveler].joints[joint.joint].life.push(lived);
    }
}

/// What a step does to one of its joints: its kind of work, or of the two by which it says that it is done those that this
/// joint asks for. Bolts have reamed holes, other fasteners drilled ones.
fn kinds_at(step: &Step, joint: &Joint) -> Vec<StepKind> {
    let says = |procedure: &str| step.spec.procedure.iter().any(|named| named.value == procedure);
    let kind = step.kind.value;
    let layers = || joint.layers.iter().map(|layer| layer.preparation);
    match kind {
        StepKind::Ream if says("drill") && !matches!(joint.fastener, Ok(Fastener::Bolt(_))) => vec![StepKind::Drill],
        StepKind::Countersink if says("dimple") && layers().any(|own| own == Preparation::Dimple) => {
            let cut = layers().any(Preparation::is_cut).then_some(kind);
            cut.into_iter().chain([StepKind::Dimple]).collect()
        }
        _ => vec![kind],
    }
}
