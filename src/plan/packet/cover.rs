//! The cover: what the packet is for, what comes before and after, what is open, who may sign, how the time divides.
//!
//! It approves nothing and signs nothing; blanks stay blank.

use std::collections::BTreeSet;

use serde::Serialize;

use super::caution::{self, Caution, WeakenedLine};
use super::departure::{self, Departure};
use super::hand_text::HandText;
use super::history::{self, HistoryLine};
use super::open::{self, OpenNow};
use super::session;
use super::sign::{self, Marks};
use super::source::Source;
use super::step::{StepSheet, first_elsewhere};
use crate::archive::Capacity;
use crate::job::{Index, Job, Joint, JointRef, May, Omitted, Signer, Step, StepRef, Text, operation};
use crate::phrase::{say, say_count};
use crate::plan::joint::{fastened_elsewhere, fit_up_call, leave_open};
use crate::plan::named::{said_role, said_signers};
use crate::plan::told;
use crate::units::spent;

/// The cover.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Cover {
    /// Markdown with values.
    pub summary: Option<String>,
    /// The same for each hand, on a packet of both whose hands read it differently; else none.
    pub hand_texts: Vec<HandText>,
    /// Travelers that must be finished first.
    pub after: Vec<TravelerLine>,
    /// Travelers that wait for this one.
    pub before: Vec<TravelerLine>,
    /// Steps of other travelers that must be done first.
    pub needs: Vec<String>,
    /// Spaces that this packet needs open or closes.
    pub spaces: Vec<SpaceSteps>,
    /// Hold and witness points.
    pub points: Vec<Point>,
    /// Numbers of the steps after which it is good to stop, each with the reason where there is one.
    pub rests: Vec<String>,
    /// Sum of the estimated times.
    pub time: Option<String>,
    /// Numbers that say how large the packet is.
    pub counts: Vec<String>,
    /// What is open on the day of printing, where the state of the work is known; of each hand where the packet is for both.
    pub open_now: Vec<OpenNow>,
    /// Fit-up hardware that goes in and must come out.
    pub temporary: Vec<TemporaryLine>,
    /// Holes that stay open.
    pub leave_open: Vec<LeftOpen>,
    /// Usual steps that are left out: the step, and the builder's reason.
    pub omitted: Vec<String>,
    /// Procedures of the project by which its steps are done, with their revisions.
    pub procedures: Vec<String>,
    /// Accepted departures.
    pub departures: Vec<Departure>,
    /// People of the project.
    pub signatories: Vec<Signatory>,
    /// The general set of cautions.
    pub cautions: Vec<Caution>,
    /// Built-in cautions that the project left out or made weaker, with its reasons.
    pub weakened: Vec<WeakenedLine>,
    /// What changed since the sheet before, step by step.
    pub history: Vec<HistoryLine>,
    /// Whether signatures of the sheet before wait for a read-through of these changes.
    pub read_note: bool,
}

/// A traveler by id and title.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct TravelerLine {
    /// Id of the traveler.
    pub id: String,
    /// Title of the traveler.
    pub title: String,
}

/// A space and the steps that need it.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct SpaceSteps {
    /// Name of the space, with its hand where it has one.
    pub name: String,
    /// Steps that need it open.
    pub open: Vec<String>,
    /// Steps that close it.
    pub closes: Vec<String>,
    /// Who must have looked before it closes: a role, or a stage.
    pub hold: Option<String>,
}

/// A hold or witness point.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Point {
    /// `hold`, `witness` or `stage`.
    pub kind: &'static str,
    /// The step's number.
    pub number: String,
    /// The step's title.
    pub title: String,
    /// Who must look, in words; of a stage also which.
    pub role: String,
}

/// Fit-up hardware.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct TemporaryLine {
    /// Id and name of the joint.
    pub joint: String,
    /// What goes in.
    pub what: String,
    /// How many.
    pub count: u32,
    /// The builder's reason, as written.
    pub why: String,
}

/// Holes that stay open.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct LeftOpen {
    /// Id and name of the joint.
    pub joint: String,
    /// How many, until when, why.
    pub words: String,
}

