//! The ledger of what is not final: fit-up hardware, holes left open, fasteners put off, nuts not torqued.
//!
//! Every entry says from which step to which step it holds and whether it does now. It also gathers what must be
//! looked at before a space closes. It decides nothing: whether a closing is right is for the rules.

use serde::Serialize;

use crate::job::{
    Closing, Hand, Item, Job, Order, Parked, ParkedKind, Space, Standing, State, StepKind, StepRef, operation,
};
use crate::units::spent;

/// How an entry stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Held {
    /// It holds now.
    Open,
    /// It will hold.
    Planned,
    /// It has ended.
    Ended,
}

/// One entry.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LedgerLine {
    /// What it is, in words.
    pub kind: &'static str,
    /// How it stands.
    pub held: Held,
    /// Traveler id.
    pub traveler: String,
    /// The joint's id and name.
    pub joint: String,
    /// The hand.
    pub hand: Option<&'static str>,
    /// How many.
    pub count: u32,
    /// What is in the holes, or shall be.
    pub call: String,
    /// The step that begins it.
    pub since: String,
    /// The step that ends it; absent where none does.
    pub until: Option<String>,
    /// The builder's reason, as written.
    pub why: Option<String>,
    /// The spaces it lies in.
    pub spaces: Vec<String>,
}

/// Open counts, for the head of a packet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct OpenCounts {
    /// Pieces of fit-up hardware.
    pub temporary: u32,
    /// Holes left open.
    pub left_open: u32,
    /// Fasteners put off.
    pub put_off: u32,
    /// Nuts not torqued.
    pub not_torqued: u32,
}

/// One thing to look at before a space closes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LookLine {
    /// The item.
    #[serde(skip)]
    pub item: Item,
    /// `TRAVELER/step` and the hand.
    pub step: String,
    /// Traveler id.
    pub traveler: String,
    /// The hand.
    pub hand: Option<&'static str>,
    /// The number on paper.
    pub number: String,
    /// What it is.
    pub title: String,
    /// Whether it is a photo, or has one.
    pub photo: bool,
    /// Whether it is signed off.
    pub done: bool,
}

/// A discrepancy that is not settled. Where it is read as data it is one text, `D-001: hole long`.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OpenDiscrepancy {
    /// Its number.
    pub number: String,
    /// What is wrong.
    pub what: String,
}

impl std::fmt::Display for OpenDiscrepancy {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}: {}", self.number, self.what)
    }
}

impl Serialize for OpenDiscrepancy {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

/// The last look before a space closes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct LastChance {
    /// The space.
    pub space: String,
    /// Its name without the hand.
    pub name: String,
    /// The hand, where each has a space of its own.
    pub hand: Option<&'static str>,
    /// The step that closes it.
    pub closes: String,
    /// The closing step's title.
    pub title: String,
    /// Words of the roles that must look before the closing step.
    pub holds: Vec<String>,
    /// Stages that must be signed before, each with who signs it.
    pub stages: Vec<String>,
    /// Steps in the space that must be done before.
    pub steps: Vec<LookLine>,
    /// What is parked in the space and must have ended.
    pub parked: Vec<LedgerLine>,
    /// Open discrepancies in the space.
    pub discrepancies: Vec<OpenDiscrepancy>,
    /// Steps of the whole build that are not done and come before the closing.
    pub before: usize,
    /// Their minutes, as far as they are given.
    pub minutes: u32,
    /// The same in hours and minutes; nothing where no step gives any.
    pub time: Option<String>,
    /// Whether something is done in it, or in the packet that closes it.
    pub begun: bool,
    /// Whether a step opens the space again later.
    pub reopened: bool,
    /// Whether the closing is signed off.
    pub closed: bool,
}

/// Every entry, in the order of the travelers.
#[must_use]
pub fn ledger(job: &Job, state: &State) -> Vec<LedgerLine> {
    job.parked().iter().map(|parked| line(job, state, parked)).collect()
}

/// What is open now in one traveler and hand.
#[must_use]
pub fn open_counts(job: &Job, state: &State, traveler: usize, hand: Option<Hand>) -> OpenCounts {
    let mut counts = OpenCounts::default();
    for parked in job.parked().iter().filter(|parked| parked.traveler == traveler && parked.hand == hand) {
        if held(state, parked) == Held::Open {
            let count = match parked.kind {
                ParkedKind::Temporary => &mut counts.temporary,
                ParkedKind::LeaveOpen => &mut counts.left_open,
                ParkedKind::Deferred => &mut counts.put_off,
                ParkedKind::NotTorqued => &mut counts.not_torqued,
            };
            *count = count.saturating_add(parked.count);
        }
    }
    counts
}

fn held(state: &State, parked: &Parked) -> Held {
    match (
        state.is_done(parked.since),
        !parked.until.is_empty() && parked.until.iter().all(|item| state.is_done(*item)),
    ) {
        (_, true) => Held::Ended,
        (true, false) => Held::Open,
        (false, false) => Held::Planned,
    }
}

fn line(job: &Job, state: &State, parked: &Parked) -> LedgerLine {
    let joint = job.parked_joint(parked);
    let temporary = joint.temporary.as_ref().filter(|_| parked.kind == ParkedKind::Temporary);
    LedgerLine {
        kind: parked.kind.words(),
        held: held(state, parked),
        traveler: job.travelers[parked.traveler].id.value.clone(),
        joint: joint.title(),
        hand: parked.hand.map(Hand::word),
        count: parked.count,
        call: temporary.map_or_else(|| joint.call.clone(), |temporary| temporary.leaves().call.clone()),
        since: job.step_name(parked.since.at),
        until: parked.until.first().map(|item| job.step_name(item.at)),
        why: parked.why.clone(),
        spaces: parked.spaces.iter().map(|space| job.space_name(*space)).collect(),
    }
}

