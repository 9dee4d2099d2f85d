//! CLOSING: what is still left in a space when somebody signs the step that closes it, each thing by name.
//!
//! The paper lists the same; here it is asked once more when the signature is entered. It decides nothing: whoever
//! closes all the same says why, and the record keeps it.

use super::ledger::{Held, LedgerLine, last_chances_of};
use super::stage::unsigned_stages;
use super::state::work_state;
use crate::archive::{Capacity, State as Archived};
use crate::job::{Item, Job, Order, State, StepRef};
use crate::words::ItemName;

/// The item of a name; none where the specs have it no longer.
#[must_use]
pub fn find_item(job: &Job, name: &ItemName) -> Option<Item> {
    let traveler = job.travelers.iter().position(|own| own.id.value == name.traveler)?;
    let step = job.travelers[traveler].steps.iter().position(|own| own.id.value == name.step)?;
    let hand = job.hands_of(traveler).into_iter().find(|own| *own == name.hand)?;
    Some(Item { at: StepRef { traveler, step }, hand })
}

/// What is left before a closing step may be signed; empty where it closes nothing.
#[must_use]
pub fn left_before_closing(job: &Job, order: &Order, archived: &Archived, progress: &State, item: Item) -> Vec<String> {
    if job.step(item.at).closes.is_empty() {
        return Vec::new();
    }
    let work = work_state(job, archived, progress.clone());
    let mut left = unsigned_holds(job, archived, item);
    left.extend(unsigned_stages(job, order, archived, item));
    for chance in last_chances_of(job, order, &work, item) {
        let own = job.item_name(item);
        left.extend(
            chance
                .steps
                .iter()
                .filter(|look| !look.done && look.step != own)
                .map(|look| format!("step {} is not signed: {}", look.step, look.title)),
        );
        left.extend(
            chance
                .steps
                .iter()
                .filter(|look| look.photo && look.done && !has_photo(job, archived, look.item))
                .map(|look| format!("step {} asks for a photo, and no number is entered", look.step)),
        );
        for parked in chance.parked.iter().filter(|parked| parked.held == Held::Open) {
            left.push(format!("{} is still there", parked_words(parked)));
        }
        left.extend(chance.discrepancies.iter().map(|said| format!("discrepancy {said} is open")));
    }
    left.extend(space_discrepancies(job, archived, item));
    left.sort();
    left.dedup();
    left
}

/// Steps in the spaces that a step closes and that are not done: whoever holds the closing looks at the finished work.
#[must_use]
pub fn open_under_hold(job: &Job, order: &Order, archived: &Archived, progress: &State, item: Item) -> Vec<String> {
    let work = work_state(job, archived, progress.clone());
    let looks = last_chances_of(job, order, &work, item).into_iter().flat_map(|chance| chance.steps);
    let mut open: Vec<String> = looks
        .filter(|look| !look.done)
        .map(|look| format!("step {} is not signed: {}", look.step, look.title))
        .collect();
    open.sort();
    open.dedup();
    open
}

fn parked_words(parked: &LedgerLine) -> String {
    let hand = parked.hand.map(|hand| format!(" {hand}")).unwrap_or_default();
    format!("{} x {}, {}, {} of {}{hand}", parked.count, parked.call, parked.kind, parked.joint, parked.traveler)
}

/// Roles that must have looked before the space closes, and have not signed.
fn unsigned_holds(job: &Job, archived: &Archived, item: Item) -> Vec<String> {
    let released = |role: &str| {
        let mut counting = archived.counting(&job.name_of(item));
        counting.any(|(signature, _)| signature.signed.capacity == Capacity::Hold && signature.role() == Some(role))
    };
    job.holds(job.step(item.at))
        .into_iter()
        .filter(|role| !released(role))
        .map(|role| format!("the {} has not released the hold", job.role_word(role)))
        .collect()
}

/// Open discrepancies that name a space which the step closes.
fn space_discrepancies(job: &Job, archived: &Archived, item: Item) -> Vec<String> {
    let spaces: Vec<&str> =
        job.step(item.at).closes.iter().map(|space| job.space_spec(space.value).id.value.as_str()).collect();
    let here = archived.open_discrepancies().map(|own| &own.opened).filter(|opened| {
        let same_hand = opened.hand.is_none() || item.hand.is_none() || opened.hand == item.hand;
        opened.space.as_deref().is_some_and(|space| spaces.contains(&space)) && same_hand
    });
    here.map(|opened| format!("discrepancy {}: {} is open", opened.number, opened.what)).collect()
}

/// Whether the signature of an item gives the number of a photo.
fn has_photo(job: &Job, archived: &Archived, item: Item) -> bool {
    archived.counting(&job.name_of(item)).any(|(signature, _)| !signature.signed.photos.is_empty())
}
