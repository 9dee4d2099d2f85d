//! The box that somebody types a reading for: by step's number and place (`060.1`), as printed beside it, by `step/record`, or
//! by the record's id or label.
//!
//! It knows names alone. It refuses a name that no box has, or more than one.

use super::name::StepFault;
use crate::spec::read::nearest;

/// The names of one box.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BoxName<'a> {
    /// Number of the step on paper.
    pub number: u32,
    /// Id of the step.
    pub step: &'a str,
    /// Place of the box in its step, counted from one.
    pub nth: usize,
    /// Id of the record.
    pub record: &'a str,
    /// What is read.
    pub label: &'a str,
    /// Its limits with the unit, or the unit alone; empty where it has neither.
    pub limits: &'a str,
}

impl BoxName<'_> {
    /// What stands beside the box: `060.1`.
    #[must_use]
    pub fn key(&self) -> String {
        box_key(self.number, self.nth)
    }

    /// Number, label and limits: `060.1 Drag, at most 8 in-lb`.
    #[must_use]
    pub fn words(&self) -> String {
        let limits = if self.limits.is_empty() { String::new() } else { format!(", {}", self.limits) };
        format!("{} {}{limits}", self.key(), self.label)
    }

    /// Whether a name that is typed is this box's.
    #[must_use]
    pub fn answers(&self, typed: &str) -> bool {
        let typed = typed.trim();
        if let Some((step, record)) = typed.split_once('/') {
            return record == self.record && (step == self.step || whole(step) == Some(self.number));
        }
        typed == self.record || typed.eq_ignore_ascii_case(self.label) || self.is_key(typed)
    }

    fn is_key(&self, typed: &str) -> bool {
        let Some((step, nth)) = typed.split_once('.') else { return false };
        whole(step) == Some(self.number) && whole(nth).and_then(|nth| usize::try_from(nth).ok()) == Some(self.nth)
    }
}

/// The short number beside a box: its step's, and its place there.
#[must_use]
pub fn box_key(number: u32, nth: usize) -> String {
    format!("{number:03}.{nth}")
}

fn whole(text: &str) -> Option<u32> {
    let digits = !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit());
    digits.then(|| text.parse().ok()).flatten()
}

/// The index of the box for which a reading is typed, among those of an entry.
///
/// # Errors
/// What was typed, what there is, and what would pass.
pub fn named_box(typed: &str, boxes: &[BoxName<'_>]) -> Result<usize, StepFault> {
    let typed = typed.trim();
    let found: Vec<usize> = (0..boxes.len()).filter(|at| boxes[*at].answers(typed)).collect();
    let listed = |all: &[usize]| all.iter().map(|at| boxes[*at].words()).collect::<Vec<_>>().join("; ");
    let fault = |message: String, help: String| Err(StepFault { message, help, unknown: None });
    match found.as_slice() {
        [at] => Ok(*at),
        [] if boxes.is_empty() => {
            let message = format!("no step of this entry asks for a reading, and `{typed}` is one");
            fault(message, "give it where its step is signed".to_owned())
        }
        [] => {
            let message = format!("no step of this entry asks for a reading `{typed}`");
            let near = nearest(typed, boxes.iter().flat_map(|own| [own.record, own.label]));
            let near = near.map_or(String::new(), |near| format!("did you mean `{near}`? "));
            fault(message, format!("{near}they ask for {}", listed(&(0..boxes.len()).collect::<Vec<_>>())))
        }
        several => {
            let message = format!("`{typed}` is asked for more than once in this entry");
            fault(message, format!("type its number: {}", listed(several)))
        }
    }
}
