//! Texts that the two hands of a packet read differently: each as its own hand reads it.
//!
//! It fills nothing in; where both hands read the same, the text stands once and not here.

use serde::Serialize;
use serde_json::Value;

use crate::job::Hand;

pub(super) const LEFT: &str = Hand::Left.word();
pub(super) const RIGHT: &str = Hand::Right.word();

/// A text as one hand reads it, where the other reads it differently.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct HandText {
    /// `left` or `right`.
    pub hand: &'static str,
    /// Markdown with values.
    pub text: String,
    /// The values of that hand.
    pub values: Value,
}
