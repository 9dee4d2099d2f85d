//! # cure-ignored
//!
//! ## What it checks
//! A step's `cure` says how long nothing may touch its parts, and `cure-latest` until when the next coat must be on. Later steps
//! on the same parts wait by themselves: board and sheet print *not before* and *not after*, and nobody has to write the wait.
//! What the order cannot put right is reported:
//! - a window that ends before it begins: `cure-latest` shorter than `cure`;
//! - a window that must be missed: the minutes and cures of the steps between a coat and the next coat on its parts (or, where
//!   no coat follows, the next step that touches them) take longer than `cure-latest`;
//! - another traveler that touches the parts while they may be curing, because nothing orders the two: said once for the
//!   pair, with the line to write.
//!
//! ## Why it matters
//! Parts that are touched too early keep the fingerprint, and a coat outside its window lifts off the one below.
//!
//! ## Source
//! - `practice` shop practice of this project; the times themselves are those of the product's data sheet, which governs.
//!
//! ## Example that fires
//! ```toml
//! [[step]]
//! do = "prime"
//! parts = ["WNG-211"]
//! cure = "12 h"
//! cure-latest = "8 h"       # over before the cure is
//! ```
//!
//! ## How to put it right
//! Order the steps with `needs` or `after`; move long work out from between two coats; correct the times from the data sheet.
//!
//! ## When to allow it
//! When the data sheet gives a way to go on late, as scuffing before the next coat, and a step says so.

use std::collections::{BTreeMap, BTreeSet};

use crate::job::{Clock, Clocks, Item, Job, Order, StepRef, Touch, same_side};
use crate::report::{Finding, Place, Severity};
use crate::rules::{Check, Looks, Sink};
use crate::units::Minutes;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Order(look) };

fn look(job: &Job, order: &Order, sink: &mut Sink<'_>) {
    let clocks = job.clocks();
    let mut told = BTreeSet::new();
    for clock in &clocks.all {
        if told.insert(clock.item.at) {
            push(job, clock.item, impossible(job, clock, sink), sink);
            push(job, clock.item, missed(job, &clocks, clock, sink), sink);
        }
    }
    unordered(job, order, &clocks, sink);
}

fn push(job: &Job, item: Item, finding: Option<Finding>, sink: &mut Sink<'_>) {
    let traveler = Some(job.travelers[item.at.traveler].id.value.clone());
    let place = Place { traveler, step: Some(job.step(item.at).id.value.clone()), ..Place::default() };
    if let Some(finding) = finding {
        sink.push_about(place, finding);
    }
}

/// A window that ends before it begins.
fn impossible(job: &Job, clock: &Clock, sink: &Sink<'_>) -> Option<Finding> {
    let (cure, latest) = (job.step(clock.item.at).cure?, job.step(clock.item.at).cure_latest?);
    if latest.value >= cure.value {
        return None;
    }
    let message = format!("the parts cure for {}, but the next coat must be on after {}", cure.value, latest.value);
    let help = format!("a `cure-latest` of {} or more passes; the data sheet governs", cure.value);
    Some(sink.error(latest.span, message).label(cure.span, "nothing touches the parts before").help(help))
}

/// A window that the steps between must miss.
fn missed(job: &Job, clocks: &Clocks, clock: &Clock, sink: &Sink<'_>) -> Option<Finding> {
    let latest = job.step(clock.item.at).cure_latest?;
    let next = next_on_parts(job, clock)?;
    let forced = shortest_gap(job, clocks, clock.item, next);
    // A window shorter than its own cure is reported for itself.
    if forced <= latest.value || clock.cure > latest.value {
        return None;
    }
    let (this, name) = (job.step_name(clock.item.at), job.step_name(next.at));
    let message =
        format!("step {name} cannot begin within {} of step {this}: the steps between take {forced}", latest.value);
    let finding = sink.error(latest.span, message).label(job.step(next.at).id.span, "the next work on the parts");
    Some(finding.help(format!("move work out from between the two, or correct the window; {forced} or more passes")))
}

/// The next coat on the parts of a clock in its own traveler, or the next step that touches them where no coat follows.
fn next_on_parts(job: &Job, clock: &Clock) -> Option<Item> {
    let at = clock.item.at;
    let later = (at.step + 1..job.travelers[at.traveler].steps.len()).map(|step| StepRef { step, ..at });
    let touching: Vec<StepRef> = later.filter(|other| meets(&clock.touch, &job.touch(*other))).collect();
    let coat = touching.iter().find(|other| job.step(**other).kind.value.coats());
    coat.or(touching.first()).map(|at| Item { at: *at, ..clock.item })
}

