//! # caution-weakened
//!
//! ## What it checks
//! A `[[caution]]` entry of the project that leaves out a built-in DANGER, lowers the signal word of a built-in caution, or
//! moves one from the steps to the cover, says why in `because`.
//!
//! ## Why it matters
//! A DANGER is what kills. Whoever reads the sheet cannot see what is not printed: the cover names what is missing, and
//! with no reason nobody can judge whether it may be.
//!
//! ## Source
//! - `practice` shop practice of this project: no DANGER goes silently.
//!
//! ## Example that fires
//! ```toml
//! [[caution]]
//! id = "isocyanate"
//! omit = true
//! ```
//!
//! ## How to put it right
//! Give the reason in `because`, as `because = "water-borne primer only, no hardener in the shop"`, or take the entry out.
//!
//! ## When to allow it
//! Never: the reason is what makes it allowed. An entry for this rule is itself reported.

use crate::job::{Job, SignalWord, Weakened};
use crate::report::Severity;
use crate::rules::{Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Job(look) };

fn look(job: &Job, sink: &mut Sink<'_>) {
    for weakened in job.project.cautions.weakened.iter().filter(|weakened| weakened.because.is_none()) {
        let Some(what) = fault(weakened) else { continue };
        let message = format!(
            "the built-in {} `{}` is {what}, and no reason is given",
            weakened.built_in.word.word(),
            weakened.built_in.id
        );
        sink.push(
            sink.error(weakened.span, message)
                .help("add `because = \"...\"`; it is printed on the covers, or take the entry out"),
        );
    }
}

/// What wants a reason; a WARNING or less may be left out without one.
fn fault(weakened: &Weakened) -> Option<String> {
    match weakened.now {
        None if weakened.built_in.word == SignalWord::Danger => Some("left out".to_owned()),
        None => None,
        Some(now) if now > weakened.built_in.word => Some(format!("lowered to {}", now.word())),
        Some(_) => Some("moved from the steps to the cover".to_owned()),
    }
}
