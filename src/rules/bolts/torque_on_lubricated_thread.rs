//! # torque-on-lubricated-thread
//!
//! ## What it checks
//! Where `lubricated = true`, the torque is not the table's: it is given, and does not lie within the table's range. A
//! torque among the `limits` of the plans passes: it is given on purpose.
//!
//! ## Why it matters
//! A lubricated thread turns more of the torque into pull: the table's value then overstretches the bolt.
//!
//! ## Source
//! - `AC-T7-1` AC 43.13-1B, Table 7-1: the table is for clean, dry threads (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! lubricated = true              # and no `torque`: the table's would be printed
//! fastener = "AN3-6A"
//! nut = "MS21044N3"
//! ```
//!
//! ## How to put it right
//! Give the torque of whoever asks for the lubricant, or clean the threads.
//!
//! ## When to allow it
//! When the drawing asks for this torque on lubricated threads.

use crate::hardware::{Fastener, torque_for};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::nut;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(lubricated), Some((nut, written))) = (joint.lubricated.filter(|lubricated| lubricated.value), nut(joint))
    else {
        return;
    };
    // An entry of the build's own for lubricated threads is what they want.
    if joint.own_torque.is_some() {
        return;
    }
    let thread = joint.fastener.as_ref().ok().and_then(Fastener::thread);
    let table = thread.and_then(|thread| torque_for(thread, nut.duty)).map(|table| table.value.install);
    let Some(range) = table else { return sink.cannot("the torque table does not list this thread") };
    // A torque among the plans' limits is one that the plans give on purpose.
    if joint.limits.as_ref().is_some_and(|limits| limits.torque.is_some()) {
        return;
    }
    let (span, how) = match joint.torque {
        None => (written.span, "no torque is given, so that the table's would be used"),
        // A nut that is left snug is not stretched by the wrench.
        Some(torque) => match torque.value.range() {
            Some(given) if given.low >= range.low && given.high <= range.high => {
                (torque.span, "the torque given is the table's")
            }
            _ => return,
        },
    };
    let message =
        format!("threads are lubricated, and {how}: {range} is for dry threads", range = sink.style.torques(range));
    let finding = sink.warning(span, message).label(lubricated.span, "lubricated");
    sink.push(finding.help("give the torque that goes with the lubricant under `torque`"));
}
