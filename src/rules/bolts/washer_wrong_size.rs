//! # washer-wrong-size
//!
//! ## What it checks
//! Every washer of a joint is made for the diameter of its bolt or screw.
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

use crate::hardware::Fastener;
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::{Through, through};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some((Through::Bolt, d)) = through(joint) else { return };
    for washer in joint.washers_head.iter().chain(&joint.washers_nut) {
        let Ok(Fastener::Washer(decoded)) = &washer.fastener else { continue };
        // A kit's washer, and a call of the family alone, do not tell the size.
        let Some(bolt) = decoded.bolt.filter(|bolt| *bolt != d && decoded.call.kit.is_none()) else { continue };
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
