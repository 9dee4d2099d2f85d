//! A joint as resolved: its layers, the decoded call, the final hole and the life of its holes over the steps.
//!
//! It answers what is known; whether that is right is for the rules.

use super::recorded::Recorded;
use super::{Hand, HolePlace, JointRef, JointSpec, Preparation, StepKind, StepRef, Text, same_side};
use crate::hardware::{Fastener, OwnTorque, Undecoded};
use crate::text::Span;
use crate::units::{JointTorque, Length, Size};
use crate::words::Drag;

/// A set of equal fasteners through one stack.
#[derive(Debug, Clone)]
pub struct Joint {
    /// As written.
    pub spec: JointSpec,
    /// Layers, manufactured-head side first.
    pub layers: Vec<Layer>,
    /// What the callout stands for, where the call is one; else the call as written.
    pub call: String,
    /// The decoded call; a length that the call leaves open is taken from the stack.
    pub fastener: Result<Fastener, Undecoded>,
    /// Whether the length was taken from the stack.
    pub length_from_stack: bool,
    /// Final hole; absent where neither the spec nor a table gives one.
    pub last: Option<FinalHole>,
    /// Where the holes lie, in the order of their numbers: distances from the part's end and from its edge. Absent
    /// where the spec gives no pattern, or one that was reported.
    pub places: Option<Vec<HolePlace>>,
    /// Diameter of the next larger rivet; nothing for what is no rivet, and beyond the largest.
    pub next: Option<Length>,
    /// Nut.
    pub nut: Option<Hardware>,
    /// The nut that locks the nut or the bolt.
    pub check_nut: Option<Hardware>,
    /// Washers under the head.
    pub washers_head: Vec<Hardware>,
    /// Washers under the nut.
    pub washers_nut: Vec<Hardware>,
    /// Cotter pin.
    pub cotter: Option<Hardware>,
    /// Fit-up hardware before the final one.
    pub temporary: Option<Temporary>,
    /// The entry of the build's own torques that is for this bolt, nut and lubrication, where there is one.
    pub own_torque: Option<OwnTorque>,
    /// Whether there are entries for the bolt's thread, and none for the rest of it.
    pub torque_for_others: bool,
    /// The rivet that the call replaces.
    pub replaces: Option<Hardware>,
    /// The step that fills the holes left open, where there are any and it exists.
    pub filled_by: Option<StepRef>,
    /// The joint whose fasteners go through the holes left open, where they do not get this joint's own.
    pub shares_with: Option<JointRef>,
    /// What steps do to the joint, in working order.
    pub life: Vec<LivesAt>,
    /// Limits that the readings of those steps set for it.
    pub recorded: Vec<Recorded>,
}

impl std::ops::Deref for Joint {
    type Target = JointSpec;

    fn deref(&self) -> &JointSpec {
        &self.spec
    }
}

/// A second call of a joint, decoded: nut, washer, cotter pin.
#[derive(Debug, Clone)]
pub struct Hardware {
    /// As written.
    pub written: Text,
    /// What the callout stands for, else as written.
    pub call: String,
    /// Decoded.
    pub fastener: Result<Fastener, Undecoded>,
}

impl Hardware {
    /// Thickness, where it is a washer.
    #[must_use]
    pub fn thickness(&self) -> Option<Length> {
        match &self.fastener {
            Ok(Fastener::Washer(washer)) => washer.thickness.as_ref().map(|thickness| thickness.value),
            _ => None,
        }
    }
}

/// One layer of a stack.
#[derive(Debug, Clone)]
pub struct Layer {
    /// Index of the traveler's part, where it is one.
    pub part: Option<usize>,
    /// Name on paper: the part's id and name, or the material.
    pub name: String,
    /// Material in words.
    pub material: Option<String>,
    /// Thickness.
    pub thickness: Option<Length>,
    /// What is done to it around the hole.
    pub preparation: Preparation,
    /// Where the preparation was written, if it was.
    pub preparation_span: Option<Span>,
    /// Where the layer was named.
    pub span: Span,
    /// Where its thickness was written, if it was.
    pub thickness_span: Option<Span>,
}

/// The hole in which the fastener ends.
#[derive(Debug, Clone, Copy)]
pub struct FinalHole {
    /// Its size.
    pub size: Size,
    /// Where the spec says it; absent where it comes from the table's nominal hole.
    pub span: Option<Span>,
}

