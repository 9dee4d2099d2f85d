//! A traveler as resolved: its parts, joints, steps, drawings and accepted departures.
//!
//! Plain data with look-ups by id; nothing is judged here.

use super::{Hand, Index, Joint, Step, Text};
use crate::text::{FileId, Span, Spanned};
use crate::units::{Length, Size};

/// One assembly's packet.
#[derive(Debug, Clone)]
pub struct Traveler {
    /// Its file.
    pub file: FileId,
    /// Id.
    pub id: Text,
    /// Title.
    pub title: Text,
    /// Revision of the spec.
    pub revision: Text,
    /// Hands; empty for a one-off.
    pub hands: Vec<Hand>,
    /// Sheets and the revisions that the spec was written against.
    pub drawings: Vec<DrawingRef>,
    /// Travelers that must be finished first.
    pub after: Vec<Index>,
    /// Markdown.
    pub summary: Option<Text>,
    /// Parts.
    pub parts: Vec<Part>,
    /// Joints.
    pub joints: Vec<Joint>,
    /// Steps in working order.
    pub steps: Vec<Step>,
    /// Accepted departures.
    pub allows: Vec<Allow>,
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

/// One part.
#[derive(Debug, Clone)]
pub struct Part {
    /// Id.
    pub id: Text,
    /// Name on paper.
    pub name: Text,
    /// Pieces per hand.
    pub quantity: u32,
    /// Alloy and temper, or another material in words.
    pub material: Option<Text>,
    /// Sheet thickness.
    pub thickness: Option<Spanned<Size>>,
    /// A part that it is not to be taken for.
    pub look_alike: Option<Text>,
    /// Its tightest bend.
    pub bend: Option<Bend>,
}

/// A bend in a part.
#[derive(Debug, Clone, Copy)]
pub struct Bend {
    /// Inside radius.
    pub radius: Spanned<Length>,
    /// Degrees through which the sheet is bent.
    pub angle: u32,
}

/// An accepted departure.
#[derive(Debug, Clone)]
pub struct Allow {
    /// Name of the rule.
    pub rule: Text,
    /// Only for this joint.
    pub joint: Option<Text>,
    /// Only for this step.
    pub step: Option<Text>,
    /// Only for this part.
    pub part: Option<Text>,
    /// The reason, printed on the sheet.
    pub because: Text,
}
