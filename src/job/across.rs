//! ACROSS TRAVELERS: the order in which steps of several travelers work on one joint, and what each waits for because of it.
//!
//! `after`, `needs` and the order of steps in a traveler come first. Where they leave it open, the trade's order holds: holes,
//! smallest first, deburr, countersink and dimple, coats, fasteners, torque, look (common practice). That a joint is fastened
//! before it is drilled is never taken for an order: the two then wait for each other, and the circle is reported.

use super::{After, Follow, Hand, Item, Job, JointRef, LivesAt, Order, StepKind, StepRef};
use crate::units::Length;

impl Job {
    /// Puts the lives of joints that several travelers work on in order, and tells each step for which it waits.
    pub(in crate::job) fn order_lives(&mut self) {
        let shared = self.shared_joints();
        if shared.is_empty() {
            return;
        }
        let order = Order::of(self);
        let mut follows: Vec<(StepRef, Follow)> = Vec::new();
        for joint in shared {
            let written = Written { job: self, order: &order };
            let life = written.merged(joint);
            follows.extend(written.follows(joint, &life));
            self.travelers[joint.traveler].joints[joint.joint].life = life;
        }
        for (at, follow) in follows {
            let own = &mut self.travelers[at.traveler].steps[at.step].follows;
            if !own.iter().any(|known| known.at == follow.at && known.hand == follow.hand) {
                own.push(follow);
            }
        }
    }

    /// Joints that steps of another traveler name.
    fn shared_joints(&self) -> Vec<JointRef> {
        let all = self.travelers.iter().enumerate().flat_map(|(traveler, own)| {
            let shared = own
                .joints
                .iter()
                .enumerate()
                .filter(move |(_, joint)| joint.life.iter().any(|lived| lived.at.traveler != traveler));
            shared.map(move |(joint, _)| JointRef { traveler, joint })
        });
        all.collect()
    }
}

/// The build with the order that is written down.
struct Written<'a> {
    job: &'a Job,
    order: &'a Order,
}

