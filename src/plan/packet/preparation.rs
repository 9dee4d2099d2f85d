//! What lies on the bench before the first step: parts, hardware, tools, hands to help.
//!
//! Everything is counted from the traveler; blanks are for what only the builder can see.

use serde::Serialize;

use super::hardware::HardwareLine;
use super::source::Source;
use super::tool::{ToolLine, tools};
use crate::job::{Hand, Step, operation};
use crate::phrase::{say, say_count};
use crate::units::spent;

/// The preparation pages.
#[derive(Debug, Clone, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Preparation {
    /// Parts to lay out.
    pub parts: Vec<PartLine>,
    /// Pieces in all.
    pub pieces: u32,
    /// Hardware to pull.
    pub hardware: Vec<HardwareLine>,
    /// Spare per cent of the project.
    pub spare: u32,
    /// Tools to lay out.
    pub tools: Vec<ToolLine>,
    /// Consumables: what joints are set wet with, and what steps use.
    pub consumables: Vec<String>,
    /// Steps that need a second person, in words.
    pub helper: Option<String>,
}

/// A part to lay out.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct PartLine {
    /// Id of the part.
    pub id: String,
    /// What the part is called.
    pub name: String,
    /// `left` or `right`.
    pub hand: Option<&'static str>,
    /// Pieces for this packet's hand.
    pub quantity: u32,
    /// Material with temper, as written.
    pub material: Option<String>,
    /// Thickness, in full.
    pub thickness: Option<String>,
    /// A part that it is not to be taken for.
    pub look_alike: Option<String>,
    /// Tightest bend.
    pub bend: Option<String>,
    /// Whether its thickness decides a fastener's length.
    pub measure: bool,
}

pub(super) fn plan(source: Source<'_>, hardware: Vec<HardwareLine>) -> Preparation {
    let parts = parts(source);
    Preparation {
        pieces: parts.iter().map(|part| part.quantity).fold(0, u32::saturating_add),
        parts,
        hardware,
        spare: source.job.project.settings.spare.value,
        tools: tools(source),
        consumables: consumables(source),
        helper: helper(source),
    }
}

fn consumables(source: Source<'_>) -> Vec<String> {
    let mut consumables: Vec<String> = Vec::new();
    // What another traveler's holes are filled wet with lies here as well.
    let filled = source.steps().flat_map(|(_, step)| &step.fills).map(|joint| source.job.joint(*joint));
    let filled = filled.filter(|joint| joint.shares_with.is_none());
    let named = source.steps().flat_map(|(_, step)| &step.joints).filter(|named| named.joint.traveler != source.index);
    let named = named.map(|named| source.job.joint(named.joint));
    let wet = source.joints().map(|(_, joint)| joint).chain(named).chain(filled).filter_map(|joint| joint.wet.as_ref());
    for used in wet.chain(source.steps().flat_map(|(_, step)| &step.uses)) {
        if !consumables.iter().any(|known| known.eq_ignore_ascii_case(&used.value)) {
            consumables.push(used.value.clone());
        }
    }
    consumables
}

/// The parts that the printed steps and their joints name. An excerpt that names no part works on what lies there
/// already: the whole list is then the safe one.
fn named_parts(source: Source<'_>) -> Option<Vec<usize>> {
    let of_steps = source.steps().flat_map(|(_, step)| step.parts.iter().map(|number| number.value));
    let of_joints = source.joints().flat_map(|(_, joint)| joint.layers.iter().filter_map(|layer| layer.part));
    let named: Vec<usize> = of_steps.chain(of_joints).collect();
    (source.is_excerpt() && !named.is_empty()).then_some(named)
}

fn parts(source: Source<'_>) -> Vec<PartLine> {
    let stacked = |at: usize| {
        source.traveler().joints.iter().any(|joint| joint.layers.iter().any(|layer| layer.part == Some(at)))
    };
    let style = &source.job.project.style;
    let line = |(at, part): (usize, &crate::job::Part)| PartLine {
        id: part.id.value.clone(),
        name: part.name_beside().to_owned(),
        hand: source.hand.map(Hand::word),
        quantity: part.quantity.value,
        material: part.material.as_ref().map(|material| material.value.clone()),
        thickness: part.thickness.as_ref().map(|thickness| style.length(thickness.value.length)),
        look_alike: part.look_alike.as_ref().map(|other| other.value.clone()),
        bend: part.bend.as_ref().map(|bend| {
            say!(
                "bend {angle} deg, inside radius {radius}",
                angle = bend.angle.value,
                radius = style.length(bend.radius.value)
            )
        }),
        measure: part.thickness.is_some() && stacked(at),
    };
    let named = named_parts(source);
    let printed = |at: &usize| named.as_ref().is_none_or(|named| named.contains(at));
    let laid_out = |(at, part): &(usize, &crate::job::Part)| printed(at) && !part.is_fitted;
    source.traveler().parts.iter().enumerate().filter(laid_out).map(line).collect()
}

fn helper(source: Source<'_>) -> Option<String> {
    let steps: Vec<&Step> = source.steps().map(|(_, step)| step).filter(|step| step.helper.value).collect();
    if steps.is_empty() {
        return None;
    }
    let numbers: Vec<String> = steps.iter().map(|step| operation(step.number)).collect();
    let minutes =
        steps.iter().filter_map(|step| step.minutes).map(|minutes| minutes.value).fold(0, u32::saturating_add);
    let time = if minutes == 0 { String::new() } else { say!(", about {minutes}", minutes = spent(minutes)) };
    let numbers = numbers.join(", ");
    Some(say_count!(steps.len(), "step {numbers}{time}", "steps {numbers}{time}", numbers, time))
}
