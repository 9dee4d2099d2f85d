//! TALLY: how many fasteners of a joint a step fits, leaves open, fills, puts in for a time or takes out.
//!
//! The one count: packets, pick lists, the ledger of what is open, requirements and notices ask here and count nothing
//! themselves. It says what the specs say; spares and stock are for the lists.

use super::{Hand, Item, Job, Joint, JointRef, LivesAt, StepRef, same_side};

/// What is done to the hardware of a joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Handling {
    /// Final fasteners go in; so many holes of the hand stay open behind them.
    Fasten {
        /// Holes that stay open.
        open: u32,
    },
    /// Final fasteners go into holes that were left open.
    Fill {
        /// The step that left them open, where one did.
        since: Option<StepRef>,
    },
    /// The fasteners of another joint go into holes that were left open: they are counted there.
    Share {
        /// The step that left them open, where one did.
        since: Option<StepRef>,
        /// The joint whose fasteners they are.
        with: JointRef,
    },
    /// The joint is fastened once more: everything was counted at the step that fastens it first.
    FastenOn {
        /// That step.
        first: StepRef,
    },
    /// Fit-up hardware goes in.
    PutIn {
        /// Whether it was in before and came out again.
        again: bool,
    },
    /// Fit-up hardware comes out.
    TakeOut,
}

impl Handling {
    /// Whether the pieces are the final ones.
    #[must_use]
    pub const fn is_final(self) -> bool {
        matches!(self, Self::Fasten { .. } | Self::Fill { .. } | Self::FastenOn { .. })
    }
}

/// What one item does to the hardware of one joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Handled {
    /// The joint; of another traveler where a step names it or fills its open holes.
    pub joint: JointRef,
    /// The one hand of it, where the step has none and says which.
    pub hand: Option<Hand>,
    /// What is done.
    pub what: Handling,
    /// Fasteners, each with what belongs to it; of shared holes the holes.
    pub count: u32,
}

impl Job {
    /// Everything that an item does to hardware, in the order of the joints; those of other travelers come last.
    ///
    /// # Panics
    /// When the job has no such item.
    #[must_use]
    pub fn handled(&self, item: Item) -> Vec<Handled> {
        let own = item.at.traveler;
        let traveler = &self.travelers[own];
        let mut all = Vec::new();
        for index in 0..traveler.joints.len() {
            let joint = JointRef { traveler: own, joint: index };
            all.extend(self.fastened_at(joint, None, item.at));
            all.extend(self.fitted_up_at(joint, item.at));
        }
        let step = self.step(item.at);
        for named in step.joints.iter().filter(|named| named.joint.traveler != own) {
            all.extend(self.fastened_at(named.joint, named.hand, item.at));
            all.extend(self.fitted_up_at(named.joint, item.at).map(|one| Handled { hand: named.hand, ..one }));
        }
        for joint in step.fills.iter().filter(|joint| joint.traveler != own && !step.names(**joint)) {
            let count = self.share(*joint, item);
            if count > 0 {
                all.extend(self.fitted_up_at(*joint, item.at).map(|out| Handled { count, ..out }));
                all.push(Handled { joint: *joint, hand: None, what: self.filling(*joint), count });
            }
        }
        all
    }

    /// Final fasteners of one joint that an item sets.
    #[must_use]
    pub fn set_at(&self, joint: JointRef, item: Item) -> u32 {
        let handled =
            self.handled(item).into_iter().filter(|handled| handled.joint == joint && handled.what.is_final());
        handled.map(|handled| handled.count).sum()
    }

    /// Final fasteners, a hand, that are set before a step on the joint.
    #[must_use]
    pub fn set_before(&self, (joint, hand): (JointRef, Option<Hand>), step: StepRef) -> u32 {
        let before = self.around(joint).into_iter().take_while(|at| *at != step);
        let handled =
            before.filter_map(|at| self.fastened_at(joint, hand, at)).filter(|handled| handled.what.is_final());
        handled.map(|handled| handled.count).sum()
    }

