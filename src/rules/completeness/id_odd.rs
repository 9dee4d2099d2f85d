//! # id-odd
//!
//! ## What it checks
//! Ids of travelers, parts, joints and steps are made of letters, digits, dashes, points and low lines.
//!
//! ## Why it matters
//! An id with a blank or another mark cannot be written in a file name or on an evening's line, and is typed wrong at
//! the bench.
//!
//! ## Source
//! - `practice` shop practice of this project: an id can be written anywhere.
//!
//! ## Example that fires
//! ```toml
//! [[joint]]
//! id = "J 1"            # a blank
//! ```
//!
//! ## How to put it right
//! Write a dash for the blank or the mark.
//!
//! ## When to allow it
//! When the drawing's own number has the mark, and nobody types it.

use crate::job::{Text, Traveler};
use crate::report::{Place, Severity};
use crate::rules::{At, Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Traveler(look) };

fn look(traveler: &Traveler, _: &At<'_>, sink: &mut Sink<'_>) {
    let mut all: Vec<(Place, &Text)> = vec![(Place::default(), &traveler.id)];
    for part in &traveler.parts {
        all.push((Place { part: Some(part.id.value.clone()), ..Place::default() }, &part.id));
    }
    for joint in &traveler.joints {
        all.push((Place { joint: Some(joint.id.value.clone()), ..Place::default() }, &joint.id));
    }
    for step in &traveler.steps {
        all.push((Place { step: Some(step.id.value.clone()), ..Place::default() }, &step.id));
    }
    for (place, id) in all {
        let is_odd = |c: char| !c.is_alphanumeric() && !matches!(c, '-' | '_' | '.');
        let Some(odd) = id.value.chars().find(|c| is_odd(*c)) else { continue };
        let what = if odd.is_whitespace() { "a blank".to_owned() } else { format!("`{odd}`") };
        let help = format!("write `{}`", id.value.trim().replace(is_odd, "-"));
        sink.push_about(place, sink.warning(id.span, format!("id `{}` holds {what}", id.value)).help(help));
    }
}
