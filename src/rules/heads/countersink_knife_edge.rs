//! # countersink-knife-edge
//!
//! ## What it checks
//! A layer that is countersunk for a flush rivet is at least as thick as the table's minimum: .040 in for a rivet of 3/32 in,
//! .050 in for 1/8 in, .063 in for 5/32 in, .071 in for 3/16 in, .100 in for 1/4 in. More than .005 in below the height of
//! the head `countersink-too-deep` speaks.
//!
//! ## Why it matters
//! Where the cone just reaches the far side, the hole ends in a knife edge that cracks, and the sheet bears on nothing.
//!
//! ## Source
//! - `AC65-15A` AC 65-15A, chapter 5, as quoted: head just through the sheet is to be avoided (should); grade A.
//! - `TM-363` TM 9-2320-363-34-2, p. 22-18, Tables 3 and 4 (cab body repair of a truck): minimum sheet to countersink
//!   (must); grade A-else.
//!
//! ## Example that fires
//! ```toml
//! stack = ["WNG-211", "WNG-212"]      # the first is .040
//! fastener = "MS20426AD3-4"           # passes; a 1/8 rivet wants .050 and fires
//! prepare = ["countersink", "plain"]
//! ```
//!
//! ## How to put it right
//! Dimple the sheet, or use a smaller flush rivet, if the drawing leaves it open.
//!
//! ## When to allow it
//! When the plans countersink this sheet: the joint is then no stronger than a knife-edged one.

use crate::hardware::{countersink_minimum, limit};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{NO_HEAD, NO_THICKNESS, flush_rivet, label_layer, listed_head};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some((d, form)) = flush_rivet(joint) else { return };
    let mut cut = joint.layers.iter().filter(|layer| layer.preparation.is_cut()).peekable();
    if cut.peek().is_none() {
        return;
    }
    let Some(least) = countersink_minimum(d, form) else { return sink.cannot(NO_HEAD) };
    // Below the head's height, where a table gives it, is a fault of its own.
    let head = listed_head(joint);
    let floor = head.as_ref().map_or(Length::ZERO, |head| head.height - limit::countersink_through().value);
    for layer in cut {
        let Some(thickness) = layer.thickness else {
            sink.cannot(NO_THICKNESS);
            continue;
        };
        if thickness >= least.value || thickness < floor {
            continue;
        }
        let span = layer.preparation_span.unwrap_or(joint.spec.fastener.span);
        let message = format!(
            "countersunk layer {} is {thickness}; the table's minimum is {}",
            layer.name,
            sink.style.length(least.value),
            thickness = sink.style.length(thickness)
        );
        let mut finding = label_layer(sink.warning(span, message), layer, sink.style);
        if let Some(head) = &head {
            finding = finding.label(joint.spec.fastener.span, format!("head {} high", sink.style.length(head.height)));
        }
        sink.push(
            finding
                .source(least.basis.cite())
                .help(format!("{} or more passes; thinner sheet is dimpled", sink.style.length(least.value))),
        );
    }
}
