//! # temporary-left
//!
//! ## What it checks
//! A joint with `temporary` hardware has a later step that takes it out: one that fastens the joint for good, takes it or a
//! part of its stack apart, or fills all of its holes for another traveler.
//!
//! ## Why it matters
//! Fit-up bolts and nuts that are only finger tight look finished from a step away.
//!
//! ## Source
//! - `practice` shop practice of this project: temporary hardware is listed until the step that replaces it.
//!
//! ## Example that fires
//! ```toml
//! [[joint]]
//! id = "J4"
//! temporary = { fastener = "AN3-6A", nut = "AN315-3R", why = "removed for painting" }
//! # and no step with do = "bolt" lists "J4", or only one before the last fit-up
//! ```
//!
//! ## How to put it right
//! Add a step that fits the final hardware after the last `fit` step of the joint, in another traveler with the joint as
//! `FUS-10/J4`.
//!
//! ## When to allow it
//! When the final hardware goes in with an assembly for which no traveler is written yet; say which in the reason.

use crate::job::{Joint, StepKind};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, at: &At<'_>, sink: &mut Sink<'_>) {
    let Some(temporary) = &joint.temporary else { return };
    let times = at.job.fit_ups(at.joint());
    let ends = match times.last() {
        Some(last) => last.taken_out.is_some(),
        // Never fitted up by a step: the fastening is all there is.
        None => joint.fastenings().next().is_some(),
    };
    if ends {
        return;
    }
    let fitted = joint.life.iter().rfind(|worked| worked.kind == StepKind::Fit);
    let call = &temporary.fastener.written;
    let message = format!("temporary {} stays in joint {}: no later step replaces it", call.value, joint.title());
    let finding =
        sink.error(call.span, message).help(format!("add a step that fits {} for good", joint.spec.fastener.value));
    sink.push(match fitted {
        Some(fitted) => finding.label(fitted.span, format!("last fitted up in step {}", at.step_name(fitted.at))),
        None => finding,
    });
}
