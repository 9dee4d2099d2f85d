//! # countersink-over-dimple
//!
//! ## What it checks
//! The preparations of a stack can lie in each other, the manufactured-head side first: a dimple lies in a dimple or in a
//! countersink, and under a countersink the sheet is plain. A layer that is countersunk from both sides takes a dimple from
//! each: the double-flush trailing edge.
//!
//! ## Why it matters
//! A dimple under a flat-bottomed sheet holds the layers apart; a countersink cannot take a dimple from below; a second
//! countersink takes metal from the sheet that carries the load. Found with the rivet in hand, one of the sheets is scrap.
//!
//! ## Source
//! - `geometry` geometry: the underside of a dimple is a cone and needs a conical seat.
//!
//! ## Example that fires
//! ```toml
//! fastener = "MS20426AD3-4"
//! prepare = ["countersink", "dimple"]
//! ```
//!
//! ## How to put it right
//! Dimple the outer layers and countersink the thick inner one, or dimple all of them.
//!
//! ## When to allow it
//! When the layer below has a hole large enough to clear the dimple, as the drawing shows.

use crate::job::{Joint, Layer, Preparation};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Ok(fastener) = &joint.fastener else { return };
    // A protruding head over a recess, and a plain outer layer, have rules of their own.
    let outer_is_plain = joint.layers.first().is_none_or(|outer| outer.preparation == Preparation::Plain);
    if !fastener.head().is_flush() || outer_is_plain {
        return;
    }
    for pair in joint.layers.windows(2) {
        let [outer, inner] = pair else { continue };
        if let Some((why, help)) = misfit(outer, inner) {
            let message =
                format!("{} layer {} lies on {} layer {}: {why}", word(outer), outer.name, word(inner), inner.name);
            let (below, above) =
                (inner.preparation_span.unwrap_or(inner.span), outer.preparation_span.unwrap_or(outer.span));
            let finding = sink.error(below, message).help(help);
            // One word for all layers is one place.
            sink.push(if above == below { finding } else { finding.label(above, "on the head side of it") });
        }
    }
}

/// Why two neighbours cannot lie on each other, and what would.
fn misfit(outer: &Layer, inner: &Layer) -> Option<(&'static str, &'static str)> {
    use Preparation::{Countersink, CountersinkBoth, Plain};
    match (outer.preparation, inner.preparation) {
        (CountersinkBoth, Plain | Countersink | CountersinkBoth) => Some((
            "the lower countersink takes nothing",
            "dimple the inner layer, or countersink the outer one from above",
        )),
        (Countersink | Plain, CountersinkBoth) => {
            Some(("the upper countersink takes nothing", "dimple the outer layer, or leave the inner one plain"))
        }
        (Preparation::Countersink, Preparation::Dimple) => {
            Some(("a dimple fits in no flat underside", "dimple the outer layer too, or leave the inner one plain"))
        }
        (Preparation::Countersink, Preparation::Countersink) => Some((
            "the head ends in the outer layer, and the inner one is cut away for nothing",
            "leave the inner layer plain",
        )),
        (Preparation::Plain, Preparation::Dimple | Preparation::Countersink) => {
            Some(("a recess under a plain sheet takes nothing", "prepare every layer down to it, or leave it plain"))
        }
        (Preparation::Dimple, Preparation::Plain) => {
            Some(("a dimple needs a seat below it", "dimple or countersink the inner layer"))
        }
        _ => None,
    }
}

const fn word(layer: &Layer) -> &'static str {
    match layer.preparation {
        Preparation::Plain => "plain",
        Preparation::Dimple => "dimpled",
        Preparation::Countersink => "countersunk",
        Preparation::CountersinkBoth => "twice countersunk",
    }
}
