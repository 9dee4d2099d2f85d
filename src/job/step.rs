//! A step as resolved.
//!
//! Plain data; the number printed on paper follows from the order and is not its name.

use super::{Index, Role, StepKind, Text};
use crate::text::Spanned;
use crate::units::{Decimal, Minutes, Size};

/// A step of some traveler of the job.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StepRef {
    /// Index of the traveler.
    pub traveler: usize,
    /// Index of the step in it.
    pub step: usize,
}

/// One step.
#[derive(Debug, Clone)]
pub struct Step {
    /// Stable name.
    pub id: Text,
    /// Operation number on paper: 010, 020, ...
    pub number: u32,
    /// Title.
    pub title: Text,
    /// What it does.
    pub kind: Spanned<StepKind>,
    /// Joints it works on: indices into the traveler's joints.
    pub joints: Vec<Index>,
    /// Size that a drilling step reaches; absent: the final size.
    pub to: Option<Spanned<Size>>,
    /// Parts it works on: indices into the traveler's parts.
    pub parts: Vec<Index>,
    /// Markdown with values.
    pub text: Option<Text>,
    /// Drawing views, as written.
    pub drawings: Vec<Text>,
    /// Tools.
    pub tools: Vec<Text>,
    /// Steps that must be done first.
    pub needs: Vec<Spanned<StepRef>>,
    /// Zones that must be open: indices into the project's zones.
    pub zones: Vec<Index>,
    /// Zones that it closes.
    pub closes: Vec<Index>,
    /// Zones that it opens again.
    pub opens: Vec<Index>,
    /// Nothing touches the parts until then.
    pub cure: Option<Spanned<Minutes>>,
    /// End of the recoat window.
    pub cure_latest: Option<Spanned<Minutes>>,
    /// Work stops until this role has signed.
    pub hold: Option<Spanned<Role>>,
    /// This role is invited; work may go on.
    pub witness: Option<Spanned<Role>>,
    /// Values to measure.
    pub records: Vec<Record>,
    /// Cautions beyond those that come by themselves.
    pub cautions: Vec<Text>,
    /// Photo prompt.
    pub photo: Option<Text>,
    /// Whether a helper is needed.
    pub helper: bool,
    /// Estimated time.
    pub minutes: Option<u32>,
}

/// The sheet of a drawing view: `W-210` of `W-210 view C-C`.
#[must_use]
pub fn sheet_of_view(view: &str) -> &str {
    view.split([' ', ':', ',']).next().unwrap_or_default()
}

/// One measured value.
#[derive(Debug, Clone)]
pub struct Record {
    /// Id.
    pub id: Text,
    /// What is measured.
    pub label: Text,
    /// Unit.
    pub unit: Option<Text>,
    /// Smallest value that passes.
    pub min: Option<Spanned<Decimal>>,
    /// Largest value that passes.
    pub max: Option<Spanned<Decimal>>,
    /// Instrument.
    pub tool: Option<Text>,
}
