//! The printed board: a row a job, as many rows of each section as its pages have room for, and how many more there are.
//! The data behind it has all.
//!
//! It chooses and counts; the order was decided before.

use serde::Serialize;

use super::batch::Batch;
use super::jobs::{JobRow, JobState};
use super::row::{Row, WaitKind, WaitLine, WaitingRow};
use super::{Board, DiscrepancyLine, SheetInForce};
use crate::phrase::{self, say, say_count};
use crate::plan::document::Frame;
use crate::plan::last_look::{LookRow, named, on_board, parked_on_board};
use crate::plan::named::said_hand;
use crate::plan::said::{Piece, Said};
use crate::units::spent;
use crate::work::{Held, LastChance};

/// What the board prints.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BoardPage {
    /// What stands on every page.
    pub frame: Frame,
    /// How far the build is.
    pub summary: String,
    /// That the project has errors, where it has.
    pub warning: Option<String>,
    /// The spaces in which work has begun and is not finished; nothing where there are none.
    pub shut: Option<String>,
    /// What to do in the minutes at hand.
    pub tonight: TonightOnPage,
    /// The jobs that can go on.
    pub jobs: Vec<JobOnPage>,
    /// Held.
    pub waiting: Vec<WaitingOnPage>,
    /// Discrepancies that are not settled.
    pub discrepancies: Vec<DiscrepancyLine>,
    /// Work that goes together, a line each.
    pub together: Vec<Vec<Piece>>,
    /// The spaces that close next.
    pub looks: Vec<LookRow>,
    /// What is not final now.
    pub ledger: Vec<Vec<Piece>>,
    /// Sheets in force.
    pub sheets: Vec<SheetInForce>,
    /// What the page has no room for, section by section.
    pub more: More,
}

/// What to do in the minutes at hand.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct TonightOnPage {
    /// The minutes at hand.
    pub title: String,
    /// Why these, in plain words.
    pub why: String,
    /// The jobs with the numbers of their steps, in the order of work.
    pub jobs: Vec<Vec<Piece>>,
}

/// One job that can go on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct JobOnPage {
    /// Traveler and hand.
    pub name: String,
    /// The traveler's title.
    pub title: String,
    /// That it is begun or put off.
    pub mark: Option<&'static str>,
    /// Number of the step to go on with.
    pub number: String,
    /// Its title.
    pub step: String,
    /// Its time, and the helper.
    pub takes: Option<String>,
    /// What it starts or must keep, and where it works.
    pub remarks: Option<String>,
    /// The steps that follow.
    pub then: Vec<ThenStep>,
    /// How many follow those.
    pub left: Option<String>,
}

/// A step that follows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ThenStep {
    /// Its number.
    pub number: String,
    /// What is done in a word or two.
    pub kind: String,
}

/// One held item.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct WaitingOnPage {
    /// Traveler and hand.
    pub name: String,
    /// The traveler's title.
    pub title: String,
    /// Number of the step.
    pub number: String,
    /// Its title.
    pub step: String,
    /// For what kinds of things it waits.
    pub kinds: String,
    /// Who, what, until when.
    pub waits: Vec<WaitLine>,
}

/// What the page has no room for; nothing where it has room for all.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct More {
    /// Jobs that can go on.
    pub jobs: Option<String>,
    /// Held.
    pub waiting: Option<String>,
    /// Discrepancies.
    pub discrepancies: Option<String>,
    /// Work that goes together.
    pub together: Option<String>,
    /// Spaces that close later.
    pub looks: Option<String>,
    /// Ledger.
    pub ledger: Option<String>,
    /// Sheets in force.
    pub sheets: Option<String>,
}

/// The most rows of each section.
const JOBS: usize = 7;
const WAITING: usize = 3;
const DISCREPANCIES: usize = 3;
const TOGETHER: usize = 3;
const LOOKS: usize = 4;
const LEDGER: usize = 4;
const SHEETS: usize = 12;

/// Jobs named in the line of those that the page has no room for.
const NAMED: usize = 12;

