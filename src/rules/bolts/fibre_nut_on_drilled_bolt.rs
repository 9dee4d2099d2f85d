//! # fibre-nut-on-drilled-bolt
//!
//! ## What it checks
//! A nut with a fibre or nylon insert is not used on a bolt under 5/16 whose shank is drilled.
//!
//! ## Why it matters
//! The edge of the cotter hole cuts the insert when the nut goes over it.
//!
//! ## Source
//! - `AC1A-5` AC 43.13-1A, chapter 5, as quoted: not on drilled bolts under 5/16 (should); grade B.
//!
//! ## Example that fires
//! ```toml
//! fastener = "AN3-6"             # no A: drilled
//! nut = "MS21044N3"
//! ```
//!
//! ## How to put it right
//! Call the bolt with the A, or a castle nut and its pin.
//!
//! ## When to allow it
//! When the hole is chamfered and the insert is seen to be whole after a trial.

use crate::hardware::{NutKind, limit};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_LOCK, bolt, nut};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(bolt), Some((nut, written))) = (bolt(joint), nut(joint)) else { return };
    // From this size on the holes are deburred well enough.
    let safe_from = limit::fibre_nut_on_drilled_bolt().value;
    if !bolt.drilled_shank || bolt.diameter >= safe_from {
        return;
    }
    match nut.kind {
        NutKind::SelfLockingFibre => {}
        NutKind::SelfLocking => return sink.cannot(NO_LOCK),
        _ => return,
    }
    let message = format!(
        "nut {} has an insert, and {} under {safe_from} is drilled",
        written.value,
        joint.call,
        safe_from = sink.style.length(safe_from)
    );
    let finding = sink.warning(written.span, message).label(joint.spec.fastener.span, "drilled shank");
    sink.push(match bolt.dash {
        Some(dash) => {
            let mut plain = bolt.clone();
            plain.drilled_shank = false;
            let plain = plain.with_dash(dash);
            finding.help(format!("the same bolt without the hole is {}", plain.call.usual))
        }
        None => finding.help("call the bolt without the hole"),
    });
}
