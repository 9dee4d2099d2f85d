//! # close-fit-lost
//!
//! ## What it checks
//! The hole of a close-tolerance bolt is not drilled by the letter drill that serves ordinary bolts, unless
//! `limits = { hole = .. }` of the plans say so.
//!
//! ## Why it matters
//! A close-tolerance bolt carries its load because nothing can move in its hole. In a letter drill's hole it is an
//! ordinary bolt at a high price.
//!
//! ## Source
//! - `AC-7-39` AC 43.13-1B, par. 7-39: a letter drill does not serve close-tolerance bolts (must); grade A.
//!
//! ## Example that fires
//! ```toml
//! fastener = "NAS6204-4"
//! holes = { final = "F" }        # .257 round .2495
//! ```
//!
//! ## How to put it right
//! Drill under size and ream to the fit of the drawing. A hole that is lost takes the next size.
//!
//! ## When to allow it
//! When the drawing puts the bolt in a clearance hole, as a pin that only locates.

use crate::hardware::{BoltSeries, limit};
use crate::job::Joint;
use crate::report::Severity;
use crate::rules::facts::bolt;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Joint(look) };

fn look(joint: &Joint, _: &At<'_>, sink: &mut Sink<'_>) {
    let Some(bolt) = bolt(joint).filter(|bolt| bolt.series == BoltSeries::Nas) else { return };
    // A hole of the plans is the fit that the plans want.
    let Some(hole) = joint.final_hole().filter(|_| joint.plans_hole().is_none()) else { return };
    let most = bolt.diameter + limit::close_fit_lost().value;
    if hole.size.length < most {
        return;
    }
    let message = format!(
        "final hole {} is the clearance of an ordinary bolt; {} is close-tolerance",
        sink.style.size(hole.size),
        joint.call
    );
    let finding = sink.error(hole.span.unwrap_or(joint.spec.fastener.span), message);
    let finding = finding.label(joint.spec.fastener.span, format!("shank {}", sink.style.length(bolt.shank.value)));
    sink.push(finding.help("ream to the fit of the drawing, from a hole that is under size"));
}
