//! Cure clocks: steps after which parts must not be touched for a time, and which items that holds back.
//!
//! A step with `cure` starts a clock for its parts: those it names, those in the stacks of its joints, or all of its
//! traveler's where it names neither. The clock holds every later step that touches one of them, and every closing of
//! a space that the step worked in. The wait is implied; nobody has to write it. Nothing is judged here.

use std::collections::{BTreeMap, BTreeSet};

use super::{Item, Job, Space, Step, StepKind, StepRef, same_side};
use crate::text::Span;
use crate::units::Minutes;

/// What a step touches, by part id.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Touch {
    /// These parts.
    Parts(BTreeSet<String>),
    /// Whatever its traveler holds: the step names neither parts nor joints.
    Whole,
    /// It only looks.
    Nothing,
}

/// One clock.
#[derive(Debug, Clone)]
pub struct Clock {
    /// The item that starts it by being done.
    pub item: Item,
    /// How long nothing touches the parts.
    pub cure: Minutes,
    /// Where the cure is written.
    pub span: Span,
    /// End of the window for the next coat, from the same start.
    pub latest: Option<Minutes>,
    /// The parts.
    pub touch: Touch,
    /// Spaces that the item worked in.
    pub spaces: BTreeSet<Space>,
}

/// Every clock of the build.
#[derive(Debug, Clone, Default)]
pub struct Clocks {
    /// The clocks, in the order of their items.
    pub all: Vec<Clock>,
    by_part: BTreeMap<String, Vec<usize>>,
    by_traveler: BTreeMap<usize, Vec<usize>>,
    by_space: BTreeMap<Space, Vec<usize>>,
}

impl StepKind {
    /// Whether the step only looks at parts, or only at paper.
    #[must_use]
    pub const fn only_looks(self) -> bool {
        matches!(self, Self::Prepare | Self::Inspect | Self::Photograph)
    }

    /// Whether the step puts a coat on parts.
    #[must_use]
    pub const fn coats(self) -> bool {
        matches!(self, Self::Prime | Self::Paint | Self::Seal | Self::Bond)
    }
}

impl Job {
    /// What a step touches.
    #[must_use]
    pub fn touch(&self, at: StepRef) -> Touch {
        let step = self.step(at);
        if step.kind.value.only_looks() && step.cure.is_none() {
            Touch::Nothing
        } else {
            self.named_parts(at.traveler, step)
        }
    }

    fn named_parts(&self, traveler: usize, step: &Step) -> Touch {
        if step.parts.is_empty() && step.joints.is_empty() {
            return Touch::Whole;
        }
        let named = step.parts.iter().map(|part| (traveler, part.value));
        let in_stacks = step.joints.iter().flat_map(|named| {
            let parts = self.joint(named.joint).layers.iter().filter_map(|layer| layer.part);
            parts.map(|part| (named.joint.traveler, part))
        });
        let all = named.chain(in_stacks);
        Touch::Parts(all.map(|(owner, part)| self.travelers[owner].parts[part].id.value.clone()).collect())
    }

    /// Every clock of the build.
    #[must_use]
    pub fn clocks(&self) -> Clocks {
        let mut clocks = Clocks::default();
        for (traveler, own) in self.travelers.iter().enumerate() {
            for hand in self.hands_of(traveler) {
                for (index, step) in own.steps.iter().enumerate() {
                    let item = Item { at: StepRef { traveler, step: index }, hand };
                    clocks.add(self.clock(item, step), self);
                }
            }
        }
        clocks
    }

    fn clock(&self, item: Item, step: &Step) -> Option<Clock> {
        let cure = step.cure.as_ref().or(step.cure_latest.as_ref())?;
        let spaces = step.spaces.iter().flat_map(|space| self.spaces(space.value, item.hand)).collect();
        Some(Clock {
            item,
            // A step with a window and no cure may be followed at once.
            cure: step.cure.map_or(Minutes(0), |cure| cure.value),
            span: cure.span,
            latest: step.cure_latest.map(|latest| latest.value),
            touch: self.named_parts(item.at.traveler, step),
            spaces,
        })
    }
}

impl Clocks {
    fn add(&mut self, clock: Option<Clock>, job: &Job) {
        let Some(clock) = clock else { return };
        let index = self.all.len();
        let traveler = clock.item.at.traveler;
        let ids: BTreeSet<&String> = match &clock.touch {
            Touch::Parts(parts) => parts.iter().collect(),
            // The parts of the traveler by their ids too: another traveler may go on with them.
            Touch::Whole => job.travelers[traveler].parts.iter().map(|part| &part.id.value).collect(),
            Touch::Nothing => BTreeSet::new(),
        };
        for id in ids {
            self.by_part.entry(id.clone()).or_default().push(index);
        }
        self.by_traveler.entry(traveler).or_default().push(index);
        for space in &clock.spaces {
            self.by_space.entry(*space).or_default().push(index);
        }
        self.all.push(clock);
    }

    /// The clocks of other items that hold an item while they run: it touches their parts, or closes a space in which
    /// something cures.
    #[must_use]
    pub fn holding(&self, job: &Job, item: Item) -> Vec<&Clock> {
        let mut found = BTreeSet::new();
        match job.touch(item.at) {
            Touch::Parts(parts) => {
                found.extend(parts.iter().filter_map(|part| self.by_part.get(part)).flatten().copied());
                // A coat on the whole traveler holds its steps also where a part has no id of its own here.
                let own = self.by_traveler.get(&item.at.traveler).into_iter().flatten().copied();
                found.extend(own.filter(|index| self.all[*index].touch == Touch::Whole));
            }
            Touch::Whole => found.extend(self.by_traveler.get(&item.at.traveler).into_iter().flatten().copied()),
            Touch::Nothing => {}
        }
        for space in &job.step(item.at).closes {
            let spaces = job.spaces(space.value, item.hand);
            found.extend(spaces.iter().filter_map(|space| self.by_space.get(space)).flatten().copied());
        }
        let meant = |clock: &&Clock| clock.item != item && same_side(clock.item.hand, item.hand);
        found.into_iter().map(|index| &self.all[index]).filter(meant).collect()
    }
}
