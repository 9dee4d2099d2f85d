//! FIT-UP: when temporary hardware goes into a joint and when it comes out again.
//!
//! It follows the steps as they are written; whether the hardware comes out in time is for the rules.

use super::{Job, Joint, JointRef, StepKind, StepRef};

/// One time that temporary hardware is in a joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct FitUp {
    /// The step that puts it in.
    pub put_in: StepRef,
    /// The step that takes it out; none where no step does.
    pub taken_out: Option<StepRef>,
}

impl Job {
    /// Every time that temporary hardware is in a joint; none for a joint without any.
    ///
    /// It goes in with each fit-up that names the joint; where none does, with the first other work on it. It comes out
    /// when the joint, or a part of its stack, is taken apart, when it is fastened, or when another step fills all of its
    /// holes.
    ///
    /// # Panics
    /// When the job has no such joint.
    #[must_use]
    pub fn fit_ups(&self, at: JointRef) -> Vec<FitUp> {
        let joint = self.joint(at);
        let mut all: Vec<FitUp> = Vec::new();
        let Some(first) = joint.temporary.as_ref().and_then(|_| first_fit_up(joint)) else { return all };
        let steps = self.around(at);
        for step in steps.iter().copied().skip_while(|step| *step != first) {
            let named = joint.life.iter().any(|lived| lived.at == step);
            let kind = self.step(step).kind.value;
            let is_in = all.last().is_some_and(|last| last.taken_out.is_none());
            if is_in {
                let apart = kind == StepKind::TakeApart && (named || self.takes_from(step, at));
                if apart || (named && kind.fastens()) {
                    all.last_mut().into_iter().for_each(|last| last.taken_out = Some(step));
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
            let place = |step: StepRef| steps.iter().position(|own| *own == step);
            let later = |until: &StepRef| place(*until).is_none_or(|at| Some(at) > place(last.put_in));
            last.taken_out = joint.filled_by.filter(later);
        }
        all
    }

    /// Whether temporary hardware is in a joint while a step works on it; where the step takes it out, it is not.
    ///
    /// # Panics
    /// As [`Job::fit_ups`].
    #[must_use]
    pub fn is_fitted_up(&self, joint: JointRef, step: StepRef) -> bool {
        let times = self.fit_ups(joint);
        if times.is_empty() {
            return false;
        }
        let steps = self.around(joint);
        let place = |step: StepRef| steps.iter().position(|own| *own == step);
        let here = place(step);
        let still = |out: StepRef| place(out).is_none_or(|out| Some(out) > here);
        times.iter().any(|time| place(time.put_in) <= here && time.taken_out.is_none_or(still))
    }

    /// Whether a step of the joint's own traveler names a part of its stack.
    fn takes_from(&self, step: StepRef, joint: JointRef) -> bool {
        let parts = &self.step(step).parts;
        let mut stack = self.joint(joint).layers.iter().filter_map(|layer| layer.part);
        step.traveler == joint.traveler && stack.any(|part| parts.iter().any(|named| named.value == part))
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
fn first_fit_up(joint: &Joint) -> Option<StepRef> {
    let fit = joint.life.iter().find(|lived| lived.kind == StepKind::Fit);
    let other = || joint.life.iter().find(|lived| !lived.kind.fastens());
    fit.or_else(other).map(|lived| lived.at)
}
