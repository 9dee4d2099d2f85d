//! # close-uninspected
//!
//! ## What it checks
//! Where the project's `[[space]]` names a `hold`, the step that closes the space, or a step in the space that is ordered
//! before it with no opening between, has that `hold`.
//!
//! ## Why it matters
//! Who looks at a structure must see it. In some countries the look before closing is compulsory; everywhere it is the last.
//!
//! ## Source
//! - `practice` shop practice of this project: the project file says who looks before a space closes. Local rules govern.
//!
//! ## Example that fires
//! ```toml
//! # build.toml: [[space]] id = "left-bay", hold = "technical counselor"
//! [[step]]
//! do = "close"
//! closes = ["left-bay"]     # and no `hold` here, nor in an earlier step of the space
//! ```
//!
//! ## How to put it right
//! Add `hold` with the role of the space to the closing step, or to an inspection of the space ordered before it.
//!
//! ## When to allow it
//! When the same people have looked at another time, with a record of it.

use std::collections::BTreeSet;

use crate::job::{Job, Order, Standing};
use crate::report::{Place, Severity};
use crate::rules::{Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Order(look) };

fn look(job: &Job, order: &Order, sink: &mut Sink<'_>) {
    let (lives, mut told) = (job.space_lives(), BTreeSet::new());
    for closing in job.closings(order) {
        let space = job.space_spec(closing.space.of);
        let Some(role) = space.hold.map(|hold| hold.value) else { continue };
        let holds = |at| job.step(at).hold.is_some_and(|hold| hold.value == role);
        let before = closing.users.iter().filter(|(_, standing)| *standing == Standing::Before);
        let mut looks = before.filter(|(user, _)| holds(user.item.at)).map(|(user, _)| user.item);
        let openers = &lives[&closing.space].openers;
        // Who looked before the space was opened again has not seen what was done since.
        let stale = |look| {
            openers
                .iter()
                .any(|opener| order.precedes(look, opener.item) && order.precedes(opener.item, closing.by.item))
        };
        let looked = holds(closing.by.item.at) || looks.any(|look| !stale(look));
        if looked || !told.insert(closing.by.span) {
            continue;
        }
        let at = closing.by.item.at;
        let name = job.step_name(at);
        let message = format!(
            "step {name} closes {} without the hold `{}` that the project asks for",
            space.name.value,
            role.word()
        );
        let help = format!("add `hold = \"{}\"` to {name}, or to an inspection of the space before it", role.word());
        let traveler = Some(job.travelers[at.traveler].id.value.clone());
        let place = Place { traveler, step: Some(job.step(at).id.value.clone()), ..Place::default() };
        let finding = sink.warning(closing.by.span, message).label(space.id.span, "the space and its hold").help(help);
        sink.push_about(place, finding);
    }
}
