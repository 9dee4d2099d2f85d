//! One packet for both hands: the packet of each hand, joined. What both say stands once, what one says alone stands with
//! its hand, and what is written by hand has a place for each.
//!
//! Counts of steps and joints stay those of one hand; what is laid out is counted for both. It decides nothing about the
//! work, and never lets a fact of one hand go.

use serde_json::Value;

use super::at_step::StepJoint;
use super::close_out::CloseOut;
use super::cover::{Cover, SpaceSteps};
use super::hand_text::{HandText, LEFT, RIGHT};
use super::hardware::HardwareLine;
use super::history::HistoryLine;
use super::open::OpenNow;
use super::preparation::{PartLine, Preparation};
use super::sign::Sign;
use super::source::Source;
use super::step::{ComparedLine, RecordLine, StepSheet};
use super::values::values_of;
use super::{Head, Packet, Refused, packet, piece};
use crate::job::Step;
use crate::phrase::say;
use crate::plan::last_look::LastLook;
use crate::plan::named::{said_hand, said_packet, said_space};
use crate::plan::said::Piece;
use crate::plan::spare::spare_of;
use crate::plan::whereabouts::Whereabouts;

/// The packet of one traveler for both hands, from the sources of the left and of the right one.
///
/// # Errors
/// As [`packet`].
///
/// # Panics
/// When the job has no traveler of that index.
pub fn packet_of_both(left: Source<'_>, right: Source<'_>) -> Result<Packet, Refused> {
    let own = packet(left)?;
    let other = packet(right)?;
    let steps = left.traveler().steps.as_slice();
    let values = Values { left: &own.values, right: &other.values };
    let joined = |own: StepSheet, other: StepSheet| step(left, steps, values, own, other);
    let mut both = Packet {
        head: head(own.head, other.head),
        cover: cover(left, values, own.cover, other.cover),
        whereabouts: own.whereabouts.map(mirrored),
        preparation: preparation(own.preparation, other.preparation),
        // What a card of a joint says does not depend on the hand.
        joints: own.joints,
        steps: own.steps.into_iter().zip(other.steps).map(|(own, other)| joined(own, other)).collect(),
        figures: own.figures,
        extra: own.extra,
        closeout: own.closeout.zip(other.closeout).map(|(own, other)| close_out(left, own, other)),
        runs: own.runs,
        values: own.values.clone(),
        paper_size: own.paper_size,
        date: own.date.max(other.date),
        part: own.part,
        edition: own.edition,
        pieces: piece::joined(&own.pieces, &other.pieces),
    };
    both.figures.strips.extend(other.figures.strips);
    both.edition.both_hands = true;
    Ok(both)
}

/// The values of each hand's texts.
#[derive(Clone, Copy)]
struct Values<'a> {
    left: &'a Value,
    right: &'a Value,
}

impl Values<'_> {
    /// A text for each hand, where they read it differently.
    fn texts(self, text: Option<&String>) -> Vec<HandText> {
        // Only what is said of the traveler depends on the hand.
        let differs =
            |text: &&String| text.contains("traveler") && values_of(text, self.left) != values_of(text, self.right);
        let Some(text) = text.filter(differs) else { return Vec::new() };
        let of = |hand, values: &Value| HandText { hand, text: text.clone(), values: values.clone() };
        vec![of(LEFT, self.left), of(RIGHT, self.right)]
    }
}

