//! # flush-screw-in-thin-sheet
//!
//! ## What it checks
//! A layer that is countersunk for a flush screw is at least as thick as a manual countersinks for the screw's size: .050 in
//! for 6-32 and 8-32, .063 in for 10-32, .071 in for 1/4 in and 5/16 in; for a size without such a figure, as thick as the
//! head is high. Below it a warning, more than .005 in below it an error, where a page backs the figure or the sheet is under
//! .050 in.
//!
//! ## Why it matters
//! The head of a screw is twice as high as that of a rivet of its size. In thin sheet it bears on the sharp edge of a hole that
//! the countersink has made as wide as the head, and pulls through.
//!
//! ## Source
//! - `SRM-Q` structural repair manual of a certificated aircraft, countersink figure, as quoted: minimum sheet for flush screws
//!   (shall); grade B.
//! - `B18.6.3` ASME B18.6.3, 100 degree flat head screws: the height of the heads (shall); grade B, of AN509 and MS24694
//!   from memory.
//! - `WW2` service and repair manual of a 1940s fighter, par. 10 to 18: a countersink is never drilled in sheet under .051, the
//!   old gauge of .050 in (must); grade A.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]       # the first is .032
//! fastener = "AN509-10R8"              # head .083 high
//! prepare = ["countersink", "plain"]
//! ```
//!
//! ## How to put it right
//! Dimple the sheet for the screw, over a countersunk nutplate or a countersunk doubler, or call a screw that stands proud.
//!
//! ## When to allow it
//! When the drawing countersinks sheet and doubler as one, and gives the depth.

use crate::hardware::{Fastener, FlushHead, Screw, flush_screw_head, limit};
use crate::job::{Joint, Layer};
use crate::report::{Finding, Severity};
use crate::rules::facts::{NO_HEAD, NO_THICKNESS, label_layer};
use crate::rules::{At, Check, Looks, Sink};
use crate::text::Span;
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(screw) = flush_screw(joint) else { return };
    let mut cut = joint.layers.iter().filter(|layer| layer.preparation.is_cut()).peekable();
    if cut.peek().is_none() {
        return;
    }
    let Some(head) = flush_screw_head(screw) else { return sink.cannot(NO_HEAD) };
    for layer in cut {
        let Some(thickness) = layer.thickness else {
            sink.cannot(NO_THICKNESS);
            continue;
        };
        if thickness < head.floor.value {
            let span = layer.preparation_span.unwrap_or(joint.spec.fastener.span);
            let finding = thin(layer, thickness, &head, span, sink);
            sink.push(finding.label(joint.spec.fastener.span, format!("head {} high", sink.style.length(head.height))));
        }
    }
}

fn flush_screw(joint: &Joint) -> Option<&Screw> {
    match joint.fastener.as_ref().ok()? {
        Fastener::Screw(screw) if screw.head.is_flush() => Some(screw),
        _ => None,
    }
}

fn thin(layer: &Layer, thickness: Length, head: &FlushHead, span: Span, sink: &Sink<'_>) -> Finding {
    let (floor, never) = (&head.floor, limit::countersink_never_below());
    let message = format!(
        "countersunk layer {} is {thickness}; for this screw, its head {} high, a countersink takes {}",
        layer.name,
        sink.style.length(head.height),
        sink.style.length(floor.value),
        thickness = sink.style.length(thickness)
    );
    // A little short of the figure the head only comes through further than it does there.
    let is_far = thickness < floor.value - limit::countersink_through().value;
    let finding = if !is_far {
        sink.warning(span, message).source(floor.basis.cite())
    } else if floor.basis.backs_an_error() || thickness >= never.value {
        sink.at_most_error(&floor.basis, span, message)
    } else {
        let finding = sink.at_most_error(&never.basis, span, message);
        finding.source(format!("{}; head: {}", never.basis.cite(), floor.basis.cite()))
    };
    label_layer(finding, layer, sink.style)
        .help(format!("{} or more passes; thinner sheet is dimpled", sink.style.length(floor.value)))
}
