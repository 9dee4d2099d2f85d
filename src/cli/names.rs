//! Names on the command line: travelers, spaces, stages and joints by id, hands and papers by word.
//!
//! A name that leads nowhere is refused with the nearest that would.

use anyhow::{Result, anyhow};

use crate::job::{Hand, Job, Paper};
use crate::spec::nearest;

/// The place of an id among those that are known; `what` says what it names: `traveler`, `joint`.
pub(super) fn index_of<'a>(name: &str, known: impl Iterator<Item = &'a str>, what: &str) -> Result<usize> {
    let known: Vec<&str> = known.collect();
    let near =
        || nearest(name, known.iter().copied()).map_or_else(String::new, |near| format!("; did you mean {near}?"));
    known.iter().position(|id| *id == name).ok_or_else(|| anyhow!("there is no {what} {name}{}", near()))
}

/// The index of a traveler.
pub(super) fn traveler(job: &Job, name: &str) -> Result<usize> {
    index_of(name, job.travelers.iter().map(|own| own.id.value.as_str()), "traveler")
}

/// The indices of spaces.
pub(super) fn spaces(job: &Job, names: &[String]) -> Result<Vec<usize>> {
    let known = || job.project.spaces.iter().map(|own| own.id.value.as_str());
    names.iter().map(|name| index_of(name, known(), "space")).collect()
}

/// The indices of stages.
pub(super) fn stages(job: &Job, names: &[String]) -> Result<Vec<usize>> {
    let known = || job.project.stages.iter().map(|own| own.id.value.as_str());
    names.iter().map(|name| index_of(name, known(), "stage")).collect()
}

/// `left` or `right`.
pub(super) fn hand(word: &str) -> Result<Hand, String> {
    Hand::parse(word).ok_or_else(|| format!("one of: {}", Hand::WORDS.join(", ")))
}

/// `us-letter` or `a4`.
pub(super) fn paper(word: &str) -> Result<Paper, String> {
    Paper::parse(word).ok_or_else(|| format!("one of: {}", Paper::WORDS.join(", ")))
}
