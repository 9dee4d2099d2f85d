//! # wording-out-of-place
//!
//! ## What it checks
//! No text of a spec says that something is approved, airworthy, certified or accepted by somebody. Pages of a manual may be
//! cited. Titles, summaries, names, steps, photo prompts, cautions, record labels and reasons are read.
//!
//! ## Why it matters
//! A builder's sheet approves nothing; that is for the authority and those it licenses.
//!
//! ## Source
//! - `practice` shop practice of this project: the sheet records work and defers to plans, local rules and licensed practice.
//!
//! ## Example that fires
//! ```toml
//! [[step]]
//! title = "Torque the approved hardware"
//! ```
//!
//! ## How to put it right
//! Say what is done and seen, and cite the drawing.
//!
//! ## When to allow it
//! When the word is part of a name, as of a printed form that must be quoted.

use crate::job::{Text, Traveler};
use crate::report::{Place, Severity};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Traveler(look) };

/// Words that read like an approval.
const APPROVAL: [&str; 9] = [
    "approved",
    "approval",
    "airworthy",
    "airworthiness",
    "certified",
    "certificated",
    "accepted by",
    "released to service",
    "return to service",
];

fn look(traveler: &Traveler, _: &At<'_>, sink: &mut Sink<'_>) {
    for (place, text) in texts(traveler) {
        let plain: String = text.value.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
        let Some(found) = first_of(&APPROVAL, &plain) else { continue };
        let help = "say what is done and seen; approving is for the authority and those it licenses";
        let finding =
            sink.warning(text.span, format!("the words \"{found}\" do not belong on a builder's sheet")).help(help);
        sink.push_about(place, finding);
    }
}

/// The first of some words that stands in a text as a word of its own.
fn first_of(words: &[&'static str], text: &str) -> Option<&'static str> {
    let stands = |word: &&str| {
        text.match_indices(*word).any(|(at, _)| {
            let (before, after) = (&text[..at], &text[at + word.len()..]);
            !before.ends_with(char::is_alphanumeric) && !after.starts_with(char::is_alphanumeric)
        })
    };
    words.iter().copied().find(stands)
}

/// Every text of a traveler that is printed, with what it belongs to.
fn texts(traveler: &Traveler) -> Vec<(Place, &Text)> {
    let whole = Place::default;
    let mut all: Vec<(Place, &Text)> = vec![(whole(), &traveler.title)];
    all.extend(traveler.summary.iter().map(|text| (whole(), text)));
    for part in &traveler.parts {
        all.push((Place { part: Some(part.id.value.clone()), ..whole() }, &part.name));
    }
    for joint in &traveler.joints {
        let place = || Place { joint: Some(joint.id.value.clone()), ..whole() };
        all.extend(joint.name.iter().map(|text| (place(), text)));
        all.extend(joint.leave_open.iter().map(|open| (place(), &open.why)));
        all.extend(joint.temporary.iter().map(|temporary| (place(), &temporary.why)));
        all.extend(joint.limits.iter().map(|limits| (place(), &limits.because)));
    }
    for step in &traveler.steps {
        let place = || Place { step: Some(step.id.value.clone()), ..whole() };
        let own = [Some(&step.title), step.text.as_ref(), step.photo.as_ref()];
        all.extend(own.into_iter().flatten().map(|text| (place(), text)));
        all.extend(step.tools.iter().chain(&step.manual).chain(&step.cautions).map(|text| (place(), text)));
        all.extend(step.records.iter().map(|record| (place(), &record.label)));
    }
    all.extend(traveler.allows.iter().map(|allow| (whole(), &allow.because)));
    all
}
