//! # flush-head-unprepared
//!
//! ## What it checks
//! Under a flush head the outer layer is countersunk or dimpled.
//!
//! ## Why it matters
//! A flush head on plain sheet stands proud on a ring, clamps badly, and its measured length is wrong too.
//!
//! ## Source
//! - `geometry` geometry: a conical head needs a conical seat.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20426AD3-4"        # and no `prepare`, or prepare = ["plain", "dimple"]
//! ```
//!
//! ## How to put it right
//! Give `prepare`, the manufactured-head side first, or call a protruding head.
//!
//! ## When to allow it
//! When a part comes dimpled or countersunk from the kit: better say so in `prepare`, which costs no step.

use crate::job::{Joint, Preparation};
use crate::report::Severity;
use crate::rules::facts::kind;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Ok(fastener), Some(_)) = (&joint.fastener, kind(joint)) else { return };
    let Some(outer) = joint.layers.first().filter(|outer| outer.preparation == Preparation::Plain) else { return };
    if !fastener.head().is_flush() {
        return;
    }
    let message = format!(
        "{} has a flush head, but the outer layer {} is neither countersunk nor dimpled",
        joint.call, outer.name
    );
    let finding = sink.error(joint.spec.fastener.span, message);
    let finding = match outer.preparation_span {
        Some(span) => finding.label(span, "plain"),
        None => finding.label(joint.spec.stack.span, "no `prepare` is given for this stack"),
    };
    sink.push(finding.help(
        "give `prepare`, one word a layer and the manufactured-head side first, as [\"dimple\", \"countersink\"]",
    ));
}
