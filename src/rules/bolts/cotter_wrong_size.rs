//! # cotter-wrong-size
//!
//! ## What it checks
//! The cotter pin passes the hole in the bolt's shank, is no thinner than the least pin for the bolt, and is long enough to
//! bend. Where an entry of build.toml gives the bolt's `pin-hole` or the pin's `hole`, these are asked.
//!
//! ## Why it matters
//! A thin pin shears, a thick one is hammered in and splits.
//!
//! ## Source
//! - `B18.8.1` ASME B18.8.1, cotter pin dimensions: pin diameters and the hole that a pin is sure to pass (shall);
//!   grade A.
//! - `AN-DWG` AN, MS and NAS drawings, from memory: hole and least pin by bolt size (shall); from memory, grade C.
//! - `common-practice` common practice: a pin of one and a half bolts' diameters at least has legs to bend.
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

use crate::hardware::{Basis, Bolt, CotterPin, Fastener, cotter_minimum, cotter_size, limit};
use crate::job::{Hardware, Joint};
use crate::report::{Finding, Severity};
use crate::rules::facts::bolt;
use crate::rules::{At, Check, Looks, Sink};
use crate::units::{Length, Size};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let (Some(bolt), Some(cotter)) = (bolt(joint), &joint.cotter) else { return };
    let Ok(Fastener::CotterPin(pin)) = &cotter.fastener else { return };
    if let Some(finding) = too_short(bolt, pin, cotter, joint, sink) {
        sink.push(finding);
    }
    let Some(diameter) = pin.diameter.as_ref().map(|diameter| diameter.value) else { return };
    let Some(wanted) = wanted(bolt) else { return sink.cannot("no table gives the cotter hole of this bolt") };
    let hole = wanted.hole;
    let name = sink.style.short(diameter);
    let message = if is_thin(pin, diameter, &wanted) {
        let than = wanted.least.map_or_else(
            || format!("the hole of {}, {}", joint.call, sink.style.size(hole)),
            |least| format!("{}, the least for {}", sink.style.short(least), joint.call),
        );
        format!("cotter pin {name} is thinner than {than}")
    } else if !passes(pin, diameter, hole.length) {
        format!("cotter pin {name} does not pass the hole of {}, {hole}", joint.call, hole = sink.style.size(hole))
    } else {
        return;
    };
    let finding = sink
        .warning(cotter.written.span, message)
        .label(joint.spec.fastener.span, format!("cotter hole {hole}", hole = sink.style.size(hole)));
    let right = wanted.least.unwrap_or(hole.length);
    sink.push(
        finding.source(wanted.basis.cite()).help(format!("the pin for this bolt is {}", sink.style.short(right))),
    );
}

/// The hole of a bolt's shank, and the least pin where a table gives one.
struct Wanted {
    hole: Size,
    least: Option<Length>,
    basis: Basis,
}

fn wanted(bolt: &Bolt) -> Option<Wanted> {
    if let Some(own) = &bolt.call.kit {
        return Some(Wanted { hole: Size::plain(own.pin_hole?), least: None, basis: Basis::given(&own.source) });
    }
    let listed = cotter_minimum(bolt)?;
    Some(Wanted { hole: listed.value.0, least: Some(listed.value.1), basis: listed.basis })
}

/// A pin is named by the hole that it is made for; a size below fills it badly.
fn is_thin(pin: &CotterPin, diameter: Length, wanted: &Wanted) -> bool {
    match (wanted.least, pin.call.kit.as_ref().and_then(|own| own.hole)) {
        (Some(least), _) => diameter < least,
        (None, Some((_, most))) => wanted.hole.length > most,
        (None, None) => diameter < wanted.hole.length.times(limit::pin_of_hole().value),
    }
}

fn passes(pin: &CotterPin, diameter: Length, hole: Length) -> bool {
    if let Some((least, _)) = pin.call.kit.as_ref().and_then(|own| own.hole) {
        return hole >= least;
    }
    let listed = cotter_size(diameter).filter(|_| pin.call.kit.is_none());
    listed.map_or(diameter <= hole, |size| size.value.shank_high <= hole)
}

/// A pin that does not come out of the shank with legs to bend.
fn too_short(bolt: &Bolt, pin: &CotterPin, cotter: &Hardware, joint: &Joint, sink: &Sink<'_>) -> Option<Finding> {
    let least = bolt.diameter.times(limit::pin_length().value);
    let length = pin.length.as_ref().filter(|length| length.value < least)?;
    let message = format!(
        "cotter pin of {} is too short to bend round {}, {} across",
        sink.style.short(length.value),
        joint.call,
        sink.style.length(bolt.diameter)
    );
    let finding = sink.warning(cotter.written.span, message).label(joint.spec.fastener.span, "the bolt");
    Some(
        finding
            .source(limit::pin_length().basis.cite())
            .help(format!("{} and longer passes", sink.style.length(least))),
    )
}
