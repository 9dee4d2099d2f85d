//! FIT-UP: when temporary hardware goes into a joint and when it comes out again.
//!
//! It follows the steps as they are written; whether the hardware comes out in time is for the rules.

use super::{Joint, StepKind, StepRef, Traveler};

/// One time that temporary hardware is in a joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FitUp {
    /// Index of the step that puts it in.
    pub put_in: usize,
    /// The step that takes it out; none where no step does.
    pub taken_out: Option<StepRef>,
}

impl Traveler {
    /// Every time that temporary hardware is in a joint of this traveler, which has the index `own`; none for a joint
    /// without any.
    ///
    /// It goes in with each fit-up that names the joint; where none does, with the first other work on it. It comes out
    /// when the joint, or a part of its stack, is taken apart, when it is fastened, or when another step fills all of its
    /// holes.
    ///
    /// # Panics
    /// When the traveler has no joint of that index.
    #[must_use]
    pub fn fit_ups(&self, own: usize, index: usize) -> Vec<FitUp> {
        let joint = &self.joints[index];
        let mut all: Vec<FitUp> = Vec::new();
        let Some(first) = joint.temporary.as_ref().and_then(|_| first_fit_up(joint)) else { return all };
        for (step, spec) in self.steps.iter().enumerate().skip(first) {
            let named = joint.life.iter().any(|lived| lived.step == step);
            let kind = spec.kind.value;
            let is_in = all.last().is_some_and(|last| last.taken_out.is_none());
            if is_in {
                let apart = kind == StepKind::TakeApart && (named || self.takes_from(step, joint));
                if apart || (named && kind.fastens()) {
                    let taken_out = Some(StepRef { traveler: own, step });
                    all.last_mut().into_iter().for_each(|last| last.taken_out = taken_out);
                }
            } else if step == first || (named && kind == StepKind::Fit) {
                all.push(FitUp { put_in: step, taken_out: None });
            }
        }
        // Holes that are all left to another step are fastened there.
        if let Some(last) = all.last_mut()
            && last.taken_out.is_none()
            && joint.open_count() == joint.count.value
        {
            let later = |until: &StepRef| until.traveler != own || until.step > last.put_in;
            last.taken_out = joint.filled_by.filter(later);
        }
        all
    }

    /// Whether temporary hardware is in a joint while a step works on it; where the step takes it out, it is not.
    ///
    /// # Panics
    /// As [`Traveler::fit_ups`].
    #[must_use]
    pub fn is_fitted_up(&self, own: usize, joint: usize, step: usize) -> bool {
        let at = StepRef { traveler: own, step };
        let still = |out: StepRef| out.traveler != own || out.step > at.step;
        self.fit_ups(own, joint).iter().any(|time| time.put_in <= step && time.taken_out.is_none_or(still))
    }

    /// Whether a step names a part of the joint's stack.
    fn takes_from(&self, step: usize, joint: &Joint) -> bool {
        let parts = &self.steps[step].parts;
        joint.layers.iter().filter_map(|layer| layer.part).any(|part| parts.iter().any(|named| named.value == part))
    }
}

impl Joint {
    /// Whether some step puts temporary hardware in.
    #[must_use]
    pub fn gets_fit_up(&self) -> bool {
        self.temporary.is_some() && first_fit_up(self).is_some()
    }
}

/// The first step that fits the joint up.
fn first_fit_up(joint: &Joint) -> Option<usize> {
    let fit = joint.life.iter().find(|lived| lived.kind == StepKind::Fit);
    let other = || joint.life.iter().find(|lived| !lived.kind.fastens());
    fit.or_else(other).map(|lived| lived.step)
}
