//! # washer-wrong-size
//!
//! ## What it checks
//! Every washer of a joint is made for the diameter of its bolt or screw. The `diameter` of a `[[fastener]]` entry may be the
//! bolt's or, up to an eighth more, that of the washer's hole.
//!
//! ## Why it matters
//! A washer that is too large for its bolt bears on its rim and shifts; one that is too small does not go on.
//!
//! ## Source
//! - `NAS1149` NAS1149, part number: washers by bolt size (shall); grade B.
//! - `geometry` geometry: a washer fits the shank that it lies round.
//!
//! ## Example that fires
//! ```toml
//! fastener = "AN3-6A"
//! washers = { nut = ["AN960-416"] }   # for 1/4
//! ```
//!
//! ## How to put it right
//! Call the washer of the bolt's size.
//!
//! ## When to allow it
//! When a large hole is bridged on purpose by a washer under the right one.

use crate::hardware::{Fastener, limit};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{Through, through};
use crate::rules::{At, Check, Looks, Sink};
use crate::units::Length;

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some((Through::Bolt, d)) = through(joint) else { return };
    for washer in joint.washers_head.iter().chain(&joint.washers_nut) {
        let Ok(Fastener::Washer(decoded)) = &washer.fastener else { continue };
        // An entry may give the hole's diameter; a call of the family alone tells none.
        let is_of_kit = decoded.call.kit.is_some();
        let goes_on =
            |own: Length| own == d || (is_of_kit && own > d && own <= d.times(limit::washer_hole_most().value));
        let Some(bolt) = decoded.bolt.filter(|bolt| !goes_on(*bolt)) else { continue };
        let message = format!(
            "washer {} is for a bolt of {bolt}; {} has {d}",
            washer.written.value,
            joint.call,
            bolt = sink.style.length(bolt),
            d = sink.style.length(d)
        );
        let finding = sink.error(washer.written.span, message).label(joint.spec.fastener.span, "the bolt");
        sink.push(finding.help("call the washer of the bolt's size"));
    }
}
