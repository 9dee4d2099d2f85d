//! What the rules leave to be told beside their findings: their own texts, and what they could not judge.
//!
//! It carries words from `rules` to `report`, which do not know each other.

use crate::job::Job;
use crate::report::{RuleText, Unjudged};
use crate::rules;

/// What every rule says of itself.
pub(super) fn rule_texts() -> Vec<RuleText> {
    let text = |rule: &rules::Rule| RuleText {
        name: rule.name.to_owned(),
        short: rule.summary(),
        page: rule.page_text(),
        severity: rule.severity,
    };
    rules::RULES.iter().map(text).collect()
}

/// What could not be judged for want of a fact.
pub(super) fn unjudged(job: &Job) -> Vec<Unjudged> {
    rules::unjudged(job).into_iter().map(|one| Unjudged { place: one.place, why: one.why, rules: one.rules }).collect()
}
