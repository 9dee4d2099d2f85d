//! A traveler as resolved: its parts, joints, steps, drawings and accepted departures.
//!
//! Plain data with look-ups by id; nothing is judged here.

use super::{Allow, Index, Joint, Omitted, Part, Step, TravelerSpec};
use crate::text::{FileId, Span};

/// One assembly's packet.
#[derive(Debug, Clone)]
pub struct Traveler {
    /// Its file.
    pub file: FileId,
    /// Its head as written.
    pub spec: TravelerSpec,
    /// Sheets and the revisions that the spec was written against.
    pub drawings: Vec<DrawingRef>,
    /// Travelers that must be finished first.
    pub after: Vec<Index>,
    /// Its parts, in the order of the file.
    pub parts: Vec<Part>,
    /// Its joints, in the order of the file.
    pub joints: Vec<Joint>,
    /// Steps in working order.
    pub steps: Vec<Step>,
    /// Usual steps that are left out.
    pub omitted: Vec<Omitted>,
    /// Accepted departures.
    pub allows: Vec<Allow>,
}

impl std::ops::Deref for Traveler {
    type Target = TravelerSpec;

    fn deref(&self) -> &TravelerSpec {
        &self.spec
    }
}

impl Traveler {
    /// The part with an id.
    #[must_use]
    pub fn part(&self, id: &str) -> Option<&Part> {
        self.parts.iter().find(|part| part.id.value == id)
    }
}

/// One drawing sheet that a traveler was written against.
#[derive(Debug, Clone)]
pub struct DrawingRef {
    /// Sheet number.
    pub sheet: String,
    /// Revision, where one was written.
    pub revision: Option<String>,
    /// Index into the register, where the sheet is in it.
    pub register: Option<usize>,
    /// Where it was written.
    pub span: Span,
}
