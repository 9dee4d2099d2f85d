//! A joint as resolved: its layers, the decoded call, the final hole and the life of its holes over the steps.
//!
//! It answers what is known; whether that is right is for the rules.

use super::{Access, HolePlace, Preparation, StepKind, Structure, Text};
use crate::hardware::{Fastener, Undecoded};
use crate::text::{Span, Spanned};
use crate::units::{Length, Ratio, Size, Temperature, TorqueRange};

/// A set of equal fasteners through one stack.
#[derive(Debug, Clone)]
pub struct Joint {
    /// Id.
    pub id: Text,
    /// Name on paper.
    pub name: Option<Text>,
    /// Layers, manufactured-head side first.
    pub layers: Vec<Layer>,
    /// The whole `stack` value.
    pub stack_span: Span,
    /// The call as written in the spec.
    pub written: Text,
    /// What the callout stands for, where the call is one; else the call as written.
    pub call: String,
    /// The decoded call; a length that the call leaves open is taken from the stack.
    pub fastener: Result<Fastener, Undecoded>,
    /// Whether the length was taken from the stack.
    pub length_from_stack: bool,
    /// Fasteners per hand.
    pub count: Spanned<u32>,
    /// Hole as delivered; absent: undrilled.
    pub start: Option<Spanned<Size>>,
    /// Final hole; absent where neither the spec nor a table gives one.
    pub last: Option<FinalHole>,
    /// Depth of the burr chamfer.
    pub chamfer: Option<Spanned<Size>>,
    /// Smallest hole-centre-to-edge distance: none, one for all layers, or one per layer.
    pub edge: Vec<Spanned<Length>>,
    /// Distance from fastener to fastener in a row.
    pub pitch: Option<Spanned<Length>>,
    /// Number of rows.
    pub rows: u32,
    /// Distance from row to row.
    pub row_gap: Option<Spanned<Length>>,
    /// Where the holes lie, in the order of their numbers: distances from the part's end and from its edge. Absent
    /// where the spec gives no pattern, or one that was reported.
    pub places: Option<Vec<HolePlace>>,
    /// How much rests on it.
    pub structure: Option<Spanned<Structure>>,
    /// From where it is reached.
    pub access: Option<Spanned<Access>>,
    /// What it is set wet with.
    pub wet: Option<Text>,
    /// Holes that stay open.
    pub leave_open: Option<LeaveOpen>,
    /// Width of a stringer's leg.
    pub stringer_leg: Option<Spanned<Length>>,
    /// Outside diameter of a tube.
    pub tube: Option<Spanned<Length>>,
    /// Limits that the plans set instead of the tables.
    pub limits: Option<Limits>,
    /// Nut.
    pub nut: Option<Hardware>,
    /// Washers under the head.
    pub washers_head: Vec<Hardware>,
    /// Washers under the nut.
    pub washers_nut: Vec<Hardware>,
    /// Cotter pin.
    pub cotter: Option<Hardware>,
    /// Torque of the drawing.
    pub torque: Option<Spanned<TorqueRange>>,
    /// Whether the joint turns in use.
    pub rotates: Option<Spanned<bool>>,
    /// Hottest temperature in use.
    pub temperature: Option<Spanned<Temperature>>,
    /// Whether the threads are lubricated.
    pub lubricated: Option<Spanned<bool>>,
    /// Fit-up hardware before the final one.
    pub temporary: Option<Temporary>,
    /// Whether the joint is opened again and again.
    pub often_removed: Option<Spanned<bool>>,
    /// Run-down torque of a self-locking nut that is used again.
    pub run_down: Option<Spanned<TorqueRange>>,
    /// The rivet that the call replaces.
    pub replaces: Option<Hardware>,
    /// Smallest shop head measured.
    pub shop_head: Option<ShopHead>,
    /// What the traveler's steps do to the joint, in working order.
    pub life: Vec<LivesAt>,
}

