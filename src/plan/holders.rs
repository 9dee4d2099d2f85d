//! Temporary sheet fasteners: how many holes of a step are held at once.
//!
//! Every other hole is filled (common practice).

use crate::job::{Step, StepKind, Traveler};
use crate::units::Size;

/// For each hole size, how many holes of a step are held at once; a layer alone needs no holding.
pub(super) fn held(traveler: &Traveler, at: usize, step: &Step) -> Vec<(Size, u32)> {
    let mut sizes: Vec<(Size, u32)> = Vec::new();
    if !matches!(step.kind.value, StepKind::Fit | StepKind::Drill | StepKind::Ream | StepKind::Rivet) {
        return sizes;
    }
    for number in &step.joints {
        let joint = &traveler.joints[number.value];
        let Some(hole) = joint.hole_before(at).filter(|_| joint.layers.len() > 1) else { continue };
        let size = hole.size;
        let every_other = joint.count.value.div_ceil(2);
        match sizes.iter_mut().find(|(known, _)| known.length == size.length) {
            Some((_, count)) => *count = count.saturating_add(every_other),
            None => sizes.push((size, every_other)),
        }
    }
    sizes
}
