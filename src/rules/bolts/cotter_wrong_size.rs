//! # cotter-wrong-size
//!
//! ## What it checks
//! The cotter pin passes the hole in the bolt's shank and is no thinner than the least pin for the bolt.
//!
//! ## Why it matters
//! A thin pin shears, a thick one is hammered in and splits.
//!
//! ## Source
//! - `B18.8.1` ASME B18.8.1, cotter pin dimensions: pin diameters and the hole that a pin is sure to pass (shall);
//!   grade A.
//! - `AN-DWG` AN, MS and NAS drawings, from memory: hole and least pin by bolt size (shall); from memory, grade C.
//!
//! ## Example that fires
//! ```toml
//! fastener = "AN6-10"            # hole #36, least pin 3/32
//! nut = "AN310-6"
//! cotter = "AN380-2-2"           # 1/16
//! ```
//!
//! ## How to put it right
//! Call the pin that the help names.
//!
//! ## When to allow it
//! When the drawing names this pin.

use crate::hardware::{CotterPin, Fastener, cotter_minimum, cotter_size};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::bolt;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(bolt), Some(cotter)) = (bolt(joint), &joint.cotter) else { return };
    let Ok(Fastener::CotterPin(CotterPin { diameter: Some(pin), .. })) = &cotter.fastener else { return };
    let Some(wanted) = cotter_minimum(bolt) else { return sink.cannot("no table gives the cotter hole of this bolt") };
    let (hole, least) = wanted.value;
    let name = sink.style.short(pin.value);
    let passes = cotter_size(pin.value).is_none_or(|size| size.value.shank_high <= hole.length);
    let message = if pin.value < least {
        format!("cotter pin {name} is thinner than {}, the least for {}", sink.style.short(least), joint.call)
    } else if !passes {
        format!("cotter pin {name} does not pass the hole of {}, {hole}", joint.call, hole = sink.style.size(hole))
    } else {
        return;
    };
    let finding = sink
        .warning(cotter.written.span, message)
        .label(joint.spec.fastener.span, format!("cotter hole {hole}", hole = sink.style.size(hole)));
    sink.push(
        finding.source(wanted.basis.cite()).help(format!("the pin for this bolt is {}", sink.style.short(least))),
    );
}