    /// Holes, a hand, in which the joint's own traveler sets no final fastener, its own or a shared one: open, or with fit-up
    /// hardware in them, when it is finished.
    #[must_use]
    pub fn open_at_end(&self, joint: JointRef) -> u32 {
        let steps = 0..self.travelers[joint.traveler].steps.len();
        let at = |step| StepRef { traveler: joint.traveler, step };
        let filled: u32 =
            steps.filter_map(|step| self.fastened_at(joint, None, at(step))).map(|handled| handled.count).sum();
        self.joint(joint).count.value.saturating_sub(filled)
    }

    /// The step that leaves holes of a joint open: its fastening, or the last work on a joint of which all holes wait.
    #[must_use]
    pub fn left_open_at(&self, joint: JointRef) -> Option<StepRef> {
        let own = self.joint(joint);
        let is_other = |lived: &&LivesAt| !own.is_filled_by(lived.at);
        let since = own.fastenings().find(is_other).or_else(|| own.life.iter().rev().find(|lived| is_other(lived)))?;
        Some(since.at)
    }

    /// The joint of a reference.
    #[must_use]
    pub fn joint(&self, at: JointRef) -> &Joint {
        &self.travelers[at.traveler].joints[at.joint]
    }

    /// How the holes of a joint that were left open are filled.
    fn filling(&self, joint: JointRef) -> Handling {
        let since = self.left_open_at(joint);
        match self.joint(joint).shares_with {
            Some(with) => Handling::Share { since, with },
            None => Handling::Fill { since },
        }
    }

    /// What a step does to the holes of one hand of a joint for good.
    pub(super) fn fastened_at(&self, joint: JointRef, hand: Option<Hand>, step: StepRef) -> Option<Handled> {
        let own = self.joint(joint);
        let handled = |what, count| Some(Handled { joint, hand, what, count });
        if own.is_filled_by(step) {
            return handled(self.filling(joint), own.open_count());
        }
        let on_hand = || own.fastenings().filter(|lived| lived.is_on(hand));
        on_hand().find(|lived| lived.at == step)?;
        let first = on_hand().find(|lived| !own.is_filled_by(lived.at))?.at;
        if first == step {
            let open = own.open_count();
            handled(Handling::Fasten { open }, own.count.value - open)
        } else {
            handled(Handling::FastenOn { first }, 0)
        }
    }

    /// What a step does to the fit-up hardware of a joint, per hand.
    fn fitted_up_at(&self, joint: JointRef, at: StepRef) -> impl Iterator<Item = Handled> + use<> {
        let times = self.fit_ups(joint);
        let count = self.joint(joint).fit_up_count();
        let here = times.into_iter().enumerate().flat_map(move |(nth, time)| {
            let goes_in = (time.put_in == at).then_some(Handling::PutIn { again: nth > 0 });
            let comes_out = (time.taken_out == Some(at)).then_some(Handling::TakeOut);
            goes_in.into_iter().chain(comes_out)
        });
        here.map(move |what| Handled { joint, hand: None, what, count })
    }

    /// Open holes of another traveler's joint that an item fills: those of every hand that it faces. Where the two hands of
    /// the step meet a joint that has none, each fills its half, the first the odd one.
    fn share(&self, joint: JointRef, item: Item) -> u32 {
        let open = self.joint(joint).open_count();
        let owners = self.hands_of(joint.traveler);
        let fillers = self.hands_of(item.at.traveler);
        let place = fillers.iter().position(|hand| *hand == item.hand);
        if let ([None], Some(place), true) = (owners.as_slice(), place, fillers.len() > 1) {
            let half = open / 2;
            return if place == 0 { open - half } else { half };
        }
        let faced = owners.iter().filter(|hand| same_side(**hand, item.hand));
        faced.map(|_| open).sum()
    }
}
