//! Change pages: which pages of the packet on the bench are replaced, and which pieces are printed in their place.
//!
//! A page is replaced where a piece on it would be printed otherwise today, or where a new piece belongs; the front always is.
//! The page on its back comes out with it. What stands on a replaced page and did not change is printed again with it. Where the
//! pages of the packet cannot be told, nothing is chosen and the packet is printed whole.

use std::collections::BTreeMap;

use serde::Deserialize;

use super::Runs;
use crate::archive::KeptPage;
use crate::ident::SheetCode;
use crate::job::Paper;
use crate::phrase::say;
use crate::plan::document::{Edition, Pieces};

/// Kind of the piece that ends before the joints; its page and all before it are always printed anew.
pub const FRONT: &str = "front";
/// Kind of a joint's card.
pub const JOINT: &str = "joint";
/// Kind of a step.
pub const STEP: &str = "step";
/// Kind of the close-out.
pub const END: &str = "end";
/// Kind of the templates at 1:1.
pub const TEMPLATES: &str = "templates";

/// A page that lies in the packet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BenchPage {
    /// The sheets whose codes it carries: of a packet of both hands the left one's and the right one's.
    pub sheets: Vec<SheetCode>,
    /// The print and the page in it.
    pub page: KeptPage,
    /// The piece of paper in its print, counted from one: printed on both sides, two pages have the same.
    pub leaf: u32,
    /// The number that it carries: `5`, or `5a` where a change put it behind another.
    pub label: String,
    /// What stands on it: kind, id and digest.
    pub pieces: Vec<(String, String, Option<String>)>,
}

impl BenchPage {
    /// Where it lies: its number, then what was put behind it.
    #[must_use]
    pub fn place(&self) -> (u32, String) {
        let number = number(self);
        // A number that is none lies in front, where it is seen.
        (number.parse().unwrap_or(0), self.label[number.len()..].to_owned())
    }
}

/// A print by its layout in the archive.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BenchPrint {
    /// Its paper; absent where this program does not know it.
    pub paper: Option<Paper>,
    /// How it was printed.
    pub edition: Edition,
    /// Its pages.
    pub pages: Vec<BenchPage>,
}

/// The layout of a print as the archive keeps it, as far as it tells what stands where.
#[derive(Deserialize)]
#[serde(rename_all = "kebab-case")]
struct Layout {
    paper: String,
    large: bool,
    duplex: bool,
    both_hands: bool,
    labels: Vec<String>,
    items: Vec<Item>,
}

#[derive(Deserialize)]
struct Item {
    kind: String,
    id: String,
    page: u32,
    digest: Option<String>,
}

/// A print of some sheets by its archived layout; nothing where an older program wrote it.
#[must_use]
pub fn print_of_layout(sheets: &[SheetCode], print: SheetCode, layout: &[u8]) -> Option<BenchPrint> {
    const SIDES: u32 = 2;
    let layout: Layout = serde_json::from_slice(layout).ok()?;
    let mut pages: Vec<BenchPage> = Vec::new();
    for (at, label) in (1_u32..).zip(&layout.labels) {
        let leaf = if layout.duplex { at.div_ceil(SIDES) } else { at };
        let page = KeptPage { print, page: at };
        pages.push(BenchPage { sheets: sheets.to_vec(), page, leaf, label: label.clone(), pieces: Vec::new() });
    }
    for item in &layout.items {
        // The front ends at its mark, and templates begin there: the pages before and behind are theirs too.
        let of_item = |own: &&mut BenchPage| match item.kind.as_str() {
            FRONT => own.page.page <= item.page,
            TEMPLATES => own.page.page >= item.page,
            _ => own.page.page == item.page,
        };
        for own in pages.iter_mut().filter(of_item) {
            own.pieces.push((item.kind.clone(), item.id.clone(), item.digest.clone()));
        }
    }
    let edition = Edition { large: layout.large, duplex: layout.duplex, both_hands: layout.both_hands };
    Some(BenchPrint { paper: Paper::parse(&layout.paper), edition, pages })
}

/// A run of pages that replaces pages which lay one behind the other.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// The numbers of the pages that are taken out.
    pub labels: Vec<String>,
    /// What is printed: kind and id.
    pub pieces: Vec<(String, String)>,
}

/// What a change prints of a packet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChangePages {
    /// The pages that are printed, run by run.
    pub runs: Vec<Run>,
    /// Pages to take out, in their order.
    pub remove: Vec<BenchPage>,
    /// Pages that stay, in their order.
    pub keep: Vec<BenchPage>,
}

impl ChangePages {
    /// Whether a piece is printed.
    pub(super) fn has(&self, kind: &str, id: &str) -> bool {
        self.runs.iter().flat_map(|run| &run.pieces).any(|piece| piece.0 == kind && piece.1 == id)
    }

    /// The numbers of replaced pages at the first piece of each run.
    pub(super) fn starts(&self) -> Runs {
        let mut starts = Runs::default();
        for run in &self.runs {
            let Some((kind, id)) = run.pieces.first() else { continue };
            let labels = run.labels.clone();
            match kind.as_str() {
                FRONT => starts.front = Some(labels),
                JOINT => drop(starts.joints.insert(id.clone(), labels)),
                STEP => drop(starts.steps.insert(id.clone(), labels)),
                END => starts.end = Some(labels),
                _ => starts.templates = Some(labels),
            }
        }
        starts
    }
}

