//! What the plans themselves set for a joint: torque, hole and grip that outrank the tables.
//!
//! It answers what the plans say; what a value beside them weighs is for the rules.

use super::{Joint, Text};
use crate::text::{Span, Spanned};
use crate::units::{JointTorque, Length, Size, Style};

/// A range that the plans set.
#[derive(Debug, Clone)]
pub struct PlansRange<'a> {
    /// The smallest and the largest.
    pub range: (Size, Size),
    /// How both are said.
    said: fn((Size, Size), &Style) -> String,
    /// Where it is written.
    pub span: Span,
    /// The builder's reason, as written.
    pub because: &'a Text,
}

impl PlansRange<'_> {
    /// Both in words.
    #[must_use]
    pub fn words(&self, style: &Style) -> String {
        (self.said)(self.range, style)
    }

    /// Whether a length lies inside, give or take `slack`.
    #[must_use]
    pub fn has(&self, length: Length, slack: Length) -> bool {
        self.is_reached(length, slack) && length <= self.range.1.length + slack
    }

    /// Whether a length is not below the smallest, give or take `slack`.
    #[must_use]
    pub fn is_reached(&self, length: Length, slack: Length) -> bool {
        length + slack >= self.range.0.length
    }
}

/// A range of holes in words, by the names of drills: one size, or both ends.
#[must_use]
pub fn hole_range((low, high): (Size, Size), style: &Style) -> String {
    one_or_both(&style.size(low), &style.size(high))
}

/// A range of thicknesses in words: one, or both ends.
#[must_use]
pub fn grip_range((low, high): (Size, Size), style: &Style) -> String {
    one_or_both(&style.length(low.length), &style.length(high.length))
}

fn one_or_both(low: &str, high: &str) -> String {
    if low == high { low.to_owned() } else { format!("{low} to {high}") }
}

impl Joint {
    /// The hole that the plans set.
    #[must_use]
    pub fn plans_hole(&self) -> Option<PlansRange<'_>> {
        self.plans_range(self.limits.as_ref()?.hole, hole_range)
    }

    /// The stack that the plans let the fastener grip.
    #[must_use]
    pub fn plans_grip(&self) -> Option<PlansRange<'_>> {
        self.plans_range(self.limits.as_ref()?.grip, grip_range)
    }

    fn plans_range(
        &self,
        range: Option<Spanned<(Size, Size)>>,
        said: fn((Size, Size), &Style) -> String,
    ) -> Option<PlansRange<'_>> {
        let because = &self.limits.as_ref()?.because;
        range.map(|range| PlansRange { range: range.value, said, span: range.span, because })
    }

    /// The torque that the plans give: the joint's own, else that of its limits.
    #[must_use]
    pub fn called_torque(&self) -> Option<Spanned<JointTorque>> {
        let limit = || self.limits.as_ref()?.torque;
        self.torque.or_else(|| limit().map(|torque| torque.map(JointTorque::Range)))
    }
}
