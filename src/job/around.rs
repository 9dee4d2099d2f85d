//! AROUND A JOINT: every step that may concern it, in working order.
//!
//! It follows what is known of the order; what comes before what is decided elsewhere.

use super::{Job, JointRef, StepRef};

impl Job {
    /// Whether a step names a joint or a part of its stack, or, of the joint's own traveler, nothing at all and so everything.
    ///
    /// # Panics
    /// When the job has no such step or joint.
    #[must_use]
    pub fn touches_joint(&self, step: StepRef, joint: JointRef) -> bool {
        let own = self.step(step);
        let names_nothing = own.joints.is_empty() && own.parts.is_empty();
        let part = |traveler: usize, part: usize| self.travelers[traveler].parts[part].id.value.as_str();
        let stack: Vec<&str> =
            self.joint(joint).layers.iter().filter_map(|layer| Some(part(joint.traveler, layer.part?))).collect();
        names_nothing
            || own.names(joint)
            || own.parts.iter().any(|named| stack.contains(&part(step.traveler, named.value)))
    }

    /// The steps of a joint's own traveler, and of every other one that works on it those from the first to the last that do,
    /// in working order.
    ///
    /// # Panics
    /// When the job has no such joint.
    #[must_use]
    pub fn around(&self, joint: JointRef) -> Vec<StepRef> {
        let steps = |traveler: usize, from: usize, to: usize| (from..to).map(move |step| StepRef { traveler, step });
        let mut own = 0;
        let mut all: Vec<StepRef> = Vec::new();
        let life = &self.joint(joint).life;
        for (nth, lived) in life.iter().enumerate() {
            let is_own = |at: StepRef| at.traveler == joint.traveler;
            // A step of another traveler comes as late as the joint's own next one allows.
            let next = life[nth..].iter().find(|later| is_own(later.at)).map(|later| later.at.step);
            let until =
                next.map_or(self.travelers[joint.traveler].steps.len(), |next| next + usize::from(is_own(lived.at)));
            all.extend(steps(joint.traveler, own, until));
            own = own.max(until);
            if !is_own(lived.at) {
                let last = all.iter().rfind(|at| at.traveler == lived.at.traveler).map(|at| at.step + 1);
                all.extend(steps(lived.at.traveler, last.unwrap_or(lived.at.step), lived.at.step + 1));
            }
        }
        all.extend(steps(joint.traveler, own, self.travelers[joint.traveler].steps.len()));
        all
    }
}
