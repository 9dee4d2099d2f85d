//! Steps that may be taller than a page, by what stands in them: which are worth laying out, and what is said of one that is.
//!
//! It lays nothing out and only counts, generously: a step that it passes has room.

use serde::{Deserialize, Serialize};

use super::document::{Document, Edition};
use super::packet::{Options, Source, StepRun, packet, packet_of_both};
use crate::job::{Hand, Job, JointRef, Step, Traveler};
use crate::report::{Finding, Place, Report, Severity, fault};
use crate::words::Packets;

/// How a step would be printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PrintForm {
    /// As its traveler asks: for one hand, or with the boxes of both.
    Asked,
    /// With the boxes of both hands, which its traveler does not ask for.
    BothHands,
    /// As its traveler asks, in large type.
    Large,
}

/// A step that may be too tall, with the pages on which it would be printed alone.
#[derive(Debug)]
pub struct Suspect {
    /// Index of the traveler.
    pub traveler: usize,
    /// Index of the step.
    pub step: usize,
    /// How it would be printed.
    pub form: PrintForm,
    /// Whether it has the boxes of both hands there.
    pub both_hands: bool,
    /// The step as it would be printed alone.
    pub document: Document,
}

/// By how much a step is taller than a page.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
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

/// The steps that may be taller than a page, of travelers that nothing else keeps from being printed; each in the forms in which
/// it may be, what its traveler asks for first.
#[must_use]
pub fn suspects(job: &Job, report: &Report) -> Vec<Suspect> {
    let of = |(traveler, own): (usize, &Traveler)| -> Vec<Suspect> {
        let steps = own.steps.iter().enumerate();
        steps.flat_map(|(step, spec)| forms(job, report, (traveler, step), rough_height(job, spec))).collect()
    };
    job.travelers.iter().enumerate().flat_map(of).collect()
}

/// A step in the forms in which it may be too tall by its rough height in millimetres.
fn forms(job: &Job, report: &Report, at: (usize, usize), height: usize) -> Vec<Suspect> {
    let own = &job.travelers[at.0];
    let hands = job.hands_of(at.0);
    let has_two = hands.len() > 1;
    let asks_both = has_two && own.packet.as_ref().is_some_and(|own| own.value == Packets::BothHands);
    let usual = Edition::default();
    let large = Edition { large: true, ..usual };
    let suspect = |form, hands: &[Option<Hand>], edition| {
        let most = match (hands, edition) {
            ([_, _], _) => SUSPECT_BOTH,
            (_, Edition { large: true, .. }) => SUSPECT_LARGE,
            _ => SUSPECT,
        };
        let document = (height > most).then(|| document(job, report, at, hands, edition)).flatten()?;
        Some(Suspect { traveler: at.0, step: at.1, form, both_hands: hands.len() > 1, document })
    };
    let one = |hand: &Option<Hand>| suspect(PrintForm::Asked, &[*hand], usual);
    let mut all: Vec<Suspect> = Vec::new();
    if asks_both {
        all.extend(suspect(PrintForm::Asked, &hands, usual));
    } else {
        // Each hand has its own words.
        all.extend(hands.iter().filter_map(one));
        all.extend(hands.iter().filter_map(|hand| suspect(PrintForm::Large, &[*hand], large)));
        all.extend(has_two.then(|| suspect(PrintForm::BothHands, &hands, usual)).flatten());
    }
    // In large type the boxes of both hands are printed in usual type where there is no room for more.
    all
}

fn document(
    job: &Job,
    report: &Report,
    (traveler, step): (usize, usize),
    hands: &[Option<Hand>],
    edition: Edition,
) -> Option<Document> {
    let options = Options { steps: Some(StepRun { first: step, last: step }), edition, ..Options::default() };
    let of = |hand| Source::of_specs(job, traveler, hand, report, options);
    let packet = match hands {
        [one] => packet(of(*one)),
        // Left first, in whatever order the spec names them.
        [one, other] => packet_of_both(of((*one).min(*other)), of((*one).max(*other))),
        _ => return None,
    };
    Some(packet.ok()?.document())
}

impl Suspect {
    /// What is said of it where it is too tall: an error where it cannot be printed as its traveler asks, else a note.
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
        let how = match (self.form, self.both_hands) {
            (PrintForm::Large, _) => "in the smallest large type",
            (_, true) => "with the boxes of both hands",
            (_, false) => "on paper",
        };
        let message = format!("step {} is {height} mm tall {how}, and a page holds {room} mm", step.id.value);
        let refused = match self.form {
            PrintForm::Asked => "a step never splits",
            PrintForm::BothHands => "`packet --both-hands` refuses it",
            PrintForm::Large => "`packet --large` refuses it",
        };
        let apart = if self.form == PrintForm::Asked && self.both_hands { ", or give each hand a packet" } else { "" };
        let help = format!("{refused}: shorten it by {lines} of text, or make two steps of it{apart}");
        let severity = if self.form == PrintForm::Asked { Severity::Error } else { Severity::Note };
        let mut finding = Finding::new(fault::STEP_TOO_TALL, severity, span, message).help(help);
        finding.place =
            Place { traveler: Some(traveler.id.value.clone()), step: Some(step.id.value.clone()), ..Place::default() };
        finding
    }

    /// Whether it is told already: one that cannot be printed as its traveler asks, by whatever hand, needs no more words.
    fn is_told(&self, told: &[(usize, usize, PrintForm)]) -> bool {
        told.iter().any(|(traveler, step, form)| {
            (*traveler, *step) == (self.traveler, self.step) && (*form == PrintForm::Asked || *form == self.form)
        })
    }
}

/// Finds of the suspects those that are too tall, each step once, by a measure that lays them out.
///
/// # Errors
/// The first that the measure meets.
pub fn tall_steps<E>(
    job: &Job,
    suspects: &[Suspect],
    measure: impl Fn(&Document) -> Result<Vec<TooTall>, E>,
) -> Result<Vec<Finding>, E> {
    let mut told: Vec<(usize, usize, PrintForm)> = Vec::new();
    let mut findings = Vec::new();
    for suspect in suspects {
        if suspect.is_told(&told) {
            continue;
        }
        for tall in measure(&suspect.document)? {
            told.push((suspect.traveler, suspect.step, suspect.form));
            findings.push(suspect.finding(job, &tall));
        }
    }
    Ok(findings)
}

/// In micrometres.
const MILLIMETRE: i64 = 1_000;

/// Millimetres by the rough count from which a step is laid out: a page holds a little more.
const SUSPECT: usize = 205;
/// The same in large type, which makes lines higher and shorter by a twentieth at least.
const SUSPECT_LARGE: usize = 180;
/// The same with the boxes of both hands, beside which there is little room for words.
const SUSPECT_BOTH: usize = 150;

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
