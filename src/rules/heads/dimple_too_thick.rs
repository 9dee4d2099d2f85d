//! # dimple-too-thick
//!
//! ## What it checks
//! A dimpled layer is no thicker than .040 in.
//!
//! ## Why it matters
//! Thick sheet does not follow the dies: it cracks around the dimple, or the dimple stays shallow and the skin stands off.
//!
//! ## Source
//! - `AC65-15A` AC 65-15A, chapter 5, as quoted: dimpling works best up to .040 (should); grade A.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]      # the second is .050
//! prepare = ["dimple", "dimple"]
//! ```
//!
//! ## How to put it right
//! Countersink the thick layer and dimple the thin ones into it.
//!
//! ## When to allow it
//! When the sheet is soft as received and heat-treated after dimpling, or it is hot-dimpled as the plans say.

use crate::hardware::{dimple_limits, sheet_equivalent};
use crate::job::{Joint, Preparation};
use crate::report::Severity;
use crate::rules::facts::{NO_THICKNESS, label_layer};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (best, _) = dimple_limits();
    for layer in joint.layers.iter().filter(|layer| layer.preparation == Preparation::Dimple) {
        let Some(thickness) = layer.thickness else {
            sink.cannot(NO_THICKNESS);
            continue;
        };
        let span = layer.preparation_span.unwrap_or(layer.span);
        if !exceeds(thickness, best.value) {
            continue;
        }
        let message = format!(
            "dimpled layer {} is {thickness}; dimpling works best up to {}",
            layer.name,
            sink.style.length(best.value),
            thickness = sink.style.length(thickness)
        );
        let finding = label_layer(sink.warning(span, message).source(best.basis.cite()), layer, sink.style);
        sink.push(
            finding.help(format!("countersink it, or dimple sheet of {} or less", sink.style.length(best.value))),
        );
    }
}

/// Old gauge names match the modern size.
fn exceeds(thickness: Length, limit: Length) -> bool {
    thickness > limit && !sheet_equivalent(thickness, limit)
}
