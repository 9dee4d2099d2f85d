//! # lock-washer-in-structure
//!
//! ## What it checks
//! No spring or toothed lock washer is used where `structure` is primary or secondary.
//!
//! ## Why it matters
//! Its edges cut the surface protection, and it does not hold where the joint is loaded to and fro.
//!
//! ## Source
//! - `TM-23-6` TM 1-1500-204-23-6, pp. 2-16, 2-35 and 2-76: lock washers are not used in primary or secondary structure
//!   (must); grade A.
//!
//! ## Example that fires
//! ```toml
//! structure = "primary"
//! washers = { nut = ["AN935-10"] }
//! ```
//!
//! ## How to put it right
//! Call a plain washer, and a nut that locks itself or is pinned.
//!
//! ## When to allow it
//! When the part only carries equipment, and the spec counts it as structure for another reason.

use crate::hardware::Fastener;
use crate::job::{Joint, Structure};
use crate::report::Severity;
use crate::rules::facts::NO_STRUCTURE;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    for washer in joint.washers_head.iter().chain(&joint.washers_nut) {
        if !matches!(&washer.fastener, Ok(Fastener::Washer(washer)) if washer.is_lock()) {
            continue;
        }
        let Some(structure) = joint.structure else { return sink.cannot(NO_STRUCTURE) };
        if structure.value == Structure::Nothing {
            return;
        }
        let word = structure.value.word();
        let message = format!("{} is a lock washer, and this joint is {word} structure", washer.written.value);
        let finding = sink.error(washer.written.span, message).label(structure.span, format!("{word} structure"));
        sink.push(finding.help("call a plain washer under a self-locking or pinned nut"));
    }
}