/// The last look before every closing of the build, those with the least left to do first.
#[must_use]
pub fn last_chances(job: &Job, order: &Order, state: &State) -> Vec<LastChance> {
    chances(job, order, state, |_| true).into_iter().map(|(_, _, chance)| chance).collect()
}

/// The same with the space and the item that closes it.
#[must_use]
pub fn chances_by_space(job: &Job, order: &Order, state: &State) -> Vec<(Space, Item, LastChance)> {
    chances(job, order, state, |_| true)
}

fn chances(
    job: &Job,
    order: &Order,
    state: &State,
    wanted: impl Fn(&Closing) -> bool,
) -> Vec<(Space, Item, LastChance)> {
    let parked = job.parked();
    let lives = job.space_lives();
    let closings = job.closings(order);
    let mut all: Vec<(Space, Item, LastChance)> = closings
        .iter()
        .filter(|closing| wanted(closing))
        .map(|closing| {
            let (space, by) = (closing.space, closing.by.item);
            let reopened = lives[&space].openers.iter().any(|opener| order.precedes(by, opener.item));
            (space, by, last_chance(job, order, state, closing, &parked, reopened))
        })
        .collect();
    all.sort_by(|(_, _, a), (_, _, b)| (a.closed, a.before, &a.space).cmp(&(b.closed, b.before, &b.space)));
    all
}

/// The last looks of the spaces that one step closes.
#[must_use]
pub fn last_chances_of(job: &Job, order: &Order, state: &State, item: Item) -> Vec<LastChance> {
    chances(job, order, state, |closing| closing.by.item == item).into_iter().map(|(_, _, chance)| chance).collect()
}

fn last_chance(
    job: &Job,
    order: &Order,
    state: &State,
    closing: &Closing,
    parked: &[Parked],
    reopened: bool,
) -> LastChance {
    let by = closing.by.item;
    let before = order.all_before(by);
    let undone: Vec<Item> = before.items().filter(|item| !state.is_done(*item)).collect();
    let minutes = undone.iter().filter_map(|item| job.step(item.at).minutes).map(|minutes| minutes.value).sum();
    let step = job.step(by.at);
    let users = closing.users.iter().filter(|(user, standing)| user.item != by && *standing == Standing::Before);
    let here = parked.iter().filter(|parked| parked.spaces.contains(&closing.space) && ends_by(parked, by, &before));
    LastChance {
        space: job.space_name(closing.space),
        name: job.space_spec(closing.space.of).name.value.clone(),
        hand: closing.space.hand.map(Hand::word),
        closes: job.item_name(by),
        title: step.title.value.clone(),
        holds: job.holds(step).into_iter().map(|role| job.role_word(role).to_owned()).collect(),
        stages: stages_before(job, by, closing.space),
        steps: users.map(|(user, _)| look_line(job, state, user.item)).collect(),
        parked: here.map(|parked| line(job, state, parked)).collect(),
        discrepancies: discrepancies(job, state, closing.space),
        before: undone.len(),
        minutes,
        time: (minutes > 0).then(|| spent(minutes)),
        begun: begun(job, state, closing),
        reopened,
        closed: state.is_done(by),
    }
}

fn begun(job: &Job, state: &State, closing: &Closing) -> bool {
    let by = closing.by.item;
    let steps = 0..job.travelers[by.at.traveler].steps.len();
    let mut packet = steps.map(|step| Item { at: StepRef { step, ..by.at }, hand: by.hand });
    packet.any(|item| state.is_done(item)) || closing.users.iter().any(|(user, _)| state.is_done(user.item))
}

/// The stages that must be signed before a space closes, in words.
fn stages_before(job: &Job, by: Item, space: Space) -> Vec<String> {
    let mut stages = job.stages_of_space(space.of);
    for stage in job.stages_at(by.at) {
        if !stages.contains(&stage) {
            stages.push(stage);
        }
    }
    let words = |stage: usize| {
        let own = &job.project.stages[stage];
        format!("{} (stage {})", job.who_signs(own), own.title())
    };
    stages.into_iter().map(words).collect()
}

/// Whether a parked entry has to end before, or with, a closing.
fn ends_by(parked: &Parked, by: Item, before: &crate::job::Before<'_>) -> bool {
    !parked.until.is_empty() && parked.until.iter().all(|item| *item == by || before.contains(*item))
}

fn look_line(job: &Job, state: &State, item: Item) -> LookLine {
    let step = job.step(item.at);
    LookLine {
        item,
        step: job.item_name(item),
        traveler: job.travelers[item.at.traveler].id.value.clone(),
        hand: item.hand.map(Hand::word),
        number: operation(step.number),
        title: step.title.value.clone(),
        photo: step.photo.is_some() || step.kind.value == StepKind::Photograph,
        done: state.is_done(item),
    }
}

fn discrepancies(job: &Job, state: &State, space: Space) -> Vec<OpenDiscrepancy> {
    let inside =
        |item: &Item| job.step(item.at).spaces.iter().any(|used| job.spaces(used.value, item.hand).contains(&space));
    let open = state.open_discrepancies().filter(|discrepancy| discrepancy.items.iter().any(inside));
    open.map(|own| OpenDiscrepancy { number: own.id.clone(), what: own.what.clone() }).collect()
}
