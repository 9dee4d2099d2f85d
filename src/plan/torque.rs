//! Torque at the step that applies it: the range, where it comes from, and what the wrench is set to at each run-down drag.
//!
//! The plans' torque outranks the table's; a drag is measured by the builder and never guessed.

use serde::Serialize;

use crate::hardware::{Fastener, NutDuty, torque_for};
use crate::job::Joint;
use crate::phrase::say;
use crate::units::{Style, Torque, TorqueRange, TorqueUnit};
use crate::words::Measures;

/// Torque of one joint.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct TorqueStrip {
    /// Id of the joint.
    pub joint: String,
    /// The range, with both units.
    pub range: String,
    /// Where it comes from, and whether the nut's drag is in it, where the nut has one.
    pub source: String,
    /// What must never be passed, where the table says it.
    pub most: Option<String>,
    /// Whether the nut's drag is measured and added.
    pub drag: bool,
    /// Unit of the settings.
    pub unit: &'static str,
    /// Wrench settings by drag, up to the drag that the records allow; empty where no drag is added.
    pub settings: Vec<Setting>,
}

/// What the wrench is set to at one drag.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Setting {
    /// Run-down drag.
    pub drag: String,
    /// From.
    pub low: String,
    /// To.
    pub high: String,
}

/// Columns of the strip.
const COLUMNS: i64 = 8;
const LAST_COLUMN: i64 = COLUMNS - 1;

/// The torque of a joint and what it rests on.
struct Governing {
    range: TorqueRange,
    source: String,
    most: Option<Torque>,
}

fn governing(joint: &Joint) -> Option<Governing> {
    let called = called(joint)?;
    Some(match recorded_torque(joint, &called).filter(|range| *range != called.range) {
        Some(range) => Governing { range, source: say!("from the plans").to_owned(), most: None },
        None => called,
    })
}

/// The torque of the joint by its own key, else by the table.
fn called(joint: &Joint) -> Option<Governing> {
    let Ok(Fastener::Bolt(_) | Fastener::Screw(_)) = &joint.fastener else { return None };
    // A nut that is left snug gets no torque, not the table's either.
    if joint.is_snug() {
        return None;
    }
    // The plans' torque has no such limit beside it.
    if let Some(range) = joint.called_torque().and_then(|torque| torque.value.range()) {
        return Some(Governing { range, source: say!("from the plans").to_owned(), most: None });
    }
    if let Some(own) = &joint.own_torque {
        return Some(Governing { range: own.range, source: own.source.clone(), most: own.most });
    }
    let duty = match joint.decoded_nut() {
        Some(Fastener::Nut(nut)) => nut.duty,
        _ => NutDuty::Tension,
    };
    let table = torque_for(joint.fastener.as_ref().ok()?.thread()?, duty)?;
    Some(Governing { range: table.value.install, source: table.basis.cite(), most: Some(table.value.most) })
}

/// Whether the nut's drag comes on top of the range.
fn adds_drag(joint: &Joint) -> bool {
    joint.has_drag() && !joint.torque_holds_drag()
}

/// Range and source, with a word about the drag where the nut has one.
fn range_and_source(joint: &Joint, governing: &Governing, style: &Style) -> (String, String) {
    let drag = match (joint.has_drag(), joint.torque_holds_drag()) {
        (_, true) => say!(", drag included"),
        (true, false) => say!(", without the nut's drag"),
        (false, false) => "",
    };
    (style.torques(governing.range), format!("{}{drag}", governing.source))
}

/// The torque of a joint in words; nothing where none is known or the nut is left snug.
pub(super) fn words(joint: &Joint, style: &Style) -> Option<String> {
    let (range, source) = range_and_source(joint, &governing(joint)?, style);
    Some(format!("{range}, {source}"))
}

pub(super) fn strip(joint: &Joint, style: &Style) -> Option<TorqueStrip> {
    let governing = governing(joint)?;
    let adds = adds_drag(joint);
    let (range, source) = range_and_source(joint, &governing, style);
    // AC 43.13-1B, par. 7-40f: the greatest torque is meant without the drag.
    let plus = if adds { say!(" and the drag") } else { "" };
    Some(TorqueStrip {
        joint: joint.id.value.clone(),
        range,
        source,
        most: governing.most.map(|most| format!("{}{plus}", style.torque(most))),
        drag: adds,
        unit: style.torque_word(),
        settings: if adds { settings(governing.range, most_drag(joint), style) } else { Vec::new() },
    })
}

/// The greatest drag that the plans' readings let pass.
fn most_drag(joint: &Joint) -> Option<Torque> {
    let recorded = joint.recorded(Measures::Drag)?;
    recorded.torque(recorded.max?)
}

/// The torque that the plans' readings ask for, where it lies within what governs else, or is said to be the torque.
fn recorded_torque(joint: &Joint, governing: &Governing) -> Option<TorqueRange> {
    let recorded = joint.recorded(Measures::Torque)?;
    let range = TorqueRange { low: recorded.torque(recorded.min?)?, high: recorded.torque(recorded.max?)? };
    let most = governing.most.unwrap_or(governing.range.high);
    let is_within = range.low >= governing.range.low && range.high <= most;
    (recorded.is_said || is_within).then_some(range)
}

/// Settings by drag, up to the greatest that may be.
fn settings(range: TorqueRange, most: Option<Torque>, style: &Style) -> Vec<Setting> {
    // Small bolts drag a few inch-pounds, large ones tens; the steps follow the torque.
    let grain = style.torque.grain();
    let usual = match (style.torque, range.high <= Torque::from_inch_pounds(100)) {
        (_, true) => 3,
        (TorqueUnit::InchPound, false) => 8,
        (TorqueUnit::NewtonMetre, false) => 10,
    };
    // Wider steps where the usual ones do not reach it.
    let step = most.map_or(usual, |most| usual.max(most.steps_of(grain.times(LAST_COLUMN))));
    let setting = |drag: Torque| Setting {
        drag: style.torque_number(drag),
        low: style.torque_number(range.low + drag),
        high: style.torque_number(range.high + drag),
    };
    let drags = (0..COLUMNS).map(|column| grain.times(column * step));
    match most {
        None => drags.map(setting).collect(),
        Some(most) => drags.take_while(|drag| *drag < most).chain([most]).map(setting).collect(),
    }
}

/// How a nut is tightened that is left snug, in words for the step.
pub(super) fn snug_line(joint: &Joint) -> Option<String> {
    let slot = if joint.is_castle() { say!("back to the nearest slot") } else { say!("back until it is free") };
    let pin = if joint.cotter.is_some() || joint.is_castle() { say!(", new cotter pin") } else { "" };
    let line = say!("SNUG: nut finger-tight, {slot}{pin}; the joint turns freely by hand, without play", slot, pin);
    joint.is_snug().then_some(line)
}
