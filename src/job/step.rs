//! A step as resolved.
//!
//! Plain data; the number printed on paper follows from the order and is not its name.

use super::{Index, StepSpec};
use crate::text::Spanned;

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

/// One step.
#[derive(Debug, Clone)]
pub struct Step {
    /// As written.
    pub spec: StepSpec,
    /// Operation number on paper: 010, 020, ...
    pub number: u32,
    /// Joints it works on: indices into the traveler's joints.
    pub joints: Vec<Index>,
    /// Parts it works on: indices into the traveler's parts.
    pub parts: Vec<Index>,
    /// Steps that must be done first.
    pub needs: Vec<Spanned<StepRef>>,
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

/// The sheet of a drawing view: `W-210` of `W-210 view C-C`.
#[must_use]
pub fn sheet_of_view(view: &str) -> &str {
    view.split_once([' ', ':', ',']).map_or(view, |(sheet, _)| sheet)
}
