//! The choice for an evening: what most later steps wait for, as far as it fits into the minutes at hand.
//!
//! One step after another is taken, each the first in rank among those that can be started then. It is a proposal.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use serde::Serialize;

use super::row::{Row, Rows, stocked};
use super::{Source, URGENT, person};
use crate::calendar::{Moment, When};
use crate::job::{Done, Item, State};
use crate::phrase::{say, say_count};
use crate::plan::named::said_item;
use crate::units::{Minutes, spent};
use crate::work::{Condition, GUESSED_MINUTES, Readiness};

/// The proposal for the minutes at hand.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Tonight {
    /// Minutes at hand.
    pub minutes: u32,
    /// Minutes that the rows take.
    pub planned: u32,
    /// The steps, in the order of work.
    pub rows: Vec<Row>,
    /// Why these, in one line.
    pub why: String,
}

/// More rows than this are no plan for an evening.
const MOST_ROWS: usize = 12;

/// First what must be done before a window ends, then the jobs that the builder wants first and not those put off, then
/// what most wait for; of equals what starts a cure, then what is short.
type Rank = (Option<Moment>, usize, bool, Reverse<usize>, bool, u32, Item);

/// The end of a window that goes before everything else.
fn window(source: &Source<'_>, readiness: &Readiness<'_>, item: Item) -> Option<Moment> {
    readiness.latest(item).filter(|(latest, _)| *latest - source.options.now <= URGENT).map(|(latest, _)| latest)
}

fn rank(source: &Source<'_>, readiness: &Readiness<'_>, item: Item) -> (bool, Rank) {
    let step = source.job.step(item.at);
    let queue = &source.job.project.queue;
    let traveler = item.at.traveler;
    let urgent = window(source, readiness, item);
    let blocks = source.order.all_after(item).count();
    // Behind all that are wanted first.
    let place = queue.place(traveler).unwrap_or(usize::MAX);
    let later = queue.is_later(traveler);
    let rank = (urgent, place, later, Reverse(blocks), step.cure.is_none(), minutes(source, item), item);
    // `None` sorts first in an option; a window that ends goes before everything without one.
    (urgent.is_none(), rank)
}

/// Items in the order in which they are proposed.
pub(super) fn ranked(source: &Source<'_>, readiness: &Readiness<'_>, mut items: Vec<Item>) -> Vec<Item> {
    items.sort_by_cached_key(|item| rank(source, readiness, *item));
    items
}

/// What to do in the minutes at hand: what is begun first, then by rank, with what becomes ready on the way.
pub(super) fn tonight(source: &Source<'_>, rows: &Rows<'_>, in_work: &[Item], ready: &[Item]) -> Tonight {
    let (mut state, mut now) = (source.state.clone(), source.options.now);
    let put_off = put_off(source);
    let mut candidates: Vec<Item> = ready.iter().copied().filter(|item| !put_off(*item)).collect();
    let mut chosen: Vec<Item> = Vec::new();
    let mut left = source.options.minutes;
    let begun = ranked(source, &Readiness::of(source.job, source.order, source.clocks, &state, now), in_work.to_vec());
    let mut begun = begun.into_iter();
    while chosen.len() < MOST_ROWS {
        let fits = |item: &Item| minutes(source, *item) <= left;
        let next = begun.by_ref().find(fits);
        let Some(item) = next.or_else(|| candidates.iter().copied().find(fits)) else { break };
        left -= minutes(source, item);
        now = now + Minutes(i64::from(minutes(source, item)));
        chosen.push(item);
        candidates.retain(|other| *other != item);
        finish(&mut state, item, now);
        candidates = with_new(source, &state, now, item, candidates, &chosen);
    }
    let planned = source.options.minutes - left;
    Tonight {
        minutes: source.options.minutes,
        planned,
        why: why(source, in_work, &chosen, planned),
        rows: chosen.iter().map(|item| rows.row(*item)).collect(),
    }
}

/// Whether an item's job is put off; a window that ends is not.
fn put_off<'a>(source: &'a Source<'_>) -> impl Fn(Item) -> bool + 'a {
    let readiness = Readiness::of(source.job, source.order, source.clocks, source.state, source.options.now);
    move |item| source.job.project.queue.is_later(item.at.traveler) && window(source, &readiness, item).is_none()
}

fn minutes(source: &Source<'_>, item: Item) -> u32 {
    source.job.step(item.at).minutes.map_or(GUESSED_MINUTES, |minutes| minutes.value)
}

fn finish(state: &mut State, item: Item, now: Moment) {
    state.started.remove(&item);
    state.done.insert(item, Done { on: When::at(now), by: String::new(), minutes: None, values: BTreeMap::new() });
}

/// What can be started after one more step, by rank.
fn with_new(
    source: &Source<'_>,
    state: &State,
    now: Moment,
    done: Item,
    candidates: Vec<Item>,
    chosen: &[Item],
) -> Vec<Item> {
    let readiness = Readiness::of(source.job, source.order, source.clocks, state, now);
    let freed = source
        .order
        .links_from(done)
        .map(|link| link.to)
        .filter(|item| person(source, *item).is_none() && !source.job.project.queue.is_later(item.at.traveler));
    let mut all: Vec<Item> =
        candidates.into_iter().chain(freed).filter(|item| readiness.condition(*item) == Condition::Ready).collect();
    all.sort_unstable();
    all.dedup();
    // The chosen ones take their pieces off the shelf before the others.
    let by_shelf: Vec<Item> = chosen.iter().copied().chain(ranked(source, &readiness, all)).collect();
    stocked(source, by_shelf).0.into_iter().filter(|item| !chosen.contains(item)).collect()
}

/// Why these, in plain words.
fn why(source: &Source<'_>, in_work: &[Item], chosen: &[Item], planned: u32) -> String {
    let Some(first) = chosen.first() else {
        return say!("Nothing that can be started fits into {minutes} min.", minutes = source.options.minutes);
    };
    let waiting = source.order.all_after(*first).count();
    let reason = if in_work.contains(first) {
        say!("it is begun").to_owned()
    } else if source.job.project.queue.place(first.at.traveler).is_some() {
        say!("you want it first").to_owned()
    } else {
        say_count!(waiting, "{n} later step waits for it", "{n} later steps wait for it")
    };
    let guessed = chosen.iter().filter(|item| source.job.step(item.at).minutes.is_none()).count();
    let guess = match guessed {
        0 => String::new(),
        n => say_count!(
            n,
            " One step gives no time; {minutes} min are put in for it.",
            " {n} steps give no time; {minutes} min are put in for each.",
            minutes = GUESSED_MINUTES
        ),
    };
    let name = said_item(source.job, *first);
    say!(
        "This takes about {planned}. {name} comes first because {reason}.{guess}",
        planned = spent(planned),
        name,
        reason,
        guess
    )
}
