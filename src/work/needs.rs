//! What one item takes from the shelf: fasteners with their nuts and washers, fit-up hardware, parts.
//!
//! It counts what the specs say; what lies on the shelf is compared here too, but nothing is bought or set aside.

use std::collections::BTreeMap;

use crate::hardware::decode;
use crate::job::{Handled, Handling, Hardware, Item, Job, Joint};

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
#[derive(Debug, Clone, Copy)]
pub struct Needs<'a> {
    job: &'a Job,
}

impl<'a> Needs<'a> {
    /// The needs of a build.
    #[must_use]
    pub const fn of(job: &'a Job) -> Self {
        Self { job }
    }

    /// The hardware that an item takes, call by call.
    #[must_use]
    pub fn hardware(&self, item: Item) -> Vec<Need> {
        self.job.handled(item).into_iter().flat_map(|handled| taken(self.job.joint(handled.joint), handled)).collect()
    }

    /// The parts that an item is the first of its traveler to touch: index and pieces. What is on the aircraft already
    /// is not fetched.
    #[must_use]
    pub fn parts(&self, item: Item) -> Vec<(usize, u32)> {
        let traveler = &self.job.travelers[item.at.traveler];
        let touched = |step: usize| -> Vec<usize> {
            let own = &traveler.steps[step];
            // Parts of another traveler's joint came with what that one has made.
            let joints = own.joints.iter().filter(|named| named.joint.traveler == item.at.traveler);
            let stacks = joints.flat_map(|named| &self.job.joint(named.joint).layers).filter_map(|layer| layer.part);
            own.parts.iter().map(|part| part.value).chain(stacks).collect()
        };
        let mut own = touched(item.at.step);
        own.sort_unstable();
        own.dedup();
        let earlier: Vec<usize> = (0..item.at.step).flat_map(touched).collect();
        own.into_iter()
            .filter(|part| !earlier.contains(part) && !traveler.parts[*part].is_fitted)
            .map(|part| (part, traveler.parts[part].quantity.value))
            .collect()
    }
}

/// What is taken from the shelf where a joint's hardware is handled; what comes out, or goes in again, is not.
#[must_use]
pub fn taken(joint: &Joint, handled: Handled) -> Vec<Need> {
    match handled.what {
        what if what.is_final() => fastened(joint, handled.count),
        Handling::PutIn { again: false } => fitted_up(joint, handled.count),
        _ => Vec::new(),
    }
}

fn fitted_up(joint: &Joint, count: u32) -> Vec<Need> {
    let Some(temporary) = &joint.temporary else { return Vec::new() };
    // A bolt that stays in is pulled now, and not again when its nut is changed.
    let bolt = Need { hardware: temporary.fastener.clone(), count, temporary: !temporary.nut_only };
    let nut = temporary.nut.iter().cloned().map(|hardware| Need { hardware, count, temporary: true });
    std::iter::once(bolt).chain(nut).collect()
}

fn fastened(joint: &Joint, count: u32) -> Vec<Need> {
    if count == 0 {
        return Vec::new();
    }
    let main =
        Hardware { written: joint.spec.fastener.clone(), call: joint.call.clone(), fastener: joint.fastener.clone() };
    let more = joint.washers_head.iter().chain(&joint.washers_nut).chain(&joint.nut);
    let more = more.chain(&joint.check_nut).chain(&joint.cotter).cloned();
    // It went in with the nut that is changed now.
    let is_in = joint.temporary.as_ref().is_some_and(|temporary| temporary.nut_only) && joint.gets_fit_up();
    std::iter::once(main)
        .filter(|_| !is_in)
        .chain(more)
        .map(|hardware| Need { hardware, count, temporary: false })
        .collect()
}

/// What lies on the shelf, by call or part id.
#[derive(Debug, Clone)]
pub struct Shelf {
    on_hand: BTreeMap<String, u32>,
    bins: BTreeMap<String, String>,
}

impl Shelf {
    /// The stock of a project; a call counts in its usual form, however it was written.
    #[must_use]
    pub fn of(job: &Job) -> Self {
        let mut on_hand: BTreeMap<String, u32> = BTreeMap::new();
        let mut bins: BTreeMap<String, String> = BTreeMap::new();
        for stock in &job.project.stock {
            let item = &stock.item.value;
            let name = shelf_name(job, item).unwrap_or_else(|| item.trim().to_owned());
            if let Some(bin) = &stock.bin {
                bins.entry(name.clone()).or_insert_with(|| bin.value.clone());
            }
            *on_hand.entry(name).or_default() += stock.on_hand.value;
        }
        Self { on_hand, bins }
    }

    /// Where a call or a part lies, as the stock list says it.
    #[must_use]
    pub fn bin(&self, name: &str) -> Option<&str> {
        self.bins.get(name).map(String::as_str)
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

/// The name under which an item of a stock list is counted: a call in its usual form, however it was written, or a
/// part; nothing where it is neither, so that no list can ask for it.
#[must_use]
pub fn shelf_name(job: &Job, item: &str) -> Option<String> {
    let item = item.trim();
    let callout = job.project.callouts.iter().find(|(name, _)| name.value == item);
    let call = callout.map_or(item, |(_, meaning)| meaning.value.as_str());
    let is_known = || job.project.parts.iter().any(|own| own.id.value == item);
    let is_part = || is_known() || job.travelers.iter().any(|own| own.part(item).is_some());
    match decode(call, &job.project.kit) {
        Ok(fastener) => Some(fastener.usual_call().to_owned()),
        Err(_) => is_part().then(|| item.to_owned()),
    }
}

/// The name under which a call is counted.
#[must_use]
pub fn counted_as(hardware: &Hardware) -> String {
    hardware.fastener.as_ref().map_or_else(|_| hardware.call.clone(), |fastener| fastener.usual_call().to_owned())
}
