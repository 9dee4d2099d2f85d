//! # castle-nut-on-undrilled-bolt
//!
//! ## What it checks
//! A castle nut goes on a bolt whose shank is drilled for a cotter pin; a self-locking one too, where a `cotter` is named.
//!
//! ## Why it matters
//! Without the hole the nut cannot be locked, and drilling a finished bolt spoils its strength and its plating.
//!
//! ## Source
//! - `AN-2` AN3 to AN20 drawings, part numbers, as quoted: A after the dash is a shank that is not drilled (shall);
//!   grade A.
//!
//! ## Example that fires
//! ```toml
//! fastener = "AN3-6A"            # A: not drilled
//! nut = "AN310-3"
//! ```
//!
//! ## How to put it right
//! Call the same bolt without the A, or a self-locking nut, as the drawing has it.
//!
//! ## When to allow it
//! Never: call what is really fitted.

use crate::hardware::NutKind;
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{bolt, nut};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(bolt), Some((nut, written))) = (bolt(joint), nut(joint)) else { return };
    // A self-locking castle nut locks without the pin too, but a pin that is called needs its hole.
    let wants_hole = nut.kind == NutKind::Castle || (nut.kind.is_castle() && joint.cotter.is_some());
    if !wants_hole || bolt.drilled_shank {
        return;
    }
    if !bolt.tells_drilling() {
        return sink.cannot("the entry of the bolt does not say `drilled-shank`");
    }
    let message = format!("castle nut {} needs a cotter hole, and {} has none", written.value, joint.call);
    let finding = sink.error(joint.spec.fastener.span, message).label(written.span, "castle nut");
    sink.push(match bolt.dash {
        Some(dash) => {
            let mut drilled = bolt.clone();
            drilled.drilled_shank = true;
            let drilled = drilled.with_dash(dash);
            finding.help(format!("the same bolt with a drilled shank is {}", drilled.call.usual))
        }
        None => finding.help("call the bolt with a drilled shank"),
    });
}
