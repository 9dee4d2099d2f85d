//! # rivet-short
//!
//! ## What it checks
//! Enough of a solid rivet sticks out of the stack to form its shop head: 1.25 D for a head of 1.5 D x 0.5 D (else a
//! warning), and 0.676 D plus what fills the hole for the smallest acceptable head of 1.3 D x 0.4 D (else an error).
//! Inside `limits = { grip = .. }` of the plans only the error is left; a stack above them is one as well.
//!
//! ## Why it matters
//! A short rivet makes a small, flat or cracked head, and drilling it out risks the hole.
//!
//! ## Source
//! - `M47196-Q` MIL-R-47196A, Table III, as quoted: smallest head 1.3 D x 0.4 D (shall); grade B.
//! - `AC-F4-6` AC 43.13-1B, Figure 4-6: head 1.5 D x 0.5 D (should); from memory, grade C, so it makes the warning.
//! - `arithmetic` arithmetic: the metal of a head is its width squared times its height.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]   # .063 and .063
//! fastener = "MS20470AD4-3"        # .188 long: .062 sticks out, half of D
//! ```
//!
//! ## How to put it right
//! Use a length that the help names, or write family and diameter without a length: it then comes from the stack.
//!
//! ## When to allow it
//! When a trial piece in the same stack gave a head within limits, and the reason names it.

use crate::hardware::{free_shank_limits, hole_fill, limit, reaches, source};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_LENGTH, NO_THICKNESS, fitting_lengths, in_diameters, solid};
use crate::rules::plans::{ByPlans, by_plans, outside_plans};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(rivet) = solid(joint) else { return };
    let Some(stack) = joint.thickness() else { return sink.cannot(NO_THICKNESS) };
    let plans = joint.plans_grip();
    let by_plans = by_plans(plans.as_ref(), stack, limit::slack().value);
    if let (ByPlans::Above, Some(plans)) = (by_plans, &plans) {
        let finding =
            outside_plans(plans, sink, joint.spec.fastener.span, &format!("stack {}", sink.style.length(stack)));
        return sink
            .push(finding.label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack))));
    }
    let (d, limits) = (rivet.diameter, free_shank_limits(rivet.diameter));
    // Without a known hole nothing goes into filling it: the milder limit.
    let hole = joint.final_hole().map_or(d, |hole| hole.size.length);
    let Some(free) = rivet.free_shank(stack) else {
        if rivet.call.kit.is_some() || !rivet.lengths_for(stack, hole).is_empty() {
            return sink.cannot(NO_LENGTH);
        }
        // A call of family and diameter alone: its length would come from the stack.
        let message =
            format!("no standard length of {} suits stack {stack}", joint.call, stack = sink.style.length(stack));
        let finding = sink
            .error(joint.spec.fastener.span, message)
            .label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack)));
        return sink.push(finding.source(source("arithmetic").cite()).help("call a larger diameter, or a bolt"));
    };
    let enough = limits.enough.value + hole_fill(stack, hole, d);
    let full = limits.full.value;
    let sticks_out = if free < Length::ZERO {
        format!("rivet ends {inside} inside the stack", inside = sink.style.length(Length::ZERO - free))
    } else {
        format!("free shank {free} is {}", in_diameters(free, d), free = sink.style.length(free))
    };
    let finding = if !reaches(free, enough) {
        let message = format!(
            "{sticks_out}; the smallest head takes {}, {enough}",
            in_diameters(enough, d),
            enough = sink.style.at_least(enough)
        );
        sink.at_most_error(&limits.enough.basis, joint.spec.fastener.span, message)
    } else if !reaches(free, full) && by_plans == ByPlans::Open {
        let message = format!(
            "{sticks_out}; a full head takes {}, {full}",
            in_diameters(full, d),
            full = sink.style.at_least(full)
        );
        sink.warning(joint.spec.fastener.span, message).source(limits.full.basis.cite())
    } else {
        return;
    };
    let finding = finding
        .label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack)))
        .help(fitting_lengths(rivet, stack, hole));
    sink.push(finding);
}
