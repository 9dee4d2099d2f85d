//! # hole-too-small
//!
//! ## What it checks
//! The final hole is not below the shank (error), and not below the smallest hole that any source lists for the fastener:
//! an error for rivets, a warning for bolts and screws, which plans also fit tight. A hole of the plans (`limits`) takes the
//! place of the tables: below it is an error, inside it nothing but what the shank does not pass through.
//!
//! ## Why it matters
//! A fastener forced into a small hole scrapes its finish off, stretches the sheet, or starts a crack at the edge.
//!
//! ## Source
//! - `H5-T8.1.2a` MIL-HDBK-5J, Table 8.1.2(a): nominal rivet holes; the circular refers to it (should); grade A-calc.
//! - `TM-221` TM 10-5410-221-14/1, Table 4-3 (blind rivets of a shelter): blind rivet holes with limits (should);
//!   grade A.
//! - `TM-BD74` TM 1-1520-240-BD, par. 2-5 and 2-6 (battle-damage repair of a helicopter): bolt hole limits (should);
//!   grade A-else.
//! - `AC-7-39` AC 43.13-1B, par. 7-39: light drive fits are reamed to size, and a letter drill is for the others (should);
//!   grade A.
//! - `AN-TBL` AN3 to AN6 grip and length table: the shank is nominal, less .003 at most (shall); grade A.
//!
//! Holes that only memory lists make a warning, never an error. A kit fastener is judged by its own `hole`.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD4-5"
//! holes = { final = "#31" }     # .120 for a .125 rivet
//! ```
//!
//! ## How to put it right
//! Give the usual hole of the fastener as `final`, or leave `final` out: it then comes from the table.
//!
//! ## When to allow it
//! When the drawing asks for an interference fit, and says so.

use crate::hardware::{Fastener, limit, smallest_hole};
use crate::job::Joint;
use crate::report::{Finding, Severity};
use crate::rules::facts::{NO_DIAMETER, NO_HOLE, Through, beyond_listed, kind, right_hole};
use crate::rules::plans::{ByPlans, by_plans, outside_plans};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    // A call that does not decode has its own rule.
    let (Ok(fastener), Some(kind)) = (&joint.fastener, kind(joint)) else { return };
    let Some(shank) = joint.diameter() else { return sink.cannot(NO_DIAMETER) };
    let Some(hole) = joint.final_hole() else { return sink.cannot(NO_HOLE) };
    let smallest = smallest_hole(fastener);
    // A bolt's shank may be a little thinner than its nominal diameter, and a screw's by an amount that no source tells:
    // there the listed holes are the limit, where there are any.
    let thinnest = match (fastener, kind) {
        (Fastener::Bolt(_), _) if smallest.is_some() => Some(shank - limit::bolt_under_nominal().value),
        (_, Through::Bolt) if smallest.is_some() => None,
        _ => Some(shank),
    };
    let below_shank = thinnest.filter(|thinnest| hole.size.length < *thinnest);
    let span = hole.span.unwrap_or(joint.spec.fastener.span);
    // The plans' own hole outranks the tables; what the shank does not pass through is too small for the plans as well.
    let plans = joint.plans_hole();
    match (by_plans(plans.as_ref(), hole.size.length, Length::ZERO), &plans, below_shank) {
        (ByPlans::Inside | ByPlans::Above, _, None) => return,
        (ByPlans::Below, Some(plans), None) => {
            return sink.push(outside_plans(plans, sink, span, &format!("final hole {}", sink.style.size(hole.size))));
        }
        _ => {}
    }
    let below_listed = smallest.as_ref().is_some_and(|smallest| hole.size.length < smallest.value);
    if below_shank.is_none() && !below_listed {
        return;
    }
    let size = hole.size;
    let finding = match (&smallest, below_shank) {
        (_, Some(thinnest)) => sink.error(
            span,
            format!(
                "final hole {size} is below the shank of {}, {thinnest}",
                joint.call,
                size = sink.style.size(size),
                thinnest = sink.style.length(thinnest)
            ),
        ),
        (Some(smallest), None) => {
            let message = format!(
                "final hole {size} is below {}, the smallest listed for {}",
                sink.style.length(smallest.value),
                joint.call,
                size = sink.style.size(size)
            );
            let finding = beyond_listed(sink, fastener, smallest, span, message);
            // A reamed push fit holds a bolt; only what the shank does not pass through is past help.
            if kind == Through::Bolt { Finding { severity: Severity::Warning, ..finding } } else { finding }
        }
        (None, None) => return,
    };
    let finding =
        finding.label(joint.spec.fastener.span, format!("nominal diameter {shank}", shank = sink.style.length(shank)));
    sink.push(match right_hole(fastener, sink) {
        Some(help) => finding.help(help),
        None => finding,
    });
}