/// A person of the project.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Signatory {
    /// Initials as printed in the project file.
    pub initials: String,
    /// Their name, where the project file gives it.
    pub name: Option<String>,
    /// In which roles they sign, as the words for them.
    pub role: String,
}

pub(super) fn plan(source: Source<'_>, steps: &[StepSheet], marks: &Marks<'_>) -> Cover {
    let job = source.job;
    let traveler = source.traveler();
    let minutes =
        source.steps().filter_map(|(_, step)| step.minutes).map(|minutes| minutes.value).fold(0, u32::saturating_add);
    // On the one sheet of a small job stands nobody who has nothing to sign there.
    let people = job.project.signers.iter().filter(|one| !source.is_small() || may_mark(job, one, steps));
    let people = people.map(|one| Signatory {
        initials: one.initials.value.clone(),
        name: one.name.as_ref().map(|name| name.value.clone()),
        role: role_words(job, one),
    });
    Cover {
        summary: traveler.summary.as_ref().map(|summary| summary.value.clone()),
        hand_texts: Vec::new(),
        after: traveler.after.iter().map(|at| traveler_line(source, at.value)).collect(),
        before: waiting(source),
        needs: needs(source),
        spaces: spaces(source),
        points: points(steps),
        rests: session::rests(traveler),
        time: (minutes > 0).then(|| spent(minutes)),
        counts: counts(source),
        open_now: open::open_now(source).into_iter().collect(),
        temporary: temporary(source, |_| true),
        leave_open: left_open(source),
        omitted: source.traveler().omitted.iter().map(left_out).collect(),
        procedures: procedures(source),
        departures: departure::all(source),
        signatories: people.collect(),
        cautions: caution::general(source),
        weakened: caution::weakened(source),
        history: history::lines(source),
        read_note: sign::any_waits(marks),
    }
}

/// Whether a person may mark one of the steps: work them, look where a step asks for it, or sign a stage, which names whom.
fn may_mark(job: &Job, person: &Signer, steps: &[StepSheet]) -> bool {
    let marks = |role: &str| steps.iter().flat_map(|step| &step.signs).any(|sign| sign.role == role);
    let staged = || steps.iter().flat_map(|step| &step.signs).any(|sign| sign.kind == Capacity::Stage.word());
    let of_role = |role: &Text| marks(&role.value) || job.role(&role.value).is_none_or(|own| own.may(May::Do));
    person.roles.iter().any(of_role) || staged()
}

/// The project's own procedures that the printed steps follow, in the order of the project file.
fn procedures(source: Source<'_>) -> Vec<String> {
    let project = &source.job.project;
    let used: BTreeSet<usize> = source.steps().flat_map(|(_, step)| step.procedures.iter().copied()).collect();
    // The project's own stand in front of the built-in ones.
    let own = used.into_iter().take_while(|index| *index < project.spec.procedures.len());
    own.map(|index| project.procedures[index].named()).collect()
}

fn traveler_line(source: Source<'_>, index: usize) -> TravelerLine {
    let traveler = &source.job.travelers[index];
    TravelerLine { id: traveler.id.value.clone(), title: traveler.title.value.clone() }
}

/// Travelers that wait for this one.
pub(super) fn waiting(source: Source<'_>) -> Vec<TravelerLine> {
    let others = source.job.travelers.iter().enumerate();
    let waiting = others.filter(|(_, other)| other.after.iter().any(|after| after.value == source.index));
    waiting.map(|(at, _)| traveler_line(source, at)).collect()
}

fn needs(source: Source<'_>) -> Vec<String> {
    let job = source.job;
    let of_step = |(_, step): (usize, &Step)| {
        let line = |need: StepRef| {
            let needed = job.step(need);
            let id = &job.travelers[need.traveler].id.value;
            let number = operation(needed.number);
            say!(
                "{id} step {number} {title}, before step {later}",
                id,
                number,
                title = told::title(job, need),
                later = operation(step.number)
            )
        };
        first_elsewhere(source, step).map(line).collect::<Vec<_>>()
    };
    source.steps().flat_map(of_step).collect()
}

