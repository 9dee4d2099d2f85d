//! # rivet-soft-for-steel
//!
//! ## What it checks
//! Aluminium rivets are not used where every layer is steel.
//!
//! ## Why it matters
//! The rivet is softer than what it holds, and beside bare steel it is what corrodes.
//!
//! ## Source
//! - `common-practice` common practice: rivets of the metal that they hold; from memory.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-240", "WNG-241"]     # both 4130
//! fastener = "MS20470AD4-4"
//! ```
//!
//! ## How to put it right
//! Call a steel or nickel-copper rivet, as MS20613 or MS20615, or a bolt.
//!
//! ## When to allow it
//! When the rivets only hold a placard or a clip to the steel.

use crate::hardware::{Fastener, Metal, metal_of};
use crate::job::{Joint, Layer};
use crate::report::Severity;
use crate::rules::facts::{from_memory, solid};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let is_aluminium = joint.fastener.as_ref().ok().and_then(Fastener::metal) == Some(Metal::Aluminium);
    let is_steel =
        |layer: &Layer| matches!(layer.material.as_deref().and_then(metal_of), Some(Metal::Steel | Metal::Stainless));
    if solid(joint).is_none() || !is_aluminium || !joint.layers.iter().all(is_steel) {
        return;
    }
    let message = format!("{} of aluminium holds steel to steel", joint.call);
    let finding = sink.warning(joint.spec.fastener.span, message).source(from_memory("common-practice"));
    sink.push(finding.label(joint.spec.stack.span, "every layer is steel").help("call a steel or nickel-copper rivet"));
}
