//! The space that a new traveler closes: what the project asks for before that, and which steps need it open.
//!
//! It repeats `build.toml`; the builder changes what the drawing says otherwise.

use super::quoted;
use crate::job::Job;

/// A space that the last step closes, with what it asks for before that.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Closing {
    /// Id of the space.
    pub space: String,
    /// `hold` or `stage` with its value, as TOML: the closing step has them.
    pub asks: Vec<(&'static str, String)>,
}

impl Closing {
    /// A space of the project.
    #[must_use]
    pub fn of(job: &Job, space: usize) -> Self {
        let own = job.space_spec(space);
        let hold = own.hold.iter().map(|role| ("hold", quoted(&role.value)));
        let stages = job.stages_of_space(space).into_iter().take(1);
        let stage = stages.map(|stage| ("stage", quoted(&job.project.stages[stage].id.value)));
        Self { space: own.id.value.clone(), asks: hold.chain(stage).collect() }
    }
}

/// Whether a kind of step is worked in the space which the traveler closes: what is done before it is put together needs
/// no access to it.
pub(super) fn works_inside(kind: &str) -> bool {
    ["rivet", "bolt", "torque", "inspect", "photograph"].contains(&kind)
}
