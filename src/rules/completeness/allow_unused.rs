//! # allow-unused
//!
//! ## What it checks
//! Every `[[allow]]` entry accepts at least one finding of its traveler, and names a rule that exists and can be allowed.
//!
//! ## Why it matters
//! An entry that outlives its fault would accept the next fault of that name in silence, and its reason is printed on the
//! sheet.
//!
//! ## Source
//! - `completeness` completeness of the spec: every entry accepts something.
//!
//! ## Example that fires
//! ```toml
//! [[allow]]
//! rule = "edge-distance-shrt"     # misspelt, or the edge has long been put right
//! joint = "J1"
//! because = "letter of 2026-02-11"
//! ```
//!
//! ## How to put it right
//! Take the entry out, or correct the rule, joint, step or part that it names.
//!
//! ## When to allow it
//! Never: take the entry out instead.

use crate::report::Severity;
use crate::rules::{Check, Looks};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Allows };
