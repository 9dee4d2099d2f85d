//! The lines of a pick list: totals a call, pieces a part, sheet holders a size.
//!
//! It adds up what the items take and compares it with the shelf.

use std::collections::BTreeMap;

use serde::Serialize;

use crate::hardware::{Fastener, Undecoded};
use crate::job::{Hand, Hardware, Item, Job};
use crate::phrase::say;
use crate::plan::holders::{Holder, held};
use crate::plan::named::said_item;
use crate::plan::spare::spare_of;
use crate::plan::told;
use crate::units::Style;
use crate::work::{Needs, Shelf, counted_as};

/// One call.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PickLine {
    /// The full call.
    pub call: String,
    /// Plain words.
    pub decode: String,
    /// Sum of the uses.
    pub needed: u32,
    /// Spare pieces.
    pub spare: u32,
    /// Needed and spare.
    pub pull: u32,
    /// Where it lies, as the stock list says it.
    pub bin: Option<String>,
    /// Pieces on the shelf; absent where the stock list does not name the call.
    pub on_hand: Option<u32>,
    /// Pieces that lack for pulling all.
    pub short: u32,
    /// Pieces to order: what is short, or all where nobody has counted the shelf.
    pub order: u32,
    /// Whether a piece may be used once only.
    pub single_use: bool,
    /// Whether the pieces come out again: fit-up hardware.
    pub temporary: bool,
    /// Calls of this list that are easily taken for it.
    pub look_alikes: Vec<String>,
    /// What takes how many.
    pub uses: Vec<PickUse>,
}

/// What takes how many.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PickUse {
    /// Traveler id.
    pub traveler: String,
    /// The hand.
    pub hand: Option<&'static str>,
    /// Pieces that it takes.
    pub count: u32,
}

/// One part.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PiecesLine {
    /// Part id.
    pub part: String,
    /// What the part is called.
    pub name: String,
    /// Material with temper, as written.
    pub material: Option<String>,
    /// Thickness.
    pub thickness: Option<String>,
    /// Traveler id.
    pub traveler: String,
    /// The hand.
    pub hand: Option<&'static str>,
    /// Pieces that the chosen steps take.
    pub pieces: u32,
    /// Where it lies, as the stock list says it.
    pub bin: Option<String>,
    /// Whether it is put together elsewhere, and so neither cut nor pulled: it has no material of its own.
    pub assembly: bool,
    /// Pieces on the shelf; absent where the stock list does not name the part.
    pub on_hand: Option<u32>,
    /// Pieces that lack.
    pub short: u32,
    /// A part that it is not to be taken for.
    pub look_alike: Option<String>,
}

/// Sheet holders of one size, or what takes their place where none fits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct HolderLine {
    /// The rivet size that they go by; of bolts and clamps the hole.
    pub size: String,
    /// The most that are in at once.
    pub peak: u32,
    /// The step that has them in.
    pub step: String,
}

/// A consumable.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct ConsumableLine {
    /// What it is, as the specs say it.
    pub what: String,
    /// Where it lies, as the stock list says it.
    pub bin: Option<String>,
    /// Travelers that use it.
    pub travelers: Vec<String>,
}

/// Hardware and parts of some items.
pub(super) struct Lines {
    pub hardware: Vec<PickLine>,
    pub parts: Vec<PiecesLine>,
}

pub(super) fn lines(job: &Job, items: &[Item]) -> Lines {
    let (needs, shelf) = (Needs::of(job), Shelf::of(job));
    // Fit-up hardware is listed by itself: it comes back.
    let mut totals: BTreeMap<(bool, String), PickLine> = BTreeMap::new();
    let mut parts = Vec::new();
    let style = &job.project.style;
    for item in items {
        let traveler = &job.travelers[item.at.traveler];
        let (id, hand) = (&traveler.id.value, item.hand.map(Hand::word));
        for need in needs.hardware(*item) {
            let call = counted_as(&need.hardware);
            let line = totals
                .entry((need.temporary, call.clone()))
                .or_insert_with(|| new_line(call, &need.hardware, need.temporary, style));
            line.needed = line.needed.saturating_add(need.count);
            match line.uses.iter_mut().find(|one| one.traveler == *id && one.hand == hand) {
                Some(one) => one.count = one.count.saturating_add(need.count),
                None => line.uses.push(PickUse { traveler: id.clone(), hand, count: need.count }),
            }
        }
        for (index, pieces) in needs.parts(*item) {
            let part = &traveler.parts[index];
            let on_hand = shelf.count(&part.id.value);
            parts.push(PiecesLine {
                part: part.id.value.clone(),
                name: part.name_beside().to_owned(),
                material: part.material.as_ref().map(|material| material.value.clone()),
                thickness: part.thickness.map(|thickness| style.length(thickness.value.length)),
                traveler: id.clone(),
                hand,
                pieces,
                bin: shelf.bin(&part.id.value).map(str::to_owned),
                assembly: part.material.is_none() && part.thickness.is_none(),
                on_hand,
                // What was never counted is not known to be short.
                short: on_hand.map_or(0, |on_hand| pieces.saturating_sub(on_hand)),
                look_alike: part.look_alike.as_ref().map(|other| other.value.clone()),
            });
        }
    }
    let mut hardware: Vec<PickLine> = totals.into_values().collect();
    let calls: Vec<String> = hardware.iter().map(|line| line.call.clone()).collect();
    let spare = job.project.settings.spare.value;
    for line in &mut hardware {
        finish(line, spare, &shelf, &calls);
    }
    Lines { hardware, parts }
}

