//! The printed board: as many rows of each section as its pages have room for, and how many more there are. The data
//! behind it has all.
//!
//! It chooses and counts; the order was decided before.

use serde::Serialize;

use super::batch::{Batch, BatchRow};
use super::row::{Row, WaitKind, WaitLine, WaitingRow};
use super::{Board, DiscrepancyLine, SheetInForce};
use crate::plan::document::Frame;
use crate::plan::last_look::{LookCard, on_board, parked_on_board};
use crate::plan::said::Piece;
use crate::work::LastChance;

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
    /// What to do in the minutes at hand.
    pub tonight: TonightOnPage,
    /// Begun, and not among tonight's.
    pub begun: Vec<Row>,
    /// Can be started, and not among tonight's.
    pub ready: Vec<Row>,
    /// Held.
    pub waiting: Vec<WaitingOnPage>,
    /// Discrepancies that are not settled.
    pub discrepancies: Vec<DiscrepancyLine>,
    /// Work that goes together.
    pub batches: Vec<BatchCard>,
    /// The spaces that close next.
    pub looks: Vec<LookCard>,
    /// What is not final now.
    pub ledger: Vec<Vec<Piece>>,
    /// Sheets in force.
    pub sheets: Vec<SheetInForce>,
    /// What the page has no room for, section by section.
    pub more: More,
}

/// Tonight's rows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct TonightOnPage {
    /// The minutes at hand.
    pub title: String,
    /// Why these, in one line.
    pub why: String,
    /// The steps, in the order of work.
    pub rows: Vec<Row>,
}

/// One held item.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct WaitingOnPage {
    /// The item.
    #[serde(flatten)]
    pub row: Row,
    /// What kinds of things hold it.
    pub kinds: String,
    /// What holds it.
    pub waits: Vec<WaitLine>,
}

/// One batch.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct BatchCard {
    /// What it is for.
    pub name: String,
    /// Its time, as far as it is given.
    pub time: Option<String>,
    /// Its first rows.
    pub rows: Vec<BatchRow>,
    /// How many more there are.
    pub more: Option<String>,
}

/// What the page has no room for; nothing where it has room for all.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct More {
    /// Begun.
    pub begun: Option<String>,
    /// Ready.
    pub ready: Option<String>,
    /// Held.
    pub waiting: Option<String>,
    /// Discrepancies.
    pub discrepancies: Option<String>,
    /// Batches.
    pub batches: Option<String>,
    /// Spaces that close later.
    pub looks: Option<String>,
    /// Ledger.
    pub ledger: Option<String>,
    /// Sheets in force.
    pub sheets: Option<String>,
}

/// The most rows of each section.
const TONIGHT: usize = 7;
const BEGUN: usize = 5;
const WAITING: usize = 8;
const DISCREPANCIES: usize = 6;
const CARDS: usize = 3;
const BATCH_ROWS: usize = 3;
const LATER: usize = 9;
const LEDGER: usize = 8;
const SHEETS: usize = 16;

/// As many ready rows as leave the second page to the spaces that close.
fn ready_rows(tonight: usize, begun: usize, waiting: usize) -> usize {
    let taken = tonight.min(TONIGHT) + begun.min(BEGUN);
    (8 + 5_usize.saturating_sub(waiting)).saturating_sub(taken).max(3)
}

/// The first rows, and how many more there are.
fn first<T: Clone>(rows: &[T], most: usize, what: &str) -> (Vec<T>, Option<String>) {
    let rest = rows.len().saturating_sub(most);
    let more = (rest > 0).then(|| format!("and {rest} more {what}, not shown here"));
    (rows.iter().take(most).cloned().collect(), more)
}

pub(super) fn page(board: &Board, frame: Frame) -> BoardPage {
    let planned = &board.tonight.rows;
    let beside = |rows: &[Row]| -> Vec<Row> {
        rows.iter().filter(|row| !planned.iter().any(|own| own.item == row.item)).cloned().collect()
    };
    let in_work = beside(&board.in_work);
    let room = ready_rows(planned.len(), in_work.len(), board.waiting.len());
    let (begun, more_begun) = first(&in_work, BEGUN, "in work");
    let (ready, more_ready) = first(&beside(&board.ready), room, "ready");
    let (waiting, more_waiting) = first(&board.waiting, WAITING, "waiting");
    let (discrepancies, more_discrepancies) = first(&board.discrepancies, DISCREPANCIES, "discrepancies");
    let (batches, more_batches) = first(&board.batches, CARDS, "batches");
    let (ledger, more_ledger) = first(&board.ledger, LEDGER, "entries");
    let more_sheets = board.sheets.len().saturating_sub(SHEETS);
    BoardPage {
        frame,
        summary: summary(board),
        warning: (board.errors > 0)
            .then(|| format!("{} errors in the project: this page may be wrong. Run check first.", board.errors)),
        tonight: TonightOnPage {
            title: format!("In {} minutes", board.tonight.minutes),
            why: board.tonight.why.clone(),
            rows: planned.iter().take(TONIGHT).cloned().collect(),
        },
        begun,
        ready,
        waiting: waiting.into_iter().map(waiting_row).collect(),
        discrepancies,
        batches: batches.into_iter().map(card).collect(),
        looks: board.last_chances.iter().take(CARDS).map(on_board).collect(),
        ledger: ledger.iter().map(|line| parked_on_board(line).pieces()).collect(),
        sheets: board.sheets.iter().take(SHEETS).cloned().collect(),
        more: More {
            begun: more_begun,
            ready: more_ready,
            waiting: more_waiting,
            discrepancies: more_discrepancies,
            batches: more_batches,
            // Fewer than fit on the cards: none comes later.
            looks: later(board.last_chances.get(CARDS..).unwrap_or_default()),
            ledger: more_ledger,
            sheets: (more_sheets > 0).then(|| format!("and {more_sheets} more")),
        },
    }
}

fn summary(board: &Board) -> String {
    let counts = &board.counts;
    format!(
        "{} of {} steps done, {} ready, {} in work, {} waiting; discrepancies not settled: {}",
        counts.done, counts.all, counts.ready, counts.in_work, counts.waiting, counts.discrepancies
    )
}

fn waiting_row(row: WaitingRow) -> WaitingOnPage {
    let mut kinds: Vec<&str> = row.waits.iter().map(|wait| wait.kind).map(WaitKind::words).collect();
    kinds.dedup();
    WaitingOnPage { kinds: kinds.join(", "), row: row.row, waits: row.waits }
}

fn card(batch: Batch) -> BatchCard {
    let (rows, more) = first(&batch.rows, BATCH_ROWS, "steps");
    BatchCard { name: batch.name, time: batch.time, rows, more }
}

/// The spaces beyond the cards, in a line.
fn later(chances: &[LastChance]) -> Option<String> {
    let named = chances.iter().take(LATER);
    let named: Vec<String> =
        named.map(|own| format!("{} ({}, {} steps before it)", own.space, own.closes, own.before)).collect();
    let rest = chances.len().saturating_sub(LATER);
    let more = if rest > 0 { format!("; and {rest} more") } else { String::new() };
    (!named.is_empty()).then(|| format!("{}{more}", named.join("; ")))
}
