//! Hardware that no standard covers and that a kit supplies: the builder gives its numbers.
//!
//! It only carries what was given; it invents no hole, grip or strength that the entry lacks.

use super::head::Head;
use super::metal::{Metal, metal_of};
use crate::units::Length;
use crate::words::FastenerKind;

/// A kit-supplied fastener as `build.toml` gives it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KitFastener {
    /// The call that specs use.
    pub id: String,
    /// What it is.
    pub kind: FastenerKind,
    /// Nominal diameter.
    pub diameter: Length,
    /// Smallest and largest hole.
    pub hole: Option<(Length, Length)>,
    /// Smallest and largest stack that it fits; for a bolt, its grip twice.
    pub grip: Option<(Length, Length)>,
    /// Shape of the manufactured head.
    pub head: Head,
    /// Material in the builder's words.
    pub material: String,
    /// Where the builder has the numbers from; printed with every verdict.
    pub source: String,
    /// Thread of a bolt, screw, nut or nutplate, as in `10-32`.
    pub thread: Option<String>,
}

impl KitFastener {
    /// A fastener of which only the diameter is given.
    #[must_use]
    pub fn new(id: &str, kind: FastenerKind, diameter: Length) -> Self {
        Self {
            id: id.to_owned(),
            kind,
            diameter,
            hole: None,
            grip: None,
            head: Head::Protruding,
            material: String::new(),
            source: String::new(),
            thread: None,
        }
    }

    /// The metal of its material, where the words name one.
    #[must_use]
    pub fn metal(&self) -> Option<Metal> {
        metal_of(&self.material)
    }
}
