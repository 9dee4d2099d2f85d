//! # access-lost
//!
//! ## What it checks
//! No step needs a space that an earlier step, in this or another traveler, has closed and that no step between the two opens
//! again. A space with `hands` is one space a hand. A warning is given for a step that `opens` a space which no earlier step closes.
//!
//! ## Why it matters
//! The bracket that no longer goes in costs the rivets of a whole skin, and every rivet drilled out risks its hole.
//!
//! ## Source
//! - `common-practice` common practice: nothing is closed before everything behind it is done.
//!
//! ## Example that fires
//! ```toml
//! [[step]]
//! id = "rivet-skin"
//! closes = ["left-bay"]
//! [[step]]
//! id = "fit-bellcrank"      # comes later
//! spaces = ["left-bay"]
//! ```
//!
//! ## How to put it right
//! Move the step before the one that closes the space, or, where the space really can be opened, add a step with `opens` between.
//!
//! ## When to allow it
//! When the work is reached from outside after all; then the space should not be in the step's `spaces`.

use std::collections::BTreeSet;

use crate::job::{Closing, Item, Job, Order, Standing, Visit};
use crate::report::{Place, Severity};
use crate::rules::{Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Order(look) };

fn look(job: &Job, order: &Order, sink: &mut Sink<'_>) {
    let mut told = BTreeSet::new();
    for closing in job.closings(order) {
        for (user, _) in closing.users.iter().filter(|(_, standing)| *standing == Standing::ShutOut) {
            // Left and right are one fault of the specs.
            if told.insert((user.span, closing.by.span)) {
                shut_out(job, &closing, user, sink);
            }
        }
    }
    for (space, life) in job.space_lives() {
        for opener in &life.openers {
            let before = order.all_before(opener.item);
            let closed = life.closers.iter().any(|closer| before.contains(closer.item));
            // Where nothing orders the two, `close-unfinished` says so.
            let unordered = || {
                life.closers
                    .iter()
                    .any(|closer| closer.item != opener.item && !order.precedes(opener.item, closer.item))
            };
            if !closed && !unordered() && told.insert((opener.span, opener.span)) {
                let message = format!(
                    "step {} opens {}, which no earlier step closes",
                    job.step_name(opener.item.at),
                    job.space_name(space)
                );
                let finding = sink
                    .warning(opener.span, message)
                    .help("take `opens` out, or add the step that closes the space first");
                sink.push_about(about(job, opener.item), finding);
            }
        }
    }
}

fn shut_out(job: &Job, closing: &Closing, user: &Visit, sink: &mut Sink<'_>) {
    let (needs, closes) = (job.step_name(user.item.at), job.step_name(closing.by.item.at));
    let space = job.space_name(closing.space);
    let message = format!("step {needs} needs {space} open, but step {closes}, which comes before it, has closed it");
    let help = format!(
        "do {needs} before {closes}, or add a step between them with `opens = [\"{}\"]`",
        job.space_spec(closing.space.of).id.value
    );
    let finding = sink.error(user.span, message).label(closing.by.span, format!("{closes} closes it here")).help(help);
    sink.push_about(about(job, user.item), finding);
}

fn about(job: &Job, item: Item) -> Place {
    let traveler = &job.travelers[item.at.traveler];
    Place {
        traveler: Some(traveler.id.value.clone()),
        step: Some(job.step(item.at).id.value.clone()),
        ..Place::default()
    }
}
