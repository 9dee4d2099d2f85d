//! Which spaces and stages a visit is about, and which steps and joints concern them.
//!
//! It follows the order and the state of the work; what is printed about them is decided elsewhere.

use std::collections::BTreeSet;

use super::{Recorded, VisitChoice};
use crate::archive::{Capacity, Signature, State as Archived, StepRequirement};
use crate::job::{Hand, Item, Job, Joint, JointRef, NamedJoint, Order, Space, State, StepRef, same_side};
use crate::phrase::say;
use crate::plan::AllSheets;
use crate::plan::named::{said_item, said_packet, said_space};
use crate::work::{LastChance, Stages, chances_by_space, stage_items};

/// Spaces that one packet tells about: with more, six pages would say too little about each.
const MOST_SPACES: usize = 6;

/// One joint of one hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct PlacedJoint {
    pub joint: JointRef,
    pub hand: Option<Hand>,
}

/// One space of the visit, or a stage that is about no space.
#[derive(Debug, Clone)]
pub(super) struct Chosen {
    /// Absent for a stage that is about no space.
    pub space: Option<Space>,
    /// Items that need the space open, or the steps of the stage.
    pub users: BTreeSet<Item>,
    /// The closing that comes next, or the last one where all are done.
    pub closing: Option<(Item, LastChance)>,
    /// Stages, each at a step at which it is signed.
    pub stages: Vec<(usize, Item)>,
}

impl Chosen {
    /// Its name on paper.
    pub fn name(&self, job: &Job) -> String {
        match (self.space, self.stages.first()) {
            (Some(space), _) => said_space(job, space),
            (None, Some((stage, at))) => {
                say!("Stage {title} at {at}", title = job.project.stages[*stage].title(), at = said_item(job, *at))
            }
            (None, None) => String::new(),
        }
    }

    /// Id of the space or of the stage.
    pub fn id<'a>(&self, job: &'a Job) -> &'a str {
        match (self.space, self.stages.first()) {
            (Some(space), _) => &job.space_spec(space.of).id.value,
            (None, Some((stage, _))) => &job.project.stages[*stage].id.value,
            (None, None) => "",
        }
    }
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
    /// Names of what was asked for and has no place in the packet.
    pub left_out: Vec<String>,
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
        let wanted = wanted(job, &lives.keys().copied().collect::<Vec<_>>(), &chances, choice);
        let closing_of = |space: Space| {
            let own = || chances.iter().filter(move |(own, ..)| *own == space);
            own()
                .find(|(_, _, chance)| !chance.closed)
                .or_else(|| own().next())
                .map(|(_, by, chance)| (*by, chance.clone()))
        };
        let stages = Stages::of(job, order);
        let mut chosen: Vec<Chosen> = wanted
            .iter()
            .map(|space| {
                let closing = closing_of(*space);
                let stages = stages_of(job, *space, closing.as_ref().map(|(by, _)| *by));
                let users = lives[space].users.iter().map(|user| user.item).collect();
                Chosen { space: Some(*space), users, closing, stages }
            })
            .collect();
        chosen.extend(without_space(job, choice).into_iter().map(|(stage, at)| Chosen {
            space: None,
            users: stages.steps(stage, at),
            closing: None,
            stages: vec![(stage, at)],
        }));
        let left_out = chosen.split_off(chosen.len().min(MOST_SPACES)).iter().map(|own| own.name(job)).collect();
        let archived = recorded.map(|recorded| recorded.state);
        let sheets = recorded.map(|recorded| recorded.sheets);
        let mut scene = Self { job, order, state, archived, sheets, chosen, left_out, items: BTreeSet::new() };
        scene.items = scene.concerned();
        scene
    }

    /// The joints that steps work on in a space.
    pub fn joints_in(&self, chosen: &Chosen) -> BTreeSet<PlacedJoint> {
        let of_item = |item: &Item| {
            let placed = |named: &NamedJoint| {
                let hands = self.job.hands_worked(*named, *item).into_iter();
                let joint = named.joint;
                hands.map(move |hand| PlacedJoint { joint, hand })
            };
            self.job.step(item.at).joints.iter().flat_map(placed).collect::<Vec<_>>()
        };
        chosen.users.iter().flat_map(of_item).collect()
    }

    pub fn joint(&self, placed: PlacedJoint) -> &'a Joint {
        self.job.joint(placed.joint)
    }

    /// The items that work on a joint.
    pub fn life(&self, placed: PlacedJoint) -> impl Iterator<Item = Item> {
        let life = self.joint(placed).life.iter().filter(move |lived| lived.is_on(placed.hand));
        life.flat_map(move |lived| self.job.items_facing(placed.hand, lived.at))
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
        said_packet(&self.job.travelers[traveler].id.value, hand.map(Hand::word))
    }

    /// Whether an id of a space, and a hand where there is one, mean a space of the visit.
    pub fn is_space(&self, space: &str, hand: Option<Hand>) -> bool {
        self.chosen
            .iter()
            .filter_map(|own| own.space)
            .any(|own| self.job.space_spec(own.of).id.value == space && same_side(own.hand, hand))
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
fn wanted(job: &Job, lives: &[Space], chances: &[(Space, Item, LastChance)], choice: &VisitChoice) -> Vec<Space> {
    let of_hand = |space: &Space| same_side(choice.hand, space.hand);
    if !choice.spaces.is_empty() || !choice.stages.is_empty() {
        let of_stage = |space: usize| job.stages_of_space(space).iter().any(|stage| choice.stages.contains(stage));
        let asked = |space: &&Space| (choice.spaces.contains(&space.of) || of_stage(space.of)) && of_hand(space);
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

/// The stages of a space, at each step at which they are signed that is not another hand's.
fn stages_of(job: &Job, space: Space, closing: Option<Item>) -> Vec<(usize, Item)> {
    let hand = |at: &Item| same_side(space.hand, at.hand);
    let of_space = job.stages_of_space(space.of).into_iter();
    let of_closing = closing.into_iter().flat_map(|by| job.stages_at(by.at));
    let mut stages: Vec<usize> = of_space.chain(of_closing).collect();
    stages.dedup();
    stages
        .into_iter()
        .flat_map(|stage| stage_items(job, stage).into_iter().filter(hand).map(move |at| (stage, at)))
        .collect()
}

/// Chosen stages that are about no space, at each step at which they are signed.
fn without_space(job: &Job, choice: &VisitChoice) -> Vec<(usize, Item)> {
    let has_space =
        |stage: usize| (0..job.project.spaces.len()).any(|space| job.stages_of_space(space).contains(&stage));
    let hand = |at: &Item| same_side(choice.hand, at.hand);
    let stages = choice.stages.iter().copied().filter(|stage| !has_space(*stage));
    stages.flat_map(|stage| stage_items(job, stage).into_iter().filter(hand).map(move |at| (stage, at))).collect()
}
