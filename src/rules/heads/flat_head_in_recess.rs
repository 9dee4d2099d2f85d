//! # flat-head-in-recess
//!
//! ## What it checks
//! Under a protruding head no layer is countersunk or dimpled.
//!
//! ## Why it matters
//! The head bridges the recess and clamps only on its rim. Mostly one letter of the call is wrong, or the wrong row was
//! countersunk, which cannot be undone.
//!
//! ## Source
//! - `geometry` geometry: a flat head needs a flat seat.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20470AD4-5"
//! prepare = ["countersink", "plain"]
//! ```
//!
//! ## How to put it right
//! Call the flush head, or make the layers `plain`.
//!
//! ## When to allow it
//! When only the shop side is countersunk and the shop head is driven into it, as the drawing shows.

use crate::hardware::Head;
use crate::job::{Joint, Preparation};
use crate::report::Severity;
use crate::rules::facts::{kind, label_layer};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Ok(fastener), Some(_)) = (&joint.fastener, kind(joint)) else { return };
    if fastener.head() != Head::Protruding {
        return;
    }
    let Some(recessed) = joint.layers.iter().find(|layer| layer.preparation != Preparation::Plain) else { return };
    let word = if recessed.preparation == Preparation::Dimple { "dimpled" } else { "countersunk" };
    let message = format!("{} has a protruding head, but layer {} is {word}", joint.call, recessed.name);
    let finding = match recessed.preparation_span {
        Some(span) => sink.error(joint.spec.fastener.span, message).label(span, word),
        None => label_layer(sink.error(joint.spec.fastener.span, message), recessed, sink.style),
    };
    sink.push(finding.help("call a flush head (MS20426 for MS20470), or make every layer `plain`"));
}