impl Written<'_> {
    fn items(&self, at: StepRef) -> impl Iterator<Item = Item> {
        self.job.hands_of(at.traveler).into_iter().map(move |hand| Item { at, hand })
    }

    /// Whether what is written puts one step before another, on any hand.
    fn precedes(&self, first: StepRef, later: StepRef) -> bool {
        let after: Vec<After<'_>> = self.items(first).map(|item| self.order.all_after(item)).collect();
        self.items(later).any(|item| after.iter().any(|after| after.contains(item)))
    }

    /// What is done to a joint, traveler by traveler so far, in one order.
    fn merged(&self, joint: JointRef) -> Vec<LivesAt> {
        let mut left: Vec<LivesAt> = self.job.joint(joint).life.clone();
        let mut merged: Vec<LivesAt> = Vec::with_capacity(left.len());
        while !left.is_empty() {
            // The first of each traveler, of which one is next.
            let is_first = |nth: usize| left[..nth].iter().all(|other| other.at.traveler != left[nth].at.traveler);
            let firsts: Vec<usize> = (0..left.len()).filter(|nth| is_first(*nth)).collect();
            let is_free = |nth: &usize| {
                let others = left.iter().filter(|other| other.at.traveler != left[*nth].at.traveler);
                !others.into_iter().any(|other| self.precedes(other.at, left[*nth].at))
            };
            let free: Vec<usize> = firsts.iter().copied().filter(is_free).collect();
            // In a circle none is free; the circle is reported for itself.
            let among = if free.is_empty() { firsts } else { free };
            let key = |nth: &usize| (rank(&left[*nth]), left[*nth].at.traveler != joint.traveler);
            let Some(next) = among.into_iter().min_by_key(key) else { break };
            merged.push(left.remove(next));
        }
        merged
    }

    /// What each step on a joint waits for that stands in another traveler.
    fn follows(&self, joint: JointRef, life: &[LivesAt]) -> Vec<(StepRef, Follow)> {
        let mut all = Vec::new();
        for (nth, later) in life.iter().enumerate() {
            let mut told: Vec<usize> = vec![later.at.traveler];
            for first in life[..nth].iter().rev() {
                if !told.contains(&first.at.traveler) && first.is_on(later.hand) {
                    told.push(first.at.traveler);
                    all.extend(self.follow(joint, first, later));
                }
            }
            let is_drilled_later = |other: &&LivesAt| other.kind.makes_holes() && other.is_on(later.hand);
            let opens_later = self.job.joint(joint).leave_open.is_some();
            if later.kind.fastens() && !opens_later {
                let others = life[nth + 1..].iter().filter(|other| other.at.traveler != later.at.traveler);
                all.extend(others.filter(is_drilled_later).map(|drilled| link(joint, drilled, later)));
            }
            all.extend(self.made_ready(joint, life, nth));
        }
        all
    }

    /// That one step waits for the other, where nothing else says so.
    fn follow(&self, joint: JointRef, first: &LivesAt, later: &LivesAt) -> Option<(StepRef, Follow)> {
        (!self.precedes(first.at, later.at)).then(|| link(joint, first, later))
    }

    /// Who fastens another traveler's joint waits until its parts are deburred and coated there.
    fn made_ready(&self, joint: JointRef, life: &[LivesAt], nth: usize) -> Option<(StepRef, Follow)> {
        let later = &life[nth];
        if later.at.traveler == joint.traveler || !later.kind.fastens() {
            return None;
        }
        let own = |lived: &LivesAt| (lived.at.traveler == joint.traveler).then_some(lived.at.step);
        let steps = &self.job.travelers[joint.traveler].steps;
        // Where its own traveler has not worked on it yet, every step may make its parts ready.
        let from = life[..nth].iter().rev().find_map(own).map_or(0, |step| step + 1);
        let until = life[nth..].iter().find_map(own).unwrap_or(steps.len());
        let stack: Vec<usize> = self.job.joint(joint).layers.iter().filter_map(|layer| layer.part).collect();
        let works = |step: &usize| {
            let own = &steps[*step];
            makes_ready(own.kind.value) && own.parts.iter().any(|part| stack.contains(&part.value))
        };
        let at = StepRef { traveler: joint.traveler, step: (from..until).rev().find(works)? };
        let is_said = self.precedes(later.at, at) || self.precedes(at, later.at);
        (!is_said).then_some((later.at, Follow { at, hand: later.hand, joint, span: later.span }))
    }
}

fn link(joint: JointRef, first: &LivesAt, later: &LivesAt) -> (StepRef, Follow) {
    // The place at which one of them names the joint of the other's traveler.
    let span = if later.at.traveler == joint.traveler { first.span } else { later.span };
    let hand: Option<Hand> = first.hand.or(later.hand);
    (later.at, Follow { at: first.at, hand, joint, span })
}

/// The place of a kind of work in the trade's order; of holes the smallest first.
fn rank(lived: &LivesAt) -> (u8, Length) {
    let size = lived.hole.map_or(Length::ZERO, |hole| hole.size.length);
    let place = match lived.kind {
        StepKind::Prepare | StepKind::LayOut | StepKind::Trim | StepKind::Form => 0,
        StepKind::Fit | StepKind::PressFit => 1,
        StepKind::Drill | StepKind::Ream => 2,
        StepKind::TakeApart => 3,
        StepKind::Deburr | StepKind::Dress | StepKind::HeatTreat => 4,
        StepKind::Countersink | StepKind::Dimple => 5,
        StepKind::Clean | StepKind::Prime | StepKind::Paint | StepKind::Seal | StepKind::Bond => 6,
        StepKind::Rivet | StepKind::Bolt => 7,
        StepKind::Torque => 8,
        StepKind::Install
        | StepKind::Connect
        | StepKind::Rig
        | StepKind::Level
        | StepKind::Measure
        | StepKind::Test
        | StepKind::Inspect
        | StepKind::Photograph
        | StepKind::Close => 9,
    };
    (place, size)
}

/// What is done to a part before it is fastened.
const fn makes_ready(kind: StepKind) -> bool {
    matches!(
        kind,
        StepKind::Trim
            | StepKind::Form
            | StepKind::Dress
            | StepKind::HeatTreat
            | StepKind::Deburr
            | StepKind::Clean
            | StepKind::Prime
    )
}
