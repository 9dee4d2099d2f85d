//! # reading-incomparable
//!
//! ## What it checks
//! What a step compares can be compared: `within` and `fit` name readings of the step, or `step/reading` of its traveler,
//! in one unit; those of a `fit` are lengths.
//!
//! ## Why it matters
//! A comparison of a reading that nobody takes is never made, and one of inches with millimetres is never kept.
//!
//! ## Source
//! - `completeness` completeness of the spec.
//!
//! ## Example that fires
//! ```toml
//! records = [
//!     { id = "left", label = "Left", unit = "in" },
//!     { id = "right", label = "Right", unit = "mm", within = "0.06 of left" },
//! ]
//! ```
//!
//! ## How to put it right
//! Name a reading that the traveler takes, and give both the same unit.
//!
//! ## When to allow it
//! Never: two readings that cannot be compared are compared by nobody.

use crate::job::Step;
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Step(look) };

fn look(_: &Step, at: &At<'_>, sink: &mut Sink<'_>) {
    for fault in at.traveler.comparisons(at.index).into_iter().filter_map(Result::err) {
        sink.push(sink.error(fault.span, fault.message).help(fault.help));
    }
}
