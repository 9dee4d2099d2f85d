//! # hole-too-large
//!
//! ## What it checks
//! The final hole is not above the largest hole that any source lists for the fastener. Above the first letter drill over a
//! bolt's diameter it is an error whatever the tables list: no bolt gets a larger one. A hole of the
//! plans (`limits`) takes the place of the tables.
//!
//! ## Why it matters
//! A rivet fills a hole only so far: in a large one the shank leans, the head is formed from too little metal, and the
//! joint works loose. A bolt in a large hole carries load only after it has moved.
//!
//! ## Source
//! - `H5-T8.1.2a` MIL-HDBK-5J, Table 8.1.2(a): nominal rivet holes; the circular refers to it (should); grade A-calc.
//! - `TM-221` TM 10-5410-221-14/1, Table 4-3 (blind rivets of a shelter): blind rivet holes with limits (should);
//!   grade A.
//! - `AC-7-39` AC 43.13-1B, par. 7-39: the first letter drill larger than the bolt is generally permissible (should); grade
//!   A.
//! - `TM-BD74` TM 1-1520-240-BD, par. 2-5 and 2-6 (battle-damage repair of a helicopter): bolt hole limits (should);
//!   grade A-else.
//!
//! Holes that only memory lists widen what is accepted; alone they make a warning, never an error. A kit fastener is
//! judged by its own `hole`.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD4-5"
//! holes = { final = "#27" }     # .144 for a .125 rivet: the hole for nothing, and close to the 5/32 rivet
//! ```
//!
//! ## How to put it right
//! Give the nominal hole of the fastener as `final`. A hole that is already drilled too large takes the next larger
//! fastener, if edge distance and pitch still allow it.
//!
//! ## When to allow it
//! When the drawing asks for a clearance hole, as under a plate that is adjusted on assembly: better as `limits = { hole = ..,
//! because = ".." }`, which prints it as the plans' own.

use crate::hardware::{Bolt, Fastener, largest_hole};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_HOLE, beyond_listed, bolt, right_hole, through};
use crate::rules::plans::{ByPlans, by_plans, outside_plans};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    // A call that does not decode has its own rule.
    let (Ok(fastener), Some((_, shank))) = (&joint.fastener, through(joint)) else { return };
    let Some(hole) = joint.final_hole() else { return sink.cannot(NO_HOLE) };
    let span = hole.span.unwrap_or(joint.spec.fastener.span);
    let plans = joint.plans_hole();
    match (by_plans(plans.as_ref(), hole.size.length, Length::ZERO), &plans) {
        (ByPlans::Open, _) | (_, None) => {}
        (ByPlans::Above, Some(plans)) => {
            return sink.push(outside_plans(plans, sink, span, &format!("final hole {}", sink.style.size(hole.size))));
        }
        _ => return,
    }
    // No table lists holes for it, so nothing is known to be too large.
    let Some(largest) = largest_hole(fastener) else { return sink.cannot("no table lists holes for the call") };
    if hole.size.length <= largest.value {
        return;
    }
    let message = format!(
        "final hole {} is above {}, the largest listed for {}",
        sink.style.size(hole.size),
        sink.style.length(largest.value),
        joint.call
    );
    let letter = bolt(joint).and_then(Bolt::letter_drill).filter(|letter| hole.size.length > letter.value.length);
    let finding = match letter {
        Some(letter) => {
            let message =
                format!("{message}, and above {}, the first letter drill over the bolt", sink.style.size(letter.value));
            sink.at_most_error(&letter.basis, span, message)
        }
        None => beyond_listed(sink, fastener, &largest, span, message),
    };
    let finding =
        finding.label(joint.spec.fastener.span, format!("nominal diameter {shank}", shank = sink.style.length(shank)));
    let next = match fastener {
        Fastener::SolidRivet(rivet) if rivet.call.kit.is_none() => {
            rivet.next_larger().map(|next| format!("the next larger rivet is {}", sink.style.rivet(next)))
        }
        _ => None,
    };
    let help: Vec<String> = right_hole(fastener, sink).into_iter().chain(next).collect();
    sink.push(if help.is_empty() { finding } else { finding.help(help.join("; ")) });
}
