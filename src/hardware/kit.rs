//! Hardware that no standard covers and that a kit supplies: the builder gives its numbers.
//!
//! It only carries what was given; it invents no hole, grip or strength that the entry lacks.

use super::head::Head;
use super::metal::{Metal, metal_of};
use super::thread::{Thread, thread};
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
    /// Length under the head.
    pub length: Option<Length>,
    /// Length of the thread, from the end.
    pub thread_length: Option<Length>,
    /// Thickness of a washer.
    pub thickness: Option<Length>,
    /// Height of a nut.
    pub height: Option<Length>,
    /// Whether a nut locks itself.
    pub self_locking: bool,
    /// Whether a nut has slots for a cotter pin.
    pub castle: bool,
    /// Whether a bolt's shank is drilled for a cotter pin; none where the entry does not say it.
    pub drilled_shank: Option<bool>,
    /// Hole in a bolt's shank for a cotter pin.
    pub pin_hole: Option<Length>,
    /// Property class, as in `8.8`.
    pub property_class: Option<String>,
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
            length: None,
            thread_length: None,
            thickness: None,
            height: None,
            self_locking: false,
            castle: false,
            drilled_shank: None,
            pin_hole: None,
            property_class: None,
        }
    }

    /// The thread, where the tables know it.
    #[must_use]
    pub fn known_thread(&self) -> Option<&'static Thread> {
        self.thread.as_deref().and_then(thread)
    }

    /// Whether a bolt's shank is drilled, as far as the entry says it: with a hole given it is.
    #[must_use]
    pub fn is_drilled(&self) -> Option<bool> {
        self.drilled_shank.or(self.pin_hole.map(|_| true))
    }

    /// Where the thread begins, from under the head; zero where it is threaded to the head.
    #[must_use]
    pub fn thread_from(&self) -> Option<Length> {
        let (length, threaded) = self.length.zip(self.thread_length)?;
        Some(if threaded < length { length - threaded } else { Length::ZERO })
    }

    /// The metal of its material, where the words name one.
    #[must_use]
    pub fn metal(&self) -> Option<Metal> {
        metal_of(&self.material)
    }
}
