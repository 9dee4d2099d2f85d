//! Parked work: hardware that must come out again, holes that stay open, rivets put off, nuts not yet torqued.
//!
//! Each entry says which steps park it and which steps end that. Whether the end comes in time is for the rules.

use super::{Hand, Item, Job, Joint, JointRef, LivesAt, Space, StepKind, StepRef};
use crate::text::Span;

/// What is parked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ParkedKind {
    /// Fit-up hardware that final hardware replaces.
    Temporary,
    /// Some holes of a fastened joint stay open.
    LeaveOpen,
    /// All fasteners of a joint are put off.
    Deferred,
    /// Bolts are in, their nuts are not torqued.
    NotTorqued,
}

impl ParkedKind {
    /// Every kind, in the order of the ledger.
    pub const ALL: [Self; 4] = [Self::Temporary, Self::LeaveOpen, Self::Deferred, Self::NotTorqued];

    /// The words on paper.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Temporary => "temporary hardware",
            Self::LeaveOpen => "holes left open",
            Self::Deferred => "fasteners put off",
            Self::NotTorqued => "nuts not torqued",
        }
    }
}

/// One joint of one hand in a state that must end.
#[derive(Debug, Clone)]
pub struct Parked {
    /// What is parked.
    pub kind: ParkedKind,
    /// Index of the traveler.
    pub traveler: usize,
    /// Index of its joint.
    pub joint: usize,
    /// The hand.
    pub hand: Option<Hand>,
    /// How many fasteners or holes.
    pub count: u32,
    /// Where the spec says so.
    pub span: Span,
    /// The step from which on it is so.
    pub since: Item,
    /// The steps of which all must be done to end it; none where no step ends it.
    pub until: Vec<Item>,
    /// The reason that the spec gives.
    pub why: Option<String>,
    /// The spaces in which the joint is worked.
    pub spaces: Vec<Space>,
}

impl Job {
    /// The joint of a parked entry.
    #[must_use]
    pub fn parked_joint(&self, parked: &Parked) -> &Joint {
        &self.travelers[parked.traveler].joints[parked.joint]
    }

    /// Everything that the specs park, traveler by traveler.
    #[must_use]
    pub fn parked(&self) -> Vec<Parked> {
        let mut all = Vec::new();
        for (traveler, own) in self.travelers.iter().enumerate() {
            for hand in self.hands_of(traveler) {
                for (index, joint) in own.joints.iter().enumerate() {
                    let at = Place { job: self, traveler, index, joint, hand };
                    all.extend(at.temporary());
                    all.extend(at.open_holes());
                    all.extend(at.fastened_elsewhere());
                    all.extend(at.not_torqued());
                }
            }
        }
        all
    }
}

/// One joint of one hand.
struct Place<'a> {
    job: &'a Job,
    traveler: usize,
    index: usize,
    joint: &'a Joint,
    hand: Option<Hand>,
}

impl Place<'_> {
    /// The item of a step that works on this hand of the joint.
    fn item(&self, at: StepRef) -> Item {
        let own = Item { at, hand: self.hand };
        self.job.items_facing(self.hand, at).next().unwrap_or(own)
    }

    /// What is done to this hand of the joint.
    fn life(&self) -> impl Iterator<Item = &LivesAt> {
        self.joint.life.iter().filter(|lived| lived.is_on(self.hand))
    }

    const fn joint_ref(&self) -> JointRef {
        JointRef { traveler: self.traveler, joint: self.index }
    }

    fn parked(&self, kind: ParkedKind, count: u32, span: Span, since: Item, until: Vec<Item>) -> Parked {
        let worked = self.life().flat_map(|lived| &self.job.step(lived.at).spaces);
        let mut spaces: Vec<Space> = worked.flat_map(|space| self.job.spaces(space.value, self.hand)).collect();
        spaces.sort_unstable();
        spaces.dedup();
        Parked {
            kind,
            traveler: self.traveler,
            joint: self.index,
            hand: self.hand,
            count,
            span,
            since,
            until,
            why: None,
            spaces,
        }
    }

    /// Each time that fit-up hardware is in.
    fn temporary(&self) -> impl Iterator<Item = Parked> {
        let times = self.job.fit_ups(self.joint_ref());
        times.into_iter().filter_map(|time| {
            let temporary = self.joint.temporary.as_ref()?;
            let until = time.taken_out.into_iter().flat_map(|until| self.job.items_facing(self.hand, until)).collect();
            let span = temporary.fastener.written.span;
            let count = self.joint.fit_up_count();
            let parked = self.parked(ParkedKind::Temporary, count, span, self.item(time.put_in), until);
            Some(Parked { why: Some(temporary.why.value.clone()), ..parked })
        })
    }

    /// From the fastening, or the last work on a joint of which all holes wait, to the step that fills the holes.
    fn open_holes(&self) -> Option<Parked> {
        let open = self.joint.leave_open.as_ref()?;
        let count = self.joint.open_count();
        let kind = if count == self.joint.count.value { ParkedKind::Deferred } else { ParkedKind::LeaveOpen };
        let since = self.job.left_open_at(self.joint_ref())?;
        // Where no later step fills the holes, nothing ends it.
        let until =
            self.joint.filled_by.map(|until| self.job.items_facing(self.hand, until).collect()).unwrap_or_default();
        let parked = self.parked(kind, count, open.count.span, self.item(since), until);
        Some(Parked { why: Some(open.why.value.clone()), ..parked })
    }

    /// From the last work of its own traveler to the steps of others that fasten it.
    fn fastened_elsewhere(&self) -> Option<Parked> {
        let is_own = |lived: &&LivesAt| lived.at.traveler == self.traveler;
        let fastened = self.life().find(|lived| lived.kind.fastens() && !is_own(lived))?;
        let since = self.life().take_while(|lived| lived.at != fastened.at).filter(is_own).last()?;
        let set = self.job.fastened_at(self.joint_ref(), self.hand, fastened.at)?;
        let until = self.job.items_facing(self.hand, fastened.at).collect();
        // With fit-up hardware in its holes it stands there already.
        let count = if self.joint.gets_fit_up() { 0 } else { set.count };
        (count > 0).then(|| self.parked(ParkedKind::Deferred, count, fastened.span, self.item(since.at), until))
    }

    /// From each bolting to the first torque step after it; bolts of a joint without a later torque step are torqued as they
    /// go in.
    fn not_torqued(&self) -> impl Iterator<Item = Parked> {
        let bolted = self.life().filter(|lived| lived.kind == StepKind::Bolt);
        bolted.filter_map(|bolted| {
            let later = self.joint.life_after(bolted.at);
            let torqued = later.iter().find(|lived| lived.kind == StepKind::Torque && lived.is_on(self.hand))?;
            let item = self.item(bolted.at);
            let set = self.job.fastened_at(self.joint_ref(), self.hand, bolted.at);
            // A bolting that only goes on sets none.
            let count = set.filter(|set| set.what.is_final()).map_or(0, |set| set.count);
            let until = vec![self.item(torqued.at)];
            (count > 0).then(|| self.parked(ParkedKind::NotTorqued, count, bolted.span, item, until))
        })
    }
}
