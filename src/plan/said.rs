//! A sentence with strong parts, ready to print: the one form in which finished words with emphasis reach a page.
//!
//! It knows nothing of what is said.

use serde::Serialize;

/// A run of letters of one weight.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Piece {
    /// The words.
    pub text: String,
    /// Whether they stand out.
    pub strong: bool,
}

/// A sentence that grows piece by piece.
#[derive(Debug, Clone, Default)]
pub(super) struct Said(Vec<Piece>);

impl Said {
    pub(super) fn new() -> Self {
        Self::default()
    }

    pub(super) fn plain(mut self, text: impl Into<String>) -> Self {
        self.push(text.into(), false);
        self
    }

    pub(super) fn strong(mut self, text: impl Into<String>) -> Self {
        self.push(text.into(), true);
        self
    }

    /// Adds what is said only where there is something to say.
    pub(super) fn maybe<T>(self, value: Option<T>, more: impl FnOnce(Self, T) -> Self) -> Self {
        match value {
            Some(value) => more(self, value),
            None => self,
        }
    }

    fn push(&mut self, text: String, strong: bool) {
        if !text.is_empty() {
            self.0.push(Piece { text, strong });
        }
    }

    pub(super) fn pieces(self) -> Vec<Piece> {
        self.0
    }
}