/// What both have once; what one has alone, with its hand; what stands at the same place one after the other.
fn either<T: PartialEq + Clone>(left: &[T], right: &[T], named: impl Fn(T, &'static str) -> T) -> Vec<T> {
    let mut all = Vec::new();
    for at in 0..left.len().max(right.len()) {
        if let Some(one) = left.get(at) {
            all.push(if right.contains(one) { one.clone() } else { named(one.clone(), LEFT) });
        }
        if let Some(one) = right.get(at).filter(|one| !left.contains(one)) {
            all.push(named(one.clone(), RIGHT));
        }
    }
    all
}

fn said(line: &str, hand: &str) -> String {
    format!("{}: {line}", said_hand(hand))
}

fn lines(left: &[String], right: &[String]) -> Vec<String> {
    either(left, right, |line, hand| said(&line, hand))
}

fn words(left: String, right: &str) -> String {
    if left == right { left } else { format!("{}; {}", said(&left, LEFT), said(right, RIGHT)) }
}

fn maybe_words(left: Option<String>, right: Option<String>) -> Option<String> {
    match (left, right) {
        (Some(left), Some(right)) => Some(words(left, &right)),
        (Some(left), None) => Some(said(&left, LEFT)),
        (None, right) => right.map(|right| said(&right, RIGHT)),
    }
}

fn head(left: Head, right: Head) -> Head {
    let codes: Vec<String> = left.code.iter().chain(&right.code).cloned().collect();
    Head {
        hand: None,
        hands: vec![LEFT, RIGHT],
        code: (!codes.is_empty()).then(|| codes.join("+")),
        codes,
        open: maybe_words(left.open, right.open),
        date: maybe_words(left.date, right.date),
        keep: lines(&left.keep, &right.keep),
        ..left
    }
}

/// The figure shows the left hand.
fn mirrored(shown: Whereabouts) -> Whereabouts {
    let note = say!("LEFT is shown, RIGHT is its mirror image");
    let note = shown.note.as_ref().map_or_else(|| note.to_owned(), |known| format!("{known}; {note}"));
    Whereabouts { note: Some(note), ..shown }
}

fn cover(source: Source<'_>, values: Values<'_>, left: Cover, right: Cover) -> Cover {
    let open = |hand, own: Vec<OpenNow>| own.into_iter().map(move |own| OpenNow { hand: Some(hand), ..own });
    let history = |line: HistoryLine, hand: &str| HistoryLine { step: said_packet(&line.step, Some(hand)), ..line };
    let hand_texts = values.texts(left.summary.as_ref());
    Cover {
        needs: lines(&left.needs, &right.needs),
        spaces: left.spaces.into_iter().map(|space| one_a_hand(source, space)).collect(),
        open_now: open(LEFT, left.open_now).chain(open(RIGHT, right.open_now)).collect(),
        departures: either(&left.departures, &right.departures, |departure, _| departure),
        cautions: either(&left.cautions, &right.cautions, |caution, _| caution),
        history: either(&left.history, &right.history, history),
        read_note: left.read_note || right.read_note,
        hand_texts,
        ..left
    }
}

/// A space that each hand has for itself says so.
fn one_a_hand(source: Source<'_>, space: SpaceSteps) -> SpaceSteps {
    let project = &source.job.project;
    let is_apart = project.spaces.iter().any(|own| own.name.value == space.name && !own.hands.is_empty());
    if !is_apart {
        return space;
    }
    let name = &space.name;
    SpaceSteps { name: say!("{name}, one a hand", name), ..space }
}

fn preparation(left: Preparation, right: Preparation) -> Preparation {
    let with = |own: &PartLine| {
        let others = right.parts.iter().filter(|other| other.id == own.id).map(|other| other.quantity);
        PartLine { quantity: others.fold(own.quantity, u32::saturating_add), hand: None, ..own.clone() }
    };
    let parts: Vec<PartLine> = left.parts.iter().map(with).collect();
    Preparation {
        pieces: parts.iter().map(|part| part.quantity).fold(0, u32::saturating_add),
        parts,
        hardware: pulled(left.hardware, right.hardware, left.spare),
        tools: either(&left.tools, &right.tools, |tool, _| tool),
        consumables: either(&left.consumables, &right.consumables, |name, _| name),
        ..left
    }
}

/// Hardware of both hands, counted together.
fn pulled(left: Vec<HardwareLine>, right: Vec<HardwareLine>, spare: u32) -> Vec<HardwareLine> {
    let mut all = left;
    for line in right {
        let Some(own) = all.iter_mut().find(|own| own.call == line.call && own.temporary == line.temporary) else {
            all.push(line);
            continue;
        };
        own.total = own.total.saturating_add(line.total);
        for one in line.uses {
            match own.uses.iter_mut().find(|own| own.number == one.number) {
                Some(own) => own.count = own.count.saturating_add(one.count),
                None => own.uses.push(one),
            }
        }
        // Rivets, which are not counted back, are those that have spares.
        own.spare = if own.counted || own.temporary { 0 } else { spare_of(own.total, spare) };
        own.pull = own.total.saturating_add(own.spare);
    }
    all
}

fn step(source: Source<'_>, steps: &[Step], values: Values<'_>, left: StepSheet, right: StepSheet) -> StepSheet {
    let row = |row: StepJoint, hand| StepJoint { hand: Some(hand), ..row };
    let hand_texts = values.texts(left.text.as_ref());
    let spec = steps.iter().find(|step| step.id.value == left.id);
    StepSheet {
        cautions: either(&left.cautions, &right.cautions, |caution, _| caution),
        departures: either(&left.departures, &right.departures, |departure, _| departure),
        leave_open: lines(&left.leave_open, &right.leave_open),
        fill: lines(&left.fill, &right.fill),
        needs: lines(&left.needs, &right.needs),
        closes: spec.map_or(left.closes, |step| closed(source, step)),
        last_looks: looks(&left.last_looks, &right.last_looks),
        discrepancies: lines(&left.discrepancies, &right.discrepancies),
        joints: either(&left.joints, &right.joints, row),
        common: lines(&left.common, &right.common),
        torques: either(&left.torques, &right.torques, |torque, _| torque),
        records: left.records.into_iter().zip(&right.records).map(|(own, other)| record(own, other)).collect(),
        compared: left.compared.into_iter().zip(&right.compared).map(|(own, other)| compared(own, other)).collect(),
        signs: left.signs.into_iter().zip(right.signs).map(|(own, other)| sign(own, other)).collect(),
        changed: left.changed.or(right.changed),
        text: left.text.filter(|_| hand_texts.is_empty()),
        hand_texts,
        ..left
    }
}

/// Last looks of each hand; what must be seen for both stands once, at the last.
fn looks(left: &[LastLook], right: &[LastLook]) -> Vec<LastLook> {
    let mut all = either(left, right, |look, hand| LastLook { hand: Some(hand), ..look });
    let [own, other] = all.as_mut_slice() else { return all };
    let shared: Vec<Vec<Piece>> = own.lines.iter().filter(|line| other.lines.contains(line)).cloned().collect();
    own.lines.retain(|line| !shared.contains(line));
    other.lines.retain(|line| !shared.contains(line));
    let both = LastLook { hand: None, space: String::new(), notes: Vec::new(), lines: shared };
    all.extend((!both.lines.is_empty()).then_some(both));
    all
}

/// What a step closes, each space that a hand has for itself by its hand.
fn closed(source: Source<'_>, step: &Step) -> Vec<String> {
    let job = source.job;
    let spaces = step.closes.iter().flat_map(|space| job.spaces(space.value, None));
    spaces.map(|space| said_space(job, space)).collect()
}

fn record(left: RecordLine, right: &RecordLine) -> RecordLine {
    RecordLine { reads: vec![left.read.clone(), right.read.clone()], read: None, ..left }
}

fn compared(left: ComparedLine, right: &ComparedLine) -> ComparedLine {
    ComparedLine { reads: vec![left.read.clone(), right.read.clone()], read: None, ..left }
}

fn sign(left: Sign, right: Sign) -> Sign {
    let hands = vec![left.signed.clone(), right.signed.clone()];
    let signed = left.signed.clone().zip(right.signed.clone()).map(|(own, other)| words(own, &other));
    let said = words(left.words.clone(), &right.words);
    // Outcomes and fields stand only where a box is open.
    let open = if left.signed.is_some() { right } else { left };
    Sign { words: said, signed, hands, ..open }
}

fn close_out(source: Source<'_>, left: CloseOut, right: CloseOut) -> CloseOut {
    let spare = source.job.project.settings.spare.value;
    CloseOut { hardware: pulled(left.hardware, right.hardware, spare), looks: lines(&left.looks, &right.looks), ..left }
}
