//! # close-uninspected
//!
//! ## What it checks
//! Where the project's `[[space]]` names a `hold` or a `stage`, or a stage releases the space, the step that closes the
//! space, or a step in the space that is ordered before it with no opening between, has that `hold` or `stage`.
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
//! Add `hold` with the role of the space, or its `stage`, to the closing step, or to an inspection of the space ordered
//! before it.
//!
//! ## When to allow it
//! When the same people have looked at another time, with a record of it.

use std::collections::BTreeSet;

use crate::job::{Closing, Job, Order, Standing, Visit};
use crate::report::{Place, Severity};
use crate::rules::{Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Order(look) };

fn look(job: &Job, order: &Order, sink: &mut Sink<'_>) {
    let (lives, mut told) = (job.space_lives(), BTreeSet::new());
    for closing in job.closings(order) {
        let openers = &lives[&closing.space].openers;
        for asked in asked(job, closing.space.of) {
            if !is_looked_at(job, order, &closing, openers, asked) && told.insert((closing.by.span, asked)) {
                tell(job, &closing, asked, sink);
            }
        }
    }
}

/// What the project asks for before a space closes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Asked<'a> {
    /// The hold of a role.
    Hold(&'a str),
    /// A stage, by its index.
    Stage(usize),
}

fn asked(job: &Job, space: usize) -> Vec<Asked<'_>> {
    let hold = job.space_spec(space).hold.iter().map(|hold| Asked::Hold(&hold.value));
    hold.chain(job.stages_of_space(space).into_iter().map(Asked::Stage)).collect()
}

/// Whether the closing step, or one that looks into the space before it, has what is asked for.
fn is_looked_at(job: &Job, order: &Order, closing: &Closing, openers: &[Visit], asked: Asked<'_>) -> bool {
    let holds = |at| match asked {
        Asked::Hold(role) => job.step(at).hold.as_ref().is_some_and(|hold| hold.value == role),
        Asked::Stage(stage) => job.step(at).stage.is_some_and(|own| own.value == stage),
    };
    let before = closing.users.iter().filter(|(_, standing)| *standing == Standing::Before);
    let mut looks = before.filter(|(user, _)| holds(user.item.at)).map(|(user, _)| user.item);
    // Who looked before the space was opened again has not seen what was done since.
    let stale = |look| {
        openers.iter().any(|opener| order.precedes(look, opener.item) && order.precedes(opener.item, closing.by.item))
    };
    holds(closing.by.item.at) || looks.any(|look| !stale(look))
}

fn tell(job: &Job, closing: &Closing, asked: Asked<'_>, sink: &mut Sink<'_>) {
    let space = job.space_spec(closing.space.of);
    let at = closing.by.item.at;
    let name = job.step_name(at);
    let (key, value) = match asked {
        Asked::Hold(role) => ("hold", role),
        Asked::Stage(stage) => ("stage", job.project.stages[stage].id.value.as_str()),
    };
    let message =
        format!("step {name} closes {} without the {key} `{value}` that the project asks for", space.name.value);
    let help = format!("add `{key} = \"{value}\"` to {name}, or to an inspection of the space before it");
    let traveler = Some(job.travelers[at.traveler].id.value.clone());
    let place = Place { traveler, step: Some(job.step(at).id.value.clone()), ..Place::default() };
    let finding =
        sink.warning(closing.by.span, message).label(space.id.span, format!("the space and its {key}")).help(help);
    sink.push_about(place, finding);
}
