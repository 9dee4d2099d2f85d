//! Torque at the step that applies it: the range, where it comes from, and what the wrench is set to at each run-down drag.
//!
//! The plans' torque outranks the table's; a drag is measured by the builder and never guessed.

use serde::Serialize;

use crate::hardware::{Fastener, NutDuty, torque_for};
use crate::job::Joint;
use crate::units::{Torque, TorqueRange};

/// Torque of one joint.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct TorqueStrip {
    /// Id of the joint.
    pub joint: String,
    /// The range without drag, with both units.
    pub range: String,
    /// Where it comes from.
    pub source: String,
    /// What must never be passed, drag included, where the table says it.
    pub most: Option<String>,
    /// Wrench settings by drag, in inch-pounds; empty where the nut has no drag of its own.
    pub settings: Vec<Setting>,
}

/// What the wrench is set to at one drag, in inch-pounds.
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

pub(super) fn strip(joint: &Joint) -> Option<TorqueStrip> {
    let Ok(Fastener::Bolt(_) | Fastener::Screw(_)) = &joint.fastener else { return None };
    let nut = joint.nut.as_ref().and_then(|nut| nut.fastener.as_ref().ok());
    let duty = match nut {
        Some(Fastener::Nut(nut)) => nut.duty,
        _ => NutDuty::Tension,
    };
    let thread = joint.fastener.as_ref().ok().and_then(Fastener::thread);
    let table = thread.and_then(|thread| torque_for(thread, duty));
    // A nut that is left snug gets no torque, not the table's either.
    if joint.is_snug() {
        return None;
    }
    let of_plans = joint.torque.as_ref().and_then(|torque| torque.value.range());
    // The plans' torque has no such limit beside it.
    let most = table.as_ref().filter(|_| of_plans.is_none()).map(|table| table.value.most);
    let (range, source) = match (of_plans, &table) {
        (Some(_), _) if joint.torque_holds_drag() => (of_plans?, "from the plans, drag included".to_owned()),
        (Some(range), _) => (range, "from the plans".to_owned()),
        (None, Some(table)) => (table.value.install, table.basis.cite()),
        (None, None) => return None,
    };
    Some(TorqueStrip {
        joint: joint.id.value.clone(),
        range: range.to_string(),
        source,
        most: most.map(|most| most.to_string()),
        settings: if has_drag(nut) && !joint.torque_holds_drag() { settings(range, most) } else { Vec::new() },
    })
}

/// Whether the nut turns hard before it seats, so that the drag is added (AC 43.13-1B, par. 7-40).
fn has_drag(nut: Option<&Fastener>) -> bool {
    match nut {
        Some(Fastener::Nut(nut)) => nut.kind.is_self_locking(),
        Some(Fastener::Nutplate(_)) => true,
        _ => false,
    }
}

/// Settings by drag, as far as they stay within what must never be passed.
fn settings(range: TorqueRange, most: Option<Torque>) -> Vec<Setting> {
    // Small bolts drag a few inch-pounds, large ones tens; the steps follow the torque.
    let step = if range.high <= Torque::from_inch_pounds(100) { 3 } else { 8 };
    let setting = |drag: Torque| Setting {
        drag: drag.inch_pound_text(),
        low: (range.low + drag).inch_pound_text(),
        high: (range.high + drag).inch_pound_text(),
    };
    let drags = (0..COLUMNS).map(|column| Torque::from_inch_pounds(column * step));
    drags.take_while(|drag| most.is_none_or(|most| range.high + *drag <= most)).map(setting).collect()
}

/// How a nut is tightened that is left snug, in words for the step.
pub(super) fn snug_line(joint: &Joint) -> Option<&'static str> {
    joint.is_snug().then_some(
        "SNUG: nut finger-tight, back to the nearest slot, new cotter pin; the joint turns freely by hand, without play",
    )
}
