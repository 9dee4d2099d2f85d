//! STATES: what a step brings about that lasts until another ends it: "the fuselage is level".
//!
//! A state is a word of the builder's. It says which items set, end or need one, and whether one holds; it takes nobody's
//! word for it but the signatures'.

use std::collections::BTreeSet;

use super::{Item, Job, Order, State, Step, StepRef, Text, same_side};

/// What an item does to a state.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Acts {
    /// It brings it about.
    Sets,
    /// It ends it.
    Undoes,
    /// It is worked while the state holds.
    During,
}

impl Acts {
    /// The states that a step names so.
    #[must_use]
    pub fn of(self, step: &Step) -> &[Text] {
        match self {
            Self::Sets => &step.spec.entry.sets,
            Self::Undoes => &step.spec.entry.undoes,
            Self::During => &step.spec.entry.during,
        }
    }
}

impl Job {
    /// The states that some step sets.
    #[must_use]
    pub fn states(&self) -> BTreeSet<&str> {
        let steps = self.travelers.iter().flat_map(|traveler| &traveler.steps);
        steps.flat_map(|step| Acts::Sets.of(step)).map(|state| state.value.as_str()).collect()
    }

    /// The items that do something to a state, on the side of a hand.
    pub fn acting<'a>(&'a self, acts: Acts, state: &'a str, item: Item) -> impl Iterator<Item = Item> + 'a {
        let steps = self.travelers.iter().enumerate().flat_map(move |(traveler, own)| {
            let such = own
                .steps
                .iter()
                .enumerate()
                .filter(move |(_, step)| acts.of(step).iter().any(|one| one.value == state));
            such.map(move |(step, _)| StepRef { traveler, step })
        });
        let items = steps.flat_map(|at| self.hands_of(at.traveler).into_iter().map(move |hand| Item { at, hand }));
        items.filter(move |other| same_side(other.hand, item.hand))
    }

    /// Whether a state holds for an item: something that set it is signed, and nothing that ended it since.
    #[must_use]
    pub fn stands(&self, order: &Order, done: &State, state: &str, item: Item) -> bool {
        let when = |item: &Item| Some((*item, done.done.get(item)?.on));
        let set: Vec<_> = self.acting(Acts::Sets, state, item).filter_map(|item| when(&item)).collect();
        let mut ended = self.acting(Acts::Undoes, state, item).filter_map(|item| when(&item));
        let is_after = |(one, one_on): (Item, crate::calendar::When),
                        (other, other_on): (Item, crate::calendar::When)| {
            one_on.earliest > other_on.latest || (one_on.latest >= other_on.earliest && order.precedes(other, one))
        };
        // Where neither day nor order tells, it is to be set again.
        match ended.next() {
            None => !set.is_empty(),
            Some(first) => {
                let all: Vec<_> = std::iter::once(first).chain(ended).collect();
                set.iter().any(|set| all.iter().all(|end| is_after(*set, *end)))
            }
        }
    }

    /// Items that need a state which an item would end, are not done, and do not come after it.
    #[must_use]
    pub fn spoiled_by(&self, order: &Order, done: &State, item: Item) -> Vec<(String, Item)> {
        let after = order.all_after(item);
        let mut spoiled = Vec::new();
        for state in Acts::Undoes.of(self.step(item.at)) {
            let open = self.acting(Acts::During, &state.value, item);
            let open = open.filter(|other| *other != item && !done.is_done(*other) && !after.contains(*other));
            spoiled.extend(open.map(|other| (state.value.clone(), other)));
        }
        spoiled
    }
}
