//! # order-circular
//!
//! ## What it checks
//! No steps wait for each other: the order of the steps in their travelers, `after`, `needs`, the `until` of holes left
//! open and the work of several travelers on one joint form no circle. The whole circle is shown, with a label at every link.
//!
//! ## Why it matters
//! None of the steps of a circle can be started, and nothing that comes after them either.
//!
//! ## Source
//! - `arithmetic` arithmetic: what must come before itself can never be done.
//!
//! ## Example that fires
//! ```toml
//! # WNG-1, step "close":   needs = ["WNG-2/wire"]
//! # WNG-2:                 after = ["WNG-1"]
//! ```
//!
//! ## How to put it right
//! Take out the link that does not hold in the shop, or move the step that really comes later into a traveler of its own.
//!
//! ## When to allow it
//! Never: it cannot be worked.

use std::collections::BTreeSet;

use crate::job::{Job, Link, Order, StepRef, Why};
use crate::report::{Finding, Severity};
use crate::rules::{Check, Looks, Sink};
use crate::text::Span;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Job(look) };

fn look(job: &Job, sink: &mut Sink<'_>) {
    let mut told: BTreeSet<Vec<StepRef>> = BTreeSet::new();
    for circle in Order::of(job).circles() {
        let circle = without_plain_steps(&circle);
        // Left and right run in the same circle; it is one fault of the specs.
        let mut steps: Vec<StepRef> = circle.iter().map(|link| link.to.at).collect();
        steps.sort_unstable();
        if told.insert(steps) {
            sink.push(finding(job, &circle, sink));
        }
    }
}

/// The circle with every run of steps that merely follow each other in a traveler as one link.
fn without_plain_steps(circle: &[Link]) -> Vec<Link> {
    // Begin behind a written link, so that no run is cut in two.
    let start = circle.iter().position(|link| link.why != Why::Next).map_or(0, |at| at + 1);
    let mut links: Vec<Link> = Vec::new();
    for link in circle[start..].iter().chain(&circle[..start]) {
        match links.last_mut() {
            Some(last) if last.why == Why::Next && link.why == Why::Next => last.to = link.to,
            _ => links.push(*link),
        }
    }
    links
}

fn finding(job: &Job, circle: &[Link], sink: &Sink<'_>) -> Finding {
    let names = circle.iter().chain(circle.first()).map(|link| job.step_name(link.from.at));
    let message = format!("these steps wait for each other: {}", names.collect::<Vec<_>>().join(" -> "));
    let written = circle.iter().find_map(|link| link.why.span());
    let primary = written.unwrap_or_else(|| place(job, &circle[0]));
    let mut finding = sink.error(primary, message).help("take out the link that does not hold in the shop");
    for link in circle {
        let (first, later) = (job.step_name(link.from.at), job.step_name(link.to.at));
        let words = match link.why {
            Why::Next => "comes later in the same traveler than",
            Why::After(_) => "begins a traveler that comes after",
            Why::Needs(_) => "needs",
            Why::Fills(_) => "fills holes that stay open in",
            Why::Works(_) => "works on a joint after",
        };
        finding = finding.label(place(job, link), format!("{later} {words} {first}"));
    }
    finding
}

/// Where a link was written; that one step follows another is shown at the later one.
fn place(job: &Job, link: &Link) -> Span {
    link.why.span().unwrap_or_else(|| job.step(link.to.at).id.span)
}
