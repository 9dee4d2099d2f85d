//! # rivet-long
//!
//! ## What it checks
//! No more of a solid rivet sticks out of the stack than forms a head: above 2.0 D a warning, above 2.25 D an error. The
//! length nearest to stack + 1.5 D stays silent, and so does the next standard size up from 3/32 on.
//! Inside `limits = { grip = .. }` of the plans only the error is left; a stack below them is one as well.
//!
//! ## Why it matters
//! A long shank bends instead of swelling: the head lies over, or folds, and the hole is not filled.
//!
//! ## Source
//! - `NAV-547` NAVEDTRA 14018, chapter 13, rivet selection: 1.5 D beyond the stack (should); grade A. The two limits are
//!   what that rule and its rounding leave (arithmetic).
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]   # .032 and .040
//! fastener = "MS20470AD4-6"        # .375 long: .303 sticks out, 2.4 D
//! ```
//!
//! ## How to put it right
//! Use a length that the help names, or write family and diameter without a length. A rivet may also be cut to length.
//!
//! ## When to allow it
//! When the rivets are cut to length on the bench, and the step says so.

use crate::hardware::{free_shank_limits, hole_fill, limit, reaches, within};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_LENGTH, NO_THICKNESS, fitting_lengths, in_diameters, solid};
use crate::rules::plans::{ByPlans, by_plans, outside_plans};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(rivet) = solid(joint) else { return };
    let Some(stack) = joint.thickness() else { return sink.cannot(NO_THICKNESS) };
    let plans = joint.plans_grip();
    let by_plans = by_plans(plans.as_ref(), stack, limit::slack().value);
    if let (ByPlans::Below, Some(plans)) = (by_plans, &plans) {
        let finding =
            outside_plans(plans, sink, joint.spec.fastener.span, &format!("stack {}", sink.style.length(stack)));
        return sink
            .push(finding.label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack))));
    }
    let Some(free) = rivet.free_shank(stack) else { return sink.cannot(NO_LENGTH) };
    let (d, limits) = (rivet.diameter, free_shank_limits(rivet.diameter));
    let (usual, most) = (limits.usual.value, limits.most.value);
    let hole = joint.final_hole().map_or(d, |hole| hole.size.length);
    // In a thick stack the hole takes so much of the shank that it is too short: told there.
    if !reaches(free, limits.enough.value + hole_fill(stack, hole, d)) {
        return;
    }
    let sticks_out = format!("free shank {free} is {}", in_diameters(free, d), free = sink.style.length(free));
    let finding = if !within(free, most) {
        let message = format!(
            "{sticks_out}; more than {}, {most}, folds over",
            in_diameters(most, d),
            most = sink.style.at_most(most)
        );
        sink.at_most_error(&limits.most.basis, joint.spec.fastener.span, message)
    } else if !within(free, usual) && by_plans == ByPlans::Open {
        let message = format!(
            "{sticks_out}; usual is {}, {usual}, or less",
            in_diameters(usual, d),
            usual = sink.style.at_most(usual)
        );
        sink.warning(joint.spec.fastener.span, message).source(limits.usual.basis.cite())
    } else {
        return;
    };
    sink.push(
        finding
            .label(joint.spec.stack.span, format!("stack {stack}", stack = sink.style.length(stack)))
            .help(fitting_lengths(rivet, stack, hole)),
    );
}
