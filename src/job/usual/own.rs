//! STEPS OF THE BUILDER'S OWN among usual ones, and steps of other travelers: what they do to joints, so that no usual step does
//! it again, and where the own ones stand when they do not say so.
//!
//! Among them is the look at a joint: who looks when it suits the work does not look again at the end.

use crate::job::{Joint, Origin, Text};
use crate::spec::{StepEntry, StepSpec};
use crate::units::Size;
use crate::words::{StepKind, other_joint};

/// What steps of the builder's own do to joints.
#[derive(Debug, Default)]
pub(super) struct Own {
    done: Vec<Done>,
}

/// One kind of work on one joint.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::job) struct Done {
    kind: StepKind,
    /// The size that a hole gets, where it is said.
    to: Option<Size>,
    joint: String,
    /// Whether a step of another traveler does it.
    elsewhere: bool,
    /// The step, as a joint names it that leaves holes open for it.
    step: String,
}

impl Done {
    /// Whether it only fills the holes that the joint leaves open for it: the others are for the usual step.
    fn fills_the_rest(&self, joint: &Joint) -> bool {
        let open = joint.leave_open.as_ref();
        open.is_some_and(|open| open.until.value == self.step && open.count.value < joint.count.value)
    }

    /// A hole before its final size is one thing, the final size another.
    fn is_last(&self, joint: &Joint) -> bool {
        self.to.is_none_or(|to| joint.last.is_some_and(|last| last.size == to))
    }
}

impl Own {
    /// What the entries do that are no usual step.
    pub(super) fn of<'a>(traveler: &str, entries: impl Iterator<Item = &'a StepEntry>) -> Self {
        let of_entry = |entry: &StepEntry| -> Vec<Done> {
            let Some(Ok(kind)) = entry.kind.as_ref().map(|kind| kind.as_ref().map(|kind| kind.value)) else {
                return Vec::new();
            };
            let to = entry.to.map(|to| to.value);
            let step = format!("{traveler}/{}", entry.id.value);
            let done =
                |joint: &Text| Done { kind, to, joint: joint.value.clone(), elsewhere: false, step: step.clone() };
            if takes_over(kind) { entry.joints.iter().map(done).collect() } else { Vec::new() }
        };
        Self { done: entries.flat_map(of_entry).collect() }
    }

    /// The same with what steps of other travelers do.
    pub(super) fn with(mut self, elsewhere: &[Done]) -> Self {
        self.done.extend_from_slice(elsewhere);
        self
    }

    /// Whether a step of another traveler does it to some joint.
    pub(super) fn is_elsewhere(&self, kind: StepKind) -> bool {
        self.done.iter().any(|done| done.elsewhere && done.kind == kind)
    }

    /// Whether they do nothing that a usual step does.
    pub(super) const fn is_nothing(&self) -> bool {
        self.done.is_empty()
    }

    /// The joints to which none of them does it.
    pub(super) fn left<'a>(&self, kind: StepKind, is_last: bool, joints: Vec<&'a Joint>) -> Vec<&'a Joint> {
        let is_done = |joint: &&Joint| {
            let same = |done: &&Done| done.kind == kind && done.joint == joint.id.value;
            let mut done = self.done.iter().filter(same);
            done.any(|done| done.is_last(joint) == is_last && !done.fills_the_rest(joint))
        };
        joints.into_iter().filter(|joint| !is_done(joint)).collect()
    }
}

/// What steps of one traveler, `of`, do to joints of others, each with the other traveler's id. Who fastens a joint tightens it
/// and looks at it as well.
pub(in crate::job) fn done_elsewhere(of: &str, steps: &[(StepSpec, Origin)]) -> Vec<(String, Done)> {
    let mut all: Vec<(String, Done)> = Vec::new();
    for (step, _) in steps {
        let by_procedure = step.procedure.iter().filter_map(|named| StepKind::parse(&named.value));
        let mut kinds: Vec<StepKind> = std::iter::once(step.kind.value).chain(by_procedure).collect();
        if kinds.contains(&StepKind::Bolt) {
            kinds.push(StepKind::Torque);
        }
        if kinds.iter().any(|kind| kind.fastens()) {
            kinds.push(StepKind::Inspect);
        }
        for (traveler, _, joint) in step.joints.iter().filter_map(|joint| other_joint(&joint.value)) {
            let to = step.to.map(|to| to.value);
            let name = format!("{of}/{}", step.id.value);
            let done = |kind| Done { kind, to, joint: joint.to_owned(), elsewhere: true, step: name.clone() };
            let taken = kinds.iter().copied().filter(|kind| takes_over(*kind));
            all.extend(taken.map(|kind| (traveler.to_owned(), done(kind))));
        }
    }
    all
}

/// Whether a kind of step is done to a joint once.
const fn takes_over(kind: StepKind) -> bool {
    matches!(
        kind,
        StepKind::Drill
            | StepKind::Ream
            | StepKind::Countersink
            | StepKind::Dimple
            | StepKind::Deburr
            | StepKind::Rivet
            | StepKind::Bolt
            | StepKind::Torque
            | StepKind::Inspect
    )
}

/// Where a step of the builder's own stands that does not say so: where the first usual step would that it takes the place of.
/// `all` are the usual steps as if there were none of the builder's own, `now` those that stand; nothing where it takes no place.
pub(super) fn place_of<'a>(step: &StepSpec, all: &[StepSpec], now: impl Iterator<Item = &'a str>) -> Option<usize> {
    let kind = step.kind.value;
    let shares = |usual: &&StepSpec| {
        let is_named = |joint: &Text| step.joints.iter().any(|own| own.value == joint.value);
        takes_over(kind) && does(usual, kind) && usual.joints.iter().any(is_named)
    };
    // Of holes, the one that reaches as far; where none does, any.
    let reaches = |usual: &&StepSpec| shares(usual) && usual.to.is_some() == step.to.is_some();
    let first = all.iter().find(reaches).or_else(|| all.iter().find(shares))?;
    let from = all.iter().position(|usual| usual.id.value == first.id.value)?;
    let now: Vec<&str> = now.collect();
    let next = all[from..].iter().find_map(|usual| now.iter().position(|id| *id == usual.id.value));
    Some(next.unwrap_or(now.len()))
}

/// Whether a usual step is of a kind, or does it beside another.
fn does(usual: &StepSpec, kind: StepKind) -> bool {
    usual.kind.value == kind || usual.procedure.iter().any(|named| named.value == kind.word())
}