/// Chooses pages; nothing where no page would stay, or where what stays would no longer lie in the order of work.
#[must_use]
pub fn change_pages(bench: &[BenchPage], order: &[(String, String)], now: &Pieces) -> Option<ChangePages> {
    let wanted: Vec<(&(String, String), Option<usize>)> =
        order.iter().map(|piece| (piece, page_of(bench, piece))).collect();
    let known: Vec<usize> = wanted.iter().filter_map(|(_, at)| *at).collect();
    if !known.is_sorted() || known.is_empty() {
        return None;
    }
    let mut replaced: Vec<bool> =
        bench.iter().map(|page| page.pieces.iter().any(|piece| is_stale(piece, now))).collect();
    // A new piece goes where the one before it lies.
    let mut places: Vec<usize> = Vec::new();
    for (_, at) in &wanted {
        // Before the first piece there is none: what is new there lies on the first page.
        let before = places.last().copied().unwrap_or_default();
        places.push(at.unwrap_or(before));
        if at.is_none() {
            *replaced.get_mut(before)? = true;
        }
    }
    spread(bench, &mut replaced);
    if replaced.iter().all(|out| *out) {
        return None;
    }
    let runs =
        runs(bench, &replaced, &wanted.iter().map(|(piece, _)| (*piece).clone()).zip(places).collect::<Vec<_>>());
    let chosen =
        |out: bool| bench.iter().zip(&replaced).filter(move |(_, own)| **own == out).map(|(page, _)| page.clone());
    Some(ChangePages { runs, remove: chosen(true).collect(), keep: chosen(false).collect() })
}

/// Pages 5 and 5a are replaced together, for a new 5a would be one of two; and so are the two sides of one piece of paper.
fn spread(bench: &[BenchPage], replaced: &mut [bool]) {
    let together = |one: &BenchPage, other: &BenchPage| {
        number(one) == number(other) || (one.page.print, one.leaf) == (other.page.print, other.leaf)
    };
    loop {
        let out: Vec<&BenchPage> =
            bench.iter().zip(&*replaced).filter(|(_, out)| **out).map(|(page, _)| page).collect();
        let more: Vec<bool> = bench.iter().map(|page| out.iter().any(|other| together(page, other))).collect();
        if more == replaced {
            return;
        }
        replaced.copy_from_slice(&more);
    }
}

fn page_of(bench: &[BenchPage], piece: &(String, String)) -> Option<usize> {
    bench.iter().position(|page| page.pieces.iter().any(|(kind, id, _)| *kind == piece.0 && *id == piece.1))
}

/// Whether a piece would be printed otherwise today, or not at all.
fn is_stale((kind, id, digest): &(String, String, Option<String>), now: &Pieces) -> bool {
    kind == FRONT || digest.is_none() || digest.as_ref() != now.get(&(kind.clone(), id.clone()))
}

/// The number of a page without what a change put behind it.
fn number(page: &BenchPage) -> &str {
    page.label.trim_end_matches(|c: char| c.is_ascii_lowercase())
}

/// Pages that lie one behind the other and are all replaced, with what is printed in their place.
fn runs(bench: &[BenchPage], replaced: &[bool], wanted: &[((String, String), usize)]) -> Vec<Run> {
    let mut runs: Vec<Run> = Vec::new();
    for (at, page) in bench.iter().enumerate().filter(|(at, _)| replaced[*at]) {
        if at == 0 || !replaced[at - 1] || runs.is_empty() {
            runs.push(Run { labels: Vec::new(), pieces: Vec::new() });
        }
        let Some(run) = runs.last_mut() else { continue };
        run.labels.push(page.label.clone());
        run.pieces.extend(wanted.iter().filter(|(_, place)| *place == at).map(|(piece, _)| piece.clone()));
    }
    runs.retain(|run| !run.pieces.is_empty());
    runs
}

/// Page numbers in words: `3, 4, 6 to 11`.
#[must_use]
pub fn in_words(labels: &[String]) -> String {
    let mut groups: Vec<(String, String, u32)> = Vec::new();
    for label in labels {
        let next = label.parse::<u32>().ok();
        match groups.last_mut() {
            Some((_, last, count)) if next.is_some() && last.parse::<u32>().ok().map(|last| last + 1) == next => {
                last.clone_from(label);
                *count += 1;
            }
            _ => groups.push((label.clone(), label.clone(), 1)),
        }
    }
    let words = groups.into_iter().map(|(first, last, count)| match count {
        1 => first,
        2 => format!("{first}, {last}"),
        _ => say!("{first} to {last}", first, last),
    });
    words.collect::<Vec<_>>().join(", ")
}

/// The pages that stay, by the sheet whose code they carry: `3, 4, 6 to 11 of K7QM3-D2X9F`.
#[must_use]
pub fn kept_in_words(keep: &[BenchPage]) -> Vec<String> {
    let mut by_sheet: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for page in keep {
        let codes: Vec<String> = page.sheets.iter().map(ToString::to_string).collect();
        by_sheet.entry(codes.join(" + ")).or_default().push(page.label.clone());
    }
    by_sheet.into_iter().map(|(sheet, labels)| say!("{labels} of {sheet}", labels = in_words(&labels), sheet)).collect()
}
