//! # fastened-twice
//!
//! ## What it checks
//! At most one step, of whatever traveler, rivets or bolts a joint for good. The step that `leave-open` names may fill the holes left open.
//!
//! ## Why it matters
//! Two steps that claim one joint give it two sign-offs, and neither says which fasteners it stands for.
//!
//! ## Source
//! - `completeness` completeness of the spec: one joint, one final fastening step.
//!
//! ## Example that fires
//! ```toml
//! [[step]]
//! id = "rivet-ribs"
//! do = "rivet"
//! joints = ["J1", "J2"]
//! [[step]]
//! id = "rivet-skin"
//! do = "rivet"
//! joints = ["J2", "J3"]      # J2 again
//! ```
//!
//! ## How to put it right
//! Keep the joint in the step that really fastens it; split it into two joints where each step drives a part of it.
//!
//! ## When to allow it
//! When one joint is fastened over two evenings on purpose and both signatures are wanted.

use crate::job::{Joint, LivesAt};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    let fills_open_holes = |worked: &&LivesAt| joint.is_filled_by(worked.at);
    let claims: Vec<&LivesAt> = joint.fastenings().filter(|worked| !fills_open_holes(worked)).collect();
    let name = |worked: &LivesAt| at.step_name(worked.at);
    for (nth, again) in claims.iter().enumerate() {
        // Each hand of a joint may have a step of its own.
        let Some(first) = claims[..nth].iter().find(|first| first.is_on(again.hand)) else { continue };
        let message =
            format!("joint {} is fastened in step {} and again in step {}", joint.title(), name(first), name(again));
        let help = "keep it in one of the steps, or split it into two joints with their own counts";
        sink.push(sink.error(again.span, message).label(first.span, "fastened here first").help(help));
    }
}
