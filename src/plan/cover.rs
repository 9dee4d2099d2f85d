//! The cover: what the packet is for, what comes before and after, what is open, who may sign, how the time divides.
//!
//! It approves nothing and signs nothing; blanks stay blank.

use serde::Serialize;

use super::caution::{self, Caution, WeakenedLine};
use super::facing::OpenNow;
use super::joint::leave_open;
use super::session::{self, Session};
use super::{Source, StepSheet};
use crate::job::{Index, Joint, Step, operation};
use crate::units::spent;

/// The cover.
#[derive(Debug, Clone, Serialize)]
pub struct Cover {
    /// Markdown with values.
    pub summary: Option<String>,
    /// Travelers that must be finished first.
    pub after: Vec<TravelerLine>,
    /// Travelers that wait for this one.
    pub before: Vec<TravelerLine>,
    /// Steps of other travelers that must be done first.
    pub needs: Vec<String>,
    /// Spaces that this packet needs open or closes.
    pub zones: Vec<ZoneLine>,
    /// Hold and witness points.
    pub points: Vec<Point>,
    /// Runs of steps of about an evening.
    pub sessions: Vec<Session>,
    /// Sum of the estimated times.
    pub time: Option<String>,
    /// Numbers that say how large the packet is.
    pub counts: Vec<String>,
    /// What is open on the day of printing, where the state of the work is known.
    pub open_now: Option<OpenNow>,
    /// Fit-up hardware that goes in and must come out.
    pub temporary: Vec<TemporaryLine>,
    /// Holes that stay open.
    pub leave_open: Vec<LeftOpen>,
    /// Accepted departures.
    pub departures: Vec<Departure>,
    /// People of the project.
    pub signatories: Vec<Signatory>,
    /// The general set of cautions.
    pub cautions: Vec<Caution>,
    /// Built-in cautions that the project left out or made weaker, with its reasons.
    pub weakened: Vec<WeakenedLine>,
    /// What changed since the sheet before, step by step.
    pub history: Vec<super::HistoryLine>,
    /// Whether signatures of the sheet before wait for a read-through of these changes.
    pub read_note: bool,
}

/// A traveler by id and title.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct TravelerLine {
    /// Id.
    pub id: String,
    /// Title.
    pub title: String,
}

/// A space and the steps that need it.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct ZoneLine {
    /// Name.
    pub name: String,
    /// Steps that need it open.
    pub open: Vec<String>,
    /// Steps that close it.
    pub closes: Vec<String>,
    /// Who must have looked before it closes.
    pub hold: Option<&'static str>,
}

/// A hold or witness point.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct Point {
    /// `hold` or `witness`.
    pub kind: &'static str,
    /// The step's number.
    pub number: String,
    /// The step's title.
    pub title: String,
    /// Role.
    pub role: &'static str,
}

/// Fit-up hardware.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct TemporaryLine {
    /// Joint.
    pub joint: String,
    /// What goes in.
    pub what: String,
    /// How many.
    pub count: u32,
    /// Why.
    pub why: String,
}

/// Holes that stay open.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct LeftOpen {
    /// Joint.
    pub joint: String,
    /// How many, until when, why.
    pub words: String,
}

/// An accepted departure from a rule.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct Departure {
    /// The joint, step or part.
    pub at: String,
    /// The rule.
    pub rule: String,
    /// What was found.
    pub found: Option<String>,
    /// The builder's reason.
    pub because: String,
}

/// A person of the project.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct Signatory {
    /// Initials as printed in the project file.
    pub initials: String,
    /// Role.
    pub role: &'static str,
}

pub(super) fn plan(source: Source<'_>, steps: &[StepSheet]) -> Cover {
    let (job, traveler) = (source.job, source.traveler);
    let line = |at: usize| TravelerLine {
        id: job.travelers[at].id.value.clone(),
        title: job.travelers[at].title.value.clone(),
    };
    let waiting = job
        .travelers
        .iter()
        .enumerate()
        .filter(|(_, other)| other.after.iter().any(|after| after.value == source.index));
    let minutes =
        traveler.steps.iter().filter_map(|step| step.minutes).map(|minutes| minutes.value).fold(0, u32::saturating_add);
    let people = job
        .project
        .signers
        .iter()
        .map(|one| Signatory { initials: one.initials.value.clone(), role: one.role.value.word() });
    Cover {
        summary: traveler.summary.as_ref().map(|summary| summary.value.clone()),
        after: traveler.after.iter().map(|at| line(at.value)).collect(),
        before: waiting.map(|(at, _)| line(at)).collect(),
        needs: needs(source),
        zones: zones(source),
        points: points(steps),
        sessions: session::plan(traveler),
        time: (minutes > 0).then(|| spent(minutes)),
        counts: counts(source),
        open_now: None,
        temporary: temporary(source),
        leave_open: left_open(source),
        departures: departures(source),
        signatories: people.collect(),
        cautions: caution::general(&job.project.cautions, traveler),
        weakened: caution::weakened(&job.project.cautions, traveler),
        history: Vec::new(),
        read_note: false,
    }
}

fn needs(source: Source<'_>) -> Vec<String> {
    let job = source.job;
    let mut lines: Vec<String> = Vec::new();
    for step in &source.traveler.steps {
        for need in step.needs.iter().filter(|need| need.value.traveler != source.index) {
            let needed = job.step(need.value);
            let id = &job.travelers[need.value.traveler].id.value;
            lines.push(format!(
                "{id} step {} {}, before step {}",
                operation(needed.number),
                needed.title.value,
                operation(step.number)
            ));
        }
    }
    lines
}