fn meets(one: &Touch, other: &Touch) -> bool {
    match (one, other) {
        (Touch::Nothing, _) | (_, Touch::Nothing) => false,
        (Touch::Whole, _) | (_, Touch::Whole) => true,
        (Touch::Parts(one), Touch::Parts(other)) => !one.is_disjoint(other),
    }
}

/// The least time from the end of one step to the start of a later one of the same traveler: the minutes of the steps
/// between, and every cure that holds one of them.
fn shortest_gap(job: &Job, clocks: &Clocks, from: Item, to: Item) -> Minutes {
    let mut ends: BTreeMap<Item, i64> = BTreeMap::from([(from, 0)]);
    let mut begin = 0;
    for step in from.at.step + 1..=to.at.step {
        let item = Item { at: StepRef { step, ..from.at }, ..from };
        let held =
            clocks.holding(job, item).into_iter().filter_map(|clock| Some(ends.get(&clock.item)? + clock.cure.0));
        // What no clock holds begins when the step before it ends.
        begin = held.max().unwrap_or(0).max(begin);
        if item == to {
            break;
        }
        // The shortest gap: a step without an estimate may take no time at all.
        begin += i64::from(job.step(item.at).spec.minutes.map_or(0, |minutes| minutes.value));
        ends.insert(item, begin);
    }
    Minutes(begin)
}

/// Steps of other travelers that touch curing parts, with nothing that orders the two.
fn unordered(job: &Job, order: &Order, clocks: &Clocks, sink: &mut Sink<'_>) {
    let touching = touching_by_part(job, clocks);
    let mut told = BTreeSet::new();
    for clock in &clocks.all {
        let ids: BTreeSet<&str> = match &clock.touch {
            Touch::Parts(parts) => parts.iter().map(String::as_str).collect(),
            _ => job.travelers[clock.item.at.traveler].parts.iter().map(|part| part.id.value.as_str()).collect(),
        };
        let others: BTreeSet<Item> = ids.iter().filter_map(|id| touching.get(id)).flatten().copied().collect();
        let elsewhere =
            |other: &&Item| other.at.traveler != clock.item.at.traveler && same_side(other.hand, clock.item.hand);
        let mut others = others.iter().filter(elsewhere).peekable();
        if others.peek().is_none() {
            continue;
        }
        let (before, after) = (order.all_before(clock.item), order.all_after(clock.item));
        for other in others.filter(|other| !before.contains(**other) && !after.contains(**other)) {
            let pair = (clock.item.at.traveler, other.at.traveler);
            if told.insert((pair.0.min(pair.1), pair.0.max(pair.1))) {
                push(job, clock.item, Some(unordered_finding(job, clock, *other, sink)), sink);
            }
        }
    }
}

fn unordered_finding(job: &Job, clock: &Clock, other: Item, sink: &Sink<'_>) -> Finding {
    let (this, name) = (job.step_name(clock.item.at), job.step_name(other.at));
    let message = format!(
        "step {name} works on parts that cure for {} after step {this}, and nothing orders the two",
        clock.cure
    );
    let finding = sink.error(clock.span, message).label(job.step(other.at).id.span, "works on the same parts");
    let (one, two) = (&job.travelers[clock.item.at.traveler].id.value, &job.travelers[other.at.traveler].id.value);
    finding.help(format!(
        "write `after = [\"{one}\"]` under `[traveler]` of {two}, or `needs = [\"{this}\"]` in step {name}; the other way \
         round if {two} comes first"
    ))
}

/// The items that touch each part that some clock holds in more than one traveler.
fn touching_by_part<'a>(job: &'a Job, clocks: &Clocks) -> BTreeMap<&'a str, Vec<Item>> {
    let mut owners: BTreeMap<&str, BTreeSet<usize>> = BTreeMap::new();
    for (traveler, own) in job.travelers.iter().enumerate() {
        for part in &own.parts {
            owners.entry(part.id.value.as_str()).or_default().insert(traveler);
        }
    }
    // Travelers without a clock among those that share a part cannot meet a cure.
    let curing: BTreeSet<usize> = clocks.all.iter().map(|clock| clock.item.at.traveler).collect();
    owners.retain(|_, travelers| travelers.len() > 1 && travelers.iter().any(|traveler| curing.contains(traveler)));
    let mut touching: BTreeMap<&str, Vec<Item>> = BTreeMap::new();
    for (id, travelers) in owners {
        for traveler in travelers {
            let steps = (0..job.travelers[traveler].steps.len()).map(|step| StepRef { traveler, step });
            let touches = |at: &StepRef| matches!(job.touch(*at), Touch::Parts(parts) if parts.contains(id));
            let items = steps.filter(touches).flat_map(|at| job.items_facing(None, at).collect::<Vec<_>>());
            touching.entry(id).or_default().extend(items);
        }
    }
    touching
}
