//! # countersink-shallow-for-dimple
//!
//! ## What it checks
//! A layer that is countersunk under dimpled ones is thick enough for the deeper cut: the head's height and three
//! tenths of the dimpled sheets, less .005 in.
//!
//! ## Why it matters
//! A countersink of the depth of the head alone holds the dimple off its seat: the skin stands proud and the layers
//! gape.
//!
//! ## Source
//! - `geometry` geometry: the underside of a sheet on a 100 degree cone lies three tenths of its thickness deeper.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]      # .032 dimpled into .040
//! fastener = "MS20426AD4-4"
//! prepare = ["dimple", "countersink"]
//! ```
//!
//! ## How to put it right
//! Dimple both layers, or use a smaller rivet, if the drawing leaves it open.
//!
//! ## When to allow it
//! When a trial piece sits flush and tight.

use crate::hardware::limit;
use crate::job::{Joint, Preparation};
use crate::report::Severity;
use crate::rules::facts::{NO_HEAD, NO_THICKNESS, label_layer, listed_head};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(cut) = joint.layers.iter().position(|layer| layer.preparation.is_cut()).filter(|cut| *cut > 0) else {
        return;
    };
    let above = &joint.layers[..cut];
    if above.iter().any(|layer| layer.preparation != Preparation::Dimple) {
        return;
    }
    let Some(head) = listed_head(joint) else { return sink.cannot(NO_HEAD) };
    let layer = &joint.layers[cut];
    let dimpled: Option<Length> = above.iter().map(|layer| layer.thickness).sum();
    let (Some(thickness), Some(dimpled)) = (layer.thickness, dimpled) else { return sink.cannot(NO_THICKNESS) };
    let depth = head.height + dimpled.times(limit::deeper_for_dimple().value);
    if thickness >= depth - limit::countersink_through().value {
        return;
    }
    let message = format!(
        "countersink for head and dimple is {depth} deep, layer {} is {thickness}",
        layer.name,
        depth = sink.style.length(depth),
        thickness = sink.style.length(thickness)
    );
    let finding = sink.warning(layer.preparation_span.unwrap_or(layer.span), message);
    sink.push(label_layer(finding, layer, sink.style).help("dimple this layer too, or use a smaller rivet"));
}
