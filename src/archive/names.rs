//! The names of packets and items, as records give them.

use super::entry::{DiscrepancyOpened, Imported, Issued, Signed};
use super::requirement::SheetRequirement;
use super::state::Signature;
use crate::words::{ItemName, PacketName};

macro_rules! named {
    ($($record:ident)+) => { $(
        impl $record {
            /// The packet that it is about.
            #[must_use]
            pub fn packet(&self) -> PacketName {
                PacketName::new(self.traveler.as_str(), self.hand)
            }
        }
    )+ };
}

named! { Issued SheetRequirement Signed Imported }

impl Issued {
    /// The name of one of its steps.
    #[must_use]
    pub fn item(&self, step: &str) -> ItemName {
        ItemName::new(self.traveler.as_str(), self.hand, step)
    }
}

impl SheetRequirement {
    /// The name of one of its steps.
    #[must_use]
    pub fn item(&self, step: &str) -> ItemName {
        ItemName::new(self.traveler.as_str(), self.hand, step)
    }
}

impl Signed {
    /// The signed step.
    #[must_use]
    pub fn item(&self) -> ItemName {
        ItemName::new(self.traveler.as_str(), self.hand, self.step.as_str())
    }
}

impl Signature {
    /// The packet that it is about.
    #[must_use]
    pub fn packet(&self) -> PacketName {
        self.signed.packet()
    }

    /// The signed step.
    #[must_use]
    pub fn item(&self) -> ItemName {
        self.signed.item()
    }
}

impl DiscrepancyOpened {
    /// The packet in which it was found, where it names one.
    #[must_use]
    pub fn packet(&self) -> Option<PacketName> {
        self.traveler.as_deref().map(|traveler| PacketName::new(traveler, self.hand))
    }
}
