//! The board: what can be started, what waits and for what, what closes next, for a week with a pen.
//!
//! It takes the moment from the caller and reads no clock. It proposes an order for the time given and says why; it
//! moves nothing, and what the pen writes on it counts more than what it printed.

mod batch;
mod choice;
mod jobs;
mod page;
mod row;

use serde::Serialize;

pub use batch::Batch;
pub use choice::Tonight;
pub use jobs::{JobRow, JobState};
pub use row::{Row, WaitKind, WaitLine, WaitingRow};

use self::row::Rows;
use super::document::{Document, Frame, plain};
use crate::archive::{Issue, IssuedStep, Standing, State as Archived};
use crate::calendar::Moment;
use crate::job::{Clocks, Discrepancy, Item, Job, May, Order, OwnDocument, Signatory, State};
use crate::phrase::say;
use crate::plan::named::{said_item, said_role, said_signers, said_space};
use crate::report::{Report, Severity};
use crate::units::Minutes;
use crate::words::Hand;
use crate::work::{Condition, Held, LastChance, LedgerLine, Readiness, Wait, last_chances, ledger};

/// What a board is planned for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BoardOptions {
    /// The moment.
    pub now: Moment,
    /// Minutes at hand.
    pub minutes: u32,
    /// Nobody helps: what needs a helper waits.
    pub alone: bool,
}

/// The whole board.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Board {
    /// Aircraft name.
    pub aircraft: String,
    /// Serial number.
    pub serial: Option<String>,
    /// The moment, with the day of the week.
    pub now: String,
    /// What to do in the minutes at hand.
    pub tonight: Tonight,
    /// Every job that can go on, with its next steps.
    pub jobs: Vec<JobRow>,
    /// Can be started, what most others wait for first.
    pub ready: Vec<Row>,
    /// Begun.
    pub in_work: Vec<Row>,
    /// Next in turn, but held.
    pub waiting: Vec<WaitingRow>,
    /// Discrepancies that are not settled.
    pub discrepancies: Vec<DiscrepancyLine>,
    /// Spaces that are not closed, the one with the least left to do first.
    pub last_chances: Vec<LastChance>,
    /// Work that goes together.
    pub batches: Vec<Batch>,
    /// What is not final now.
    pub ledger: Vec<LedgerLine>,
    /// Sheets in force with work left on them: a sheet on the bench with another code is not current.
    pub sheets: Vec<SheetInForce>,
    /// How far the build is.
    pub counts: Counts,
    /// Errors in the project that nothing accepts: with any, the page may be wrong.
    pub errors: usize,
}

/// A sheet in force.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SheetInForce {
    /// Traveler id.
    pub traveler: String,
    /// The hand.
    pub hand: Option<Hand>,
    /// Its code.
    pub code: String,
    /// Revision of the traveler.
    pub revision: String,
    /// Steps that are signed.
    pub signed: usize,
    /// Steps in all.
    pub of: usize,
}

/// One discrepancy that is not settled.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DiscrepancyLine {
    /// Its number.
    pub id: String,
    /// What is wrong.
    pub what: String,
    /// Where it was found.
    pub steps: Vec<String>,
    /// When it was found.
    pub opened: Option<String>,
}

/// How many steps stand where, counted by hand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Counts {
    /// All.
    pub all: usize,
    /// Signed off.
    pub done: usize,
    /// Begun.
    pub in_work: usize,
    /// Ready.
    pub ready: usize,
    /// Held.
    pub waiting: usize,
    /// Behind others.
    pub later: usize,
    /// Discrepancies that are not settled.
    pub discrepancies: usize,
}

/// What is at hand while a board is planned.
pub(super) struct Source<'a> {
    pub job: &'a Job,
    pub order: &'a Order,
    pub clocks: &'a Clocks,
    pub state: &'a State,
    pub options: BoardOptions,
}

/// The board of a build.
#[must_use]
pub fn board(job: &Job, order: &Order, state: &State, options: BoardOptions) -> Board {
    let clocks = job.clocks();
    let source = Source { job, order, clocks: &clocks, state, options };
    let readiness = Readiness::of(job, order, &clocks, state, options.now);
    let mut counts = Counts { discrepancies: state.open_discrepancies().count(), ..Counts::default() };
    let (mut ready, mut in_work, mut held) = (Vec::new(), Vec::new(), Vec::new());
    for item in order.items() {
        counts.all += 1;
        match readiness.condition(item) {
            Condition::Done => counts.done += 1,
            Condition::Later => counts.later += 1,
            Condition::Ready => ready.push(item),
            Condition::InWork => in_work.push(item),
            Condition::Waiting(waits) => held.push((item, waits)),
        }
    }
    let rows = Rows::of(&source, &readiness);
    let ready = choice::ranked(&source, &readiness, ready);
    let (ready, short) = row::stocked(&source, ready);
    let (ready, apart): (Vec<Item>, Vec<Item>) = ready.into_iter().partition(|item| person(&source, *item).is_none());
    let (in_work, halted): (Vec<Item>, Vec<Item>) = in_work.into_iter().partition(|item| !source.wants_helper(*item));
    let mut waiting: Vec<WaitingRow> = held
        .into_iter()
        .map(|(item, waits)| rows.waiting(item, waits.iter().map(|wait| wait_line(job, wait))))
        .collect();
    waiting.extend(short.into_iter().map(|(item, words)| rows.waiting(item, std::iter::once(WaitLine::short(&words)))));
    waiting.extend(apart.iter().chain(&halted).map(|item| rows.waiting(*item, person(&source, *item).into_iter())));
    waiting.sort_by_cached_key(WaitingRow::key);
    counts.ready = ready.len();
    counts.in_work = in_work.len();
    counts.waiting = waiting.len();
    Board {
        aircraft: job.project.aircraft.value.clone(),
        serial: job.project.serial().map(|serial| serial.value.clone()),
        now: options.now.long(),
        tonight: choice::tonight(&source, &rows, &in_work, &ready),
        jobs: jobs::jobs(&source, &rows, &in_work, &ready),
        batches: batch::batches(&source, &rows, &ready),
        ready: ready.iter().map(|item| rows.row(*item)).collect(),
        in_work: in_work.iter().map(|item| rows.row(*item)).collect(),
        waiting,
        discrepancies: state.open_discrepancies().map(|own| discrepancy_line(job, own)).collect(),
        last_chances: last_chances(job, order, state).into_iter().filter(|chance| !chance.closed).collect(),
        ledger: ledger(job, state).into_iter().filter(|line| line.held == Held::Open).collect(),
        sheets: Vec::new(),
        counts,
        errors: 0,
    }
}

