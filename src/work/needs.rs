//! What one item takes from the shelf: fasteners with their nuts and washers, fit-up hardware, parts.
//!
//! It counts what the specs say; what lies on the shelf is compared here too, but nothing is bought or set aside.

use std::collections::BTreeMap;

use crate::hardware::decode;
use crate::job::{Hardware, Item, Job, Joint, StepRef};

/// Minutes that a step without an estimate counts as (common practice: whoever plans too much for an evening stops in
/// the middle of a joint, whoever plans too little goes on).
pub const GUESSED_MINUTES: u32 = 30;

/// Pieces of one call.
#[derive(Debug, Clone)]
pub struct Need {
    /// The call, decoded where it could be.
    pub hardware: Hardware,
    /// Pieces, without spares.
    pub count: u32,
    /// Whether the pieces come out again: fit-up hardware.
    pub temporary: bool,
}

/// What every item of a build takes.
#[derive(Debug)]
pub struct Needs<'a> {
    job: &'a Job,
    /// Joints whose open holes a step fills: traveler and joint by step.
    fills: BTreeMap<StepRef, Vec<(usize, usize)>>,
}

impl<'a> Needs<'a> {
    /// The needs of a build.
    #[must_use]
    pub fn of(job: &'a Job) -> Self {
        let mut fills: BTreeMap<StepRef, Vec<(usize, usize)>> = BTreeMap::new();
        for (traveler, own) in job.travelers.iter().enumerate() {
            for (index, joint) in own.joints.iter().enumerate() {
                if let Some(until) = joint.filled_by {
                    fills.entry(until).or_default().push((traveler, index));
                }
            }
        }
        Self { job, fills }
    }

    /// The hardware that an item takes, call by call.
    #[must_use]
    pub fn hardware(&self, item: Item) -> Vec<Need> {
        let mut needs = Vec::new();
        let traveler = &self.job.travelers[item.at.traveler];
        for named in &self.job.step(item.at).joints {
            let joint = &traveler.joints[named.value];
            match self.job.step(item.at).kind.value {
                kind if kind.fastens() => needs.extend(at_fastening(joint)),
                _ if joint.fit_up().is_some_and(|(since, _)| since.step == item.at.step) => {
                    needs.extend(at_fit_up(joint));
                }
                _ => {}
            }
        }
        for (owner, index) in self.fills.get(&item.at).into_iter().flatten() {
            let joint = &self.job.travelers[*owner].joints[*index];
            // Without `leave-open` there is nothing to fill.
            let open = joint.leave_open.as_ref().map_or(0, |open| open.count.value);
            // One step of a one-off may fill both hands of the joint.
            let hands = self
                .job
                .hands_of(*owner)
                .into_iter()
                .filter(|hand| hand.is_none() || item.hand.is_none() || *hand == item.hand);
            needs.extend(fastened(joint, hands.map(|_| open).sum()));
        }
        needs
    }

    /// The parts that an item is the first of its traveler to touch: index and pieces.
    #[must_use]
    pub fn parts(&self, item: Item) -> Vec<(usize, u32)> {
        let traveler = &self.job.travelers[item.at.traveler];
        let touched = |step: usize| -> Vec<usize> {
            let own = &traveler.steps[step];
            let stacks =
                own.joints.iter().flat_map(|joint| &traveler.joints[joint.value].layers).filter_map(|layer| layer.part);
            own.parts.iter().map(|part| part.value).chain(stacks).collect()
        };
        let mut own = touched(item.at.step);
        own.sort_unstable();
        own.dedup();
        let earlier: Vec<usize> = (0..item.at.step).flat_map(touched).collect();
        own.into_iter()
            .filter(|part| !earlier.contains(part))
            .map(|part| (part, traveler.parts[part].quantity.value))
            .collect()
    }
}

/// What each step that fastens a joint takes for it.
#[must_use]
pub fn at_fastening(joint: &Joint) -> Vec<Need> {
    fastened(joint, joint.set_here())
}

/// What the fit-up of a joint takes, once.
#[must_use]
pub fn at_fit_up(joint: &Joint) -> Vec<Need> {
    let Some(temporary) = &joint.temporary else { return Vec::new() };
    let pieces = std::iter::once(&temporary.fastener).chain(&temporary.nut).cloned();
    pieces.map(|hardware| Need { hardware, count: joint.count.value, temporary: true }).collect()
}

fn fastened(joint: &Joint, count: u32) -> Vec<Need> {
    if count == 0 {
        return Vec::new();
    }
    let main =
        Hardware { written: joint.spec.fastener.clone(), call: joint.call.clone(), fastener: joint.fastener.clone() };
    let more = joint.washers_head.iter().chain(&joint.washers_nut).chain(&joint.nut);
    let more = more.chain(&joint.check_nut).chain(&joint.cotter).cloned();
    std::iter::once(main).chain(more).map(|hardware| Need { hardware, count, temporary: false }).collect()
}

/// What lies on the shelf, by call or part id.
#[derive(Debug, Clone)]
pub struct Shelf {
    on_hand: BTreeMap<String, u32>,
}

impl Shelf {
    /// The stock of a project; a call counts in its usual form, however it was written.
    #[must_use]
    pub fn of(job: &Job) -> Self {
        let mut on_hand: BTreeMap<String, u32> = BTreeMap::new();
        for stock in &job.project.stock {
            let name = usual(job, &stock.item.value);
            *on_hand.entry(name).or_default() += stock.on_hand.value;
        }
        Self { on_hand }
    }

    /// Pieces on the shelf; nothing where the stock list does not name the call.
    #[must_use]
    pub fn count(&self, name: &str) -> Option<u32> {
        self.on_hand.get(name).copied()
    }

    /// Takes pieces off.
    ///
    /// # Errors
    /// Says how many were there where they do not suffice; it takes none then.
    pub fn take(&mut self, name: &str, count: u32) -> Result<(), u32> {
        match self.on_hand.get_mut(name) {
            // What the list does not name is not known to be short.
            None => Ok(()),
            Some(left) if *left >= count => {
                *left -= count;
                Ok(())
            }
            Some(left) => Err(*left),
        }
    }
}

fn usual(job: &Job, item: &str) -> String {
    let callout =
        job.project.callouts.iter().find(|(name, _)| name.value == item).map(|(_, meaning)| meaning.value.as_str());
    let call = callout.unwrap_or(item);
    decode(call, &job.project.kit).map_or_else(|_| item.trim().to_owned(), |fastener| fastener.usual_call().to_owned())
}

/// The name under which a call is counted.
#[must_use]
pub fn counted_as(hardware: &Hardware) -> String {
    hardware.fastener.as_ref().map_or_else(|_| hardware.call.clone(), |fastener| fastener.usual_call().to_owned())
}
