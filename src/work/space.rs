//! Spaces: whether one is closed, what was signed to close it, and which signatures fall when it is opened again.
//!
//! There is one answer to whether a space is closed: it is, where a closing was done that no later opening undid. Days
//! say which was later; within one day the order of the specs does, and where that is silent the order of entry.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use crate::archive::{Capacity, EntryNumber, Signature, State};
use crate::calendar::{Day, When};
use crate::job::{Hand, Item, Job, Order, Space, SpaceLife, StepKind};

use super::state::when;

/// Whether a space can be reached.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Access {
    /// Name of the space on paper.
    pub space: String,
    /// Id of the space, which both hands share.
    pub id: String,
    /// The hand, where each hand has its own.
    pub hand: Option<&'static str>,
    /// The step that closed it; absent where it is open.
    pub closed_by: Option<String>,
    /// Day on which that step was done, as 2026-03-02.
    pub closed_on: Option<String>,
}

/// What falls when a space is opened again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Reopening {
    /// The space.
    pub access: Access,
    /// Steps for which it would be opened.
    pub wanted_by: Vec<String>,
    /// Signatures of closings and last looks: entry and step.
    pub falls: Vec<(u32, String)>,
}

/// When something was done: the time in which it lies, then the order of entry.
pub(super) type Worked = (When, u32);

/// The closing that keeps a space shut, of all that were done.
pub(super) fn closing(life: &SpaceLife, order: &Order, done: impl Fn(Item) -> Option<Worked>) -> Option<Item> {
    let worked = |visits: &[crate::job::Visit]| -> Vec<(Item, Worked)> {
        visits.iter().filter_map(|visit| Some((visit.item, done(visit.item)?))).collect()
    };
    let openings = worked(&life.openers);
    let undone = |closing: &(Item, Worked)| {
        openings.iter().any(|opening| opening.0 != closing.0 && is_later(order, opening, closing))
    };
    let holding = worked(&life.closers).into_iter().filter(|closing| !undone(closing));
    holding.max_by_key(|(_, (on, entry))| (on.latest, *entry)).map(|(item, _)| item)
}

/// Whether an opening came after a closing.
fn is_later(order: &Order, opening: &(Item, Worked), closing: &(Item, Worked)) -> bool {
    let (opened, closed) = (opening.1, closing.1);
    if opened.0.earliest > closed.0.latest || opened.0.latest < closed.0.earliest {
        return opened.0.earliest > closed.0.latest;
    }
    if order.precedes(closing.0, opening.0) != order.precedes(opening.0, closing.0) {
        return order.precedes(closing.0, opening.0);
    }
    (opened.0.latest, opened.1) > (closed.0.latest, closed.1)
}

/// The spaces of a build, with what happens to each.
#[derive(Debug)]
pub struct Spaces<'a> {
    job: &'a Job,
    order: Order,
    lives: BTreeMap<Space, SpaceLife>,
}

impl<'a> Spaces<'a> {
    /// Every space that some step names.
    #[must_use]
    pub fn of(job: &'a Job) -> Self {
        Self { job, order: Order::of(job), lives: job.space_lives() }
    }

    /// All of them.
    pub fn all(&self) -> impl Iterator<Item = Space> {
        self.lives.keys().copied()
    }

    fn signature<'s>(&self, state: &'s State, item: Item) -> Option<&'s Signature> {
        let mut counting = state.counting(&self.job.name_of(item));
        counting.find(|(signature, _)| signature.signed.capacity == Capacity::Done).map(|(signature, _)| signature)
    }

    /// The signed step that keeps a space shut on a day, or now.
    fn closing<'s>(&self, state: &'s State, space: Space, until: Option<Day>) -> Option<(&'s Signature, Item)> {
        let in_time = |signature: &&Signature| until.is_none_or(|day| signature.signed.worked <= day);
        let worked = |item| {
            let signature = self.signature(state, item).filter(in_time)?;
            Some((when(signature.signed.worked)?, signature.entry.0))
        };
        let item = closing(self.lives.get(&space)?, &self.order, worked)?;
        Some((self.signature(state, item)?, item))
    }

    /// Whether a space can be reached now.
    #[must_use]
    pub fn access(&self, state: &State, space: Space) -> Access {
        let closed = self.closing(state, space, None);
        Access {
            space: self.job.space_name(space),
            id: self.job.space_spec(space.of).id.value.clone(),
            hand: space.hand.map(Hand::word),
            closed_by: closed.map(|(_, item)| self.job.step_name(item.at)),
            closed_on: closed.map(|(signature, _)| signature.signed.worked.to_string()),
        }
    }

    /// Whether a space, by its id, was shut on a day, before the work of that day.
    pub(super) fn was_closed(&self, state: &State, space: &str, hand: Option<Hand>, on: Day) -> bool {
        let Some(index) = self.job.project.spaces.iter().position(|own| own.id.value == space) else { return false };
        self.job.spaces(index, hand).into_iter().any(|space| self.closing(state, space, on.before()).is_some())
    }

    /// The signatures that fall when a space is opened again: every closing of it, every last look into it, and every test
    /// of it.
    #[must_use]
    pub fn closing_signatures(&self, state: &State, space: Space) -> Vec<(EntryNumber, String)> {
        let Some(life) = self.lives.get(&space) else { return Vec::new() };
        let falls = |kind: StepKind| matches!(kind, StepKind::Inspect | StepKind::Test);
        let looks = life.users.iter().filter(|visit| {
            let at = visit.item.at;
            falls(self.job.step(at).kind.value) || !self.job.stages_at(at).is_empty()
        });
        let items: BTreeSet<Item> = life.closers.iter().chain(looks).map(|visit| visit.item).collect();
        let mut falls = Vec::new();
        for item in items {
            let name = self.job.name_of(item);
            falls.extend(state.counting(&name).map(|(signature, _)| (signature.entry, name.to_string())));
        }
        falls
    }
}
