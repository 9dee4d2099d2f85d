//! The cautions of a project: the built-in list with what the project added, changed and left out.
//!
//! Plain data; whether a change needs a reason is a rule's affair, and what fires at a step is planned with the paper.

use super::{CautionRule, SignalWord, Text};
use crate::text::Span;

/// The cautions of a project.
#[derive(Debug, Clone, Default)]
pub struct Cautions {
    /// What is printed, heaviest signal word first.
    pub rules: Vec<CautionRule>,
    /// Built-in cautions that the project left out, lowered or moved from the steps to the cover.
    pub weakened: Vec<Weakened>,
}

/// A built-in caution that the project made weaker.
#[derive(Debug, Clone)]
pub struct Weakened {
    /// As built in.
    pub built_in: CautionRule,
    /// The signal word that it has now; absent: it is left out.
    pub now: Option<SignalWord>,
    /// Whether it was moved from the steps to the cover.
    pub moved: bool,
    /// The reason.
    pub because: Option<Text>,
    /// Where the project does so.
    pub span: Span,
}

impl Cautions {
    /// The caution of a name; one that the project left out is still known to a step that asks for it.
    #[must_use]
    pub fn find(&self, id: &str) -> Option<&CautionRule> {
        let left_out = || self.weakened.iter().map(|weakened| &weakened.built_in).find(|rule| rule.id == id);
        self.rules.iter().find(|rule| rule.id == id).or_else(left_out)
    }

    /// Every name that a step may write.
    pub fn ids(&self) -> impl Iterator<Item = &str> {
        let left_out = self.weakened.iter().filter(|weakened| weakened.now.is_none());
        self.rules.iter().map(|rule| rule.id.as_str()).chain(left_out.map(|weakened| weakened.built_in.id.as_str()))
    }
}
