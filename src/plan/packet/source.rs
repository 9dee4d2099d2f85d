//! What a packet is planned from: everything that it depends on goes in at once, and with it which steps it prints.
//!
//! It plans nothing and changes nothing; every part of a packet asks it for the steps and joints that are its own.

use serde::{Deserialize, Serialize};

use super::change_pages::ChangePages;
use crate::archive::{Carried, Issue, SheetRequirement, State as Archived};
use crate::calendar::Day;
use crate::ident::{Digest, SheetCode};
use crate::job::{Hand, Item, Job, Joint, JointRef, Order, Paper, State, Step, StepRef, Traveler};
use crate::plan::document::Edition;
use crate::report::Report;
use crate::work::{LastChance, SheetChange, chances_by_space, packet_digest, step_digest};

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

/// A run of steps by index, both ends included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub struct StepRun {
    /// Index of the first.
    pub first: usize,
    /// Index of the last.
    pub last: usize,
}

/// The state of the work when packets are printed: made once for all packets of a run.
#[derive(Debug)]
pub struct AtPrinting<'a> {
    pub(super) state: &'a State,
    /// The last looks, each with the step that closes the space.
    pub(super) looks: Vec<(Item, LastChance)>,
}

impl<'a> AtPrinting<'a> {
    /// The build at one state of the work.
    #[must_use]
    pub fn of(job: &Job, order: &Order, state: &'a State) -> Self {
        let looks = chances_by_space(job, order, state).into_iter().map(|(_, by, chance)| (by, chance));
        Self { state, looks: looks.collect() }
    }
}

/// Which signatures a packet prints.
#[derive(Debug, Clone, Copy, Default)]
pub enum Signed<'a> {
    /// None: nothing was issued, or another sheet is in force.
    #[default]
    Nothing,
    /// Those that count on a sheet in force.
    InForce(&'a Archived, &'a Issue),
    /// Those that go on to a sheet that is about to be issued.
    Carried(&'a Archived, &'a [Carried]),
}

/// The change after which a sheet is printed for the first time.
#[derive(Debug, Clone, Copy)]
pub struct Changed<'a> {
    /// What it does to the steps of the sheet.
    pub sheet: &'a SheetChange,
    /// The plan change, letter or drawing on which it rests.
    pub because: &'a str,
    /// The day of its notice.
    pub on: Day,
}

/// Everything that the packet of one traveler and hand depends on.
#[derive(Debug, Clone, Copy)]
pub struct Source<'a> {
    /// The build.
    pub job: &'a Job,
    /// What `check` found.
    pub report: &'a Report,
    /// Index of the traveler.
    pub index: usize,
    /// The hand; `None` for a one-off.
    pub hand: Option<Hand>,
    /// How the work stands at printing, where that is known.
    pub work: Option<&'a AtPrinting<'a>>,
    /// Signatures that are printed instead of boxes.
    pub signed: Signed<'a>,
    /// The change that this print is the first to carry.
    pub change: Option<Changed<'a>>,
    /// The pages that are printed in place of others; absent where the packet is printed whole.
    pub pages: Option<&'a ChangePages>,
    /// What the steps require, in the form in which the sheet is archived; absent: in the newest.
    pub requirement: Option<&'a SheetRequirement>,
    /// How it is printed.
    pub options: Options,
}

impl<'a> Source<'a> {
    /// A packet by the specs alone: nothing is known of the work.
    #[must_use]
    pub const fn of_specs(
        job: &'a Job,
        index: usize,
        hand: Option<Hand>,
        report: &'a Report,
        options: Options,
    ) -> Self {
        let signed = Signed::Nothing;
        Self { job, report, index, hand, work: None, signed, change: None, pages: None, requirement: None, options }
    }

    pub(super) fn traveler(&self) -> &'a Traveler {
        &self.job.travelers[self.index]
    }

    /// The code of the sheet.
    pub(super) fn code(&self) -> SheetCode {
        let own = || packet_digest(self.job, self.index, self.hand).code();
        self.requirement.map_or_else(own, SheetRequirement::code)
    }

    /// The digest of what a step requires.
    pub(super) fn step_digest(&self, step: usize) -> Digest {
        let archived = self.requirement.and_then(|sheet| sheet.steps.get(step));
        archived.map_or_else(|| step_digest(self.job, self.item(step)), crate::archive::StepRequirement::digest)
    }

    /// The same for the whole packet, of which an excerpt is a part.
    pub(super) const fn whole(mut self) -> Self {
        self.options.steps = None;
        self
    }

    pub(super) const fn is_excerpt(&self) -> bool {
        self.options.steps.is_some()
    }

    /// Whether it is a small job: so few joints and steps that all of it should stand on the two sides of one sheet, where a step
    /// need not repeat what the card of its joint says beside it. Usual steps are eight at most; two may be a builder's own.
    pub(super) fn is_small(&self) -> bool {
        const SMALL_JOINTS: usize = 3;
        const SMALL_STEPS: usize = 10;
        let traveler = self.traveler();
        !self.is_excerpt() && traveler.joints.len() <= SMALL_JOINTS && traveler.steps.len() <= SMALL_STEPS
    }

    /// Whether a step is printed.
    pub(super) fn has(&self, step: usize) -> bool {
        self.options.steps.is_none_or(|run| (run.first..=run.last).contains(&step))
    }

    /// The steps that are printed, with their indices.
    pub(super) fn steps(&self) -> impl DoubleEndedIterator<Item = (usize, &'a Step)> {
        let source = *self;
        self.traveler().steps.iter().enumerate().filter(move |(at, _)| source.has(*at))
    }

    /// Whether a joint is printed: in an excerpt, where one of its steps names it.
    pub(super) fn has_joint(&self, joint: usize) -> bool {
        let joint = JointRef { traveler: self.index, joint };
        !self.is_excerpt() || self.steps().any(|(_, step)| step.names(joint))
    }

    /// The joints that are printed, with their indices.
    pub(super) fn joints(&self) -> impl Iterator<Item = (usize, &'a Joint)> {
        let source = *self;
        self.traveler().joints.iter().enumerate().filter(move |(at, _)| source.has_joint(*at))
    }

    pub(super) const fn item(&self, step: usize) -> Item {
        Item { at: StepRef { traveler: self.index, step }, hand: self.hand }
    }
}