fn new_line(call: String, hardware: &Hardware, temporary: bool, style: &Style) -> PickLine {
    let rivet = matches!(hardware.fastener, Ok(Fastener::SolidRivet(_) | Fastener::BlindRivet(_)));
    PickLine {
        call,
        decode: match &hardware.fastener {
            Ok(fastener) => told::described(fastener, style),
            Err(Undecoded { message, .. }) => message.clone(),
        },
        needed: 0,
        // Marks a rivet until the totals are known.
        spare: u32::from(rivet && !temporary),
        pull: 0,
        bin: None,
        on_hand: None,
        short: 0,
        order: 0,
        // AC 43.13-1B, par. 7-38: cotter pins are not used again.
        single_use: matches!(hardware.fastener, Ok(Fastener::CotterPin(_))),
        temporary,
        look_alikes: Vec::new(),
        uses: Vec::new(),
    }
}

fn finish(line: &mut PickLine, per_cent: u32, shelf: &Shelf, calls: &[String]) {
    line.spare = if line.spare > 0 { spare_of(line.needed, per_cent) } else { 0 };
    line.pull = line.needed.saturating_add(line.spare);
    line.bin = shelf.bin(&line.call).map(str::to_owned);
    line.on_hand = shelf.count(&line.call);
    // What was never counted is not known to be short; all of it is ordered.
    line.short = line.on_hand.map_or(0, |on_hand| line.pull.saturating_sub(on_hand));
    line.order = if line.on_hand.is_none() { line.pull } else { line.short };
    line.look_alikes = calls.iter().filter(|other| look_alike(&line.call, other)).cloned().collect();
    // A call that is fitted up with as well stands twice in the list.
    line.look_alikes.sort();
    line.look_alikes.dedup();
}

/// Whether two calls differ in one character, or only in what follows the last dash.
fn look_alike(one: &str, other: &str) -> bool {
    let stem = |call: &str| call.rsplit_once('-').map(|(stem, _)| stem.to_owned());
    one != other && (strsim::damerau_levenshtein(one, other) == 1 || (stem(one).is_some() && stem(one) == stem(other)))
}

/// What the items use up: what joints are set wet with where the items fasten them, and what the steps name; each once.
pub(super) fn consumables(job: &Job, items: &[Item]) -> Vec<ConsumableLine> {
    let shelf = Shelf::of(job);
    let mut lines: Vec<ConsumableLine> = Vec::new();
    for item in items {
        let traveler = &job.travelers[item.at.traveler].id.value;
        let handled = job.handled(*item);
        let fastened = handled.iter().filter(|one| one.what.is_final()).map(|one| job.joint(one.joint));
        let wet = fastened.filter_map(|joint| joint.wet.as_ref());
        for used in wet.chain(&job.step(item.at).uses) {
            let known = lines.iter_mut().find(|line| line.what.eq_ignore_ascii_case(&used.value));
            match known {
                Some(line) if line.travelers.contains(traveler) => {}
                Some(line) => line.travelers.push(traveler.clone()),
                None => lines.push(ConsumableLine {
                    what: used.value.clone(),
                    bin: shelf.bin(&used.value).map(str::to_owned),
                    travelers: vec![traveler.clone()],
                }),
            }
        }
    }
    lines
}

/// The most sheet holders that one of the items has in at once, by size.
pub(super) fn holders(job: &Job, items: &[Item]) -> Vec<HolderLine> {
    let mut peaks: BTreeMap<Holder, (u32, Item)> = BTreeMap::new();
    for item in items {
        for (holder, count) in held(job, item.at) {
            let peak = peaks.entry(holder).or_insert((0, *item));
            if count > peak.0 {
                *peak = (count, *item);
            }
        }
    }
    let style = &job.project.style;
    let name = |holder: Holder| match holder {
        Holder::Sheet(size) => size.name(style.unit),
        Holder::Other(hole) => say!("bolts or clamps, in holes {hole}", hole = style.name(hole)),
    };
    let lines = peaks.into_iter().filter(|(_, (count, _))| *count > 0);
    lines.map(|(holder, (peak, item))| HolderLine { size: name(holder), peak, step: said_item(job, item) }).collect()
}
