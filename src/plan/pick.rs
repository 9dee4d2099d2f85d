//! The pick list: hardware and parts for chosen work, with spares, what lies on the shelf and what to order.
//!
//! It counts what is not done yet. Spares are for rivets; a bolt is not driven twice.

mod cells;
mod lines;
mod page;

use std::collections::BTreeSet;

use serde::Serialize;

pub use lines::{ConsumableLine, HolderLine, PickLine, PickUse, PiecesLine};

use super::board::next_items;
use super::document::{Document, Frame, plain};
use crate::calendar::Moment;
use crate::job::{Hand, Item, Job, Order, OwnDocument, State, same_side};
use crate::phrase::{self, say, say_count};

/// What a pick list is for; empty means the whole build.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Choice {
    /// These travelers.
    pub travelers: Vec<usize>,
    /// Steps that work in, close or open these spaces.
    pub spaces: Vec<usize>,
    /// The first so many steps that nothing but the shelf or a visitor keeps back, in the order of the board.
    pub next: Option<usize>,
    /// Only this hand.
    pub hand: Option<Hand>,
}

/// A pick list.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PickList {
    /// Aircraft name.
    pub aircraft: String,
    /// Serial number.
    pub serial: Option<String>,
    /// The day.
    pub date: String,
    /// What it is for, in words.
    pub title: String,
    /// Number of steps, counted by hand.
    pub steps: usize,
    /// Hardware, call by call.
    pub hardware: Vec<PickLine>,
    /// Parts that the chosen steps are the first to touch.
    pub parts: Vec<PiecesLine>,
    /// Sheet holders: the most that one step has in at once, by size.
    pub holders: Vec<HolderLine>,
    /// Consumables, each once.
    pub consumables: Vec<ConsumableLine>,
    /// Rivets' spare, in per cent.
    pub spare: u32,
}

/// The pick list of a choice.
#[must_use]
pub fn pick_list(job: &Job, order: &Order, state: &State, choice: &Choice, now: Moment) -> PickList {
    let items = chosen(job, order, state, choice, now);
    let drawn = lines::lines(job, &items);
    PickList {
        aircraft: job.project.aircraft.value.clone(),
        serial: job.project.serial().map(|serial| serial.value.clone()),
        date: now.day().to_string(),
        title: title(job, choice),
        steps: items.len(),
        hardware: drawn.hardware,
        parts: drawn.parts,
        holders: lines::holders(job, &items),
        consumables: lines::consumables(job, &items),
        spare: job.project.settings.spare.value,
    }
}

/// The items of a choice that are not done.
fn chosen(job: &Job, order: &Order, state: &State, choice: &Choice, now: Moment) -> Vec<Item> {
    let next: Option<BTreeSet<Item>> =
        choice.next.map(|count| next_items(job, order, state, now).into_iter().take(count).collect());
    let meant = |item: &Item| {
        let step = job.step(item.at);
        let spaces = || step.spaces.iter().chain(&step.closes).chain(&step.opens).map(|space| space.value);
        !state.is_done(*item)
            && (choice.travelers.is_empty() || choice.travelers.contains(&item.at.traveler))
            && (choice.spaces.is_empty() || spaces().any(|space| choice.spaces.contains(&space)))
            && same_side(choice.hand, item.hand)
            && next.as_ref().is_none_or(|next| next.contains(item))
    };
    order.items().filter(meant).collect()
}

fn title(job: &Job, choice: &Choice) -> String {
    let mut words: Vec<String> = Vec::new();
    if !choice.travelers.is_empty() {
        words.push(
            choice.travelers.iter().map(|index| job.travelers[*index].id.value.clone()).collect::<Vec<_>>().join(", "),
        );
    }
    if !choice.spaces.is_empty() {
        words.push(
            choice.spaces.iter().map(|space| job.space_spec(*space).name.value.clone()).collect::<Vec<_>>().join(", "),
        );
    }
    words.extend(choice.next.map(|count| say_count!(count, "the next ready step", "the next {n} ready steps")));
    words.extend(choice.hand.map(|hand| say!("{hand} hand", hand = phrase::word(hand.word()))));
    if words.is_empty() { say!("the whole build").to_owned() } else { words.join("; ") }
}

impl PickList {
    /// The pick list as a document.
    #[must_use]
    pub fn document(&self, job: &Job, now: Moment) -> Document {
        let page = page::page(self, Frame::of(job, now.day().to_string()));
        Document::of_build(job, "pick.typ.j2", OwnDocument::Pick.stem(None), Some(now.day()), plain(&page))
    }

    /// What must be bought: short lines, and lines of which nobody has counted the shelf.
    pub fn orders(&self) -> impl Iterator<Item = &PickLine> {
        self.hardware.iter().filter(|line| line.order > 0)
    }

    /// The list as comma-separated values, one call or part a line.
    #[must_use]
    pub fn to_csv(&self) -> String {
        cells::write(self)
    }
}
