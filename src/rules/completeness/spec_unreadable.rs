//! # spec-unreadable
//!
//! ## What it checks
//! A spec file can be opened, is UTF-8 text and is valid TOML.
//!
//! ## Why it matters
//! Of a file that cannot be read nothing is judged and nothing is printed; it must not look like a file without faults.
//!
//! ## Source
//! - `format` file format of this program: TOML 1.0 in UTF-8.
//!
//! ## Example that fires
//! ```toml
//! [[joint]
//! id = "J1"         # a bracket is missing above
//! ```
//!
//! ## How to put it right
//! Correct the place that the message shows. Several faults of one file are shown in one run.
//!
//! ## When to allow it
//! Never: what cannot be read cannot be judged. An entry for this rule is itself reported.

use crate::report::Severity;
use crate::rules::{Check, Looks};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Reading };
