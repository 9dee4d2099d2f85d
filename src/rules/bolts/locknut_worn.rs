//! # locknut-worn
//!
//! ## What it checks
//! The measured run-down torque of a self-locking nut that is used again (`run-down`) is at least that of Table 7-2 for
//! its thread.
//!
//! ## Why it matters
//! Each turn wears the lock; below the least the nut holds no better than a plain one.
//!
//! ## Source
//! - `AC-T7-2` AC 43.13-1B, Table 7-2: least prevailing torque of reused nuts, 7/16 and larger (must); grade A.
//! - `TM-240` TM 55-1520-240-23-1, p. 1-14: the same for 10-32 to 3/8-24 (must); grade A.
//!
//! ## Example that fires
//! ```toml
//! nut = "MS21044N3"              # 10-32: 2 in-lb
//! run-down = "1 in-lb"
//! ```
//!
//! ## How to put it right
//! Fit a new nut, and write its first run-down torque beside the joint.
//!
//! ## When to allow it
//! Never: a nut costs less than the doubt.

use crate::hardware::prevailing_torque;
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::nut;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(measured), Some((nut, written))) = (joint.run_down, nut(joint)) else { return };
    // Only a nut that locks itself has a drag to measure.
    if !nut.kind.is_self_locking() {
        return;
    }
    let Some(least) = nut.thread.and_then(prevailing_torque) else {
        return sink.cannot("no table gives the least run-down torque for this thread");
    };
    if measured.value.low >= least.value {
        return;
    }
    let message = format!(
        "run-down torque {} of nut {} is under {}, the least for one that is used again",
        sink.style.torque(measured.value.low),
        written.value,
        sink.style.torque(least.value)
    );
    let finding = sink.at_most_error(&least.basis, measured.span, message).label(written.span, "the nut");
    sink.push(finding.help("fit a new nut"));
}