/// The first rows, and how many more there are.
fn first<T: Clone>(rows: &[T], most: usize, what: &str) -> (Vec<T>, Option<String>) {
    let rest = rows.len().saturating_sub(most);
    let more = (rest > 0).then(|| say!("and {rest} more {what}, not shown here", rest, what));
    (rows.iter().take(most).cloned().collect(), more)
}

pub(super) fn page(board: &Board, frame: Frame) -> BoardPage {
    let (waiting, more_waiting) = first(&held_jobs(&board.waiting), WAITING, say!("waiting"));
    let (discrepancies, more_discrepancies) = first(&board.discrepancies, DISCREPANCIES, say!("discrepancies"));
    let (batches, more_batches) = first(&board.batches, TOGETHER, say!("groups"));
    let (looks, more_looks) = first(&board.last_chances, LOOKS, say!("spaces that close later"));
    let (ledger, more_ledger) = first(&board.ledger, LEDGER, say!("entries"));
    let (sheets, more_sheets) = first(&board.sheets, SHEETS, say!("sheets"));
    BoardPage {
        frame,
        summary: summary(board),
        warning: (board.errors > 0).then(|| {
            let errors = say_count!(board.errors, "{n} error", "{n} errors");
            say!("{errors} in the project: this page may be wrong. Run check first.", errors)
        }),
        shut: shut(&board.last_chances),
        tonight: TonightOnPage {
            title: say!("In {minutes} minutes", minutes = board.tonight.minutes),
            why: board.tonight.why.clone(),
            jobs: tonight(&board.tonight.rows),
        },
        jobs: board.jobs.iter().take(JOBS).map(job).collect(),
        waiting: waiting.into_iter().map(waiting_row).collect(),
        discrepancies,
        together: batches.iter().map(together).collect(),
        looks: looks.iter().map(on_board).collect(),
        ledger: ledger.iter().map(|line| parked_on_board(line).pieces()).collect(),
        sheets,
        more: More {
            jobs: more_jobs(&board.jobs[board.jobs.len().min(JOBS)..]),
            waiting: more_waiting,
            discrepancies: more_discrepancies,
            together: more_batches,
            looks: more_looks,
            ledger: more_ledger,
            sheets: more_sheets,
        },
    }
}

fn summary(board: &Board) -> String {
    let counts = &board.counts;
    let steps = say_count!(counts.all, "{n} step", "{n} steps");
    let open = match counts.discrepancies {
        0 => say!("no discrepancy is open").to_owned(),
        n => say_count!(n, "{n} discrepancy is open", "{n} discrepancies are open"),
    };
    say!("{done} of {steps} done; {open}", done = counts.done, steps, open)
}

/// `DO NOT CLOSE`: every space in which something is done and something is not, its hands together.
fn shut(chances: &[LastChance]) -> Option<String> {
    let parked = |chance: &LastChance| chance.parked.iter().any(|line| line.held == Held::Open);
    let begun = |chance: &&LastChance| {
        let unfinished = chance.before > 0 || parked(chance) || !chance.discrepancies.is_empty();
        unfinished && (parked(chance) || chance.begun)
    };
    let mut spaces: Vec<(&str, Vec<String>)> = Vec::new();
    for chance in chances.iter().filter(begun) {
        let hand = chance.hand.map(said_hand);
        match spaces.iter_mut().find(|(name, _)| *name == chance.name) {
            Some((_, hands)) => hands.extend(hand),
            None => spaces.push((&chance.name, hand.into_iter().collect())),
        }
    }
    let words = |(name, hands): &(&str, Vec<String>)| {
        if hands.is_empty() { (*name).to_owned() } else { format!("{name} {}", hands.join(say!(" and "))) }
    };
    (!spaces.is_empty()).then(|| spaces.iter().map(words).collect::<Vec<_>>().join("; "))
}