fn spaces(source: Source<'_>) -> Vec<SpaceSteps> {
    let numbers = |at: usize, list: fn(&Step) -> &[Index]| -> Vec<String> {
        let uses = source.steps().filter(|(_, step)| list(step).iter().any(|number| number.value == at));
        uses.map(|(_, step)| operation(step.number)).collect()
    };
    let line = |(at, space): (usize, &crate::job::SpaceSpec)| SpaceSteps {
        name: space.name.value.clone(),
        open: numbers(at, |step| &step.spaces),
        closes: numbers(at, |step| &step.closes),
        hold: looks_first(source.job, at),
    };
    let lines = source.job.project.spaces.iter().enumerate().map(line);
    lines.filter(|line| !line.open.is_empty() || !line.closes.is_empty()).collect()
}

/// Who must have looked before a space closes.
fn looks_first(job: &Job, space: usize) -> Option<String> {
    let hold = job.space_spec(space).hold.as_ref().map(|hold| said_role(job, &hold.value));
    let stages = job.stages_of_space(space).into_iter().map(|stage| {
        let own = &job.project.stages[stage];
        say!("{who} (stage {stage})", who = said_signers(job, own), stage = own.id.value)
    });
    let looks: Vec<String> = hold.into_iter().chain(stages).collect();
    (!looks.is_empty()).then(|| looks.join("; "))
}

/// The roles of a person, as their words.
pub(in crate::plan) fn role_words(job: &Job, signer: &Signer) -> String {
    signer.roles.iter().map(|role| said_role(job, &role.value)).collect::<Vec<_>>().join(", ")
}

fn points(steps: &[StepSheet]) -> Vec<Point> {
    let of_step = |step: &StepSheet| {
        let marked = step.signs.iter().filter(|sign| sign.kind != Capacity::Done.word());
        let point = |sign: &sign::Sign| Point {
            kind: sign.kind,
            number: step.number.clone(),
            title: step.title.clone(),
            role: if sign.kind == Capacity::Stage.word() { sign.title.clone() } else { sign.who.clone() },
        };
        marked.map(point).collect::<Vec<_>>()
    };
    steps.iter().flat_map(of_step).collect()
}

fn counts(source: Source<'_>) -> Vec<String> {
    let traveler = source.traveler();
    let all = traveler.steps.len();
    if source.is_excerpt() {
        return vec![say!("{count} of the {all} steps", count = source.steps().count(), all)];
    }
    let sum = |counts: &mut dyn Iterator<Item = u32>| counts.fold(0, u32::saturating_add);
    let holes = sum(&mut traveler.joints.iter().map(|joint| joint.count.value));
    let handled = (0..all).flat_map(|at| source.job.handled(source.item(at)));
    let set = sum(&mut handled.filter(|one| one.what.is_final()).map(|one| one.count));
    vec![
        say_count!(all, "{n} step", "{n} steps"),
        say_count!(traveler.joints.len(), "{n} joint", "{n} joints"),
        say_count!(holes, "{n} hole", "{n} holes"),
        say_count!(set, "{n} fastener set here", "{n} fasteners set here"),
    ]
}

/// Fit-up hardware of the joints that are printed, of those whose index is meant.
pub(super) fn temporary(source: Source<'_>, meant: impl Fn(usize) -> bool) -> Vec<TemporaryLine> {
    let line = |joint: &Joint| {
        let temporary = joint.temporary.as_ref()?;
        Some(TemporaryLine {
            joint: joint.title(),
            what: fit_up_call(temporary),
            count: joint.fit_up_count(),
            why: temporary.why.value.clone(),
        })
    };
    source.joints().filter(|(at, _)| meant(*at)).filter_map(|(_, joint)| line(joint)).collect()
}

/// Holes of the joints that are printed and that stay open.
fn left_open(source: Source<'_>) -> Vec<LeftOpen> {
    let line = |(at, joint): (usize, &Joint)| {
        let at = JointRef { traveler: source.index, joint: at };
        let words = leave_open(source.job, joint).or_else(|| fastened_elsewhere(source.job, at))?;
        Some(LeftOpen { joint: joint.title(), words })
    };
    source.joints().filter_map(line).collect()
}

/// `Deburr holes and edges (deburr): the shop that cut the parts deburred them`.
fn left_out(omitted: &Omitted) -> String {
    format!("{} ({}): {}", omitted.title, omitted.id.value, omitted.because.value)
}
