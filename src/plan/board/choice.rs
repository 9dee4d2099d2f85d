//! The choice for an evening: what most later steps wait for, as far as it fits into the minutes at hand.
//!
//! One step after another is taken, each the first in rank among those that can be started then. It is a proposal.

use std::cmp::Reverse;
use std::collections::BTreeMap;

use serde::Serialize;

use super::row::{Row, Rows, stocked};
use super::{Source, URGENT, visitor};
use crate::calendar::{Moment, When};
use crate::job::{Done, Item, State};
use crate::units::Minutes;
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

/// First what must be done before a window ends, then what most wait for; of equals what starts a cure, then what is short.
type Rank = (Option<Moment>, Reverse<usize>, bool, u32, Item);

fn rank(source: &Source<'_>, readiness: &Readiness<'_>, item: Item) -> (bool, Rank) {
    let step = source.job.step(item.at);
    let urgent =
        readiness.latest(item).filter(|(latest, _)| *latest - source.options.now <= URGENT).map(|(latest, _)| latest);
    let blocks = source.order.all_after(item).count();
    let rank = (urgent, Reverse(blocks), step.cure.is_none(), minutes(source, item), item);
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
    let (mut candidates, mut chosen): (Vec<Item>, Vec<Item>) = (ready.to_vec(), Vec::new());
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
        .filter(|item| visitor(source.job, source.state, *item).is_none());
    let mut all: Vec<Item> =
        candidates.into_iter().chain(freed).filter(|item| readiness.condition(*item) == Condition::Ready).collect();
    all.sort_unstable();
    all.dedup();
    // The chosen ones take their pieces off the shelf before the others.
    let by_shelf: Vec<Item> = chosen.iter().copied().chain(ranked(source, &readiness, all)).collect();
    stocked(source, by_shelf).0.into_iter().filter(|item| !chosen.contains(item)).collect()
}

fn why(source: &Source<'_>, in_work: &[Item], chosen: &[Item], planned: u32) -> String {
    let at_hand = source.options.minutes;
    let Some(first) = chosen.first() else {
        return format!("Nothing that can be started fits into {at_hand} min.");
    };
    let waiting = source.order.all_after(*first).count();
    let steps = if waiting == 1 { "1 later step waits".to_owned() } else { format!("{waiting} later steps wait") };
    let name = source.job.item_name(*first);
    let reason = if in_work.contains(first) { "it is begun".to_owned() } else { format!("{steps} for it") };
    let guessed = chosen.iter().filter(|item| source.job.step(item.at).minutes.is_none()).count();
    let guess = match guessed {
        0 => String::new(),
        1 => format!(" 1 step gives no minutes and counts as {GUESSED_MINUTES}."),
        n => format!(" {n} steps give no minutes and count as {GUESSED_MINUTES} each."),
    };
    format!(
        "{planned} of {at_hand} min: {name} first, because {reason}; then always the step that most others wait for, windows that end within a day before all.{guess}"
    )
}
