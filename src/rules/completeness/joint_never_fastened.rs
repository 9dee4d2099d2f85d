//! # joint-never-fastened
//!
//! ## What it checks
//! Every joint has a step that rivets or bolts it. A step of another traveler names it with its own: `FUS-10/J2`. A joint is
//! parked, and silent here, when `leave-open` covers all of its holes and names a later step, or when it holds `temporary`
//! hardware (then `temporary-left` watches it). Holes left open that take the fasteners of another joint are filled in a step
//! that fastens that joint.
//!
//! ## Why it matters
//! Hundreds of joints are fastened over years. One that no step names is found empty when the skin is on.
//!
//! ## Source
//! - `completeness` completeness of the spec: every joint that is described is also worked.
//!
//! ## Example that fires
//! ```toml
//! [[joint]]
//! id = "J1"          # and no step with do = "rivet" or do = "bolt" lists "J1"
//! ```
//!
//! ## How to put it right
//! List the joint in a step with `do = "rivet"` or `do = "bolt"`, in another traveler as `FUS-10/J2`; or park it with
//! `leave-open` and the step that fills it.
//!
//! ## When to allow it
//! When the holes belong to a later kit, and no traveler for it is written yet.

use crate::job::{Hand, Joint, LivesAt, StepRef, Traveler};
use crate::report::Severity;
use crate::rules::facts::goes_through;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    shared_holes(joint, at, sink);
    // What goes through no hole is a wrong call, which is a finding of its own.
    if !goes_through(joint) {
        return;
    }
    let fills = |worked: &LivesAt| joint.is_filled_by(worked.at);
    let all_open = joint.open_count() == joint.count.value;
    // A step that only fills the holes left open fastens the joint where all of them were.
    let is_fastened = |hand| joint.fastenings().any(|worked| worked.is_on(hand) && (all_open || !fills(worked)));
    let left: Vec<Option<Hand>> =
        at.job.hands_of(at.traveler_index).into_iter().filter(|hand| !is_fastened(*hand)).collect();
    if left.is_empty() {
        return;
    }
    if let ([Some(hand)], true) = (left.as_slice(), joint.fastenings().next().is_some()) {
        let message = format!("no step rivets or bolts joint {} of the {hand} hand", joint.title());
        let help = format!("name that hand as well: `{}/{hand}/{}`", at.traveler.id.value, joint.id.value);
        sink.push(sink.error(joint.id.span, message).help(help));
        return;
    }
    // Temporary hardware that nothing takes out is a fault of its own, with its own name.
    let times = at.job.fit_ups(at.joint());
    if joint.temporary.is_some() && times.last().is_none_or(|last| last.taken_out.is_none()) {
        return;
    }
    let title = joint.title();
    let Some(open) = &joint.leave_open else {
        let message = format!("no step rivets or bolts joint {title}");
        sink.push(
            sink.error(joint.id.span, message).help("add the joint to a step with `do = \"rivet\"` or `do = \"bolt\"`"),
        );
        return;
    };
    // Open holes park only themselves: the rest of the joint still wants a step.
    if open.count.value < joint.count.value {
        let (left, all) = (open.count.value, joint.count.value);
        let message = format!("no step rivets or bolts joint {title}, of which {left} of {all} holes stay open");
        let help = format!("add the joint to a fastening step for the other {} holes", all - left);
        sink.push(sink.error(joint.id.span, message).label(open.count.span, "these stay open").help(help));
        return;
    }
    let later = joint.filled_by.is_some_and(|until| is_later(until, joint, at));
    if !later {
        let message = format!("joint {title} stays open until `{}`, which is not a later step", open.until.value);
        let help = "name a step that comes after the last work on the joint, as `TRAVELER/step`";
        sink.push(sink.error(joint.id.span, message).label(open.until.span, "not later").help(help));
    }
}

/// Holes that take the fasteners of another joint are filled where that joint is fastened.
fn shared_holes(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(open), Some(with), Some(until)) = (&joint.leave_open, joint.shares_with, joint.filled_by) else { return };
    let other = at.job.joint(with);
    if other.fastenings().any(|worked| worked.at == until) {
        return;
    }
    let message = format!(
        "the holes that joint {} leaves open take the fasteners of {}, which step {} does not fasten",
        joint.title(),
        other.id.value,
        at.job.step_name(until)
    );
    let help =
        "name a joint that the step rivets or bolts, or leave `joint` out where the holes get their own fasteners";
    let finding = sink.error(open.span, message).label(open.until.span, "this step").help(help);
    sink.push(finding);
}

/// Whether a step comes after the last step that works on the joint.
fn is_later(until: StepRef, joint: &Joint, at: &At<'_>) -> bool {
    if until.traveler == at.traveler_index {
        return joint.life.iter().all(|worked| worked.at.traveler != until.traveler || worked.at.step < until.step);
    }
    !comes_before(until.traveler, at.traveler, at)
}

/// Whether a traveler must be finished before another one, directly or by way of others.
fn comes_before(wanted: usize, traveler: &Traveler, at: &At<'_>) -> bool {
    let mut seen = vec![false; at.job.travelers.len()];
    let mut open: Vec<usize> = traveler.after.iter().map(|before| before.value).collect();
    while let Some(next) = open.pop() {
        if next == wanted {
            return true;
        }
        if !std::mem::replace(&mut seen[next], true) {
            open.extend(at.job.travelers[next].after.iter().map(|before| before.value));
        }
    }
    false
}
