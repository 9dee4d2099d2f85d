//! # id-repeated
//!
//! ## What it checks
//! No two parts, joints or steps of one traveler, no two records of one step, and no two travelers, spaces, signers,
//! drawings or fasteners of the project have the same id.
//!
//! ## Why it matters
//! With two joints J1 a step that says J1 is right half of the time, and the archive cannot tell which one was signed.
//!
//! ## Source
//! - `completeness` completeness of the spec: one id, one thing.
//!
//! ## Example that fires
//! ```toml
//! [[joint]]
//! id = "J1"
//! [[joint]]
//! id = "J1"     # was meant to be J2
//! ```
//!
//! ## How to put it right
//! Give one of them another id. Steps that are already signed keep theirs: change the newer one.
//!
//! ## When to allow it
//! Never: what cannot be read cannot be judged. An entry for this rule is itself reported.

use crate::report::Severity;
use crate::rules::{Check, Looks};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Reading };
