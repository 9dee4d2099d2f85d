//! What the builder wants of the board: which jobs come first, which later, what whole jobs wait for.
//!
//! It decides nothing about what can be done; that is for `work`.

use super::{Hand, Item, WaitFor};
use crate::calendar::{Moment, When};

/// `[board]` of the project file, with its travelers found.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Queue {
    /// Travelers that are proposed before all others, in this order.
    pub first: Vec<usize>,
    /// Travelers that are not proposed for an evening.
    pub later: Vec<usize>,
    /// Jobs that cannot go on.
    pub waits: Vec<JobWait>,
}

/// A whole job that cannot go on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct JobWait {
    /// Traveler.
    pub traveler: usize,
    /// The hand; none for every hand.
    pub hand: Option<Hand>,
    /// What kind of wait.
    pub wait: WaitFor,
    /// Who or what.
    pub what: String,
    /// Until when.
    pub until: Option<When>,
}

impl Queue {
    /// The place of a traveler among those that come first.
    #[must_use]
    pub fn place(&self, traveler: usize) -> Option<usize> {
        self.first.iter().position(|first| *first == traveler)
    }

    /// Whether a traveler was put off.
    #[must_use]
    pub fn is_later(&self, traveler: usize) -> bool {
        self.later.contains(&traveler)
    }

    /// What holds an item's job at a moment.
    pub fn holding(&self, item: Item, now: Moment) -> impl Iterator<Item = &JobWait> {
        self.waits.iter().filter(move |wait| {
            wait.traveler == item.at.traveler
                && (wait.hand.is_none() || wait.hand == item.hand)
                && wait.until.is_none_or(|until| until.latest > now)
        })
    }
}
