//! # key-unknown
//!
//! ## What it checks
//! Every key and every table is one that the format has.
//!
//! ## Why it matters
//! A misspelt key would be ignored in silence: an edge distance that nobody judges, a caution that nobody prints.
//!
//! ## Source
//! - `format` file format of this program: the keys of the format page.
//!
//! ## Example that fires
//! ```toml
//! [[joint]]
//! id = "J1"
//! edge-distance = "0.25"     # the key is `edge`
//! ```
//!
//! ## How to put it right
//! Use the key that the help names, or take the line out.
//!
//! ## When to allow it
//! Never: what cannot be read cannot be judged. An entry for this rule is itself reported.

use crate::report::Severity;
use crate::rules::{Check, Looks};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Reading };
