//! How the nut or bolt of a joint is kept from turning, and whether its nut turns hard before it seats.
//!
//! Facts of the hardware that is called; whether that is enough is for the rules.

use super::{Hardware, Joint};
use crate::hardware::{Fastener, NutKind};

/// How a nut or bolt is kept from turning.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Safety {
    /// The nut or nutplate holds itself.
    Itself,
    /// A cotter pin through the slots of the nut, also where the nut holds itself.
    Pin,
    /// A second nut.
    CheckNut,
    /// A lock washer.
    LockWasher,
    /// Safety wire through the head: no nut, and the head is drilled.
    Wire,
    /// The spec does not say.
    Open,
}

impl Joint {
    /// The nut or nutplate, where its call decodes.
    #[must_use]
    pub fn decoded_nut(&self) -> Option<&Fastener> {
        self.nut.as_ref().and_then(|nut| nut.fastener.as_ref().ok())
    }

    /// Whether the nut turns hard before it seats, so that its drag is added (AC 43.13-1B, par. 7-40).
    #[must_use]
    pub fn has_drag(&self) -> bool {
        match self.decoded_nut() {
            Some(Fastener::Nut(nut)) => nut.kind.is_self_locking(),
            Some(Fastener::Nutplate(_)) => true,
            _ => false,
        }
    }

    /// Whether the nut has slots for a cotter pin.
    #[must_use]
    pub fn is_castle(&self) -> bool {
        matches!(self.decoded_nut(), Some(Fastener::Nut(nut)) if nut.kind.is_castle())
    }

    /// How the nut or bolt is kept from turning.
    #[must_use]
    pub fn safety(&self) -> Safety {
        let is_lock = |washer: &Hardware| matches!(&washer.fastener, Ok(Fastener::Washer(washer)) if washer.is_lock());
        let needs_pin = matches!(self.decoded_nut(), Some(Fastener::Nut(nut)) if nut.kind == NutKind::Castle);
        let is_wired = self.nut.is_none() && matches!(&self.fastener, Ok(Fastener::Bolt(bolt)) if bolt.drilled_head);
        if self.cotter.is_some() || needs_pin {
            Safety::Pin
        } else if self.has_drag() {
            Safety::Itself
        } else if self.check_nut.is_some() {
            Safety::CheckNut
        } else if self.washers_head.iter().chain(&self.washers_nut).any(is_lock) {
            Safety::LockWasher
        } else if is_wired {
            Safety::Wire
        } else {
            Safety::Open
        }
    }
}
