//! # fibre-nut-too-hot
//!
//! ## What it checks
//! A self-locking nut with a fibre or nylon insert stays at or below its limit, 250 F, by the joint's `temperature`.
//!
//! ## Why it matters
//! Beyond its limit the insert softens or chars and no longer holds; the nut looks the same.
//!
//! ## Source
//! - `AC-7-64f` AC 43.13-1B, par. 7-64f: fibre and nylon at most 250 F (must); grade A.
//!
//! ## Example that fires
//! ```toml
//! temperature = "300 F"          # near the exhaust
//! nut = "MS21044N3"
//! ```
//!
//! ## How to put it right
//! Call an all-metal self-locking nut, or a castle nut with a pin.
//!
//! ## When to allow it
//! Never: measure the temperature, and give the measured value.

use crate::hardware::NutKind;
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_LOCK, NO_TEMPERATURE, nut};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some((nut, written)) = nut(joint) else { return };
    // Only a joint that gets warm asks what the nut is locked with.
    if nut.kind == NutKind::SelfLocking && joint.temperature.is_some() {
        return sink.cannot(NO_LOCK);
    }
    // All-metal nuts have limits of their makers; the tables list none.
    let Some(limit) = &nut.temperature_limit else { return };
    let Some(hottest) = joint.temperature else { return sink.cannot(NO_TEMPERATURE) };
    if hottest.value <= limit.value {
        return;
    }
    let message = format!(
        "nut {} is good for {}, and the joint gets {}",
        written.value,
        sink.style.temperature(limit.value),
        sink.style.temperature(hottest.value)
    );
    // The limit is the circular's for every nut of this kind, whatever the number's own row rests on.
    let finding = sink.error(written.span, message).label(hottest.span, "hottest in use");
    sink.push(finding.help("call an all-metal self-locking nut, or a castle nut with a cotter pin"));
}
