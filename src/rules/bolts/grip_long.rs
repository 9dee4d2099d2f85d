//! # grip-long
//!
//! ## What it checks
//! The grip of a bolt is no longer than the stack and all washers together, and the stack not below `limits = { grip
//! = .. }` of the plans. No limit of the plans gives the nut thread where there is none. Of a metric bolt it is judged where
//! the thread begins: length less thread (ISO 4014).
//!
//! ## Why it matters
//! The nut then runs out of thread before it clamps anything: it reaches its torque against the shank, and the joint is
//! loose.
//!
//! ## Source
//! - `geometry` geometry: the nut needs thread where it sits.
//! - `ISO4014-Q` ISO 4014 and ISO 4017, dimensions, as given by reference pages: length of thread (shall); grade B.
//! - `AN-TBL` AN3 to AN6 grip and length table: grips of AN3 to AN6 (shall); grade A.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]   # .063 and .063
//! fastener = "AN3-6A"              # grip .375
//! ```
//!
//! ## How to put it right
//! Use the bolt that the help names, or add washers up to 1/8 in in all.
//!
//! ## When to allow it
//! When a bushing or spacer that is no layer of the stack fills the gap: better add it to the stack.

use crate::hardware::{Bolt, limit, may_take_up_grip, slack_with};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_GRIP, NO_THICKNESS, bolt, fitting_bolts, washer_stack};
use crate::rules::plans::{ByPlans, by_plans, outside_plans};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(bolt) = bolt(joint) else { return };
    let Some(stack) = joint.thickness() else { return sink.cannot(NO_THICKNESS) };
    let Some((head, nut)) = washer_stack(&joint.washers_head, sink).zip(washer_stack(&joint.washers_nut, sink)) else {
        return;
    };
    let plans = joint.plans_grip();
    if let (ByPlans::Below, Some(plans)) = (by_plans(plans.as_ref(), stack, limit::slack().value), &plans) {
        let finding =
            outside_plans(plans, sink, joint.spec.fastener.span, &format!("stack {}", sink.style.length(stack)));
        return sink
            .push(finding.label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack))));
    }
    let Some(grip) = bolt.thread_starts() else { return no_length_fits(joint, bolt, stack, head, sink) };
    let washers = head + nut;
    let all = stack + washers;
    if all.reaches(grip.value, slack_with(washers)) {
        return;
    }
    let begins = sink.style.length(grip.value);
    let all_of_it = sink.style.length(all);
    let message = if bolt.thread_from.is_some() {
        format!("the thread of {} begins at {begins}, behind stack and washers, {all_of_it}", joint.call)
    } else {
        format!("grip {begins} of {} is longer than stack and washers, {all_of_it}", joint.call)
    };
    let finding = sink
        .at_most_error(&grip.basis, joint.spec.fastener.span, message)
        .label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack)));
    let fitting = fitting_bolts(joint, bolt, stack, sink.style);
    let missing = grip.value - all;
    // More washers than that have a rule of their own against them.
    let by_washers = may_take_up_grip(washers + missing);
    sink.push(finding.help(if by_washers {
        format!("{fitting}; or add {missing} of washers", missing = sink.style.length(missing))
    } else {
        fitting
    }));
}

/// A call of a size alone, whose length would come from the stack.
fn no_length_fits(joint: &Joint, bolt: &Bolt, stack: Length, head: Length, sink: &mut Sink<'_>) {
    let grip = |bolt: &Bolt| bolt.thread_starts().map_or(Length::ZERO, |grip| grip.value);
    let message = match bolt.nearest_grips(stack + head) {
        (None, None) => return sink.cannot(NO_GRIP),
        (Some(short), Some(long)) => format!(
            "no grip suits the stack with these washers: {} has {}, too short, and {} has {}, too long",
            short.call.usual,
            sink.style.length(grip(&short)),
            long.call.usual,
            sink.style.length(grip(&long))
        ),
        (None, Some(long)) => {
            format!(
                "the shortest grip, {} of {}, is longer than stack and washers",
                sink.style.length(grip(&long)),
                long.call.usual
            )
        }
        // Too short at its longest: the rule for short grips says so.
        (Some(_), None) => return,
    };
    let finding = sink
        .error(joint.spec.fastener.span, message)
        .label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack)));
    sink.push(finding.help(fitting_bolts(joint, bolt, stack, sink.style)));
}
