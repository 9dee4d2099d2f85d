//! # locknut-on-rotating-joint
//!
//! ## What it checks
//! Where the joint turns the bolt or the nut (`rotates = true`, and no `clamped`), the nut is not kept by self-locking
//! alone: a castle nut with a cotter pin, or a self-locking castle nut with one, on a bolt that is drilled for the pin.
//! Where the bolt clamps an inner race and the part turns on that, a self-locking nut may be used.
//!
//! ## Why it matters
//! A part that turns on its bolt turns the nut a little every time, until it is off.
//!
//! ## Source
//! - `AC-7-64` AC 43.13-1B, par. 7-64: not on a bolt or nut subject to rotation in operation (must); they may be used where
//!   the inner race is clamped (7-64d); grade A.
//!
//! ## Example that fires
//! ```toml
//! rotates = true
//! fastener = "AN3-10A"
//! nut = "MS21044N3"
//! ```
//!
//! ## How to put it right
//! Call a drilled bolt, a castle nut and a cotter pin. Where the bolt holds the inner race of a bearing, a pulley or a rod
//! end fast, write `clamped = "inner race"`.
//!
//! ## When to allow it
//! When something else clamps what the part turns on, and the reason says what.

use crate::hardware::Fastener;
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_ROTATES, bolt, nut};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(bolt), Some((nut, written))) = (bolt(joint), nut(joint)) else { return };
    if !nut.kind.is_self_locking() {
        return;
    }
    let Some(rotates) = joint.rotates else { return sink.cannot(NO_ROTATES) };
    // A pin locks only where there is a hole for it.
    let pinned = nut.kind.is_castle()
        && bolt.drilled_shank
        && matches!(joint.cotter.as_ref().map(|pin| &pin.fastener), Some(Ok(Fastener::CotterPin(_))));
    if !rotates.value || joint.clamped.is_some() || pinned {
        return;
    }
    let message = format!("self-locking nut {} on {}, a joint that rotates", written.value, joint.call);
    let finding = sink.error(written.span, message).label(rotates.span, "rotates in use");
    let drilled = if bolt.drilled_shank {
        "a castle nut and a cotter pin"
    } else {
        "a bolt with a drilled shank, a castle nut and a cotter pin"
    };
    sink.push(finding.help(format!(
        "call {drilled}; where the bolt clamps what the part turns on, write `clamped = \"inner race\"`"
    )));
}
