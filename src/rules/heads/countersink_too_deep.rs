//! # countersink-too-deep
//!
//! ## What it checks
//! A layer that is countersunk for a flush rivet is thinner than the rivet's head by .005 in at most. Up to that the head
//! comes through, which is permissible and to be avoided: `countersink-knife-edge` warns of it. Below .050 in, where a manual
//! never drills a countersink, it is an error; in thicker sheet it is one where a page gives the height of the head.
//!
//! ## Why it matters
//! In a sheet thinner than the head the countersink runs through: the hole grows, and the head clamps nothing.
//!
//! ## Source
//! - `geometry` geometry: the height of a 100 degree head from its diameter; the diameters of MS20426, graded in the table.
//! - `AC65-15A` AC 65-15A, chapter 5, as quoted: a head that comes through is permissible but should be avoided (should);
//!   grade A.
//! - `WW2` service and repair manual of a 1940s fighter, par. 10 to 18: a countersink is never drilled in sheet under .051, the
//!   old gauge of .050 in (must); grade A.
//!
//! A head that only memory lists, or a page about something else, makes a warning in thicker sheet, never an error.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]      # the first is .032
//! fastener = "MS20426AD4-5"           # head .042 high
//! prepare = ["countersink", "plain"]
//! ```
//!
//! ## How to put it right
//! Dimple the sheet, or dimple the skin into a thicker sheet that is countersunk, as the drawing has it.
//!
//! ## When to allow it
//! Hardly ever. When the drawing countersinks through a filler that carries nothing.

use crate::hardware::{Basis, countersink_minimum, limit};
use crate::job::Joint;
use crate::report::{Finding, Severity};
use crate::rules::facts::{NO_HEAD, NO_THICKNESS, flush_rivet, label_layer, listed_head};
use crate::rules::{At, Check, Looks, Sink};
use crate::text::Span;
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some((d, form)) = flush_rivet(joint) else { return };
    let mut cut = joint.layers.iter().filter(|layer| layer.preparation.is_cut()).peekable();
    if cut.peek().is_none() {
        return;
    }
    let Some(head) = listed_head(joint) else { return sink.cannot(NO_HEAD) };
    for layer in cut {
        let Some(thickness) = layer.thickness else {
            sink.cannot(NO_THICKNESS);
            continue;
        };
        if thickness >= head.height - limit::countersink_through().value {
            continue;
        }
        let span = layer.preparation_span.unwrap_or(joint.spec.fastener.span);
        let message = format!(
            "countersunk layer {} is {thickness}, thinner than the head, {}",
            layer.name,
            sink.style.length(head.height),
            thickness = sink.style.length(thickness)
        );
        let finding = label_layer(cut_through(&head.basis, thickness, span, message, sink), layer, sink.style)
            .label(joint.spec.fastener.span, format!("head {} high", sink.style.length(head.height)));
        sink.push(match countersink_minimum(d, form) {
            Some(least) => finding.help(format!(
                "dimple it; countersinking for this rivet takes {} or more",
                sink.style.length(least.value)
            )),
            None => finding.help("dimple it"),
        });
    }
}

/// As grave as the head's source, or the manual that never cuts so thin a sheet, allows.
fn cut_through(head: &Basis, thickness: Length, span: Span, message: String, sink: &Sink<'_>) -> Finding {
    let never = limit::countersink_never_below();
    if head.backs_an_error() || thickness >= never.value {
        return sink.at_most_error(head, span, message);
    }
    let finding = sink.at_most_error(
        &never.basis,
        span,
        format!("{message}; a manual drills no countersink below {}", sink.style.length(never.value)),
    );
    finding.source(format!("{}; head: {}", never.basis.cite(), head.cite()))
}
