//! # head-on-thick-side
//!
//! ## What it checks
//! The shop head of a solid rivet does not lie on sheet half as thick as the outer layer on the other side, or thinner. Flush
//! rivets are left alone: their head lies where the surface has to be smooth.
//!
//! ## Why it matters
//! The shank swells while the head is formed. Thin sheet gives way to it, lifts off the layer below and dents; the
//! manufactured head only lies on it.
//!
//! ## Source
//! - `common-practice` common practice: the manufactured head on the thinner sheet, the shop head on the thicker; what is
//!   much thinner is this project's figure.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]   # .125 at the manufactured head, .025 under the shop head
//! fastener = "MS20470AD4-5.5"
//! ```
//!
//! ## How to put it right
//! Turn the stack round where both sides can be reached: the manufactured head is on the first layer.
//!
//! ## When to allow it
//! It is a note and stops nothing. Often the gun reaches one side only, or the drawing shows the heads.

use crate::hardware::{Head, limit};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_THICKNESS, from_memory, label_layer, solid};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Note, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(rivet) = solid(joint).filter(|rivet| rivet.head == Head::Protruding) else { return };
    // A stack too thick for the rivet has a slip in it, or no business with rivets: told there.
    let is_thick = |stack| stack > rivet.diameter.times(limit::stack_of_rivet().value);
    if joint.thickness().is_some_and(is_thick) {
        return;
    }
    let [first, .., last] = joint.layers.as_slice() else { return };
    let (Some(thick), Some(thin)) = (first.thickness, last.thickness) else { return sink.cannot(NO_THICKNESS) };
    if thin.times(limit::much_thicker().value) > thick {
        return;
    }
    let message = format!(
        "shop head lies on {}, {thin}, and the manufactured head on {}, {thick}: thin sheet lifts as the shank swells",
        last.name,
        first.name,
        thin = sink.style.length(thin),
        thick = sink.style.length(thick)
    );
    let finding = sink.note(joint.spec.stack.span, message).source(from_memory("common-practice"));
    let reversed: Vec<&str> = joint.layers.iter().rev().map(|layer| layer.name.as_str()).collect();
    sink.push(label_layer(finding, last, sink.style).help(format!("turn the stack round: {}", reversed.join(", "))));
}