/// Fit-up hardware before the final one.
#[derive(Debug, Clone)]
pub struct Temporary {
    /// The fastener; the joint's own where that stays in.
    pub fastener: Hardware,
    /// Whether the joint's own fastener goes in at once and stays: only the nut is changed.
    pub nut_only: bool,
    /// Its nut.
    pub nut: Option<Hardware>,
    /// The builder's reason, as written.
    pub why: Text,
}

impl Temporary {
    /// What does not stay in: the fastener, or the nut alone.
    #[must_use]
    pub fn leaves(&self) -> &Hardware {
        self.nut.as_ref().filter(|_| self.nut_only).unwrap_or(&self.fastener)
    }
}

/// What one step does to a joint.
#[derive(Debug, Clone, Copy)]
pub struct LivesAt {
    /// The step.
    pub at: StepRef,
    /// The one hand of the joint that is worked, where the step says so.
    pub hand: Option<Hand>,
    /// What it does.
    pub kind: StepKind,
    /// Where the step names the joint.
    pub span: Span,
    /// The hole's size after the step, for a step that makes holes.
    pub hole: Option<HoleLife>,
}

/// A hole size reached by a step.
#[derive(Debug, Clone, Copy)]
pub struct HoleLife {
    /// The size.
    pub size: Size,
    /// Where it was written: the step's `to`, or the joint's final hole.
    pub span: Option<Span>,
}

impl LivesAt {
    /// Whether it is done to a hand of the joint.
    #[must_use]
    pub fn is_on(&self, hand: Option<Hand>) -> bool {
        same_side(self.hand, hand)
    }
}

impl Joint {
    /// Total thickness, where every layer's is known.
    #[must_use]
    pub fn thickness(&self) -> Option<Length> {
        self.layers.iter().map(|layer| layer.thickness).sum()
    }

    /// The thickest layer, where every layer's thickness is known.
    #[must_use]
    pub fn thickest(&self) -> Option<Length> {
        let all: Option<Vec<Length>> = self.layers.iter().map(|layer| layer.thickness).collect();
        all?.into_iter().max()
    }

    /// Nominal diameter of the fastener, where the call decodes.
    #[must_use]
    pub fn diameter(&self) -> Option<Length> {
        self.fastener.as_ref().ok().and_then(Fastener::diameter)
    }

    /// The hole in which the fastener ends. A final size that only the table gives yields to a larger hole that is
    /// delivered or that a step drills: nothing makes a hole smaller.
    #[must_use]
    pub fn final_hole(&self) -> Option<FinalHole> {
        let last = self.last?;
        if last.span.is_some() {
            return Some(last);
        }
        let delivered = self.delivered_most();
        let drilled =
            self.drillings().filter_map(|at| at.hole).map(|hole| FinalHole { size: hole.size, span: hole.span });
        drilled
            .chain(delivered)
            .chain([last])
            .reduce(|largest, hole| if hole.size.length > largest.size.length { hole } else { largest })
    }

    /// The hole that goes through the whole stack as delivered: the smallest of its layers; none where one is undrilled.
    #[must_use]
    pub fn delivered(&self) -> Option<FinalHole> {
        let all: Option<Vec<FinalHole>> = self.delivered_by_layer().collect();
        all?.into_iter().reduce(|least, hole| if hole.size.length < least.size.length { hole } else { least })
    }

    /// The largest hole of a layer as delivered, where any is drilled.
    #[must_use]
    pub fn delivered_most(&self) -> Option<FinalHole> {
        let drilled = self.delivered_by_layer().flatten();
        drilled.reduce(|most, hole| if hole.size.length > most.size.length { hole } else { most })
    }

    /// The holes of the layers as delivered, none for a layer that is undrilled: one for all layers, or one each.
    pub fn delivered_by_layer(&self) -> impl Iterator<Item = Option<FinalHole>> + Clone {
        self.spec.holes.start.iter().map(|start| start.value.map(|size| FinalHole { size, span: Some(start.span) }))
    }

    /// The hole as it is before a step works on it: drilled so far, else delivered through all layers.
    #[must_use]
    pub fn hole_before(&self, step: StepRef) -> Option<FinalHole> {
        let drilled = self.life_before(step).iter().filter(|lived| lived.kind.makes_holes());
        let so_far = drilled.filter_map(|lived| lived.hole).next_back();
        so_far.map(|hole| FinalHole { size: hole.size, span: hole.span }).or_else(|| self.delivered())
    }

