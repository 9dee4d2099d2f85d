//! How far an item's consequences reach forward, and what must be done before it.
//!
//! A chain is reached from one of its steps on, so one number a chain says everything about it.

use super::{Item, Order};
use crate::job::StepRef;

/// The items that come after one item; the item itself only where it stands in a circle.
#[derive(Debug, Clone)]
pub struct After<'a> {
    order: &'a Order,
    /// The place of the first step of each chain that comes after; the chain's length where none does.
    from: Vec<usize>,
}

/// The items that must be done before one item; the item itself only where it stands in a circle.
#[derive(Debug, Clone)]
pub struct Before<'a> {
    order: &'a Order,
    /// How many steps of each chain come before.
    until: Vec<usize>,
}

impl Order {
    /// Everything that comes after an item, however far.
    #[must_use]
    pub fn all_after(&self, item: Item) -> After<'_> {
        let start = self.chain_of(item);
        let place = self.place_of(item);
        let mut from: Vec<usize> = self.chains.iter().map(|chain| chain.steps.len()).collect();
        let mut followed = from.clone();
        from[start] = place + 1;
        let mut open = vec![(start, place)];
        while let Some((chain, place)) = open.pop() {
            let end = followed[chain];
            followed[chain] = end.min(place);
            let first = self.out[chain].partition_point(|link| self.place_of(link.from) < place);
            for link in self.out[chain][first..].iter().take_while(|link| self.place_of(link.from) < end) {
                let (to, reached) = (self.chain_of(link.to), self.place_of(link.to));
                if reached < from[to] {
                    from[to] = reached;
                    open.push((to, reached));
                }
            }
        }
        After { order: self, from }
    }

    /// Everything that must be done before an item, however far back.
    #[must_use]
    pub fn all_before(&self, item: Item) -> Before<'_> {
        let start = self.chain_of(item);
        let place = self.place_of(item);
        let mut until = vec![0; self.chains.len()];
        let mut followed = until.clone();
        until[start] = place;
        let mut open = vec![(start, place + 1)];
        while let Some((chain, end)) = open.pop() {
            let begin = followed[chain];
            followed[chain] = begin.max(end);
            let first = self.into[chain].partition_point(|link| self.place_of(link.to) < begin);
            for link in self.into[chain][first..].iter().take_while(|link| self.place_of(link.to) < end) {
                let (from, reached) = (self.chain_of(link.from), self.place_of(link.from) + 1);
                if reached > until[from] {
                    until[from] = reached;
                    open.push((from, reached));
                }
            }
        }
        Before { order: self, until }
    }
}

impl After<'_> {
    /// Whether an item is among them.
    #[must_use]
    pub fn contains(&self, item: Item) -> bool {
        self.order.place_of(item) >= self.from[self.order.chain_of(item)]
    }

    /// How many they are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.order.chains.iter().zip(&self.from).map(|(chain, from)| chain.steps.len().saturating_sub(*from)).sum()
    }
}

impl Before<'_> {
    /// Whether an item is among them.
    #[must_use]
    pub fn contains(&self, item: Item) -> bool {
        self.order.place_of(item) < self.until[self.order.chain_of(item)]
    }

    /// They, traveler by traveler, hand by hand.
    pub fn items(&self) -> impl Iterator<Item = Item> {
        self.order.chains.iter().zip(&self.until).flat_map(|(chain, until)| {
            let (traveler, hand) = (chain.traveler, chain.hand);
            chain.steps[..*until].iter().map(move |step| Item { at: StepRef { traveler, step: *step }, hand })
        })
    }
}
