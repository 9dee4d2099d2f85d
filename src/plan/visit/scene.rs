//! Which spaces a visit is about, and which steps and joints concern them.
//!
//! It follows the order and the state of the work; what is printed about them is decided elsewhere.

use std::collections::BTreeSet;

use super::{Recorded, VisitChoice};
use crate::archive::{Capacity, Signature, State as Archived, StepRequirement};
use crate::job::{Hand, Item, Job, Joint, Order, Space, State, StepRef};
use crate::plan::AllSheets;
use crate::work::{LastChance, chances_by_space};

/// Spaces that one packet tells about: with more, six pages would say too little about each.
const MOST_SPACES: usize = 6;

/// One joint of one hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct PlacedJoint {
    pub traveler: usize,
    pub joint: usize,
    pub hand: Option<Hand>,
}

/// One space of the visit.
#[derive(Debug, Clone)]
pub(super) struct Chosen {
    pub space: Space,
    /// Items that need it open.
    pub users: BTreeSet<Item>,
    /// The closing that comes next, or the last one where all are done.
    pub closing: Option<(Item, LastChance)>,
}

/// What a packet is made from.
pub(super) struct Scene<'a> {
    pub job: &'a Job,
    pub order: &'a Order,
    pub state: &'a State,
    /// Absent where there is no archive.
    pub archived: Option<&'a Archived>,
    /// What signed sheets required; absent where there is no archive.
    pub sheets: Option<&'a AllSheets>,
    pub chosen: Vec<Chosen>,
    /// Spaces that were asked for and have no place in the packet.
    pub left_out: Vec<Space>,
    /// Every item of the travelers and hands that work in the spaces.
    pub items: BTreeSet<Item>,
}

impl<'a> Scene<'a> {
    pub fn of(
        job: &'a Job,
        order: &'a Order,
        state: &'a State,
        recorded: Option<Recorded<'a>>,
        choice: &VisitChoice,
    ) -> Self {
        let lives = job.space_lives();
        let chances = chances_by_space(job, order, state);
        let wanted = wanted(&lives.keys().copied().collect::<Vec<_>>(), &chances, choice);
        let closing_of = |space: Space| {
            let own = || chances.iter().filter(move |(own, ..)| *own == space);
            own()
                .find(|(_, _, chance)| !chance.closed)
                .or_else(|| own().next())
                .map(|(_, by, chance)| (*by, chance.clone()))
        };
        let mut chosen: Vec<Chosen> = wanted
            .iter()
            .map(|space| Chosen {
                space: *space,
                users: lives[space].users.iter().map(|user| user.item).collect(),
                closing: closing_of(*space),
            })
            .collect();
        let left_out = chosen.split_off(chosen.len().min(MOST_SPACES)).iter().map(|own| own.space).collect();
        let archived = recorded.map(|recorded| recorded.state);
        let sheets = recorded.map(|recorded| recorded.sheets);
        let mut scene = Self { job, order, state, archived, sheets, chosen, left_out, items: BTreeSet::new() };
        scene.items = scene.concerned();
        scene
    }

    /// The joints that steps work on in a space.
    pub fn joints_in(&self, chosen: &Chosen) -> BTreeSet<PlacedJoint> {
        let of_item = |item: &Item| {
            let (traveler, hand) = (item.at.traveler, item.hand);
            let joints = self.job.step(item.at).joints.iter().map(|joint| joint.value);
            joints.map(move |joint| PlacedJoint { traveler, joint, hand }).collect::<Vec<_>>()
        };
        chosen.users.iter().flat_map(of_item).collect()
    }

    pub fn joint(&self, placed: PlacedJoint) -> &'a Joint {
        &self.job.travelers[placed.traveler].joints[placed.joint]
    }

    /// The items that work on a joint.
    pub fn life(&self, placed: PlacedJoint) -> impl Iterator<Item = Item> {
        let item = move |step: usize| Item { at: StepRef { traveler: placed.traveler, step }, hand: placed.hand };
        self.joint(placed).life.iter().map(move |at| item(at.step))
    }

    /// Every item of a traveler and hand that works in one of the spaces.
    fn concerned(&self) -> BTreeSet<Item> {
        let users = self.chosen.iter().flat_map(|chosen| &chosen.users);
        let places: BTreeSet<(usize, Option<Hand>)> = users.map(|item| (item.at.traveler, item.hand)).collect();
        let all = |(traveler, hand): (usize, Option<Hand>)| {
            (0..self.job.travelers[traveler].steps.len()).map(move |step| Item { at: StepRef { traveler, step }, hand })
        };
        places.into_iter().flat_map(all).collect()
    }

    /// The signature by which an item is done, and what its sheet required.
    pub fn signed(&self, item: Item) -> Option<(&'a Signature, Option<&'a StepRequirement>)> {
        let archived = self.archived?;
        let name = self.job.name_of(item);
        let mut done = archived.counting(&name).filter(|(own, _)| own.signed.capacity == Capacity::Done);
        let (signature, _) = done.next()?;
        let sheet = signature.sheet().and_then(|code| self.sheets?.get(&code));
        Some((signature, sheet.and_then(|sheet| sheet.step(&signature.signed.step))))
    }

    /// Whether an item needs one of the spaces open.
    pub fn is_inside(&self, item: Item) -> bool {
        self.chosen.iter().any(|chosen| chosen.users.contains(&item))
    }

    /// Travelers with work in the spaces, in their order.
    pub fn travelers(&self) -> BTreeSet<usize> {
        self.items.iter().map(|item| item.at.traveler).collect()
    }

    /// `TANK-10 left`.
    pub fn place(&self, traveler: usize, hand: Option<Hand>) -> String {
        self.job.packet_name(traveler, hand).to_string()
    }

    /// Whether an id of a space, and a hand where there is one, mean a space of the visit.
    pub fn is_space(&self, space: &str, hand: Option<Hand>) -> bool {
        self.chosen.iter().any(|own| {
            let same_hand = own.space.hand.is_none() || hand.is_none() || own.space.hand == hand;
            self.job.space_spec(own.space.of).id.value == space && same_hand
        })
    }

    /// The item of the visit that a traveler, hand and step name.
    pub fn item(&self, traveler: &str, hand: Option<Hand>, step: &str) -> Option<Item> {
        let named = |item: &&Item| {
            let own = &self.job.travelers[item.at.traveler].id.value;
            own == traveler && (hand.is_none() || item.hand == hand) && self.job.step(item.at).id.value == step
        };
        self.items.iter().find(named).copied()
    }
}

/// The spaces that were asked for; without a choice those that the next closing shuts, and those that wait for nothing else.
fn wanted(lives: &[Space], chances: &[(Space, Item, LastChance)], choice: &VisitChoice) -> Vec<Space> {
    let of_hand = |space: &Space| choice.hand.is_none() || space.hand.is_none() || space.hand == choice.hand;
    if !choice.spaces.is_empty() {
        let asked = |space: &&Space| choice.spaces.contains(&space.of) && of_hand(space);
        return lives.iter().filter(asked).copied().collect();
    }
    let open: Vec<_> = chances.iter().filter(|(space, _, chance)| !chance.closed && of_hand(space)).collect();
    let Some((_, first, _)) = open.first() else { return Vec::new() };
    let mut next: Vec<Space> = Vec::new();
    for (space, by, chance) in open {
        if (by == first || chance.before == 0) && !next.contains(space) {
            next.push(*space);
        }
    }
    next
}
