//! # caution-unknown
//!
//! ## What it checks
//! Every entry of a step's `cautions` that is one word without a space is a name in the built-in list or of a `[[caution]]`
//! entry of the project. An entry with spaces is the builder's own caution and is printed as it stands.
//!
//! ## Why it matters
//! A misspelt name would print a bare word where a warning was meant.
//!
//! ## Source
//! - `completeness` completeness of the spec: every name leads somewhere.
//!
//! ## Example that fires
//! ```toml
//! [[step]]
//! cautions = ["eye-protecton"]
//! ```
//!
//! ## How to put it right
//! Write a name of the list, or the caution itself in a sentence.
//!
//! ## When to allow it
//! Hardly ever: write the caution in words instead.

use crate::job::{Step, nearest};
use crate::report::Severity;
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Step(look) };

fn look(step: &Step, at: &At<'_>, sink: &mut Sink<'_>) {
    let known: Vec<&str> = at.job.project.cautions.ids().collect();
    for caution in &step.cautions {
        let name = caution.value.trim();
        let own_words = name.contains(char::is_whitespace);
        if own_words || known.contains(&name) {
            continue;
        }
        let help = nearest(name, known.iter().copied()).map_or_else(
            || format!("known: {}; or write the caution itself in words", known.join(", ")),
            |near| format!("did you mean `{near}`? Or write the caution itself in words"),
        );
        sink.push(sink.error(caution.span, format!("there is no caution `{name}`")).help(help));
    }
}