/// What can be started as far as order, cure, access and answers go, in the order of the board.
pub(super) fn next_items(job: &Job, order: &Order, state: &State, now: Moment) -> Vec<Item> {
    let clocks = job.clocks();
    let source = Source { job, order, clocks: &clocks, state, options: BoardOptions { now, minutes: 0, alone: false } };
    let readiness = Readiness::of(job, order, &clocks, state, now);
    let ready = order.items().filter(|item| readiness.condition(*item) == Condition::Ready).collect();
    choice::ranked(&source, &readiness, ready)
}

impl Board {
    /// The board as a document.
    #[must_use]
    pub fn document(&self, job: &Job, now: Moment) -> Document {
        let page = page::page(self, Frame::of(job, now.day().long()));
        Document::of_build(job, "board.typ.j2", OwnDocument::Board.stem(None), Some(now.day()), plain(&page))
    }

    /// The board with the number of errors of a report.
    #[must_use]
    pub fn with_errors(mut self, report: &Report) -> Self {
        self.errors = report.count(Severity::Error);
        self
    }

    /// The board with the codes of the sheets that the archive has in force and that are not signed to the end.
    #[must_use]
    pub fn with_sheets(mut self, archived: &Archived) -> Self {
        let sheet = |issue: &Issue| {
            let issued = &issue.issued;
            let signed = |step: &&IssuedStep| matches!(archived.standing(&issued.item(&step.id)), Standing::Signed(_));
            SheetInForce {
                traveler: issued.traveler.clone(),
                hand: issued.hand,
                code: issued.sheet.to_string(),
                revision: issued.revision.clone(),
                signed: issued.steps.iter().filter(signed).count(),
                of: issued.steps.len(),
            }
        };
        self.sheets = archived.all_in_force().map(sheet).filter(|sheet| sheet.signed < sheet.of).collect();
        self
    }
}

fn discrepancy_line(job: &Job, own: &Discrepancy) -> DiscrepancyLine {
    DiscrepancyLine {
        id: own.id.clone(),
        what: own.what.clone(),
        steps: own.items.iter().map(|item| said_item(job, *item)).collect(),
        opened: own.opened.map(|opened| opened.to_string()),
    }
}

impl Source<'_> {
    /// Whether an item waits because nobody helps.
    fn wants_helper(&self, item: Item) -> bool {
        self.options.alone && self.job.step(item.at).helper.value
    }
}

/// The person for whom an item that could be started waits.
fn person(source: &Source<'_>, item: Item) -> Option<WaitLine> {
    let helper = || source.wants_helper(item).then(|| WaitLine::new(WaitKind::Person, say!("a helper").to_owned()));
    visitor(source.job, source.state, item).as_deref().map(WaitLine::visitor).or_else(helper)
}

/// Who from outside the shop must come before an item can be signed off.
fn visitor(job: &Job, state: &State, item: Item) -> Option<String> {
    if state.looked.contains(&item) {
        return None;
    }
    let comes = |name: &str| match job.signatory(name) {
        Some(Signatory::Role(role)) => !role.may(May::Do),
        Some(Signatory::Person(signer)) => job.roles_of(signer).all(|role| !role.may(May::Do)),
        None => false,
    };
    let hold = job.step(item.at).hold.as_ref().filter(|role| comes(&role.value));
    let hold = hold.map(|role| said_role(job, &role.value));
    let stages = job.stages_at(item.at).into_iter().map(|stage| &job.project.stages[stage]);
    let mut named = stages.filter(|stage| {
        stage.sign.all.iter().any(|name| comes(&name.value))
            || (!stage.sign.any.is_empty() && stage.sign.any.iter().all(|name| comes(&name.value)))
    });
    hold.or_else(|| {
        named
            .next()
            .map(|stage| say!("{who}, for stage {stage},", who = said_signers(job, stage), stage = stage.title()))
    })
}

fn wait_line(job: &Job, wait: &Wait) -> WaitLine {
    match wait {
        Wait::Cure { until, after } => {
            WaitLine::cure(say!("cures after {after}", after = said_item(job, *after)), *until)
        }
        Wait::Closed(space) => {
            WaitLine::new(WaitKind::Access, say!("{space} is closed", space = said_space(job, *space)))
        }
        Wait::State(state) => WaitLine::new(WaitKind::Other, say!("not {state}: set it again first", state)),
        Wait::Discrepancy(id, what) => WaitLine::new(WaitKind::Answer, say!("discrepancy {id}: {what}", id, what)),
        Wait::Written { wait, what, until } => WaitLine::written(*wait, what.clone(), *until),
    }
}

/// A window that ends within this time goes before everything else.
pub(super) const URGENT: Minutes = Minutes(24 * 60);
