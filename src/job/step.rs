//! A step as resolved.
//!
//! Plain data; the number printed on paper follows from the order and is not its name.

use super::{Hand, Index, StepSpec, Text};
use crate::text::{Span, Spanned};
use crate::units::Minutes;

/// A step of some traveler of the job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepRef {
    /// Index of the traveler.
    pub traveler: usize,
    /// Index of the step in it.
    pub step: usize,
}

/// A joint of some traveler of the job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JointRef {
    /// Index of the traveler.
    pub traveler: usize,
    /// Index of the joint in it.
    pub joint: usize,
}

/// A joint as a step names it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct NamedJoint {
    /// The joint, of whatever traveler.
    pub joint: JointRef,
    /// The one hand of it that is worked, where the step has none and says so; absent: the step's own, or all there are.
    pub hand: Option<Hand>,
    /// Where it is named.
    pub span: Span,
}

/// What a step waits for because a step of another traveler works on the same joint before it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Follow {
    /// That step.
    pub at: StepRef,
    /// The one hand that is meant, where only one is.
    pub hand: Option<Hand>,
    /// The joint.
    pub joint: JointRef,
    /// Where one of the two steps names the other's joint.
    pub span: Span,
}

/// Where a step comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// It follows from parts and joints.
    Usual,
    /// It does, and an entry changed it.
    Changed,
    /// It is written in full.
    Written,
}

impl Origin {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Usual => "usual",
            Self::Changed => "changed",
            Self::Written => "written",
        }
    }
}

/// One step.
#[derive(Debug, Clone)]
pub struct Step {
    /// As written.
    pub spec: StepSpec,
    /// Operation number on paper: 010, 020, ...
    pub number: u32,
    /// Where it comes from.
    pub origin: Origin,
    /// The procedures by which it is done: indices into the project's.
    pub procedures: Vec<usize>,
    /// What to do: its own text, else that of its procedures.
    pub text: Option<Text>,
    /// Tools that it or its procedures name.
    pub tools: Vec<Text>,
    /// Consumables that it or its procedures name, each once.
    pub uses: Vec<Text>,
    /// Nothing touches the parts until then.
    pub cure: Option<Spanned<Minutes>>,
    /// The estimate: its own, else by counts from its procedures.
    pub minutes: Option<Spanned<u32>>,
    /// Joints it works on.
    pub joints: Vec<NamedJoint>,
    /// Parts it works on: indices into the traveler's parts.
    pub parts: Vec<Index>,
    /// Steps that must be done first.
    pub needs: Vec<Spanned<StepRef>>,
    /// Steps of other travelers that work on its joints before it.
    pub follows: Vec<Follow>,
    /// Spaces that must be open: indices into the project's spaces.
    pub spaces: Vec<Index>,
    /// Spaces that it closes.
    pub closes: Vec<Index>,
    /// Spaces that it opens again.
    pub opens: Vec<Index>,
    /// Joints, of any traveler, whose open holes it fills.
    pub fills: Vec<JointRef>,
    /// The stage that it says: an index into the project's stages.
    pub stage: Option<Index>,
}

impl std::ops::Deref for Step {
    type Target = StepSpec;

    fn deref(&self) -> &StepSpec {
        &self.spec
    }
}

impl Step {
    /// Whether it works on a joint.
    #[must_use]
    pub fn names(&self, joint: JointRef) -> bool {
        self.joints.iter().any(|named| named.joint == joint)
    }
}

/// The sheet of a drawing view: `W-210` of `W-210 view C-C`.
#[must_use]
pub fn sheet_of_view(view: &str) -> &str {
    view.split_once([' ', ':', ',']).map_or(view, |(sheet, _)| sheet)
}
