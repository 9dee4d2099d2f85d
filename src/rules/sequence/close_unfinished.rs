//! # close-unfinished
//!
//! ## What it checks
//! When a step closes a space, nothing is left in it: every step that needs the space open is ordered before the closing (or
//! after a step that opens the space again), temporary hardware of joints worked there is replaced, holes left open are filled,
//! bolts are torqued. One finding a closing step lists everything that is left. That the work happens to be done earlier is
//! not enough: the order must say so, because the paper says what the order says. A cure needs no entry: the closing waits for it.
//!
//! ## Why it matters
//! What is left behind a skin is found years later by a hand that no longer fits in.
//!
//! ## Source
//! - `practice` shop practice of this project: last look before closing, with every item named.
//!
//! ## Example that fires
//! ```toml
//! # WNG-1, step "rivet-skin":   closes = ["left-bay"]
//! # WNG-2, step "run-wires":    spaces = ["left-bay"]
//! # and neither `needs` nor `after` says which of the two comes first
//! ```
//!
//! ## How to put it right
//! Add what is left to the closing step's `needs`. Where left and right work in different spaces, give the space `hands`.
//!
//! ## When to allow it
//! When a thing stays behind on purpose, as a jig that comes out through an access hole; say how in the reason.

use std::collections::{BTreeMap, BTreeSet};

use crate::job::{Closing, Job, Order, Parked, Standing, StepKind, StepRef};
use crate::report::{Finding, Place, Severity};
use crate::rules::{Check, Looks, Sink};
use crate::text::Span;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Order(look) };

/// What one closing leaves behind, each thing once for both hands.
#[derive(Default)]
struct Left {
    /// Name on paper.
    space: String,
    /// Id in the project file.
    id: String,
    /// Where it is written, what it is in few words, and in more.
    things: BTreeSet<(Span, String, String)>,
    /// The last step of each traveler that must come before the closing.
    needs: BTreeMap<usize, StepRef>,
    /// Steps that end what is left, but come after the closing.
    late: BTreeSet<StepRef>,
    /// Whether a step of the other hand is among what is left in a space that both hands share.
    hands: bool,
}

impl Left {
    fn need(&mut self, at: StepRef) {
        let last = self.needs.entry(at.traveler).or_insert(at);
        *last = at.max(*last);
    }
}

fn look(job: &Job, order: &Order, sink: &mut Sink<'_>) {
    let parked = job.parked();
    let mut by_step: BTreeMap<_, Left> = BTreeMap::new();
    for closing in job.closings(order) {
        let left = by_step.entry((closing.by.item.at, closing.by.span)).or_default();
        left.space = job.space_name(closing.space);
        left.id.clone_from(&job.space_spec(closing.space.of).id.value);
        gather_steps(job, &closing, left);
        for entry in parked.iter().filter(|entry| entry.spaces.contains(&closing.space)) {
            gather_parked(job, order, &closing, entry, left);
        }
    }
    for ((at, span), left) in by_step.into_iter().filter(|(_, left)| !left.things.is_empty()) {
        let traveler = &job.travelers[at.traveler];
        let place = Place {
            traveler: Some(traveler.id.value.clone()),
            step: Some(job.step(at).id.value.clone()),
            ..Place::default()
        };
        let finding = finding(job, &job.step_name(at), span, &left, sink);
        sink.push_about(place, finding);
    }
}

fn gather_steps(job: &Job, closing: &Closing, left: &mut Left) {
    let unordered =
        closing.users.iter().filter(|(_, standing)| *standing == Standing::Unordered).map(|(visit, _)| visit);
    for visit in unordered.chain(&closing.stray_openers) {
        let (step, name) = (job.step(visit.item.at), job.step_name(visit.item.at));
        let title = &step.title.value;
        let (short, long) = match () {
            () if closing.stray_openers.contains(visit) => {
                (format!("{name} (opens the space again)"), format!("opens the space again: {title}"))
            }
            () if step.kind.value == StepKind::Photograph => {
                (format!("{name} (photo)"), format!("a photo not ordered before the closing: {title}"))
            }
            () if step.photo.is_some() => {
                (format!("{name} (with photo)"), format!("work and a photo not ordered before the closing: {title}"))
            }
            () => (name.clone(), format!("work not ordered before the closing: {title}")),
        };
        left.things.insert((visit.span, short, long));
        left.need(visit.item.at);
        let by = closing.by.item;
        left.hands |= closing.space.hand.is_none()
            && by.hand.is_some()
            && visit.item.hand.is_some()
            && by.hand != visit.item.hand;
    }
}

fn gather_parked(job: &Job, order: &Order, closing: &Closing, entry: &Parked, left: &mut Left) {
    let by = closing.by.item;
    // What only begins after the closing is not there yet.
    if order.all_after(by).contains(entry.since) {
        return;
    }
    let before = order.all_before(by);
    let reopened =
        |item| closing.users.iter().any(|(user, standing)| user.item == item && *standing == Standing::Reopened);
    let ended = !entry.until.is_empty()
        && entry.until.iter().all(|item| *item == by || before.contains(*item) || reopened(*item));
    if ended {
        return;
    }
    let joint = job.parked_joint(entry).title();
    let traveler = &job.travelers[entry.traveler].id.value;
    let until = entry.until.first().map_or_else(|| "no step".to_owned(), |item| job.step_name(item.at));
    let short = format!("{} x {} of joint {joint} in {traveler} (ended by {until})", entry.count, entry.kind.words());
    left.things.insert((entry.span, short, format!("{} until {until}", entry.kind.words())));
    for item in &entry.until {
        if order.all_after(by).contains(*item) {
            left.late.insert(item.at);
        } else if item.at != by.at {
            left.need(item.at);
        }
    }
}

fn finding(job: &Job, name: &str, span: Span, left: &Left, sink: &Sink<'_>) -> Finding {
    let count = left.things.len();
    let noun = if count == 1 { "1 thing".to_owned() } else { format!("{count} things") };
    let listed: Vec<&str> = left.things.iter().map(|(_, short, _)| short.as_str()).collect();
    let message = format!("step {name} closes {} over {noun}: {}", left.space, listed.join(", "));
    let finding = sink.error(span, message).help(help(job, name, left));
    left.things.iter().fold(finding, |finding, (span, _, long)| finding.label(*span, long.clone()))
}

fn help(job: &Job, name: &str, left: &Left) -> String {
    let mut words = Vec::new();
    if !left.needs.is_empty() {
        let needs: Vec<String> = left.needs.values().map(|at| format!("\"{}\"", job.step_name(*at))).collect();
        words.push(format!("add to step {name}: needs = [{}]", needs.join(", ")));
    }
    if !left.late.is_empty() {
        let late: Vec<String> = left.late.iter().map(|at| job.step_name(*at)).collect();
        words.push(format!("do {} before {name}", late.join(", ")));
    }
    if left.hands {
        words.push(format!("give space `{}` `hands`, where left and right are two spaces", left.id));
    }
    if words.is_empty() {
        "add the steps that end this, and order them before the closing".to_owned()
    } else {
        words.join("; ")
    }
}