/// The evening's steps by job, in the order of the first of each.
fn tonight(rows: &[Row]) -> Vec<Vec<Piece>> {
    let mut jobs: Vec<Vec<&Row>> = Vec::new();
    for row in rows {
        match jobs.iter_mut().find(|own| own[0].traveler == row.traveler && own[0].hand == row.hand) {
            Some(own) => own.push(row),
            None => jobs.push(vec![row]),
        }
    }
    let words = |own: &Vec<&Row>| {
        let numbers: Vec<&str> = own.iter().map(|row| row.number.as_str()).collect();
        let minutes: u32 = own.iter().filter_map(|row| row.minutes).sum();
        let helper = own.iter().any(|row| row.helper);
        let name = own.first().map_or_else(String::new, |row| named(&row.traveler, row.hand));
        Said::new()
            .strong(format!("{name} {}", numbers.join(", ")))
            .plain(
                takes((minutes > 0).then_some(minutes), helper).map_or_else(String::new, |takes| format!(" ({takes})")),
            )
            .pieces()
    };
    jobs.iter().map(words).collect()
}

fn takes(minutes: Option<u32>, helper: bool) -> Option<String> {
    let time = minutes.map(spent);
    let all: Vec<String> = time.into_iter().chain(helper.then(|| say!("helper").to_owned())).collect();
    (!all.is_empty()).then(|| all.join(", "))
}

fn job(own: &JobRow) -> JobOnPage {
    let next = &own.next;
    let place = (!next.spaces.is_empty()).then(|| say!("in {spaces}", spaces = next.spaces.join(", ")));
    let remarks: Vec<String> = next.remarks.iter().cloned().chain(place).collect();
    JobOnPage {
        name: named(&own.traveler, own.hand),
        title: own.title.clone(),
        mark: match (own.put_off, own.state) {
            (true, _) => Some(say!("put off")),
            (false, JobState::InWork) => Some(say!("begun")),
            (false, JobState::Ready) => None,
        },
        number: next.number.clone(),
        step: next.title.clone(),
        takes: takes(next.minutes, next.helper),
        remarks: (!remarks.is_empty()).then(|| remarks.join("; ")),
        then: own
            .then
            .iter()
            .map(|row| ThenStep { number: row.number.clone(), kind: phrase::word(&row.kind.replace('-', " ")) })
            .collect(),
        left: (own.left > 0).then(|| say!("and {left} more", left = own.left)),
    }
}

/// A job that is held as a whole stands once.
fn held_jobs(rows: &[WaitingRow]) -> Vec<WaitingRow> {
    let mut held: Vec<WaitingRow> = Vec::new();
    for row in rows {
        let same = |own: &WaitingRow| {
            own.row.traveler == row.row.traveler && own.row.hand == row.row.hand && own.waits == row.waits
        };
        if !held.iter().any(same) {
            held.push(row.clone());
        }
    }
    held
}

fn waiting_row(own: WaitingRow) -> WaitingOnPage {
    let mut kinds: Vec<&str> = own.waits.iter().map(|wait| wait.kind).map(WaitKind::words).collect();
    kinds.dedup();
    WaitingOnPage {
        name: named(&own.row.traveler, own.row.hand),
        title: own.row.job,
        number: own.row.number,
        step: own.row.title,
        kinds: kinds.join(", "),
        waits: own.waits,
    }
}

/// `Helper needed: TAIL-20 040; WING-10 LEFT 020 after 010; about 3 h`.
fn together(batch: &Batch) -> Vec<Piece> {
    let rows: Vec<String> = batch
        .rows
        .iter()
        .map(|own| {
            let name = format!("{} {}", named(&own.row.traveler, own.row.hand), own.row.number);
            if own.after.is_empty() { name } else { say!("{name} after {first}", name, first = own.after.join(", ")) }
        })
        .collect();
    let time = batch.time.as_ref().map_or_else(String::new, |time| say!("; about {time}", time));
    Said::new().strong(format!("{}: ", batch.name)).plain(format!("{}{time}", rows.join("; "))).pieces()
}

/// The jobs beyond the rows, in a line.
fn more_jobs(jobs: &[JobRow]) -> Option<String> {
    let names: Vec<String> = jobs.iter().take(NAMED).map(|own| named(&own.traveler, own.hand)).collect();
    let rest = jobs.len().saturating_sub(NAMED);
    let more = if rest > 0 { say!(" and {rest} more", rest) } else { String::new() };
    (!names.is_empty()).then(|| say!("Can go on too: {names}{more}", names = names.join(", "), more))
}
