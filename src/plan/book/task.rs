//! The builder's own task list: which steps stand for which task, and what the archive says of them.
//!
//! The list is data that the builder supplies; no authority's form is known here, and no share in per cent is told.

use std::collections::BTreeSet;

use serde::{Deserialize, Serialize};

use crate::archive::{Capacity, State};
use crate::job::Job;
use crate::words::ItemName;

/// `[[task]]` entries of a file.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tasks {
    /// In the order of the file.
    pub task: Vec<Task>,
}

/// One task.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Task {
    /// Its name in the builder's list.
    pub name: String,
    /// Whether parts are made or put together.
    pub kind: TaskKind,
    /// `TRAVELER/step`, with `*` for any text.
    pub steps: Vec<String>,
}

/// Whether parts are made or put together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum TaskKind {
    /// Parts are made.
    Fabrication,
    /// Parts are put together.
    Assembly,
}

/// One line of the table.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct TaskLine {
    /// Its name.
    pub name: String,
    /// Whether parts are made or put together.
    pub kind: TaskKind,
    /// Steps of the specs that stand for it, in every hand.
    pub steps: u32,
    /// Steps that are signed.
    pub signed: u32,
    /// Minutes of steps without help, with unpaid help, with paid help.
    pub minutes: (u32, u32, u32),
    /// Steps with paid help.
    pub paid: u32,
    /// Codes of the sheets on which the signatures stand.
    pub sheets: Vec<String>,
}

impl TaskKind {
    pub(super) const fn word(self) -> &'static str {
        match self {
            Self::Fabrication => "fabrication",
            Self::Assembly => "assembly",
        }
    }
}

impl Tasks {
    /// Reads a list.
    ///
    /// # Errors
    /// The first fault, with its line and column.
    pub fn parse(text: &str) -> Result<Self, String> {
        toml::from_str(text).map_err(|fault| fault.to_string().trim_end().to_owned())
    }
}

/// Whether a name fits a pattern in which `*` stands for any text.
fn fits(pattern: &str, name: &str) -> bool {
    let Some((before, after)) = pattern.split_once('*') else { return pattern == name };
    let Some(rest) = name.strip_prefix(before) else { return false };
    rest.char_indices().map(|(at, _)| at).chain([rest.len()]).any(|at| fits(after, &rest[at..]))
}

/// The table.
pub(super) fn lines(job: &Job, state: &State, tasks: &Tasks) -> Vec<TaskLine> {
    tasks.task.iter().map(|task| line(job, state, task)).collect()
}

fn line(job: &Job, state: &State, task: &Task) -> TaskLine {
    let mut line = TaskLine {
        name: task.name.clone(),
        kind: task.kind,
        steps: 0,
        signed: 0,
        minutes: (0, 0, 0),
        paid: 0,
        sheets: Vec::new(),
    };
    let mut sheets = BTreeSet::new();
    for (index, traveler) in job.travelers.iter().enumerate() {
        for step in &traveler.steps {
            let name = format!("{}/{}", traveler.id.value, step.id.value);
            if !task.steps.iter().any(|pattern| fits(pattern, &name)) {
                continue;
            }
            for hand in job.hands_of(index) {
                line.steps += 1;
                let mut counting =
                    state.counting(&ItemName::new(traveler.id.value.as_str(), hand, step.id.value.as_str()));
                let Some((signature, _)) = counting.find(|(signature, _)| signature.signed.capacity == Capacity::Done)
                else {
                    continue;
                };
                line.signed += 1;
                sheets.extend(signature.sheet());
                // A signature without minutes adds none.
                let minutes = signature.signed.minutes.unwrap_or(0);
                match (signature.signed.paid.is_empty(), signature.signed.helpers.is_empty()) {
                    (false, _) => {
                        line.paid += 1;
                        line.minutes.2 += minutes;
                    }
                    (true, false) => line.minutes.1 += minutes,
                    (true, true) => line.minutes.0 += minutes,
                }
            }
        }
    }
    line.sheets = sheets.into_iter().map(|code| code.to_string()).collect();
    line
}
