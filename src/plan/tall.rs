//! Steps that may be taller than a page, by what stands in them: which are worth laying out, and what is said of one that is.
//!
//! It lays nothing out and only counts, generously: a step that it passes has room.

use super::document::Document;
use super::packet::{Options, Source, StepRun, packet};
use crate::job::{Job, JointRef, Step, Traveler};
use crate::report::{Finding, Place, Report, Severity, fault};

/// A step that may be too tall, with the pages on which it would be printed alone.
#[derive(Debug)]
pub struct Suspect {
    /// Index of the traveler.
    pub traveler: usize,
    /// Index of the step.
    pub step: usize,
    /// The step as it would be printed alone, of the first hand.
    pub document: Document,
}

/// By how much a step is taller than a page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TooTall {
    /// Its number on paper.
    pub number: String,
    /// Its height in micrometres.
    pub height: i64,
    /// What a page holds, in micrometres.
    pub room: i64,
    /// How many lines of text it must lose.
    pub lines: i64,
}

/// The steps that may be taller than a page, of travelers that nothing else keeps from being printed.
#[must_use]
pub fn suspects(job: &Job, report: &Report) -> Vec<Suspect> {
    let of = |(traveler, own): (usize, &Traveler)| -> Vec<Suspect> {
        let tall = own.steps.iter().enumerate().filter(|(_, step)| rough_height(job, step) > SUSPECT);
        tall.filter_map(|(step, _)| suspect(job, report, traveler, step)).collect()
    };
    job.travelers.iter().enumerate().flat_map(of).collect()
}

fn suspect(job: &Job, report: &Report, traveler: usize, step: usize) -> Option<Suspect> {
    let options = Options { steps: Some(StepRun { first: step, last: step }), ..Options::default() };
    let hand = job.hands_of(traveler).first().copied().flatten();
    let document = packet(Source::of_specs(job, traveler, hand, report, options)).ok()?.document();
    Some(Suspect { traveler, step, document })
}

impl Suspect {
    /// What is said of it where it is too tall.
    ///
    /// # Panics
    /// When the job is not the one that it was found in.
    #[must_use]
    pub fn finding(&self, job: &Job, tall: &TooTall) -> Finding {
        let traveler = &job.travelers[self.traveler];
        let step = &traveler.steps[self.step];
        let span = step.spec.text.as_ref().map_or(step.id.span, |text| text.span);
        let lines = crate::units::counted(tall.lines, "line", "lines");
        let height = tall.height.div_euclid(MILLIMETRE) + 1;
        let room = tall.room.div_euclid(MILLIMETRE);
        let message = format!("step {} is {height} mm tall on paper, and a page holds {room} mm", step.id.value);
        let help = format!("a step never splits: shorten it by {lines} of text, or make two steps of it");
        let mut finding = Finding::new(fault::STEP_TOO_TALL, Severity::Error, span, message).help(help);
        finding.place =
            Place { traveler: Some(traveler.id.value.clone()), step: Some(step.id.value.clone()), ..Place::default() };
        finding
    }
}

/// In micrometres.
const MILLIMETRE: i64 = 1_000;

/// Millimetres by the rough count from which a step is laid out: a page holds a little more.
const SUSPECT: usize = 205;

/// How high a step may stand, in millimetres: head and boxes, lines of text, pictures, rows of joints, values and signatures.
fn rough_height(job: &Job, step: &Step) -> usize {
    // As many letters surely fit a line beside the boxes.
    const LETTERS: usize = 56;
    const PICTURE: usize = 90;
    let text = step.text.as_ref().map_or("", |text| text.value.as_str());
    let wrapped = |line: &str| line.chars().count().div_ceil(LETTERS);
    let lines: usize = text.lines().map(wrapped).sum();
    let tools: usize = step.tools.iter().chain(&step.drawings).map(|text| text.value.chars().count() + 2).sum();
    let cautions: usize = step.cautions.iter().map(|text| wrapped(&text.value)).sum();
    let of_joint = |joint: JointRef| if job.joint(joint).nut.is_some() { 30 } else { 11 };
    let joints: usize = step.joints.iter().map(|named| of_joint(named.joint)).sum();
    let points = usize::from(step.hold.is_some()) + usize::from(step.witness.is_some());
    let signs = points + 2 * (usize::from(step.stage.is_some()) + step.closes.len());
    // Built-in cautions, the boxes, the head.
    45 + (lines + cautions + tools.div_ceil(LETTERS)) * 5
        + text.matches("![").count() * PICTURE
        + joints
        + step.records.len() * 10
        + signs * 20
        + step.fills.len() * 11
}
