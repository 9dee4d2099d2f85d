//! The step that somebody types: its number as printed, its id, `TRAVELER/step`, or a range of them, among the steps of one
//! sheet or traveler.
//!
//! It knows the names alone. It refuses what no step answers to, or more than one, and a range that runs backwards.

use std::fmt;

use crate::spec::read::nearest;

/// What may be typed for a step, as it is said to who typed something else.
const ACCEPTED: &str =
    "accepted are the number on the sheet, the id, TRAVELER/step, and a range of them such as 010..070";

/// The names of one step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct StepName<'a> {
    /// Number on paper.
    pub number: u32,
    /// Id.
    pub id: &'a str,
}

impl fmt::Display for StepName<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:03} {}", self.number, self.id)
    }
}

/// Why what was typed names no steps.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepFault {
    /// What is wrong.
    pub message: String,
    /// What would pass.
    pub help: String,
    /// The word that no step answers to.
    pub unknown: Option<String>,
}

/// The indices of the steps that a word names, in their order; `owner` is the sheet or traveler as messages name it.
///
/// # Errors
/// What was typed, what there is, and what would pass.
pub fn named_steps(word: &str, traveler: &str, steps: &[StepName<'_>], owner: &str) -> Result<Vec<usize>, StepFault> {
    let one = |word: &str| named_step(word, traveler, steps, owner);
    let Some((first, last)) = word.split_once("..") else { return Ok(vec![one(word)?]) };
    let first = if first.trim().is_empty() { 0 } else { one(first)? };
    let last = if last.trim().is_empty() { steps.len().saturating_sub(1) } else { one(last)? };
    if first > last {
        let (from, to) = (steps[first], steps[last]);
        let message = format!("the range `{word}` runs backwards: {from} comes after {to} on {owner}");
        return Err(StepFault { message, help: format!("write {:03}..{:03}", to.number, from.number), unknown: None });
    }
    Ok((first..=last.min(steps.len().saturating_sub(1))).filter(|at| *at < steps.len()).collect())
}

fn named_step(word: &str, traveler: &str, steps: &[StepName<'_>], owner: &str) -> Result<usize, StepFault> {
    let found: Vec<usize> = (0..steps.len()).filter(|at| answers(steps[*at], traveler, word)).collect();
    let listed =
        |all: &mut dyn Iterator<Item = StepName<'_>>| all.map(|step| step.to_string()).collect::<Vec<_>>().join(", ");
    let word = word.trim();
    let word = word.split_once('/').filter(|(own, _)| *own == traveler).map_or(word, |(_, name)| name);
    match found.as_slice() {
        [at] => Ok(*at),
        [] => {
            let near = nearest_step(word, steps);
            let near = near.map_or(String::new(), |step| format!("did you mean {step}? "));
            Err(StepFault {
                message: format!("{owner} has no step `{word}`; it has {}", listed(&mut steps.iter().copied())),
                help: format!("{near}{ACCEPTED}"),
                unknown: Some(word.to_owned()),
            })
        }
        several => Err(StepFault {
            message: format!(
                "`{word}` is the number of one step and the id of another of {owner}: {}",
                listed(&mut several.iter().map(|at| steps[*at]))
            ),
            help: "type the other name".to_owned(),
            unknown: None,
        }),
    }
}

/// Whether a step is what was typed.
fn answers(step: StepName<'_>, traveler: &str, word: &str) -> bool {
    let name = match word.trim().split_once('/') {
        Some((owner, name)) if owner == traveler => name,
        Some(_) => return false,
        None => word.trim(),
    };
    let is_number =
        !name.is_empty() && name.bytes().all(|byte| byte.is_ascii_digit()) && name.parse() == Ok(step.number);
    is_number || name == step.id
}

/// The step that was probably meant: the next number, or an id that is nearly it.
fn nearest_step<'a>(word: &str, steps: &[StepName<'a>]) -> Option<StepName<'a>> {
    let name = word.rsplit_once('/').map_or(word, |(_, name)| name);
    if let Ok(number) = name.parse::<u32>() {
        return steps.iter().copied().min_by_key(|step| step.number.abs_diff(number));
    }
    let near = nearest(name, steps.iter().map(|step| step.id))?;
    steps.iter().copied().find(|step| step.id == near)
}
