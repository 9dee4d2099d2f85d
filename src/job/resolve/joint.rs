//! Follows the references of one joint: layers, callouts and calls, hole sizes, and what the steps do to it.
//!
//! A call that does not decode stays in the joint with the reason; the rules report it.

use super::Resolving;
use super::names::Names;
use crate::hardware::{Fastener, decode, nominal_hole};
use crate::job::{
    FinalHole, Hardware, HoleLife, Joint, Layer, LeaveOpen, Limits, LivesAt, Part, ShopHead, Step, Temporary, Text,
};
use crate::report::Place;
use crate::spec::{JointSpec, LayerSpec, LeaveOpenSpec, LimitsSpec, Preparation, TemporarySpec, hole_places};
use crate::text::Spanned;
use crate::units::{Length, Size};

impl Resolving<'_> {
    pub(super) fn resolve_joint(&mut self, spec: JointSpec, parts: &[Part], names: &Names) -> Joint {
        let place = Place { joint: Some(spec.id.value.clone()), ..self.place() };
        let places = hole_places(&spec).and_then(Result::ok);
        let layer_specs = spec.stack.value.into_iter().enumerate();
        let layers: Vec<Layer> =
            layer_specs.map(|(i, layer)| self.resolve_layer(&layer, i, &spec.prepare, parts, names, &place)).collect();
        let washers_head = self.hardware_list(spec.washers_head);
        let washers_nut = self.hardware_list(spec.washers_nut);
        let call = self.follow_callout(&spec.fastener.value);
        let decoded = decode(&call, &self.project.kit);
        let stack = layers.iter().map(|layer| layer.thickness).sum::<Option<Length>>();
        let last = final_hole(spec.holes.last, decoded.as_ref().ok());
        let total = |list: &[Hardware]| list.iter().filter_map(Hardware::thickness).sum();
        let washers = (total(&washers_head), total(&washers_nut));
        let open = decoded.as_ref().ok().filter(|fastener| fastener.lacks_length());
        let fitted = open.and_then(|fastener| fastener.fitted(stack?, Some(last?.size.length), washers));
        let length_from_stack = fitted.is_some();
        let fastener = fitted.map_or(decoded, Ok);
        Joint {
            layers,
            stack_span: spec.stack.span,
            call: fastener.as_ref().map_or(call, |fastener| fastener.usual_call().to_owned()),
            written: spec.fastener,
            fastener,
            length_from_stack,
            last,
            nut: spec.nut.map(|text| self.hardware(text)),
            cotter: spec.cotter.map(|text| self.hardware(text)),
            leave_open: spec.leave_open.map(|open| self.resolve_leave_open(open, &place)),
            temporary: spec.temporary.map(|temporary| self.resolve_temporary(temporary)),
            washers_head,
            washers_nut,
            id: spec.id,
            name: spec.name,
            count: spec.count,
            start: spec.holes.start,
            chamfer: spec.holes.chamfer,
            edge: spec.edge.into_iter().map(length).collect(),
            pitch: spec.pitch.map(length),
            rows: spec.rows.map_or(1, |rows| rows.value),
            row_gap: spec.row_gap.map(length),
            places,
            structure: spec.structure,
            access: spec.access,
            wet: spec.wet,
            stringer_leg: spec.stringer_leg.map(length),
            tube: spec.tube.map(length),
            limits: spec.limits.map(limits),
            torque: spec.torque,
            rotates: spec.rotates,
            temperature: spec.temperature,
            lubricated: spec.lubricated,
            often_removed: spec.often_removed,
            run_down: spec.run_down,
            replaces: spec.replaces.map(|text| self.hardware(text)),
            shop_head: spec
                .shop_head
                .map(|head| ShopHead { diameter: length(head.diameter), height: length(head.height) }),
            life: Vec::new(),
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

    fn hardware(&self, written: Text) -> Hardware {
        let call = self.follow_callout(&written.value);
        let fastener = decode(&call, &self.project.kit);
        Hardware { written, call, fastener }
    }

    fn hardware_list(&self, texts: Vec<Text>) -> Vec<Hardware> {
        texts.into_iter().map(|text| self.hardware(text)).collect()
    }

    fn resolve_leave_open(&mut self, spec: LeaveOpenSpec, place: &Place) -> LeaveOpen {
        let until = self.resolve_step_ref(&spec.until, place.clone()).map(|at| at.value);
        LeaveOpen { count: spec.count, until, until_written: spec.until, why: spec.why }
    }

    fn resolve_temporary(&self, spec: TemporarySpec) -> Temporary {
        Temporary { fastener: self.hardware(spec.fastener), nut: spec.nut.map(|nut| self.hardware(nut)), why: spec.why }
    }
}

fn length(size: Spanned<Size>) -> Spanned<Length> {
    size.map(|size| size.length)
}

fn limits(spec: LimitsSpec) -> Limits {
    Limits { edge: spec.edge, pitch: spec.pitch, row_gap: spec.row_gap, because: spec.because }
}

fn layer_name(part: Option<&Part>, spec: &LayerSpec) -> String {
    match (part, &spec.part, &spec.material) {
        (Some(part), ..) => format!("{} {}", part.id.value, part.name.value),
        (None, Some(id), _) => id.value.clone(),
        (None, None, Some(material)) => material.value.clone(),
        (None, None, None) => "unnamed layer".to_owned(),
    }
}

/// The hole that the spec gives, else the nominal hole of the tables.
fn final_hole(written: Option<Spanned<Size>>, fastener: Option<&Fastener>) -> Option<FinalHole> {
    match written {
        Some(size) => Some(FinalHole { size: size.value, span: Some(size.span) }),
        None => fastener.and_then(nominal_hole).map(|size| FinalHole { size: size.value, span: None }),
    }
}

/// Writes down what the steps do to each joint, in working order.
pub(super) fn trace_lives(joints: &mut [Joint], steps: &[Step]) {
    for (index, step) in steps.iter().enumerate() {
        for named in &step.joints {
            let joint = &mut joints[named.value];
            let kind = step.kind.value;
            let written = step.to.map(|to| HoleLife { size: to.value, span: Some(to.span) });
            let last = joint.last.map(|last| HoleLife { size: last.size, span: last.span });
            let hole = if kind.makes_holes() { written.or(last) } else { None };
            joint.life.push(LivesAt { step: index, kind, span: named.span, hole });
        }
    }
}
