//! WORK: the state of the work as the archive tells it, in the form that the board and the ledger read.
//!
//! A step counts as done when the work is signed, nothing waits for a read-through, and every hold and stage is. What
//! the archive does not record, begun work and waits, is taken from the progress file.

use std::collections::BTreeMap;

use crate::archive::{Capacity, DiscrepancyOpened, Signature, Standing, State as Archived, Stops};
use crate::calendar::{Day, When};
use crate::job::{Discrepancy, Done, Item, Job, State, StepRef, WaitFor, Waiting};

use super::stage::stage_missing;

/// The state of the work; `progress` gives what the archive does not record.
#[must_use]
pub fn work_state(job: &Job, archived: &Archived, progress: State) -> State {
    let mut state = State { done: BTreeMap::new(), discrepancies: Vec::new(), ..progress };
    for (traveler, own) in job.travelers.iter().enumerate() {
        for hand in job.hands_of(traveler) {
            for step in 0..own.steps.len() {
                take_step(job, archived, Item { at: StepRef { traveler, step }, hand }, &mut state);
            }
        }
    }
    state.started.retain(|item, _| !state.done.contains_key(item));
    state.waiting.retain(|waiting| !state.done.contains_key(&waiting.item));
    state.discrepancies.extend(archived.discrepancies.values().map(|own| discrepancy(job, &own.opened, own.is_open())));
    state
}

/// The state with discrepancies that are about to be opened.
#[must_use]
pub fn with_opened(job: &Job, state: &State, opened: &[DiscrepancyOpened]) -> State {
    let mut state = state.clone();
    state.discrepancies.extend(opened.iter().map(|own| discrepancy(job, own, true)));
    state
}

fn take_step(job: &Job, archived: &Archived, item: Item, state: &mut State) {
    let name = job.name_of(item);
    let wait = |what: String, since: &Signature| Waiting {
        item,
        wait: WaitFor::Person,
        what,
        since: when(since.signed.worked),
        until: None,
    };
    match archived.standing(&name) {
        Standing::Signed(entry) => {
            let Some(signature) = archived.signatures.get(&entry) else { return };
            // An imported entry says that the step is done, and is believed for holds and stages as well.
            let waits = unlooked(job, archived, item).filter(|_| signature.sheet().is_some());
            match (waits, done(signature)) {
                (Some(what), _) => state.waiting.push(wait(what, signature)),
                (None, Some(done)) => drop(state.done.insert(item, done)),
                (None, None) => {}
            }
        }
        Standing::AwaitsReading(entry) => {
            if let Some(signature) = archived.signatures.get(&entry) {
                state.waiting.push(wait("the builder, to read the change note".to_owned(), signature));
            }
        }
        Standing::Open | Standing::Fallen(_) => {
            let looks = !job.holds(job.step(item.at)).is_empty() || !job.stages_at(item.at).is_empty();
            if looks && unlooked(job, archived, item).is_none() {
                state.looked.insert(item);
            }
        }
    }
}

/// Who has not looked at an item, for the hold or the stage; nothing where nobody is waited for.
fn unlooked(job: &Job, archived: &Archived, item: Item) -> Option<String> {
    let name = job.name_of(item);
    let released = |role: &str| {
        let mut counting = archived.counting(&name);
        counting.any(|(own, _)| own.signed.capacity == Capacity::Hold && own.role() == Some(role))
    };
    let hold = job.holds(job.step(item.at)).into_iter().find(|role| !released(role));
    let hold = hold.map(|role| format!("the {}, for the hold", job.role_word(role)));
    let mut stages = job.stages_at(item.at).into_iter();
    let stage = stages.find_map(|stage| {
        let missing = stage_missing(job, archived, stage, item);
        (!missing.is_empty()).then(|| format!("stage {}: {}", job.project.stages[stage].title(), missing.join("; ")))
    });
    hold.or(stage)
}

/// The day of a signature's work, from its first minute to its last.
pub(super) fn when(worked: Day) -> Option<When> {
    Some(When { earliest: worked.first_minute(), latest: worked.at(23, 59)? })
}

fn done(signature: &Signature) -> Option<Done> {
    let values = signature.signed.readings.iter().map(|reading| (reading.id.clone(), reading.value.clone())).collect();
    Some(Done {
        on: when(signature.signed.worked)?,
        by: signature.signed.by.clone(),
        minutes: signature.signed.minutes,
        values,
    })
}

fn discrepancy(job: &Job, opened: &DiscrepancyOpened, open: bool) -> Discrepancy {
    let fits = |item: &Item| {
        let traveler = &job.travelers[item.at.traveler];
        let same_hand = opened.hand.is_none() || item.hand == opened.hand;
        let step = job.step(item.at);
        let in_space = opened
            .space
            .as_ref()
            .is_some_and(|space| step.closes.iter().any(|own| job.space_spec(own.value).id.value == *space));
        let at_step = opened.traveler.as_ref() == Some(&traveler.id.value)
            && opened.step.iter().chain(&opened.also).any(|own| *own == step.id.value)
            && same_hand;
        at_step || (opened.stops == Stops::Space && in_space && same_hand)
    };
    let items = (0..job.travelers.len()).flat_map(|traveler| {
        let hands = job.hands_of(traveler);
        let steps = job.travelers[traveler].steps.len();
        hands
            .into_iter()
            .flat_map(move |hand| (0..steps).map(move |step| Item { at: StepRef { traveler, step }, hand }))
    });
    Discrepancy {
        id: opened.number.clone(),
        items: items.filter(fits).collect(),
        what: opened.what.clone(),
        opened: Some(When::at(opened.found.first_minute())),
        open,
    }
}
