//! The names that join others: of packets, of items, of joints of another traveler.
//!
//! It writes them and takes them apart. Whether there is such a thing, it does not know.

use std::fmt;

use super::Hand;

/// One traveler in one hand: what one packet is printed for. Written `WNG-210 left`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PacketName {
    /// Id of the traveler.
    pub traveler: String,
    /// The hand; none for a one-off.
    pub hand: Option<Hand>,
}

impl PacketName {
    /// The name of a traveler's packet for a hand.
    #[must_use]
    pub fn new(traveler: impl Into<String>, hand: Option<Hand>) -> Self {
        Self { traveler: traveler.into(), hand }
    }
}

impl fmt::Display for PacketName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.hand {
            Some(hand) => write!(f, "{} {hand}", self.traveler),
            None => f.write_str(&self.traveler),
        }
    }
}

/// One step of one traveler in one hand: what is done and signed. Written `WNG-210/open-holes (left)`.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ItemName {
    /// Id of the traveler.
    pub traveler: String,
    /// The hand; none for a one-off.
    pub hand: Option<Hand>,
    /// Name of the step.
    pub step: String,
}

impl ItemName {
    /// The name of a traveler's step in a hand.
    #[must_use]
    pub fn new(traveler: impl Into<String>, hand: Option<Hand>, step: impl Into<String>) -> Self {
        Self { traveler: traveler.into(), hand, step: step.into() }
    }

    /// The packet in which the step stands.
    #[must_use]
    pub fn packet(&self) -> PacketName {
        PacketName::new(self.traveler.as_str(), self.hand)
    }
}

impl fmt::Display for ItemName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.traveler, self.step)?;
        match self.hand {
            Some(hand) => write!(f, " ({hand})"),
            None => Ok(()),
        }
    }
}

/// Traveler, hand and joint of `FUS-10/J2` or `WING-10/left/J2`; nothing for a joint of the traveler's own.
#[must_use]
pub fn other_joint(written: &str) -> Option<(&str, Option<Hand>, &str)> {
    let (traveler, rest) = written.split_once('/')?;
    let of_hand = rest.split_once('/').and_then(|(hand, joint)| Some((Hand::parse(hand.trim())?, joint)));
    let hand = of_hand.map(|(hand, _)| hand);
    let joint = of_hand.map_or(rest, |(_, joint)| joint);
    Some((traveler.trim(), hand, joint.trim()))
}
