//! # grip-short
//!
//! ## What it checks
//! The grip of a bolt reaches through the washers under its head and the stack, but for one thread at most.
//!
//! ## Why it matters
//! Threads in the hole bear like a file: they dig into the sheet, and the thread's root is where a bolt breaks in shear.
//!
//! ## Source
//! - `WW2` service and repair manual of a 1940s fighter, par. 10 to 18: no thread in the shear plane (must); grade A.
//! - `FAA-HB-7` FAA-H-8083-30, aircraft hardware: not more than one thread in the hole (should); from memory, grade C.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-214"]   # .250 and .125
//! fastener = "AN3-5A"              # grip .250
//! ```
//!
//! ## How to put it right
//! Use the bolt that the help names, or take a washer from under the head.
//!
//! ## When to allow it
//! When the drawing puts the thread in a plate that carries no shear.

use crate::hardware::{Bolt, Thread, slack_with};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_THICKNESS, bolt, fitting_bolts, washer_stack};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(bolt) = bolt(joint) else { return };
    let Some(stack) = joint.thickness() else { return sink.cannot(NO_THICKNESS) };
    let Some(head) = washer_stack(&joint.washers_head, sink) else { return };
    let Some(grip) = &bolt.grip else { return no_length_reaches(joint, bolt, stack, head, sink) };
    let thread = bolt.thread.map_or(Length::ZERO, Thread::pitch);
    if (grip.value + thread).reaches(stack + head, slack_with(head)) {
        return;
    }
    let message =
        format!("grip {} of {} ends in the hole: head washers and stack are {}", grip.value, joint.call, stack + head);
    let finding = sink
        .at_most_error(&grip.basis, joint.spec.fastener.span, message)
        .label(joint.spec.stack.span, format!("stack {stack}"));
    sink.push(finding.help(fitting_bolts(joint, bolt, stack)));
}

/// A call of a size alone, whose length would come from the stack.
fn no_length_reaches(joint: &Joint, bolt: &Bolt, stack: Length, head: Length, sink: &mut Sink<'_>) {
    // Where a longer one exists, the rule for long grips names the two nearest.
    if let (Some(longest), None) = bolt.nearest_grips(stack + head) {
        let grip = longest.grip.as_ref().map_or(Length::ZERO, |grip| grip.value);
        let message = format!("the longest listed, {} with grip {grip}, ends in the hole", longest.call.usual);
        sink.push(sink.error(joint.spec.fastener.span, message).label(joint.spec.stack.span, format!("stack {stack}")));
    }
}
