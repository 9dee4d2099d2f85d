//! PLAN: what stands on paper, as plain data: every count, size, total and word decided before anything is drawn.
//!
//! It prints verdicts and makes none; it refuses to plan a packet that the report stops. It reads no clock.

mod board;
mod book;
mod caution;
mod close_out;
mod cover;
mod discrepancy;
mod document;
mod drawings;
mod excerpt;
mod facing;
mod figures;
mod joint;
mod mark;
mod notice;
mod packet;
mod pick;
mod picking;
mod preparation;
mod room;
mod session;
mod step;
mod tool;
mod torque;
mod values;
mod visit;
mod wall;

pub use board::{
    Batch, Board, BoardOptions, Counts, DiscrepancyLine, Row, SheetInForce, Tonight, WaitLine, WaitingRow, board,
};
pub use book::{
    AllSheets, Assembly, Book, BookFacts, BookLine, BuiltJoint, DiscrepancyEntry, FileLine, Person, Shown, TaskLine,
    Tasks, VisitEntry, book,
};
pub use caution::{Caution, WeakenedLine};
pub use close_out::CloseOut;
pub use cover::{Cover, Departure, LeftOpen, Point, Signatory, TemporaryLine, TravelerLine, ZoneLine};
pub use discrepancy::{
    BlankRow, Check, DiscrepancySheet, DiscrepancySubject, Earlier, HoleSet, NextRivet, Share, blank_discrepancy,
    discrepancy_of,
};
pub use document::{Document, Edition, Thumbnail, Thumbnails};
pub use drawings::{BenchLine, CitedLine, DrawingIndex, SheetLine, drawing_index};
pub use excerpt::StepRun;
pub use facing::{Facing, OpenNow};
pub use figures::{Figures, JointFigures, StripSheet, rungs, section_of};
pub use joint::{JointSheet, LayerLine, NextSize, Rung, Stage};
pub use mark::{HistoryLine, Marks, marks_of_carried, marks_of_issue};
pub use notice::{Notice, NoticeFacts, NoticeSheet, notice};
pub use packet::{DrawingLine, Head, Packet};
pub use pick::{HardwareLine, Use};
pub use picking::{Choice, HolderLine, PickLine, PickList, PickUse, PiecesLine, pick_list};
pub use preparation::{PartLine, Preparation};
pub use session::{Session, next_session};
pub use step::{Cure, RecordLine, Sign, StepJoint, StepSheet};
pub use tool::ToolLine;
pub use torque::{Setting, TorqueStrip};
pub use values::values;
pub use visit::{
    BoltLook, DiscrepancyLook, DrawingInForce, LeftLine, LookJoint, PhotoLine, ReadingLine, ReadingVerdict, Since,
    SpaceLine, SpaceLook, VisitChoice, VisitPacket, visit,
};

use crate::calendar::Day;
use crate::job::{Hand, Job, Paper, Traveler};
use crate::report::{Finding, Report};

/// How packets are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Options {
    /// Print despite errors: with a watermark, without any box to fill in and without a sheet code.
    pub draft: bool,
    /// The day that the document carries; the clock is the caller's.
    pub date: Option<Day>,
    /// Print only these steps, with what they need.
    pub steps: Option<StepRun>,
    /// Print for reading only: marked so, without any box to fill in and without a machine-readable code.
    pub reference: bool,
    /// Paper instead of the project's.
    pub paper: Option<Paper>,
    /// How it is printed.
    pub edition: Edition,
}

/// Why a packet is not planned.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refused {
    /// The traveler's id.
    pub traveler: String,
    /// Number of errors that stop it.
    pub errors: usize,
    /// The first of them.
    pub first: String,
}

impl std::fmt::Display for Refused {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { traveler, errors, first } = self;
        let noun = if *errors == 1 { "error stops" } else { "errors stop" };
        write!(f, "{traveler} is not printed: {errors} {noun} it ({first})")
    }
}

impl std::error::Error for Refused {}

/// What the plan of one packet rests on.
#[derive(Clone, Copy)]
pub(crate) struct Source<'a> {
    pub(crate) job: &'a Job,
    pub(crate) traveler: &'a Traveler,
    pub(crate) index: usize,
    pub(crate) report: &'a Report,
    pub(crate) hand: Option<Hand>,
}

/// The packets of one traveler: one for each hand, or one for a one-off.
///
/// # Errors
/// Refuses when a finding of the traveler or of the project stops printing and `options` do not ask for a draft.
///
/// # Panics
/// When the job has no traveler of that index.
pub fn packets(job: &Job, index: usize, report: &Report, options: &Options) -> Result<Vec<Packet>, Refused> {
    may_print(job, index, report, options)?;
    Ok(job.hands_of(index).into_iter().map(|hand| planned(job, index, hand, report, options)).collect())
}

/// The packet of one traveler and hand.
///
/// # Errors
/// As [`packets`].
///
/// # Panics
/// When the job has no traveler of that index.
pub fn packet(
    job: &Job,
    index: usize,
    hand: Option<Hand>,
    report: &Report,
    options: &Options,
) -> Result<Packet, Refused> {
    may_print(job, index, report, options)?;
    Ok(planned(job, index, hand, report, options))
}

fn planned(job: &Job, index: usize, hand: Option<Hand>, report: &Report, options: &Options) -> Packet {
    Packet::plan(Source { job, traveler: &job.travelers[index], index, report, hand }, options)
}

fn may_print(job: &Job, index: usize, report: &Report, options: &Options) -> Result<(), Refused> {
    let traveler = &job.travelers[index];
    let id = &traveler.id.value;
    // A fault of another traveler's file does not stop this one; a fault of the project file stops all.
    let files = [traveler.file, job.project.aircraft.span.file];
    let concerns =
        |finding: &Finding| finding.place.traveler.as_ref().map_or(files.contains(&finding.span.file), |at| at == id);
    let mut stopping = report.findings.iter().filter(|finding| finding.stops() && concerns(finding));
    if !options.draft
        && let Some(first) = stopping.next()
    {
        return Err(Refused { traveler: id.clone(), errors: 1 + stopping.count(), first: first.message.clone() });
    }
    Ok(())
}
