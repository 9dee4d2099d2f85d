//! # reference-dangling
//!
//! ## What it checks
//! Every part, joint, step, space, drawing, traveler, role, stage and signer that a spec names exists: in stacks, steps,
//! `needs`, `after`, `leave-open`, `spaces`, `closes`, `opens`, `drawings`, `hold`, `witness`, `stage`, `sign`, `releases`.
//!
//! ## Why it matters
//! A name that leads nowhere drops out of the packet: the part is not laid out, the step does not wait, the space is
//! closed too early.
//!
//! ## Source
//! - `completeness` completeness of the spec: whatever is named exists.
//!
//! ## Example that fires
//! ```toml
//! [[joint]]
//! id = "J1"
//! stack = ["WNG-211", "WNG-21O"]    # a letter O for a nought
//! ```
//!
//! ## How to put it right
//! Correct the name; the help names the nearest one that exists. Add what is missing where the name is right.
//!
//! ## When to allow it
//! Never: what cannot be read cannot be judged. An entry for this rule is itself reported.

use crate::report::Severity;
use crate::rules::{Check, Looks};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Reading };
