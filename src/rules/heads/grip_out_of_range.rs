//! # grip-out-of-range
//!
//! ## What it checks
//! The stack of a blind rivet lies within the rivet's grip range, or within `limits = { grip = .. }` of the plans.
//!
//! ## Why it matters
//! A blind rivet too long for its stack pulls a loose head on the far side, one too short none; from the near side both
//! look right.
//!
//! ## Source
//! - `TM-221` TM 10-5410-221-14/1, Table 4-3 (blind rivets of a shelter): grips of the commercial codes (should);
//!   grade A, 3/16 from memory.
//! - `ISO15981` ISO 15981:2002, Table 1: grips of that standard (shall); grade A.
//!
//! A range that rests on memory makes a warning, never an error. A kit fastener is judged by its own `grip`.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]   # .063 and .063
//! fastener = "IFI114-42"           # grip .063 to .125
//! ```
//!
//! ## How to put it right
//! Use the code that the help names, or write family and diameter without a grip: it then comes from the stack.
//!
//! ## When to allow it
//! When the maker's own table for this very rivet gives a wider grip: better enter it as a kit fastener with that source,
//! or as `limits = { grip = .., because = ".." }`.

use crate::hardware::limit;
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_THICKNESS, blind};
use crate::rules::plans::{ByPlans, by_plans, outside_plans};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(rivet) = blind(joint) else { return };
    let Some(stack) = joint.thickness() else { return sink.cannot(NO_THICKNESS) };
    let plans = joint.plans_grip();
    match (by_plans(plans.as_ref(), stack, limit::slack().value), &plans) {
        (ByPlans::Open, _) | (_, None) => {}
        (ByPlans::Inside, _) => return,
        (_, Some(plans)) => {
            let finding =
                outside_plans(plans, sink, joint.spec.fastener.span, &format!("stack {}", sink.style.length(stack)));
            return sink.push(
                finding.label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack))),
            );
        }
    }
    let Some((low, high)) = rivet.grip else {
        let grips = rivet.grips().filter(|_| rivet.call.kit.is_none() && rivet.fitting(stack).is_none());
        let Some((least, most)) = grips else { return sink.cannot("no grip range is known for the call") };
        // A call of family and diameter alone: its grip would come from the stack.
        let message = format!(
            "stack {} is outside every grip of {}, {}",
            sink.style.length(stack),
            joint.call,
            sink.style.range(least, most)
        );
        let finding = sink
            .at_most_error(&rivet.basis, joint.spec.fastener.span, message)
            .label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack)));
        return sink.push(finding.help("call another diameter or family, or a bolt"));
    };
    if rivet.fits(stack) != Some(false) {
        return;
    }
    let message = format!(
        "stack {stack} is outside the grip of {}, {}",
        joint.call,
        sink.style.range(low, high),
        stack = sink.style.length(stack)
    );
    let finding = sink.at_most_error(&rivet.basis, joint.spec.fastener.span, message);
    let finding = finding.label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack)));
    sink.push(match rivet.fitting(stack) {
        Some(fits) => {
            let grip =
                fits.grip.map_or_else(String::new, |(low, high)| format!(", grip {}", sink.style.range(low, high)));
            finding.help(format!("{} fits{grip}", fits.call.usual))
        }
        None if rivet.call.kit.is_some() => {
            finding.help("ask the kit for the rivet of this stack, and enter it under `[[fastener]]`")
        }
        None => finding.help("no rivet of this family and diameter covers the stack"),
    });
}
