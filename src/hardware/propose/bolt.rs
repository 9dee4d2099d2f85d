//! The bolt for a stack: the dash whose plain shank reaches through the parts, and its holes.
//!
//! It does not compute how far the thread sticks out of the nut: nut heights are not in the tables.

use super::{NoProposal, thickness};
use crate::hardware::source::Graded;
use crate::hardware::spacing::{LeastDistance, bolt_edge};
use crate::hardware::{Bolt, Fastener, ListedHole, holes_for, limit, may_take_up_grip};
use crate::units::{Length, Style};

/// A bolt that fits a stack.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct BoltProposal {
    /// The bolt whose grip is nearest to the stack with its head-side washers.
    pub bolt: Bolt,
    /// Its dash number; of a metric bolt its length in millimetres.
    pub dash: String,
    /// Its grip; of a metric bolt where the thread begins.
    pub grip: Graded<Length>,
    /// Other dash numbers that fit too, the better first.
    pub others: Vec<String>,
    /// Thickness of the stack.
    pub stack: Length,
    /// Washers under the head and under the nut, together on each side.
    pub washers: (Length, Length),
    /// Every listed hole.
    pub holes: Vec<ListedHole>,
    /// Least edge distance.
    pub edge: LeastDistance,
}

/// The bolt of a size that fits a stack with its washers under head and nut.
///
/// # Errors
/// When the stack is empty, no grip is listed for the size, none suits, or the washers are thicker than 1/8 in together.
pub fn propose_bolt(
    size: &Bolt,
    layers: &[Length],
    head_washers: Length,
    nut_washers: Length,
    style: &Style,
) -> Result<BoltProposal, NoProposal> {
    let stack = thickness(layers)?;
    let name = size.call.usual.as_str();
    if !size.has_lengths() {
        return Err(NoProposal(format!(
            "no grip is listed for {name}; the tables have AN3 to AN8, NAS6203 to NAS6210, and ISO 4014 from M4 to M12"
        )));
    }
    let washers = head_washers + nut_washers;
    let most = limit::washers_most();
    if !may_take_up_grip(washers) {
        return Err(NoProposal(format!(
            "washers of {} take up too much grip: at most {} together ({}, from memory)",
            style.length(washers),
            style.at_most(most.value),
            most.basis.source
        )));
    }
    let mut fitting = size.lengths_for(stack, head_washers, nut_washers).into_iter();
    let best = fitting.next().and_then(|bolt| Some((dash_text(&bolt)?, bolt.thread_starts().cloned()?, bolt)));
    let Some((dash, grip, bolt)) = best else {
        let reach = stack + head_washers;
        return Err(NoProposal(format!(
            "no {name} has a grip between {} less one thread and {}; change the washers",
            style.length(reach),
            style.length(reach + nut_washers)
        )));
    };
    Ok(BoltProposal {
        dash,
        grip,
        others: fitting.filter_map(|bolt| dash_text(&bolt)).collect(),
        stack,
        washers: (head_washers, nut_washers),
        holes: holes_for(&Fastener::Bolt(bolt.clone())),
        edge: bolt_edge().at(bolt.diameter),
        bolt,
    })
}

/// What tells a length of its size: the dash, or millimetres.
fn dash_text(bolt: &Bolt) -> Option<String> {
    match bolt.dash {
        Some(dash) => Some(dash.to_string()),
        None => bolt.length.as_ref().map(|length| length.value.mm_exact()),
    }
}
