//! The printed pick list: a call in one or two lines, both hands of a part in one row, assemblies apart from what is pulled.
//!
//! It gathers and words; nothing is counted a second time.

use serde::Serialize;

use super::PickList;
use super::lines::{ConsumableLine, HolderLine, PickLine, PiecesLine};
use crate::phrase::{say, say_count};
use crate::plan::document::Frame;

/// What the pick list prints.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PickPage {
    /// What stands on every page.
    pub frame: Frame,
    /// What the list is for.
    pub title: String,
    /// How many steps, and which spares.
    pub summary: String,
    /// That nothing is left to pull, where nothing is.
    pub nothing: bool,
    /// Hardware that stays in.
    pub hardware: Vec<PullRow>,
    /// Fit-up hardware.
    pub fitup: Vec<PullRow>,
    /// Sheet holders.
    pub holders: Vec<HolderLine>,
    /// Parts that the chosen steps are the first to touch.
    pub parts: Vec<PartRow>,
    /// Assemblies that must be at the bench, in a line.
    pub assemblies: Option<String>,
    /// Consumables, each a line.
    pub consumables: Vec<String>,
    /// What must be bought.
    pub orders: Vec<PickLine>,
}

/// One call to pull.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PullRow {
    /// The full call.
    pub call: String,
    /// Where it lies.
    pub bin: Option<String>,
    /// Plain words, and what it is for.
    pub words: String,
    /// That it is used once, where it is.
    pub once: Option<&'static str>,
    /// What it is not to be taken for.
    pub not: Option<String>,
    /// Pieces to pull.
    pub pull: u32,
    /// Of how many needed and spare pieces these are the sum, where there are spares.
    pub sum: Option<String>,
    /// Pieces on the shelf; absent where nobody counted them.
    pub on_hand: Option<u32>,
    /// Pieces that lack.
    pub short: u32,
}

/// One part to pull.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PartRow {
    /// Part id.
    pub part: String,
    /// Where it lies.
    pub bin: Option<String>,
    /// What the part is called.
    pub name: String,
    /// Material and thickness.
    pub made: String,
    /// Traveler id.
    pub traveler: String,
    /// What it is not to be taken for.
    pub not: Option<String>,
    /// Pieces, by hand.
    pub pieces: Vec<HandPieces>,
    /// Pieces that lack, in all hands.
    pub short: u32,
}

/// Pieces of a part in one hand.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct HandPieces {
    /// The hand.
    pub hand: Option<&'static str>,
    /// How many.
    pub count: u32,
}

/// Calls that a line warns of, and travelers that it names; more are no help.
const LOOK_ALIKES: usize = 2;
const USERS: usize = 3;

pub(super) fn page(list: &PickList, frame: Frame) -> PickPage {
    let some = |temporary: bool| list.hardware.iter().filter(move |line| line.temporary == temporary).map(pull_row);
    let steps = say_count!(list.steps, "{n} step", "{n} steps");
    PickPage {
        frame,
        title: list.title.clone(),
        summary: say!(
            "{steps} not done; rivets with {spare} % spare, at least 5; bolts without",
            steps,
            spare = list.spare
        ),
        nothing: list.hardware.is_empty() && list.parts.is_empty() && list.consumables.is_empty(),
        hardware: some(false).collect(),
        fitup: some(true).collect(),
        holders: list.holders.clone(),
        parts: part_rows(list.parts.iter().filter(|part| !part.assembly)),
        assemblies: assemblies(list.parts.iter().filter(|part| part.assembly)),
        consumables: list.consumables.iter().map(consumable).collect(),
        orders: list.orders().cloned().collect(),
    }
}

fn pull_row(line: &PickLine) -> PullRow {
    let others: Vec<&str> = line.look_alikes.iter().take(LOOK_ALIKES).map(String::as_str).collect();
    PullRow {
        call: line.call.clone(),
        bin: line.bin.clone(),
        words: say!("{decode}; for {users}", decode = line.decode, users = users(line)),
        once: line.single_use.then_some(say!("used once, never again")),
        not: not(&others),
        pull: line.pull,
        sum: (line.spare > 0).then(|| format!("{} + {}", line.needed, line.spare)),
        on_hand: line.on_hand,
        short: line.short,
    }
}

/// What it is not to be taken for: the word once.
fn not(others: &[&str]) -> Option<String> {
    (!others.is_empty()).then(|| say!("NOT {others}", others = others.join(", ")))
}

/// The travelers that take it, both hands together, those that take most first.
fn users(line: &PickLine) -> String {
    let mut sums: Vec<(&str, u32)> = Vec::new();
    for own in &line.uses {
        match sums.iter_mut().find(|(traveler, _)| *traveler == own.traveler) {
            Some((_, count)) => *count = count.saturating_add(own.count),
            None => sums.push((&own.traveler, own.count)),
        }
    }
    sums.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    let rest = sums.len().saturating_sub(USERS);
    let more = if rest > 0 { say!(" and {rest} more", rest) } else { String::new() };
    let named = sums.iter().take(USERS).map(|(traveler, count)| format!("{traveler} {count}"));
    format!("{}{more}", named.collect::<Vec<_>>().join(", "))
}

fn part_rows<'a>(parts: impl Iterator<Item = &'a PiecesLine>) -> Vec<PartRow> {
    let mut rows: Vec<PartRow> = Vec::new();
    for part in parts {
        let pieces = HandPieces { hand: part.hand, count: part.pieces };
        if let Some(row) = rows.iter_mut().find(|row| row.part == part.part && row.traveler == part.traveler) {
            row.pieces.push(pieces);
            row.short = row.short.saturating_add(part.short);
            continue;
        }
        let made: Vec<&str> = part.material.iter().chain(&part.thickness).map(String::as_str).collect();
        let other: Vec<&str> = part.look_alike.iter().map(String::as_str).collect();
        rows.push(PartRow {
            part: part.part.clone(),
            bin: part.bin.clone(),
            name: part.name.clone(),
            made: made.join(", "),
            traveler: part.traveler.clone(),
            not: not(&other),
            pieces: vec![pieces],
            short: part.short,
        });
    }
    rows
}

fn consumable(line: &ConsumableLine) -> String {
    let bin = line.bin.as_ref().map(|bin| format!(", {bin}")).unwrap_or_default();
    format!("{}{bin} ({})", line.what, line.travelers.join(", "))
}

/// `C200 Fuselage shell (CTRL-20)`, each once.
fn assemblies<'a>(parts: impl Iterator<Item = &'a PiecesLine>) -> Option<String> {
    let mut names: Vec<String> = Vec::new();
    for part in parts {
        let words = [part.part.as_str(), part.name.as_str()].into_iter().filter(|word| !word.is_empty());
        let name = format!("{} ({})", words.collect::<Vec<_>>().join(" "), part.traveler);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    (!names.is_empty()).then(|| names.join("; "))
}