/// A shop head as measured.
#[derive(Debug, Clone, Copy)]
pub struct ShopHead {
    /// Its width.
    pub diameter: Spanned<Length>,
    /// Its height.
    pub height: Spanned<Length>,
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

/// Holes that stay open on purpose.
#[derive(Debug, Clone)]
pub struct LeaveOpen {
    /// How many.
    pub count: Spanned<u32>,
    /// The step that fills them, where it exists.
    pub until: Option<super::StepRef>,
    /// The step as written.
    pub until_written: Text,
    /// Why.
    pub why: Text,
}

/// Limits that the plans set, as multiples of the diameter.
#[derive(Debug, Clone)]
pub struct Limits {
    /// Smallest edge distance.
    pub edge: Option<Spanned<Ratio>>,
    /// Smallest pitch.
    pub pitch: Option<Spanned<Ratio>>,
    /// Smallest row gap.
    pub row_gap: Option<Spanned<Ratio>>,
    /// The reason.
    pub because: Text,
}

/// Fit-up hardware before the final one.
#[derive(Debug, Clone)]
pub struct Temporary {
    /// The fastener.
    pub fastener: Hardware,
    /// Its nut.
    pub nut: Option<Hardware>,
    /// Why.
    pub why: Text,
}

/// What one step does to a joint.
#[derive(Debug, Clone, Copy)]
pub struct LivesAt {
    /// Index of the step.
    pub step: usize,
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
        let delivered = self.start.map(|start| FinalHole { size: start.value, span: Some(start.span) });
        let drilled =
            self.drillings().filter_map(|at| at.hole).map(|hole| FinalHole { size: hole.size, span: hole.span });
        drilled
            .chain(delivered)
            .chain([last])
            .reduce(|largest, hole| if hole.size.length > largest.size.length { hole } else { largest })
    }

    /// The hole as it is before a step works on it: drilled so far, else delivered.
    #[must_use]
    pub fn hole_before(&self, step: usize) -> Option<FinalHole> {
        let delivered = self.start.map(|start| FinalHole { size: start.value, span: Some(start.span) });
        let so_far = self.drillings().filter(|at| at.step < step).filter_map(|at| at.hole);
        so_far.map(|hole| FinalHole { size: hole.size, span: hole.span }).last().or(delivered)
    }

    /// The steps that put the final fasteners in.
    pub fn fastenings(&self) -> impl Iterator<Item = &LivesAt> {
        self.life.iter().filter(|at| at.kind.fastens())
    }

    /// How long temporary hardware is in: from the first fit-up, or the first work on the joint, to the fastening after
    /// the last fit-up, where there is one.
    #[must_use]
    pub fn fit_up(&self) -> Option<(&LivesAt, Option<&LivesAt>)> {
        let fits = || self.life.iter().filter(|lived| lived.kind == StepKind::Fit);
        let since = fits().next().or_else(|| self.life.iter().find(|lived| !lived.kind.fastens()))?;
        let last = fits().next_back().unwrap_or(since);
        Some((since, self.fastenings().find(|lived| lived.step > last.step)))
    }

    /// The steps that make or enlarge the holes.
    pub fn drillings(&self) -> impl Iterator<Item = &LivesAt> {
        self.life.iter().filter(|at| at.kind.makes_holes())
    }

    /// Fasteners that this traveler sets: all but those that stay open.
    #[must_use]
    pub fn set_here(&self) -> u32 {
        let open = self.leave_open.as_ref().map_or(0, |open| open.count.value);
        self.count.value.saturating_sub(open)
    }

    /// Whether any layer is dimpled or countersunk.
    #[must_use]
    pub fn is_recessed(&self) -> bool {
        self.layers.iter().any(|layer| layer.preparation != Preparation::Plain)
    }

    /// The id and the name on paper.
    #[must_use]
    pub fn title(&self) -> String {
        match &self.name {
            Some(name) => format!("{} {}", self.id.value, name.value),
            None => self.id.value.clone(),
        }
    }
}
