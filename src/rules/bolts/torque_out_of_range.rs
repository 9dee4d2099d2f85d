//! # torque-out-of-range
//!
//! ## What it checks
//! The torque that a spec gives lies within Table 7-1 for the thread and the nut's column, tension or shear. The table is
//! for dry cadmium-plated threads and leaves out the nut's own drag.
//!
//! ## Why it matters
//! Too little lets the joint work, too much stretches the bolt or strips the nut; neither can be seen.
//!
//! ## Source
//! - `AC-T7-1` AC 43.13-1B, Table 7-1: torque by thread and nut (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! fastener = "AN3-6A"
//! nut = "MS21044N3"              # tension: 20-25 in-lb
//! torque = "30 in-lb"
//! ```
//!
//! ## How to put it right
//! Give the table's range, or leave `torque` out: it then comes from the table.
//!
//! ## When to allow it
//! When the drawing gives this torque: the reason names the drawing, and whether drag is in it.

use crate::hardware::{Metal, NutDuty, torque_for};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{Through, kind, nut};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(torque), Some(Through::Bolt), Some((nut, written))) = (joint.torque, kind(joint), nut(joint)) else {
        return;
    };
    // The table is for dry threads, and for steel.
    let is_aluminium = joint.fastener.as_ref().is_ok_and(|bolt| bolt.metal() == Some(Metal::Aluminium));
    if joint.lubricated.is_some_and(|lubricated| lubricated.value) || is_aluminium {
        return sink.cannot("the torque table is for dry steel threads");
    }
    let Some(table) = nut.thread.and_then(|thread| torque_for(thread, nut.duty)) else {
        return sink.cannot("the torque table does not list this thread");
    };
    let range = table.value.install;
    if torque.value.low >= range.low && torque.value.high <= range.high {
        return;
    }
    let message = format!("torque {} is outside the table, {range}", torque.value);
    let finding = sink.error(torque.span, message).label(
        written.span,
        match nut.duty {
            NutDuty::Tension => "a nut of the tension column",
            NutDuty::Shear => "a nut of the shear column",
        },
    );
    sink.push(finding.help(format!("within {range} passes; the nut's own drag is added at the wrench")));
}
