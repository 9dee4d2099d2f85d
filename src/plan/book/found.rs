//! What was found: discrepancies with their decision, visits with their findings.
//!
//! It repeats what was written, in words and units where the specs say them, and decides nothing.

use serde::Serialize;

use super::{corrections, struck_out};
use crate::archive::{Discrepancy, DiscrepancyOpened, State, Visit};
use crate::job::{Job, Record, operation};
use crate::phrase::say;
use crate::plan::decided::{decided, sides};
use crate::plan::named::said_role;
use crate::words::PacketName;

/// A discrepancy.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DiscrepancyEntry {
    /// Its number.
    pub number: String,
    /// When and by whom it was found.
    pub found: String,
    /// Traveler, hand, step, joint and space, as far as given.
    pub place: String,
    /// What is not as it should be, as written.
    pub what: String,
    /// What should be and what is.
    pub sides: Vec<String>,
    /// What was decided, on whose word; absent while it is open.
    pub closed: Option<String>,
    /// Values read afterwards.
    pub after: Vec<String>,
}

/// A visit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct VisitEntry {
    /// When, who, in which role.
    pub who: String,
    /// Spaces that were open.
    pub spaces: Vec<String>,
    /// Report number and note.
    pub notes: Vec<String>,
    /// Findings with their answers.
    pub findings: Vec<String>,
}

pub(super) fn discrepancy(job: &Job, state: &State, own: &Discrepancy) -> DiscrepancyEntry {
    let opened = &own.opened;
    let closed = own.closed.as_ref().map(|(_, closed)| {
        let looked = closed.looked.as_ref().map(|by| say!("; looked at by {by}", by)).unwrap_or_default();
        decided(closed) + &looked
    });
    let after = own.closed.iter().flat_map(|(_, closed)| &closed.after);
    let closing = own.closed.iter().map(|(entry, _)| *entry);
    let corrected = std::iter::once(own.entry).chain(closing).flat_map(|entry| corrections(state.corrections(entry)));
    DiscrepancyEntry {
        number: opened.number.clone(),
        found: format!("{} {}", opened.found, opened.by),
        place: place(job, state, opened),
        what: opened.what.clone(),
        sides: sides(opened).into_iter().chain(corrected).collect(),
        closed: own.struck.as_ref().map(|because| struck_out(because)).or(closed),
        after: after.map(|reading| read_afterwards(job, opened, &reading.id, &reading.value)).collect(),
    }
}

pub(super) fn visit(job: &Job, state: &State, own: &Visit) -> VisitEntry {
    let visited = &own.visited;
    let report = visited.reference.as_ref().map(|number| say!("report {number}", number));
    let findings = own.findings.iter().map(|(_, finding, answers)| {
        let suggested = finding.suggested.as_ref().map(|text| say!("; suggested: {text}", text)).unwrap_or_default();
        let discrepancy = finding.discrepancy.as_ref().map(|number| format!(" ({number})")).unwrap_or_default();
        let answers: Vec<String> =
            answers.iter().map(|answer| format!("; {} {}: {}", answer.on, answer.by, answer.answer)).collect();
        format!("{}. {}{discrepancy}{suggested}{}", finding.number, finding.what, answers.concat())
    });
    VisitEntry {
        who: format!("{} {} ({})", visited.on, visited.by, said_role(job, &visited.role)),
        spaces: visited.spaces.iter().map(|id| space_name(job, id)).collect(),
        notes: report
            .into_iter()
            .chain(visited.note.clone())
            .chain(corrections(state.corrections(own.entry)))
            .chain(own.struck.as_ref().map(|because| struck_out(because)))
            .collect(),
        findings: findings.collect(),
    }
}

/// `TANK-10 left, step 080, joint J3, Fuel tank, inside`.
fn place(job: &Job, state: &State, opened: &DiscrepancyOpened) -> String {
    let packet = opened.packet();
    let step = opened.step.as_ref().map(|id| step_words(job, state, packet.as_ref(), id));
    let joint = opened.joint.as_ref().map(|id| say!("joint {id}", id));
    let space = opened.space.as_ref().map(|id| space_name(job, id));
    let all = [packet.map(|packet| packet.to_string()), step, joint, space];
    all.into_iter().flatten().collect::<Vec<_>>().join(", ")
}

/// The step by its number on the sheet in force, or on today's where there is none; by its id where neither has it.
pub(super) fn step_words(job: &Job, state: &State, packet: Option<&PacketName>, id: &str) -> String {
    let issued = packet.and_then(|packet| state.in_force(packet)).and_then(|issue| {
        let mut steps = issue.issued.steps.iter();
        steps.find(|step| step.id == id).map(|step| step.number)
    });
    let today = || {
        let traveler = job.travelers.iter().find(|own| packet.is_some_and(|packet| packet.traveler == own.id.value))?;
        traveler.steps.iter().find(|step| step.id.value == id).map(|step| step.number)
    };
    issued
        .or_else(today)
        .map_or_else(|| say!("step {id}", id), |number| say!("step {number}", number = operation(number)))
}

/// The name of a space on paper; its id where the project has it no longer.
pub(super) fn space_name(job: &Job, id: &str) -> String {
    let mut spaces = job.project.spaces.iter();
    spaces.find(|space| space.id.value == id).map_or_else(|| id.to_owned(), |space| space.name.value.clone())
}

/// A value read after the decision: what was measured, with its unit, where the spec still says it.
fn read_afterwards(job: &Job, opened: &DiscrepancyOpened, id: &str, value: &str) -> String {
    let step = job
        .travelers
        .iter()
        .filter(|own| opened.traveler.as_ref() == Some(&own.id.value))
        .flat_map(|own| &own.steps)
        .find(|step| opened.step.as_ref() == Some(&step.id.value));
    let record: Option<&Record> = step.and_then(|step| step.records.iter().find(|record| record.id.value == id));
    let label = record.map_or(id, |record| record.label.value.as_str());
    let unit = record.and_then(|record| record.unit.as_ref()).map_or("", |unit| unit.value.as_str());
    format!("{label} {value} {unit}").trim_end().to_owned()
}
