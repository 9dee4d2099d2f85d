//! A part as resolved: what its traveler says of it, else what the whole build knows.
//!
//! Plain data; whether the two agree is for the rules.

use super::{Bend, Text};
use crate::spec::BuildPart;
use crate::text::{Span, Spanned};
use crate::units::Size;

/// One part of a traveler.
#[derive(Debug, Clone)]
pub struct Part {
    /// Its entry in the traveler.
    pub span: Span,
    /// Part number.
    pub id: Text,
    /// Name on paper.
    pub name: Text,
    /// Pieces per hand.
    pub quantity: Spanned<u32>,
    /// Alloy and temper, or another material in words.
    pub material: Option<Text>,
    /// Sheet thickness.
    pub thickness: Option<Spanned<Size>>,
    /// A part that it is not to be taken for.
    pub look_alike: Option<Text>,
    /// Its tightest bend.
    pub bend: Option<Bend>,
    /// Whether it is on the aircraft before this traveler begins: it is neither laid out nor pulled.
    pub is_fitted: bool,
}

/// What is known of a part, wherever it is written.
#[derive(Debug, Clone, Copy)]
pub struct PartFacts<'a> {
    /// Name on paper.
    pub name: &'a Text,
    /// Material.
    pub material: Option<&'a Text>,
    /// Sheet thickness.
    pub thickness: Option<Spanned<Size>>,
    /// Its tightest bend.
    pub bend: Option<&'a Bend>,
}

impl Part {
    /// What it says.
    #[must_use]
    pub const fn facts(&self) -> PartFacts<'_> {
        PartFacts {
            name: &self.name,
            material: self.material.as_ref(),
            thickness: self.thickness,
            bend: self.bend.as_ref(),
        }
    }
}

impl<'a> From<&'a BuildPart> for PartFacts<'a> {
    fn from(part: &'a BuildPart) -> Self {
        Self { name: &part.name, material: part.material.as_ref(), thickness: part.thickness, bend: part.bend.as_ref() }
    }
}
