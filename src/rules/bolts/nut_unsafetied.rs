//! # nut-unsafetied
//!
//! ## What it checks
//! A nut is self-locking, or is a castle nut with a cotter pin given, or is jammed by a second one (`check-nut`); a plain or
//! check nut alone is not safe. Where `structure` is none, a lock washer holds a plain nut.
//!
//! ## Why it matters
//! Vibration turns a nut that nothing holds, and torque alone does not hold it for years.
//!
//! ## Source
//! - `AC-7-37` AC 43.13-1B, par. 7-37 to 7-39: bolts and nuts are safetied (must); grade A.
//! - `AC-7-38` AC 43.13-1B, par. 7-38: cotter pins and safety wire (should); grade A.
//! - `common-practice` common practice: a check nut on a stop or an adjusting bolt, a lock washer under a ground lug.
//!
//! ## Example that fires
//! ```toml
//! fastener = "AN4-6"
//! nut = "AN310-4"                # and no `cotter`
//! ```
//!
//! ## How to put it right
//! Give the cotter pin, or a self-locking nut, as the drawing has it.
//!
//! ## When to allow it
//! When the drawing safeties it in a way that the format has no key for: a lock plate, a wired nut, a staked one.

use crate::hardware::{Fastener, NutKind, cotter_minimum};
use crate::job::{Hardware, Joint, Structure};
use crate::report::Severity;
use crate::rules::facts::{NO_NUT, bolt, nut};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(bolt) = bolt(joint) else { return };
    if joint.nut.is_none() {
        // A drilled head is wired; else the spec does not say what the bolt goes into.
        if !bolt.drilled_head {
            sink.cannot(NO_NUT);
        }
        return;
    }
    let Some((nut, written)) = nut(joint) else { return };
    let pin = || match cotter_minimum(bolt) {
        Some(listed) => {
            format!("give its pin under `cotter`: for {} one of {}", joint.call, sink.style.short(listed.value.1))
        }
        None => "give its pin under `cotter`".to_owned(),
    };
    let help = match nut.kind {
        kind if kind.is_self_locking() => return,
        NutKind::Castle if joint.cotter.is_some() => return,
        NutKind::Castle => pin(),
        // A second nut that jams it, or a spring washer where nothing rests on the joint.
        NutKind::Plain | NutKind::Check if joint.check_nut.is_some() || is_lock_washered(joint) => return,
        _ => "call a self-locking nut, or a castle nut with a pin, as the drawing has it".to_owned(),
    };
    let message = format!("{} nut {} is not safetied", nut.kind.word(), written.value);
    sink.push(sink.error(written.span, message).label(joint.spec.fastener.span, "its bolt").help(help));
}

/// Whether a lock washer holds the nut of a joint on which nothing rests.
fn is_lock_washered(joint: &Joint) -> bool {
    let is_lock = |washer: &Hardware| matches!(&washer.fastener, Ok(Fastener::Washer(washer)) if washer.is_lock());
    joint.structure.is_some_and(|structure| structure.value == Structure::Nothing)
        && joint.washers_head.iter().chain(&joint.washers_nut).any(is_lock)
}
