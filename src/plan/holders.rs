//! Sheet holders: how many of which size a step has in at once, and the holes in which none stands.
//!
//! Every other hole is filled (common practice). Holders come by rivet size; what they do not fit is held by bolts and
//! clamps, and no size is made up for it.

use crate::hardware::SheetHolder;
use crate::job::{Job, Joint, StepKind, StepRef};
use crate::units::Size;

/// What holds the layers in a hole.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Holder {
    /// A sheet holder.
    Sheet(SheetHolder),
    /// A bolt or clamp: no sheet holder stands in this hole.
    Other(Size),
}

impl Holder {
    /// The hole in which no sheet holder stands.
    pub(super) const fn hole(&self) -> Option<Size> {
        match self {
            Self::Sheet(_) => None,
            Self::Other(hole) => Some(*hole),
        }
    }
}

/// What a step has in at once, and how many; a layer alone needs no holding.
pub(super) fn held(job: &Job, at: StepRef) -> Vec<(Holder, u32)> {
    let step = job.step(at);
    let mut holders: Vec<(Holder, u32)> = Vec::new();
    if !matches!(step.kind.value, StepKind::Fit | StepKind::Drill | StepKind::Ream | StepKind::Rivet) {
        return holders;
    }
    for named in step.joints.iter().map(|named| named.joint) {
        let joint = job.joint(named);
        // Temporary hardware holds the joint where it is in.
        if job.is_fitted_up(named, at) {
            continue;
        }
        let Some(holder) = holder(joint, at) else { continue };
        let every_other = joint.count.value.div_ceil(2);
        match holders.iter_mut().find(|(known, _)| *known == holder) {
            Some((_, count)) => *count = count.saturating_add(every_other),
            None => holders.push((holder, every_other)),
        }
    }
    holders
}

/// What holds a joint at a step: nothing where there is no hole yet, or one layer alone.
fn holder(joint: &Joint, at: StepRef) -> Option<Holder> {
    let hole = joint.hole_before(at).filter(|_| joint.layers.len() > 1)?;
    let size = SheetHolder::of(hole.size.length, joint.thickness());
    Some(size.map_or(Holder::Other(Size::plain(hole.size.length)), Holder::Sheet))
}
