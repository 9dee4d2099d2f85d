//! What can be done now: every item of the build against the state of the work and a moment.
//!
//! The moment is given by the caller. It knows order, cure, closed spaces and what the builder wrote down as
//! waiting; it does not know stock, and it does not choose among what is ready.

use std::collections::BTreeSet;

use super::space::closing;
use crate::calendar::{Moment, When};
use crate::job::{Acts, Clocks, Item, Job, Order, Space, SpaceLife, State, WaitFor, same_side};

/// Where an item stands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Condition {
    /// Signed off.
    Done,
    /// Begun, and nothing holds it.
    InWork,
    /// Everything before it is done, and nothing holds it.
    Ready,
    /// Everything before it is done or it is begun, but something holds it.
    Waiting(Vec<Wait>),
    /// Something before it is not done.
    Later,
}

/// What holds an item.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub enum Wait {
    /// Parts cure until then.
    Cure {
        /// The end of the cure.
        until: Moment,
        /// The item whose cure it is.
        after: Item,
    },
    /// A space is closed and nothing has opened it.
    Closed(Space),
    /// A state does not hold.
    State(String),
    /// A discrepancy is open: its number and what is wrong.
    Discrepancy(String, String),
    /// The builder wrote it down.
    Written {
        /// What kind of wait.
        wait: WaitFor,
        /// Who or what.
        what: String,
        /// Until when, where that is known.
        until: Option<When>,
    },
}

/// The build at one moment.
#[derive(Debug)]
pub struct Readiness<'a> {
    job: &'a Job,
    order: &'a Order,
    clocks: &'a Clocks,
    state: &'a State,
    now: Moment,
    shut: BTreeSet<Space>,
}

impl<'a> Readiness<'a> {
    /// The build at a moment.
    #[must_use]
    pub fn of(job: &'a Job, order: &'a Order, clocks: &'a Clocks, state: &'a State, now: Moment) -> Self {
        Self { job, order, clocks, state, now, shut: shut_spaces(job, order, state) }
    }

    /// Spaces that are closed.
    #[must_use]
    pub const fn shut(&self) -> &BTreeSet<Space> {
        &self.shut
    }

    /// Where an item stands.
    #[must_use]
    pub fn condition(&self, item: Item) -> Condition {
        if self.state.is_done(item) {
            return Condition::Done;
        }
        let begun = self.state.started.contains_key(&item);
        if !begun && self.order.links_to(item).any(|link| !self.state.is_done(link.from)) {
            return Condition::Later;
        }
        let waits = self.waits(item);
        match (waits.is_empty(), begun) {
            (false, _) => Condition::Waiting(waits),
            (true, true) => Condition::InWork,
            (true, false) => Condition::Ready,
        }
    }

    /// Everything that holds an item, apart from what comes before it.
    fn waits(&self, item: Item) -> Vec<Wait> {
        let mut waits: Vec<Wait> = self.cure(item).into_iter().collect();
        waits.extend(self.closed(item).into_iter().map(Wait::Closed));
        let states = Acts::During.of(self.job.step(item.at)).iter().map(|state| state.value.as_str());
        let missing = states.filter(|state| !self.job.stands(self.order, self.state, state, item));
        waits.extend(missing.map(|state| Wait::State(state.to_owned())));
        waits.extend(self.discrepancies(item));
        let over = |until: When| until.latest <= self.now;
        let written = self.state.waiting.iter().filter(|wait| wait.item == item && !wait.until.is_some_and(over));
        waits.extend(written.map(|own| Wait::Written { wait: own.wait, what: own.what.clone(), until: own.until }));
        let whole = self.job.project.queue.holding(item, self.now);
        waits.extend(whole.map(|own| Wait::Written { wait: own.wait, what: own.what.clone(), until: own.until }));
        waits
    }

    /// The last cure that holds an item.
    fn cure(&self, item: Item) -> Option<Wait> {
        let running = self.clocks.holding(self.job, item).into_iter().filter_map(|clock| {
            let until = self.state.done.get(&clock.item)?.on.latest + clock.cure;
            (until > self.now).then_some((until, clock.item))
        });
        running.max().map(|(until, after)| Wait::Cure { until, after })
    }

    /// Spaces that an item needs open and that are closed; an item that opens a space opens it first.
    fn closed(&self, item: Item) -> BTreeSet<Space> {
        let step = self.job.step(item.at);
        let spaces = |spaces: &[crate::job::Index]| -> BTreeSet<Space> {
            spaces.iter().flat_map(|space| self.job.spaces(space.value, item.hand)).collect()
        };
        let mut needed = spaces(&step.spaces);
        needed.extend(spaces(&step.closes));
        let opened = spaces(&step.opens);
        needed.into_iter().filter(|space| self.shut.contains(space) && !opened.contains(space)).collect()
    }

    /// The open discrepancies that hold an item: number and what is wrong.
    pub(super) fn stopped_by(&self, item: Item) -> Vec<(String, String)> {
        let stopping = |wait| match wait {
            Wait::Discrepancy(number, what) => Some((number, what)),
            _ => None,
        };
        self.discrepancies(item).into_iter().filter_map(stopping).collect()
    }

    /// Open discrepancies that hold an item: found at it, on a joint that it works on, or in a space that it closes.
    fn discrepancies(&self, item: Item) -> Vec<Wait> {
        let holds = |found: &Item| {
            let (own, at) = (self.job.step(item.at), self.job.step(found.at));
            let shares = same_side(found.hand, item.hand) && own.joints.iter().any(|named| at.names(named.joint));
            let closes = own.closes.iter().flat_map(|space| self.job.spaces(space.value, item.hand));
            let worked: BTreeSet<Space> =
                at.spaces.iter().flat_map(|space| self.job.spaces(space.value, found.hand)).collect();
            *found == item || shares || closes.into_iter().any(|space| worked.contains(&space))
        };
        let open = self.state.open_discrepancies().filter(|discrepancy| discrepancy.items.iter().any(holds));
        open.map(|discrepancy| Wait::Discrepancy(discrepancy.id.clone(), discrepancy.what.clone())).collect()
    }

    /// The end of the window for the next coat after each done item that has one and whose parts an item coats or touches.
    #[must_use]
    pub fn latest(&self, item: Item) -> Option<(Moment, Item)> {
        let windows = self.clocks.holding(self.job, item).into_iter().filter_map(|clock| {
            let done = self.state.done.get(&clock.item)?;
            Some((done.on.earliest + clock.latest?, clock.item))
        });
        windows.min()
    }
}

/// Spaces that are closed by what is done.
fn shut_spaces(job: &Job, order: &Order, state: &State) -> BTreeSet<Space> {
    let done = |item: Item| state.done.get(&item).map(|done| (done.on, 0));
    let shut = |life: &SpaceLife| closing(life, order, done).is_some();
    job.space_lives().into_iter().filter(|(_, life)| shut(life)).map(|(space, _)| space).collect()
}
