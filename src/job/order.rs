//! The order of the whole build: every step of every traveler and hand, and what comes before what.
//!
//! Links come from the order within a traveler, `after`, `needs`, holes left open until a later step, and joints on which
//! several travelers work. A step whose `needs` name steps of its own traveler waits for those alone, and not for all that
//! stand before it. It says what comes before what, and which links form a circle; what follows from that is for the rules
//! and the board.

mod circle;
mod reach;

pub use reach::{After, Before};

use super::{Hand, Job, LivesAt, StepRef, same_side};
use crate::text::Span;
use crate::words::{ItemName, PacketName};

/// One step of one hand: the unit in which work is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Item {
    /// The step.
    pub at: StepRef,
    /// The hand; absent for a one-off.
    pub hand: Option<Hand>,
}

/// Why one item comes before another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// The next step of the same traveler.
    Next,
    /// The traveler's `after`, at its place.
    After(Span),
    /// The step's `needs`, at its place.
    Needs(Span),
    /// It fills holes that were left open, at the place of `until`.
    Fills(Span),
    /// It works on a joint after a step of another traveler, at the place that names the joint.
    Works(Span),
}

impl Why {
    /// Where the link was written; the order of the steps in a file has no place of its own.
    #[must_use]
    pub const fn span(self) -> Option<Span> {
        match self {
            Self::Next => None,
            Self::After(span) | Self::Needs(span) | Self::Fills(span) | Self::Works(span) => Some(span),
        }
    }
}

/// One link of the order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Link {
    /// Comes first.
    pub from: Item,
    /// Comes later.
    pub to: Item,
    /// What in the specs makes the one wait for the other, with its place.
    pub why: Why,
}

/// Steps of one traveler in one hand, each of which comes after the one before it.
#[derive(Debug, Clone)]
struct Chain {
    traveler: usize,
    hand: Option<Hand>,
    steps: Vec<usize>,
}

/// How the steps of a traveler fall into chains: one of all that wait for whatever stands before them, and one for each step
/// that says itself for which steps of its traveler it waits.
#[derive(Debug, Clone)]
struct Strands {
    /// Index of the first chain of its first hand; the chains of a hand stand together.
    first: usize,
    hands: Vec<Option<Hand>>,
    /// The steps of each strand; the common one first, which may be empty.
    steps: Vec<Vec<usize>>,
    /// Of each step the strand and the place in it.
    places: Vec<(usize, usize)>,
}

impl Strands {
    fn of(job: &Job, traveler: usize, first: usize) -> Self {
        let own = &job.travelers[traveler].steps;
        let mut steps = vec![Vec::new()];
        let mut places = Vec::with_capacity(own.len());
        for (index, step) in own.iter().enumerate() {
            let is_free = step.needs.iter().any(|need| need.value.traveler == traveler);
            let strand = if is_free { steps.len() } else { 0 };
            if is_free {
                steps.push(Vec::new());
            }
            places.push((strand, steps[strand].len()));
            steps[strand].push(index);
        }
        Self { first, hands: job.hands_of(traveler), steps, places }
    }

    fn is_free(&self, step: usize) -> bool {
        self.places[step].0 > 0
    }

    /// The steps before which nothing is begun.
    fn starts(&self) -> Vec<usize> {
        let free = (0..self.places.len()).filter(|step| self.is_free(*step));
        self.steps[0].first().copied().into_iter().chain(free).collect()
    }

    /// The steps after which all is done.
    fn ends(&self) -> Vec<usize> {
        let last = self.steps[0].last().copied();
        let free = (0..self.places.len()).filter(|step| self.is_free(*step) && last.is_none_or(|last| *step > last));
        last.into_iter().chain(free).collect()
    }
}

/// The whole order. Only links between chains are stored: the order within a chain follows from the place.
#[derive(Debug, Clone)]
pub struct Order {
    chains: Vec<Chain>,
    /// Of each traveler.
    strands: Vec<Strands>,
    /// Links between chains, by the chain they come from, sorted by the step they come from.
    out: Vec<Vec<Link>>,
    /// The same links by the chain they lead to, sorted by the step they lead to.
    into: Vec<Vec<Link>>,
}

impl Order {
    /// The order of a job.
    #[must_use]
    pub fn of(job: &Job) -> Self {
        let (mut chains, mut all) = (Vec::new(), Vec::new());
        for traveler in 0..job.travelers.len() {
            let strands = Strands::of(job, traveler, chains.len());
            for hand in &strands.hands {
                let own = strands.steps.iter().map(|steps| Chain { traveler, hand: *hand, steps: steps.clone() });
                chains.extend(own);
            }
            all.push(strands);
        }
        let (out, into) = (vec![Vec::new(); chains.len()], vec![Vec::new(); chains.len()]);
        let mut order = Self { chains, strands: all, out, into };
        for traveler in 0..job.travelers.len() {
            order.link_traveler(job, traveler);
        }
        // A step has one place in one chain: its index sorts as its place does.
        for links in &mut order.out {
            links.sort_by_key(|link| (link.from.at.step, link.to));
        }
        for links in &mut order.into {
            links.sort_by_key(|link| (link.to.at.step, link.from));
        }
        order
    }

