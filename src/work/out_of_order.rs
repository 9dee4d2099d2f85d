//! OUT OF ORDER: what speaks against a signature on the day of its work: a step before it that is open, a cure that runs, an open
//! discrepancy that stops it.
//!
//! A signature has a day and no hour: it is believed wherever the work may have been in order. It judges what is typed, not
//! what is recorded already, and decides nothing: whoever signs may have a reason.

use super::readiness::Readiness;
use super::state::{when, work_state};
use crate::archive::{Signed, State as Archived, Stops};
use crate::calendar::When;
use crate::job::{Clocks, Discrepancy, Item, Job, Order, State};

/// What speaks against a signature, one clause each; `archived` is the state with all that is typed beside it.
#[must_use]
pub fn against_signing(
    job: &Job,
    order: &Order,
    clocks: &Clocks,
    archived: &Archived,
    item: Item,
    signed: &Signed,
) -> Vec<String> {
    let Some(worked) = when(signed.worked) else { return Vec::new() };
    let state = work_state(job, archived, State::default());
    let own = Own { job, item, worked };
    let mut all = own.open_before(order, &state);
    all.extend(own.cures(order, clocks, &state));
    all.extend(own.discrepancies(order, clocks, &state, archived, signed));
    all
}

struct Own<'a> {
    job: &'a Job,
    item: Item,
    worked: When,
}

impl Own<'_> {
    /// Steps that come straight before it and were not done by the end of its day.
    fn open_before(&self, order: &Order, state: &State) -> Vec<String> {
        let mut before: Vec<Item> = order.links_to(self.item).map(|link| link.from).collect();
        before.sort_unstable();
        before.dedup();
        let said = |from: Item| {
            let name = self.job.item_name(from);
            match state.done.get(&from) {
                Some(done) if done.on.earliest <= self.worked.latest => None,
                Some(done) => Some(format!("step {name} before it was worked later, on {}", done.on.earliest.day())),
                None => Some(match state.waiting.iter().find(|waiting| waiting.item == from) {
                    Some(waiting) => format!("step {name} before it waits for {}", waiting.what),
                    None => format!("step {name} before it is not signed"),
                }),
            }
        };
        before.into_iter().filter_map(said).collect()
    }

    /// Cures that cannot have been over at the end of its day.
    fn cures(&self, order: &Order, clocks: &Clocks, state: &State) -> Vec<String> {
        let after = order.all_after(self.item);
        // What comes later, or was worked later, had not begun to cure.
        let earlier = clocks.holding(self.job, self.item).into_iter().filter(|clock| !after.contains(clock.item));
        let running = earlier.filter_map(|clock| {
            let done = state.done.get(&clock.item).filter(|done| done.on.earliest <= self.worked.latest)?;
            let until = done.on.earliest + clock.cure;
            (until > self.worked.latest).then(|| {
                format!(
                    "its parts cure for {} after step {} of {}, until {until} at the earliest",
                    clock.cure,
                    self.job.item_name(clock.item),
                    done.on.earliest.day()
                )
            })
        });
        running.collect()
    }

    /// Discrepancies that were found by the end of its day, are open after it, and stop it: found at it or at a step before it.
    /// One whose number it names in the margin was known to whoever signed.
    fn discrepancies(
        &self,
        order: &Order,
        clocks: &Clocks,
        state: &State,
        archived: &Archived,
        signed: &Signed,
    ) -> Vec<String> {
        let day = signed.worked;
        let after = order.all_after(self.item);
        let was_open = |own: &Discrepancy| {
            let Some(known) = archived.discrepancies.get(&own.id) else { return false };
            let stops = known.opened.stops != Stops::Nothing && known.opened.found <= day;
            let settled = known.closed.as_ref().is_some_and(|(_, closed)| closed.on <= day);
            let is_found_later = own.items.iter().all(|found| after.contains(*found));
            stops && !settled && !is_found_later && !signed.discrepancies.contains(&own.id)
        };
        let mut then = state.clone();
        then.discrepancies.iter_mut().for_each(|own| own.open = was_open(own));
        let stopping = Readiness::of(self.job, order, clocks, &then, self.worked.latest).stopped_by(self.item);
        stopping.into_iter().map(|(number, what)| format!("discrepancy {number} stops it: {what}")).collect()
    }
}
