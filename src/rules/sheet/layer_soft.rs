//! # layer-soft
//!
//! ## What it checks
//! No solid rivet is driven through rubber, cork, felt or another layer that gives.
//!
//! ## Why it matters
//! The layer is squeezed out while the rivet is driven and creeps afterwards: the joint is loose from the first day.
//!
//! ## Source
//! - `common-practice` common practice: what gives is bolted over spacers, or cut away round the rivets.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", { material = "cork", thickness = "1/16" }, "WNG-212"]
//! fastener = "MS20470AD4-6"
//! ```
//!
//! ## How to put it right
//! Use screws with spacers, or end the soft layer short of the rivets.
//!
//! ## When to allow it
//! When the layer is a thin sealing tape that the rivet is meant to squeeze out.

use crate::job::{Joint, Layer};
use crate::report::Severity;
use crate::rules::facts::solid;
use crate::rules::{At, Check, Looks, Sink};

/// Words for what gives.
const SOFT: [&str; 10] =
    ["rubber", "cork", "felt", "foam", "neoprene", "leather", "silicone", "sponge", "cloth", "gasket"];

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    if solid(joint).is_none() {
        return;
    }
    for layer in joint.layers.iter().filter(|layer| is_soft(layer)) {
        let message = format!("{} is driven through {}, which gives", joint.call, layer.name);
        let finding = sink.warning(joint.spec.fastener.span, message).label(layer.span, "this layer");
        sink.push(finding.help("use screws with spacers, or end the layer short of the rivets"));
    }
}

fn is_soft(layer: &Layer) -> bool {
    layer.material.as_ref().is_some_and(|material| {
        material.to_lowercase().split(|c: char| !c.is_alphanumeric()).any(|word| SOFT.contains(&word))
    })
}
