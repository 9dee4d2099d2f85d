//! # state-not-set
//!
//! ## What it checks
//! A step with `while` comes after a step that sets each of its states, on its side of the aircraft, and no step in between
//! ends one. `while` and `undoes` name states that some step of the build sets.
//!
//! ## Why it matters
//! A wing that is rigged to a fuselage which somebody moved since it was levelled is rigged to nothing.
//!
//! ## Source
//! - `common-practice` common practice: what a reading refers to is checked before the reading.
//!
//! ## Example that fires
//! ```toml
//! [[step]]
//! id = "rig-wing"
//! while = "fuselage-level"      # and no step before it has `sets = "fuselage-level"`
//! ```
//!
//! ## How to put it right
//! Add `sets` to the step that brings the state about and put that before; after a step that ends it, set it again.
//!
//! ## When to allow it
//! When the state is held by something that no step says, and the reason names it.

use std::collections::BTreeSet;

use crate::job::{Acts, Item, Job, Order, StepRef, Text, nearest};
use crate::report::{Place, Severity};
use crate::rules::{Check, Looks, Sink};
use crate::text::Span;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Order(look) };

fn look(job: &Job, order: &Order, sink: &mut Sink<'_>) {
    let known = job.states();
    // Left and right are one fault of the specs.
    let mut told: BTreeSet<Span> = BTreeSet::new();
    for item in order.items() {
        let step = job.step(item.at);
        let named = [Acts::During, Acts::Undoes].into_iter().flat_map(|acts| acts.of(step));
        for state in named.filter(|state| !known.contains(state.value.as_str())) {
            if told.insert(state.span) {
                let message = format!("no step sets the state `{}`", state.value);
                let help = match nearest(&state.value, known.iter().copied()) {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("add `sets = \"{}\"` to the step that brings it about", state.value),
                };
                push(job, item.at, state.span, (message, help), sink);
            }
        }
        for state in Acts::During.of(step).iter().filter(|state| known.contains(state.value.as_str())) {
            if let Some(said) = fault(job, order, item, state)
                && told.insert(state.span)
            {
                push(job, item.at, state.span, said, sink);
            }
        }
    }
}

/// What is wrong with the order of a step and what it needs, and what would pass.
fn fault(job: &Job, order: &Order, item: Item, state: &Text) -> Option<(String, String)> {
    let before = order.all_before(item);
    let name = job.step_name(item.at);
    let set: Vec<Item> = job.acting(Acts::Sets, &state.value, item).filter(|one| before.contains(*one)).collect();
    if set.is_empty() {
        let setter = job.acting(Acts::Sets, &state.value, item).next().map(|one| job.step_name(one.at));
        let help = match setter {
            Some(setter) => format!("put it after {setter}, in its place or by `needs`"),
            None => "give a step of this side of the aircraft `sets`".to_owned(),
        };
        return Some((format!("step {name} is worked while {}, and no step before it sets that", state.value), help));
    }
    let mut ended = job.acting(Acts::Undoes, &state.value, item).filter(|one| before.contains(*one));
    let open = ended.find(|end| !set.iter().any(|set| set == end || order.precedes(*end, *set)))?;
    let open = job.step_name(open.at);
    let message = format!("step {name} is worked while {}, which step {open} ends before it", state.value);
    Some((message, format!("set it again between {open} and {name}")))
}

fn push(job: &Job, at: StepRef, span: Span, (message, help): (String, String), sink: &mut Sink<'_>) {
    let traveler = &job.travelers[at.traveler];
    let place = Place {
        traveler: Some(traveler.id.value.clone()),
        step: Some(traveler.steps[at.step].id.value.clone()),
        ..Place::default()
    };
    sink.push_about(place, sink.error(span, message).help(help));
}
