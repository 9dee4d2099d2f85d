//! What a family of fasteners is to the rest of the room: the numbers it reads, and the facts that all hardware has.
//!
//! It knows no family by name. What only one family has stays in that family's file.

use super::head::Head;
use super::hole::ListedHole;
use super::metal::Metal;
use super::number::{Call, Parts, Undecoded};
use super::thread::Thread;
use crate::units::Length;

/// What every decoded number has, whatever its family; facts that a family lacks stay as [`Common::of`] gives them.
#[derive(Debug, Clone, Copy)]
pub(super) struct Common<'a> {
    /// The part number.
    pub(super) call: &'a Call,
    /// Nominal diameter of what goes into the hole, or of the thread.
    pub(super) diameter: Option<Length>,
    /// Shape of the manufactured head; protruding for hardware without one.
    pub(super) head: Head,
    /// Thread.
    pub(super) thread: Option<&'static Thread>,
    /// Metal, where the number or the kit's entry tells it.
    pub(super) metal: Option<Metal>,
    /// Whether the call lacks the length or grip that it needs.
    pub(super) lacks_length: bool,
}

impl<'a> Common<'a> {
    /// Hardware of which nothing but its number is known.
    pub(super) const fn of(call: &'a Call) -> Self {
        Self { call, diameter: None, head: Head::Protruding, thread: None, metal: None, lacks_length: false }
    }
}

/// A family of fasteners: one file, one line in the list of families. Beside this it has `describe`, its plain words for
/// paper, and where a kit may supply it, `of_kit`.
pub(super) trait Family: Sized {
    /// The documents whose numbers it reads.
    fn documents() -> Vec<&'static str>;

    /// Reads a number of one of its documents.
    ///
    /// # Errors
    /// Says which part of the number is wrong and what would decode.
    fn decode(parts: &Parts<'_>) -> Result<Self, Undecoded>;

    /// A part number of every row of its tables, with the lengths in common use.
    fn every_call() -> impl Iterator<Item = String>;

    /// What it has in common with all hardware.
    fn common(&self) -> Common<'_>;

    /// The number that succeeded this one, where there is one.
    fn superseded_by(&self) -> Option<String> {
        None
    }

    /// In what the successor differs, where it is not the same part under another number.
    fn successor_differs(&self) -> Option<&str> {
        None
    }

    /// Every hole that the tables list for it.
    fn holes(&self) -> Vec<ListedHole> {
        Vec::new()
    }

    /// The full call that fits a stack, for a call of family and diameter alone. `washers` are the washer stacks under
    /// head and nut; `hole` defaults to the nominal hole. `None` where nothing fits, or there is no length to choose.
    fn fitted(&self, _stack: Length, _hole: Option<Length>, _washers: (Length, Length)) -> Option<Self> {
        None
    }
}
