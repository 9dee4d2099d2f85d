//! # value-invalid
//!
//! ## What it checks
//! Every value has the type and the form that its key wants, required keys are there, words are from the fixed lists, and
//! lists have one value or one per layer.
//!
//! ## Why it matters
//! A size that is read as something else than was meant is the very slip that this program exists to stop.
//!
//! ## Source
//! - `format` file format of this program: the forms of the format page.
//!
//! ## Example that fires
//! ```toml
//! [[joint]]
//! id = "J1"
//! pitch = "3/4 inches"     # sizes are written 3/4, 0.75, 0.75 in or 19 mm
//! ```
//!
//! ## How to put it right
//! Write the value in one of the forms that the message names.
//!
//! ## When to allow it
//! Never: what cannot be read cannot be judged. An entry for this rule is itself reported.

use crate::report::Severity;
use crate::rules::{Check, Looks};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Reading };