    fn link_traveler(&mut self, job: &Job, traveler: usize) {
        let own = &job.travelers[traveler];
        let starts = self.strands[traveler].starts();
        for after in &own.after {
            // A traveler without steps is finished from the start, and nothing waits in a traveler without steps.
            for last in self.strands[after.value].ends() {
                let from = StepRef { traveler: after.value, step: last };
                for step in &starts {
                    self.link(job, from, StepRef { traveler, step: *step }, Why::After(after.span));
                }
            }
        }
        for (index, step) in own.steps.iter().enumerate() {
            let to = StepRef { traveler, step: index };
            for need in &step.needs {
                self.link(job, need.value, to, Why::Needs(need.span));
            }
            for own in &step.follows {
                self.link_hand(job, own.at, to, (own.hand, Why::Works(own.span)));
            }
            self.link_to_common(job, to);
        }
        for joint in &own.joints {
            let is_other = |lived: &&LivesAt| !joint.is_filled_by(lived.at);
            if let Some(open) = &joint.leave_open
                && let (Some(until), Some(fastening)) = (joint.filled_by, joint.fastenings().find(is_other))
            {
                self.link(job, fastening.at, until, Why::Fills(open.until.span));
            }
        }
    }

    /// The next step that does not say for which steps it waits, waits for a step that does as well.
    fn link_to_common(&mut self, job: &Job, from: StepRef) {
        let strands = &self.strands[from.traveler];
        let next = strands.steps[0].iter().find(|step| **step > from.step);
        if let Some(step) = next.filter(|_| strands.is_free(from.step)).copied() {
            self.link(job, from, StepRef { step, ..from }, Why::Next);
        }
    }

    /// Links two steps hand by hand: the same hand where both have hands, every hand where only one has.
    fn link(&mut self, job: &Job, from: StepRef, to: StepRef, why: Why) {
        self.link_hand(job, from, to, (None, why));
    }

    /// The same for one hand alone, where one is given.
    fn link_hand(&mut self, job: &Job, from: StepRef, to: StepRef, (hand, why): (Option<Hand>, Why)) {
        for before in job.hands_of(from.traveler).into_iter().filter(|own| same_side(*own, hand)) {
            for after in job.items_facing(before, to).filter(|item| same_side(item.hand, hand)) {
                let link = Link { from: Item { at: from, hand: before }, to: after, why };
                let (start, end) = (self.chain_of(link.from), self.chain_of(link.to));
                self.out[start].push(link);
                self.into[end].push(link);
            }
        }
    }

    fn chain_of(&self, item: Item) -> usize {
        let own = &self.strands[item.at.traveler];
        let hand = own.hands.iter().take_while(|hand| **hand != item.hand).count();
        own.first + hand * own.steps.len() + own.places[item.at.step].0
    }

    /// The place of an item in its chain.
    fn place_of(&self, item: Item) -> usize {
        self.strands[item.at.traveler].places[item.at.step].1
    }

    /// Every item, traveler by traveler, hand by hand, in working order.
    pub fn items(&self) -> impl Iterator<Item = Item> {
        self.strands.iter().enumerate().flat_map(|(traveler, own)| {
            let steps = own.places.len();
            own.hands
                .iter()
                .flat_map(move |hand| (0..steps).map(move |step| Item { at: StepRef { traveler, step }, hand: *hand }))
        })
    }

    /// Number of items.
    #[must_use]
    pub fn len(&self) -> usize {
        self.chains.iter().map(|chain| chain.steps.len()).sum()
    }

    /// Whether there is nothing to do.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The item at a place of an item's chain.
    fn beside(&self, item: Item, place: Option<usize>) -> Option<Item> {
        let step = *self.chains[self.chain_of(item)].steps.get(place?)?;
        Some(Item { at: StepRef { step, ..item.at }, ..item })
    }

    /// The links that lead straight to an item.
    pub fn links_to(&self, item: Item) -> impl Iterator<Item = Link> {
        let links = &self.into[self.chain_of(item)];
        let start = links.partition_point(|link| link.to.at.step < item.at.step);
        let cross = links[start..].iter().take_while(move |link| link.to == item).copied();
        let previous = self.beside(item, self.place_of(item).checked_sub(1));
        previous.map(|from| Link { from, to: item, why: Why::Next }).into_iter().chain(cross)
    }

    /// The links that lead straight away from an item.
    pub fn links_from(&self, item: Item) -> impl Iterator<Item = Link> {
        let links = &self.out[self.chain_of(item)];
        let start = links.partition_point(|link| link.from.at.step < item.at.step);
        let cross = links[start..].iter().take_while(move |link| link.from == item).copied();
        let next = self.beside(item, Some(self.place_of(item) + 1));
        next.map(|to| Link { from: item, to, why: Why::Next }).into_iter().chain(cross)
    }

    /// Whether one item comes before another, directly or through others.
    #[must_use]
    pub fn precedes(&self, first: Item, later: Item) -> bool {
        first != later && self.all_after(first).contains(later)
    }
}

impl Job {
    /// The items of a step that belong with a hand: the same hand where both have hands, every hand where only one has.
    pub fn items_facing(&self, hand: Option<Hand>, at: StepRef) -> impl Iterator<Item = Item> {
        let hands = self.hands_of(at.traveler).into_iter();
        hands.filter(move |other| same_side(*other, hand)).map(move |hand| Item { at, hand })
    }

    /// The name of an item.
    #[must_use]
    pub fn name_of(&self, item: Item) -> ItemName {
        let traveler = &self.travelers[item.at.traveler];
        ItemName::new(traveler.id.value.as_str(), item.hand, traveler.steps[item.at.step].id.value.as_str())
    }

    /// The name of a traveler's packet for a hand.
    #[must_use]
    pub fn packet_name(&self, traveler: usize, hand: Option<Hand>) -> PacketName {
        PacketName::new(self.travelers[traveler].id.value.as_str(), hand)
    }

    /// `TRAVELER/step` and the hand, as the builder says it.
    #[must_use]
    pub fn item_name(&self, item: Item) -> String {
        self.name_of(item).to_string()
    }
}
