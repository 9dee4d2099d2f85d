//! Spaces, each in one hand: who works in them, who closes them, who opens them again, and what stands between.
//!
//! A space with `hands` is one space a hand, else it is one space for all. Nothing is judged here.

use std::collections::BTreeMap;

use super::{After, Hand, Index, Item, Job, Order, StepRef};
use crate::text::Span;

/// A space: what the project file names, in one hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Space {
    /// Index of its entry in the project file.
    pub of: usize,
    /// The hand; absent where one space serves all hands.
    pub hand: Option<Hand>,
}

/// An item that names a space, and where.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Visit {
    /// The item.
    pub item: Item,
    /// Where the step names the space.
    pub span: Span,
}

/// Everything that happens to one space.
#[derive(Debug, Clone, Default)]
pub struct SpaceLife {
    /// Items that need it open; the closing ones among them, for what is shut cannot be closed.
    pub users: Vec<Visit>,
    /// Items that close it.
    pub closers: Vec<Visit>,
    /// Items that open it again.
    pub openers: Vec<Visit>,
}

/// How an item stands to a closing of the space that it needs open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Standing {
    /// Done before the space closes, or by the closing itself.
    Before,
    /// Done after the space was closed and opened again.
    Reopened,
    /// Comes after the closing, and nothing opens the space in between.
    ShutOut,
    /// Nothing says which of the two comes first.
    Unordered,
}

/// One closing of one space, with how every user of the space stands to it.
#[derive(Debug, Clone)]
pub struct Closing {
    /// The space.
    pub space: Space,
    /// The item that closes it.
    pub by: Visit,
    /// Its users.
    pub users: Vec<(Visit, Standing)>,
    /// Openings that nothing orders before or after this closing.
    pub stray_openers: Vec<Visit>,
}

impl Job {
    /// The spaces that an entry of the project file means for an item of some hand.
    #[must_use]
    pub fn spaces(&self, of: usize, hand: Option<Hand>) -> Vec<Space> {
        let hands = &self.space_spec(of).hands;
        if hands.is_empty() {
            return vec![Space { of, hand: None }];
        }
        let meant = hands.iter().map(|own| own.value).filter(|own| hand.is_none_or(|hand| hand == *own));
        meant.map(|own| Space { of, hand: Some(own) }).collect()
    }

    /// The name of a space on paper, with the hand.
    #[must_use]
    pub fn space_name(&self, space: Space) -> String {
        let name = &self.space_spec(space.of).name.value;
        space.hand.map_or_else(|| name.clone(), |hand| format!("{name} ({})", hand.word()))
    }

    /// Every space that some step names, with what happens to it.
    #[must_use]
    pub fn space_lives(&self) -> BTreeMap<Space, SpaceLife> {
        let mut lives: BTreeMap<Space, SpaceLife> = BTreeMap::new();
        for (traveler, own) in self.travelers.iter().enumerate() {
            for hand in self.hands_of(traveler) {
                for (index, step) in own.steps.iter().enumerate() {
                    let item = Item { at: StepRef { traveler, step: index }, hand };
                    let mut note = |spaces: &[Index], list: fn(&mut SpaceLife) -> &mut Vec<Visit>| {
                        for named in spaces {
                            for space in self.spaces(named.value, hand) {
                                list(lives.entry(space).or_default()).push(Visit { item, span: named.span });
                            }
                        }
                    };
                    let only_closed =
                        step.closes.iter().filter(|space| step.spaces.iter().all(|used| used.value != space.value));
                    let only_closed: Vec<Index> = only_closed.copied().collect();
                    note(&step.spaces, |life| &mut life.users);
                    note(&only_closed, |life| &mut life.users);
                    note(&step.closes, |life| &mut life.closers);
                    note(&step.opens, |life| &mut life.openers);
                }
            }
        }
        lives
    }

    /// Every closing of the build.
    #[must_use]
    pub fn closings(&self, order: &Order) -> Vec<Closing> {
        let lives = self.space_lives();
        let of_space = lives.iter().flat_map(|(space, life)| life.closers.iter().map(move |by| (*space, *by, life)));
        of_space.map(|(space, by, life)| closing(space, by, life, order)).collect()
    }
}

fn closing(space: Space, by: Visit, life: &SpaceLife, order: &Order) -> Closing {
    let (after, before) = (order.all_after(by.item), order.all_before(by.item));
    // An opening that the closing step itself makes comes before its closing and so does not undo it.
    let undoing = life.openers.iter().filter(|opener| opener.item != by.item && after.contains(opener.item));
    let undoing: Vec<(Item, After<'_>)> = undoing.map(|opener| (opener.item, order.all_after(opener.item))).collect();
    let standing = |user: &Visit| {
        let reopened = || undoing.iter().any(|(opener, then)| *opener == user.item || then.contains(user.item));
        match (before.contains(user.item), after.contains(user.item)) {
            _ if user.item == by.item => Standing::Before,
            // In a circle both hold; the circle is reported for itself.
            (true, _) => Standing::Before,
            (false, true) if reopened() => Standing::Reopened,
            (false, true) => Standing::ShutOut,
            (false, false) => Standing::Unordered,
        }
    };
    let users = life.users.iter().map(|user| (*user, standing(user))).collect();
    let stray =
        |opener: &&Visit| opener.item != by.item && !after.contains(opener.item) && !before.contains(opener.item);
    Closing { space, by, users, stray_openers: life.openers.iter().filter(stray).copied().collect() }
}