fn zones(source: Source<'_>) -> Vec<ZoneLine> {
    let steps = &source.traveler.steps;
    let numbers = |at: usize, list: fn(&Step) -> &[Index]| -> Vec<String> {
        let uses = steps.iter().filter(|step| list(step).iter().any(|number| number.value == at));
        uses.map(|step| operation(step.number)).collect()
    };
    let line = |(at, zone): (usize, &crate::job::ZoneSpec)| ZoneLine {
        name: zone.name.value.clone(),
        open: numbers(at, |step| &step.zones),
        closes: numbers(at, |step| &step.closes),
        hold: zone.hold.map(|hold| hold.value.word()),
    };
    let lines = source.job.project.zones.iter().enumerate().map(line);
    lines.filter(|line| !line.open.is_empty() || !line.closes.is_empty()).collect()
}

fn points(steps: &[StepSheet]) -> Vec<Point> {
    let of_step = |step: &StepSheet| {
        let marked = step.signs.iter().filter(|sign| sign.kind != "done");
        marked
            .map(|sign| Point {
                kind: sign.kind,
                number: step.number.clone(),
                title: step.title.clone(),
                role: sign.role,
            })
            .collect::<Vec<_>>()
    };
    steps.iter().flat_map(of_step).collect()
}

fn counts(source: Source<'_>) -> Vec<String> {
    let traveler = source.traveler;
    let holes = traveler.joints.iter().map(|joint| joint.count.value).fold(0, u32::saturating_add);
    let set = traveler
        .joints
        .iter()
        .filter(|joint| joint.fastenings().next().is_some())
        .map(Joint::set_here)
        .fold(0, u32::saturating_add);
    let (steps, joints) = (traveler.steps.len(), traveler.joints.len());
    vec![
        format!("{steps} steps"),
        format!("{joints} joints"),
        format!("{holes} holes"),
        format!("{set} fasteners set here"),
    ]
}

fn temporary(source: Source<'_>) -> Vec<TemporaryLine> {
    temporary_of(source, |_| true)
}

/// Fit-up hardware that is still in after the last step of the packet.
pub(super) fn temporary_left(source: Source<'_>) -> Vec<TemporaryLine> {
    temporary_of(source, |joint| joint.fit_up().is_some_and(|(_, until)| until.is_none()))
}

fn temporary_of(source: Source<'_>, such: impl Fn(&crate::job::Joint) -> bool) -> Vec<TemporaryLine> {
    let line = |joint: &crate::job::Joint| {
        let temporary = joint.temporary.as_ref()?;
        let nut = temporary.nut.as_ref().map_or(String::new(), |nut| format!(" with {}", nut.call));
        Some(TemporaryLine {
            joint: joint.title(),
            what: format!("{}{nut}", temporary.fastener.call),
            count: joint.count.value,
            why: temporary.why.value.clone(),
        })
    };
    source.traveler.joints.iter().filter(|joint| such(joint)).filter_map(line).collect()
}

fn left_open(source: Source<'_>) -> Vec<LeftOpen> {
    let line =
        |joint: &crate::job::Joint| Some(LeftOpen { joint: joint.title(), words: leave_open(source.job, joint)? });
    source.traveler.joints.iter().filter_map(line).collect()
}

/// Every accepted departure: those that the check met, with what it found, and the rest of the `[[allow]]` entries.
fn departures(source: Source<'_>) -> Vec<Departure> {
    let id = &source.traveler.id.value;
    let found = source.report.findings.iter().filter(|finding| finding.place.traveler.as_ref() == Some(id));
    let met = found.filter_map(|finding| {
        let because = finding.allowed.clone()?;
        let place = &finding.place;
        let at = [("joint", &place.joint), ("step", &place.step), ("part", &place.part)];
        Some(Departure { at: named(&at), rule: finding.rule.to_owned(), found: Some(finding.message.clone()), because })
    });
    let mut all: Vec<Departure> = met.collect();
    for allow in &source.traveler.allows {
        let text = |text: &Option<crate::job::Text>| text.as_ref().map(|text| text.value.clone());
        let (joint, step, part) = (text(&allow.joint), text(&allow.step), text(&allow.part));
        let at = named(&[("joint", &joint), ("step", &step), ("part", &part)]);
        if !all.iter().any(|known| known.rule == allow.rule.value && known.because == allow.because.value) {
            all.push(Departure {
                at,
                rule: allow.rule.value.clone(),
                found: None,
                because: allow.because.value.clone(),
            });
        }
    }
    all
}

fn named(places: &[(&str, &Option<String>)]) -> String {
    let known: Vec<String> = places.iter().filter_map(|(what, id)| Some(format!("{what} {}", id.as_ref()?))).collect();
    if known.is_empty() { "whole traveler".to_owned() } else { known.join(", ") }
}

/// The departures that concern a step: its own, and those of the joints that it makes or fastens.
pub(super) fn departures_of_step(source: Source<'_>, step: &Step) -> Vec<Departure> {
    let at_step = format!("step {}", step.id.value);
    let works = step.kind.value.makes_holes() || step.kind.value.fastens();
    let joints: Vec<String> = step
        .joints
        .iter()
        .filter(|_| works)
        .map(|number| format!("joint {}", source.traveler.joints[number.value].id.value))
        .collect();
    let concerns = |departure: &Departure| {
        departure.at.split(", ").any(|place| place == at_step || joints.iter().any(|joint| joint == place))
    };
    departures(source).into_iter().filter(concerns).collect()
}
