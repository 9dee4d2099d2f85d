//! EXCERPTS: a run of steps of a packet by itself, with only what that run needs: tonight's pages.
//!
//! An excerpt is planned as a whole packet and then cut, so that it says of its steps exactly what the packet says. It
//! has no close-out unless it has the last step, and its pages name the run so that they are not taken for the packet.

use serde::{Deserialize, Serialize};

use super::pick::spare_of;
use super::preparation::helper;
use super::{Packet, Source};
use crate::job::{Index, Step, operation};
use crate::units::spent;

/// A run of steps by index, both ends included.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct StepRun {
    /// Index of the first.
    pub first: usize,
    /// Index of the last.
    pub last: usize,
}

impl StepRun {
    const fn has(self, at: usize) -> bool {
        self.first <= at && at <= self.last
    }
}

/// Cuts a planned packet down to a run of its steps.
pub(super) fn cut(packet: &mut Packet, source: Source<'_>, run: StepRun) {
    let traveler = source.traveler;
    let steps: Vec<&Step> =
        traveler.steps.iter().enumerate().filter(|(at, _)| run.has(*at)).map(|(_, step)| step).collect();
    let numbers: Vec<String> = steps.iter().map(|step| operation(step.number)).collect();
    let (Some(first), Some(last)) = (numbers.first(), numbers.last()) else { return };
    packet.head.part = Some(if first == last { format!("step {first}") } else { format!("steps {first} to {last}") });
    packet.part = Some(if first == last { first.clone() } else { format!("{first}-{last}") });
    let joints: Vec<usize> = listed(&steps, |step| &step.joints);
    cut_cover(packet, source, &steps, &numbers, &joints);
    cut_preparation(packet, source, &steps, &numbers, &joints);
    packet.steps.retain(|step| numbers.contains(&step.number));
    let figures = &mut packet.figures;
    figures.map = None;
    keep(&mut figures.steps, |at| run.has(at));
    keep(&mut figures.joints, |at| joints.contains(&at));
    keep(&mut packet.joints, |at| joints.contains(&at));
    let ids: Vec<&str> = joints.iter().map(|at| traveler.joints[*at].id.value.as_str()).collect();
    figures.gauges = figures.gauges.take().filter(|_| !ids.is_empty());
    figures.strips.retain(|strip| ids.contains(&strip.id.as_str()));
    packet.extra_rows = 2;
    if run.last + 1 < traveler.steps.len() {
        packet.close_out = None;
    }
}

fn cut_cover(packet: &mut Packet, source: Source<'_>, steps: &[&Step], numbers: &[String], joints: &[usize]) {
    let cover = &mut packet.cover;
    let minutes =
        steps.iter().filter_map(|step| step.minutes).map(|minutes| minutes.value).fold(0, u32::saturating_add);
    cover.time = (minutes > 0).then(|| spent(minutes));
    cover.counts = vec![format!("{} of the {} steps", steps.len(), source.traveler.steps.len())];
    cover.points.retain(|point| numbers.contains(&point.number));
    for zone in &mut cover.zones {
        zone.open.retain(|number| numbers.contains(number));
        zone.closes.retain(|number| numbers.contains(number));
    }
    cover.zones.retain(|zone| !zone.open.is_empty() || !zone.closes.is_empty());
    cover.sessions.clear();
    cover.needs.retain(|need| numbers.iter().any(|number| need.ends_with(&format!("before step {number}"))));
    let titles: Vec<String> = joints.iter().map(|at| source.traveler.joints[*at].title()).collect();
    cover.temporary.retain(|line| titles.contains(&line.joint));
    cover.leave_open.retain(|line| titles.contains(&line.joint));
}

fn cut_preparation(packet: &mut Packet, source: Source<'_>, steps: &[&Step], numbers: &[String], joints: &[usize]) {
    let traveler = source.traveler;
    let preparation = &mut packet.preparation;
    let mut parts: Vec<usize> = listed(steps, |step| &step.parts);
    parts.extend(joints.iter().flat_map(|at| &traveler.joints[*at].layers).filter_map(|layer| layer.part));
    // A run that names no part works on what lies there already: the whole list is then the safe one.
    if !parts.is_empty() {
        keep(&mut preparation.parts, |at| parts.contains(&at));
        preparation.pieces = preparation.parts.iter().map(|part| part.quantity).fold(0, u32::saturating_add);
    }
    let fitted: Vec<&str> = joints
        .iter()
        .filter_map(|at| traveler.joints[*at].temporary.as_ref())
        .flat_map(|temporary| std::iter::once(&temporary.fastener).chain(&temporary.nut))
        .map(|hardware| hardware.call.as_str())
        .collect();
    for line in &mut preparation.hardware {
        let stays = line.temporary && fitted.contains(&line.call.as_str());
        line.uses.retain(|one| stays || numbers.contains(&one.number));
        line.total = line.uses.iter().map(|one| one.count).fold(0, u32::saturating_add);
        line.spare = if line.spare > 0 { spare_of(line.total, preparation.spare) } else { 0 };
        line.pull = line.total.saturating_add(line.spare);
    }
    preparation.hardware.retain(|line| line.total > 0);
    for tool in &mut preparation.tools {
        tool.steps.retain(|number| numbers.contains(number));
    }
    preparation.tools.retain(|tool| !tool.steps.is_empty());
    let wet: Vec<&str> =
        joints.iter().filter_map(|at| traveler.joints[*at].wet.as_ref()).map(|wet| wet.value.as_str()).collect();
    preparation.consumables.retain(|name| wet.contains(&name.as_str()));
    preparation.helper = helper(steps.iter().copied());
}

fn listed(steps: &[&Step], list: impl Fn(&Step) -> &Vec<Index>) -> Vec<usize> {
    steps.iter().flat_map(|step| list(step)).map(|number| number.value).collect()
}

/// Keeps the entries whose index is wanted.
fn keep<T>(entries: &mut Vec<T>, wanted: impl Fn(usize) -> bool) {
    let mut at = 0;
    entries.retain(|_| {
        at += 1;
        wanted(at - 1)
    });
}
