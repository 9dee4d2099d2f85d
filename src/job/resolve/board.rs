//! Finds the travelers that `[board]` of the project file names.

use super::Whole;
use super::names::dangling;
use crate::job::{JobWait, Project, Queue, Text};
use crate::report::Report;

/// Finds the travelers that `[board]` names; one that does not exist is a finding and is left out.
pub(super) fn resolve_queue(project: &Project, whole: &Whole, report: &mut Report) -> Queue {
    let Some(board) = &project.spec.board else { return Queue::default() };
    let mut found = |name: &Text| {
        let traveler = whole.travelers.get(&name.value).copied();
        if traveler.is_none() {
            report.push(dangling(name, "traveler", whole.travelers.keys().map(String::as_str)));
        }
        traveler
    };
    Queue {
        first: board.first.iter().filter_map(&mut found).collect(),
        later: board.later.iter().filter_map(&mut found).collect(),
        waits: board
            .waits
            .iter()
            .filter_map(|own| {
                Some(JobWait {
                    traveler: found(&own.traveler)?,
                    hand: own.hand.map(|hand| hand.value),
                    wait: own.wait.value,
                    what: own.what.value.clone(),
                    until: own.until.map(|until| until.value),
                })
            })
            .collect(),
    }
}
