//! # grip-short
//!
//! ## What it checks
//! The grip of a bolt reaches through the washers under its head and the stack, but for one thread at most. Of a metric bolt
//! it is judged where the thread begins (ISO 4014); one that is threaded to the head (ISO 4017) is warned of in structure.
//! `limits = { grip = .. }` of the plans takes the place of that: a stack above it is an error, and inside it only a bolt that
//! does not come out of the stack.
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
//! When the drawing puts the thread in a plate that carries no shear: better as `limits = { grip = .., because = ".." }`.

use crate::hardware::{Bolt, Thread, limit, slack_with};
use crate::job::{Hardware, Joint, Structure};
use crate::report::Severity;
use crate::rules::facts::{NO_STRUCTURE, NO_THICKNESS, bolt, fitting_bolts, washer_stack};
use crate::rules::plans::{ByPlans, by_plans, outside_plans};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(bolt) = bolt(joint) else { return };
    let Some(stack) = joint.thickness() else { return sink.cannot(NO_THICKNESS) };
    let Some(head) = washer_stack(&joint.washers_head, sink) else { return };
    let plans = joint.plans_grip();
    match (by_plans(plans.as_ref(), stack, limit::slack().value), &plans) {
        (ByPlans::Inside, _) => return no_thread_left(joint, bolt, stack + head, sink),
        (ByPlans::Above, Some(plans)) => {
            let finding =
                outside_plans(plans, sink, joint.spec.fastener.span, &format!("stack {}", sink.style.length(stack)));
            return sink.push(
                finding.label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack))),
            );
        }
        _ => {}
    }
    if bolt.is_threaded_to_head() {
        return threaded_to_head(joint, sink);
    }
    let Some(grip) = bolt.thread_starts() else { return no_length_reaches(joint, bolt, stack, head, sink) };
    let thread = bolt.thread.map_or(Length::ZERO, Thread::pitch);
    if (grip.value + thread).reaches(stack + head, slack_with(head)) {
        return;
    }
    let begins = sink.style.length(grip.value);
    let reach = sink.style.length(stack + head);
    let message = if bolt.thread_from.is_some() {
        format!("the thread of {} begins at {begins}, in the hole: head washers and stack are {reach}", joint.call)
    } else {
        format!("grip {begins} of {} ends in the hole: head washers and stack are {reach}", joint.call)
    };
    let finding = sink
        .at_most_error(&grip.basis, joint.spec.fastener.span, message)
        .label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack)));
    sink.push(finding.help(fitting_bolts(joint, bolt, stack, sink.style)));
}

/// A screw that has no shank: in structure its thread bears on the sheets.
fn threaded_to_head(joint: &Joint, sink: &mut Sink<'_>) {
    let Some(structure) = joint.structure else { return sink.cannot(NO_STRUCTURE) };
    if structure.value == Structure::Nothing {
        return;
    }
    let message = format!("{} is threaded to the head: its thread bears in the hole", joint.call);
    let finding = sink.warning(joint.spec.fastener.span, message).label(structure.span, "structure");
    sink.push(finding.help("call a bolt with a shank whose thread begins behind the stack, as ISO 4014 has one"));
}

/// A call of a size alone, whose length would come from the stack.
fn no_length_reaches(joint: &Joint, bolt: &Bolt, stack: Length, head: Length, sink: &mut Sink<'_>) {
    // Where a longer one exists, the rule for long grips names the two nearest.
    if let (Some(longest), None) = bolt.nearest_grips(stack + head) {
        let grip = longest.thread_starts().map_or(Length::ZERO, |grip| grip.value);
        let message = format!(
            "the longest listed, {} with grip {grip}, ends in the hole",
            longest.call.usual,
            grip = sink.style.length(grip)
        );
        sink.push(
            sink.error(joint.spec.fastener.span, message)
                .label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack))),
        );
    }
}

/// The plans let the thread bear; a bolt that does not come out of the stack holds no nut.
fn no_thread_left(joint: &Joint, bolt: &Bolt, reach: Length, sink: &mut Sink<'_>) {
    // A washer of unknown thickness only makes the bolt shorter still.
    let reach = reach + joint.washers_nut.iter().filter_map(Hardware::thickness).sum();
    let Some(length) = bolt.length.as_ref().filter(|length| length.value <= reach) else { return };
    let message = format!(
        "{} is {} long and ends in head washers, stack and nut washers, {reach}",
        joint.call,
        sink.style.length(length.value),
        reach = sink.style.length(reach)
    );
    let finding = sink.at_most_error(&length.basis, joint.spec.fastener.span, message);
    let help = format!(
        "more than {reach} passes: no limit of the plans gives a bolt thread for its nut",
        reach = sink.style.length(reach)
    );
    sink.push(finding.label(joint.spec.stack.span, "the stack").help(help));
}