    /// What is done to the joint before a step.
    #[must_use]
    pub fn life_before(&self, step: StepRef) -> &[LivesAt] {
        let here = self.life.iter().position(|lived| lived.at == step);
        // A step that does not name the joint stands between those of its traveler that do.
        let later = |lived: &LivesAt| lived.at.traveler == step.traveler && lived.at.step > step.step;
        let end = here.or_else(|| self.life.iter().position(later)).unwrap_or(self.life.len());
        &self.life[..end]
    }

    /// What is done to the joint after a step that names it; nothing where it does not.
    #[must_use]
    pub fn life_after(&self, step: StepRef) -> &[LivesAt] {
        let last = self.life.iter().rposition(|lived| lived.at == step);
        &self.life[last.map_or(self.life.len(), |last| last + 1)..]
    }

    /// The hole as a step leaves it, for a step that makes holes.
    #[must_use]
    pub fn hole_after(&self, step: StepRef) -> Option<HoleLife> {
        self.life.iter().find(|lived| lived.at == step).and_then(|lived| lived.hole)
    }

    /// What a step does to the joint: one kind of work, or the two that it does in one.
    pub fn works_at(&self, step: StepRef) -> impl Iterator<Item = StepKind> {
        self.life.iter().filter(move |lived| lived.at == step).map(|lived| lived.kind)
    }

    /// The steps that put the final fasteners in.
    pub fn fastenings(&self) -> impl Iterator<Item = &LivesAt> {
        self.life.iter().filter(|at| at.kind.fastens())
    }

    /// The steps that make or enlarge the holes.
    pub fn drillings(&self) -> impl Iterator<Item = &LivesAt> {
        self.life.iter().filter(|at| at.kind.makes_holes())
    }

    /// Whether a step reams the hole to this size.
    #[must_use]
    pub fn is_reamed_to(&self, length: Length) -> bool {
        self.life.iter().any(|at| at.kind == StepKind::Ream && at.hole.is_some_and(|hole| hole.size.length == length))
    }

    /// Holes of a hand that stay open on purpose, never more than there are.
    #[must_use]
    pub fn open_count(&self) -> u32 {
        // Without `leave-open` none stays open.
        let open = self.spec.leave_open.as_ref().map_or(0, |open| open.count.value);
        open.min(self.spec.count.value)
    }

    /// Pieces of fit-up hardware that a hand takes: one a hole, where there is any.
    #[must_use]
    pub fn fit_up_count(&self) -> u32 {
        // A joint without fit-up hardware takes none.
        self.temporary.as_ref().map_or(0, |_| self.spec.count.value)
    }

    /// Whether a step is the one that fills the holes left open.
    #[must_use]
    pub fn is_filled_by(&self, step: StepRef) -> bool {
        self.filled_by == Some(step)
    }

    /// Whether any layer is dimpled or countersunk.
    #[must_use]
    pub fn is_recessed(&self) -> bool {
        self.layers.iter().any(|layer| layer.preparation != Preparation::Plain)
    }

    /// The id and the name on paper.
    #[must_use]
    pub fn title(&self) -> String {
        match &self.spec.name {
            Some(name) => format!("{} {}", self.spec.id.value, name.value),
            None => self.spec.id.value.clone(),
        }
    }

    /// Whether the bolt or its nut turns with the joint: a part that rotates, and nothing clamped that it rotates on.
    #[must_use]
    pub fn turns_its_bolt(&self) -> bool {
        self.rotates.is_some_and(|rotates| rotates.value) && self.clamped.is_none()
    }

    /// Whether the torque of the drawing holds the drag of the nut.
    #[must_use]
    pub fn torque_holds_drag(&self) -> bool {
        self.drag.is_some_and(|drag| drag.value == Drag::Included)
    }

    /// Whether the nut is left so that the joint turns: said so, or a castle nut that turns with it and no torque is given.
    #[must_use]
    pub fn is_snug(&self) -> bool {
        let castle =
            matches!(self.nut.as_ref().map(|nut| &nut.fastener), Some(Ok(Fastener::Nut(nut))) if nut.kind.is_castle());
        match self.called_torque().map(|torque| torque.value) {
            Some(torque) => torque == JointTorque::Snug,
            None => castle && self.turns_its_bolt(),
        }
    }
}
