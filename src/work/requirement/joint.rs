//! What a step requires of a joint: only what its kind of work depends on.
//!
//! A drilled hole does not depend on the length of the rivet, a primed part not on its torque. What a step depends on
//! is listed once, in `Concern::of`.

use super::Fields;
use crate::archive::Aspect;
use crate::job::{Hardware, Joint, Layer, StepKind, Traveler};
use crate::units::Length;

/// The sides of a joint that a kind of step depends on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Concern {
    /// Number of fasteners.
    Count,
    /// Edges, pitch, rows.
    Pattern,
    /// The hole as this step leaves it.
    Reached,
    /// The final hole.
    Final,
    /// Depth of the burr chamfer.
    Chamfer,
    /// Dimples and countersinks, with the diameter and head that they fit.
    Recess,
    /// Call, nut, washers, pin, and holes left open.
    Fastener,
    /// What it is set wet with.
    Wet,
    /// Torque and the state of the threads.
    Torque,
    /// Fit-up hardware.
    Temporary,
}

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
            StepKind::Bolt | StepKind::Inspect | StepKind::Measure => &[Count, Final, Recess, Fastener, Wet, Torque],
            StepKind::Bond | StepKind::Seal => &[Wet],
            StepKind::Prepare
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
}

/// Adds what the step of an index requires of a joint.
pub(super) fn add(fields: &mut Fields, traveler: &Traveler, joint: &Joint, step: usize) {
    let id = &joint.id.value;
    for (number, layer) in joint.layers.iter().enumerate() {
        fields.add(Aspect::Stack, format!("joint {id} layer {}", number + 1), layer_value(layer, traveler));
    }
    let kind = traveler.steps[step].kind.value;
    for concern in Concern::of(kind) {
        match concern {
            Concern::Count => fields.add(Aspect::Size, format!("joint {id} count"), joint.count.value.to_string()),
            Concern::Pattern => pattern(fields, joint),
            Concern::Reached => {
                let reached = joint.life.iter().find(|life| life.step == step).and_then(|life| life.hole);
                fields.maybe(
                    Aspect::Size,
                    format!("joint {id} hole after this"),
                    reached.map(|hole| nm(hole.size.length)),
                );
            }
            Concern::Final => {
                fields.maybe(Aspect::Size, format!("joint {id} hole"), joint.last.map(|hole| nm(hole.size.length)));
            }
            Concern::Chamfer => fields.maybe(
                Aspect::Size,
                format!("joint {id} chamfer"),
                joint.holes.chamfer.map(|size| nm(size.value.length)),
            ),
            Concern::Recess => recess(fields, joint),
            Concern::Fastener => fastener(fields, joint),
            Concern::Wet => fields.maybe(
                Aspect::Fastener,
                format!("joint {id} wet with"),
                joint.wet.as_ref().map(|wet| wet.value.clone()),
            ),
            // Where a step of its own does the torque, the bolting step leaves the nut loose.
            Concern::Torque if kind != StepKind::Bolt || !has_torque_step(joint) => torque(fields, joint),
            Concern::Torque => {}
            Concern::Temporary => temporary(fields, joint),
        }
    }
}

fn has_torque_step(joint: &Joint) -> bool {
    joint.life.iter().any(|life| life.kind == StepKind::Torque)
}

fn layer_value(layer: &Layer, traveler: &Traveler) -> String {
    let part = layer.part.map(|at| traveler.parts[at].id.value.as_str());
    let thickness = layer.thickness.map(|thickness| format!("{} nm thick", thickness.nm()));
    let words = [part, layer.material.as_deref(), thickness.as_deref()];
    let words: Vec<&str> = words.into_iter().flatten().collect();
    if words.is_empty() { layer.name.clone() } else { words.join(", ") }
}

fn pattern(fields: &mut Fields, joint: &Joint) {
    let id = &joint.id.value;
    for edge in &joint.edge {
        fields.add(Aspect::Size, format!("joint {id} edge"), nm(edge.value));
    }
    fields.maybe(Aspect::Size, format!("joint {id} pitch"), joint.pitch.map(|pitch| nm(pitch.value)));
    fields.add(Aspect::Size, format!("joint {id} rows"), joint.rows.value.to_string());
    fields.maybe(Aspect::Size, format!("joint {id} row gap"), joint.row_gap.map(|gap| nm(gap.value)));
    for (along, across) in joint.places.iter().flatten() {
        fields.add(Aspect::Size, format!("joint {id} hole at"), format!("{}, {}", nm(*along), nm(*across)));
    }
}

fn recess(fields: &mut Fields, joint: &Joint) {
    if !joint.is_recessed() {
        return;
    }
    let id = &joint.id.value;
    for (number, layer) in joint.layers.iter().enumerate() {
        fields.add(Aspect::Stack, format!("joint {id} layer {} is", number + 1), layer.preparation.word());
    }
    fields.maybe(Aspect::Size, format!("joint {id} head of"), joint.diameter().map(nm));
}

fn fastener(fields: &mut Fields, joint: &Joint) {
    let id = &joint.id.value;
    let call = |hardware: &Hardware| hardware.call.clone();
    fields.add(Aspect::Fastener, format!("joint {id} fastener"), joint.call.clone());
    fields.maybe(Aspect::Fastener, format!("joint {id} nut"), joint.nut.as_ref().map(call));
    for (side, washers) in [("head", &joint.washers_head), ("nut", &joint.washers_nut)] {
        for washer in washers {
            fields.add(Aspect::Fastener, format!("joint {id} washer at the {side}"), call(washer));
        }
    }
    fields.maybe(Aspect::Fastener, format!("joint {id} cotter"), joint.cotter.as_ref().map(call));
    if let Some(open) = &joint.leave_open {
        let value = format!("{} until {}", open.count.value, open.until.value);
        fields.add(Aspect::Fastener, format!("joint {id} left open"), value);
    }
}

fn torque(fields: &mut Fields, joint: &Joint) {
    let id = &joint.id.value;
    let range = joint
        .torque
        .as_ref()
        .map(|torque| format!("{} to {} micro in-lb", torque.value.low.micro(), torque.value.high.micro()));
    fields.maybe(Aspect::Torque, format!("joint {id} torque"), range);
    let lubricated = joint.lubricated.map(|lubricated| if lubricated.value { "lubricated" } else { "dry" }.to_owned());
    fields.maybe(Aspect::Torque, format!("joint {id} threads"), lubricated);
}

fn temporary(fields: &mut Fields, joint: &Joint) {
    let Some(temporary) = &joint.temporary else { return };
    let nut = temporary.nut.as_ref().map(|nut| format!(" with {}", nut.call)).unwrap_or_default();
    fields.add(
        Aspect::Fastener,
        format!("joint {} temporary", joint.id.value),
        format!("{}{nut}", temporary.fastener.call),
    );
}

fn nm(length: Length) -> String {
    format!("{} nm", length.nm())
}
