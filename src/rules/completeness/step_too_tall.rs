//! # step-too-tall
//!
//! ## What it checks
//! Every step has room on one page of its packet, with its cautions and boxes: a step never splits over two. It is measured as
//! its traveler asks to be printed, for one hand or with the boxes of both, and with the project's own templates. A step that has
//! room there and none in large type, or none with the boxes of both hands, is a note. What a last look adds on the day of
//! printing is not in it: printing measures again, and refuses.
//!
//! ## Why it matters
//! A box on another sheet than the work that it signs is a signature for nothing. A packet with such a step is not printed.
//!
//! ## Source
//! - `common-practice` common practice: the work and the box that signs it lie on one sheet.
//!
//! ## Example that fires
//! ```toml
//! [[step]]
//! id = "wire"
//! do = "fit"
//! text = "..."     # sixty lines, and a picture
//! ```
//!
//! ## How to put it right
//! Shorten the text by the lines that the message names, show a picture smaller, or make two steps of it.
//!
//! ## When to allow it
//! Never: it cannot be printed. An entry for this rule is itself reported.

use crate::report::Severity;
use crate::rules::{Check, Looks};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Paper };
