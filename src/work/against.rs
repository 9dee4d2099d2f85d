//! AGAINST A SIGNATURE: which steps are a stage's own, and what the order and the records say against signing it now.
//!
//! A stage that releases something is not signed over open steps, and where another person is asked for, nobody looks
//! at what he did himself. Both are judged by the archive's signatures. It decides nothing for whoever signs.

use std::collections::{BTreeMap, BTreeSet};

use super::stage::{stage_facts, stage_items};
use super::state::work_state;
use crate::archive::{Capacity, Signed, Standing, State as Archived};
use crate::job::{Item, Job, Order, Space, SpaceLife, Stage, State, StepRef};
use crate::units::counted;

/// Every item of a build with its stages, looked up once.
pub struct Stages<'a> {
    job: &'a Job,
    order: &'a Order,
    lives: BTreeMap<Space, SpaceLife>,
}

impl<'a> Stages<'a> {
    /// The stages of a build.
    #[must_use]
    pub fn of(job: &'a Job, order: &'a Order) -> Self {
        Self { job, order, lives: job.space_lives() }
    }

    /// The steps of a stage at one of its items: those of its traveler and hand since the stage before, those in a space
    /// that it releases, and those of a traveler that it releases, as far as they do not come after it. The item itself is
    /// among them where it closes nothing; a closing is worked after the stage.
    #[must_use]
    pub fn steps(&self, stage: usize, at: Item) -> BTreeSet<Item> {
        let own = &self.job.project.stages[stage];
        let mut steps: BTreeSet<Item> = self.since_the_stage_before(at).collect();
        for (index, _) in self.job.project.spaces.iter().enumerate() {
            if self.job.stages_of_space(index).contains(&stage) {
                steps.extend(self.inside(index, at));
            }
        }
        for traveler in &own.travelers {
            let same = *traveler == at.at.traveler;
            let hands = self.job.hands_of(*traveler).into_iter().filter(|hand| !same || *hand == at.hand);
            for hand in hands {
                let all = 0..self.job.travelers[*traveler].steps.len();
                steps.extend(all.map(|step| Item { at: StepRef { traveler: *traveler, step }, hand }));
            }
        }
        let after = self.order.all_after(at);
        steps.retain(|item| !after.contains(*item) && (*item != at || self.works_first(at)));
        steps
    }

    /// Whether a step is worked before its stage is signed: everywhere but where it closes a space.
    fn works_first(&self, at: Item) -> bool {
        self.job.step(at.at).closes.is_empty()
    }

    fn since_the_stage_before(&self, at: Item) -> impl Iterator<Item = Item> {
        let StepRef { traveler, step } = at.at;
        let has_stage = |step: &usize| !self.job.stages_at(StepRef { traveler, step: *step }).is_empty();
        // Without a stage before, the work begins with the first step.
        let first = (0..step).rev().find(has_stage).map_or(0, |before| before + 1);
        (first..=step).map(move |step| Item { at: StepRef { traveler, step }, hand: at.hand })
    }

    /// Users of a space, in the hand of an item.
    fn inside(&self, space: usize, at: Item) -> Vec<Item> {
        let spaces = self.job.spaces(space, at.hand).into_iter();
        let lives = spaces.filter_map(|space| self.lives.get(&space));
        let closes = |life: &SpaceLife, item: Item| life.closers.iter().any(|closer| closer.item == item);
        let users = lives.flat_map(|life| {
            life.users.iter().map(|user| user.item).filter(|item| !closes(life, *item)).collect::<Vec<_>>()
        });
        users.collect()
    }

    /// Steps that a release would go over: those of the stage, and those that come before it, as far as they are not done.
    #[must_use]
    pub fn open_steps(&self, archived: &Archived, work: &State, stage: usize, at: Item) -> Vec<Item> {
        let mut steps = self.steps(stage, at);
        steps.extend(self.order.all_before(at).items());
        // The item itself is not done before its stage is signed; its work is.
        let is_worked = |item: Item| {
            let name = self.job.name_of(item);
            matches!(archived.standing(&name), Standing::Signed(_)) || work.is_done(item)
        };
        let open = |item: &Item| if *item == at { !is_worked(at) } else { !work.is_done(*item) };
        steps.into_iter().filter(open).collect()
    }

    /// What speaks against a signature for a stage.
    #[must_use]
    pub fn against(&self, archived: &Archived, progress: &State, at: Item, signed: &Signed) -> Vec<String> {
        let Some(stage) = signed.stage.as_ref().and_then(|id| self.named(id)) else { return Vec::new() };
        let own = &self.job.project.stages[stage];
        let stops = signed.outcome.as_ref().is_some_and(|said| !own.lets_go_on(said));
        let mut faults = Vec::new();
        if own.sign.other.value {
            faults.extend(self.own_work(archived, stage, at, &signed.by));
        }
        // Whoever stops the work may do so at any time.
        if own.is_release() && !stops {
            let work = work_state(self.job, archived, progress.clone());
            let open = self.open_steps(archived, &work, stage, at);
            faults.extend(self.over_open(own, &open));
            faults.extend(self.done_later(archived, stage, at, signed));
        }
        faults
    }

    fn named(&self, id: &str) -> Option<usize> {
        self.job.project.stages.iter().position(|stage| stage.id.value == id)
    }

    fn over_open(&self, stage: &Stage, open: &[Item]) -> Option<String> {
        let names: Vec<String> = open.iter().map(|item| self.job.item_name(*item)).collect();
        (!open.is_empty()).then(|| {
            let steps = counted(open.len(), "step is open", "steps are open");
            let about = about(self.job, stage);
            format!("stage {}{about} is not signed over open work; {steps}: {}", stage.title(), names.join(", "))
        })
    }

    /// Work of the stage that is dated after the signature.
    fn done_later(&self, archived: &Archived, stage: usize, at: Item, signed: &Signed) -> Vec<String> {
        let later = self.steps(stage, at).into_iter().filter_map(|item| {
            let mut done = archived.counting(&self.job.name_of(item)).map(|(own, _)| &own.signed);
            let own = done.find(|own| own.capacity == Capacity::Done && own.worked > signed.worked)?;
            Some(format!(
                "step {} was done on {}, after the stage is said to be signed, {}",
                self.job.item_name(item),
                own.worked,
                signed.worked
            ))
        });
        later.collect()
    }

    /// Steps of a stage whose work somebody signed or helped at.
    fn own_work(&self, archived: &Archived, stage: usize, at: Item, by: &String) -> Option<String> {
        let mine: Vec<String> = self
            .steps(stage, at)
            .into_iter()
            .filter(|item| did(self.job, archived, *item, by))
            .map(|item| self.job.item_name(item))
            .collect();
        let own = &self.job.project.stages[stage];
        (!mine.is_empty()).then(|| {
            format!(
                "stage {}, is signed by another person than did the work, and {by} worked at {}",
                own.title(),
                mine.join(", ")
            )
        })
    }

    /// What speaks against a signature for work: whoever has looked at a stage does not do its work.
    #[must_use]
    pub fn against_work(&self, archived: &Archived, item: Item, signed: &Signed) -> Vec<String> {
        let workers: Vec<&String> = std::iter::once(&signed.by).chain(&signed.helpers).chain(&signed.paid).collect();
        let mut faults = Vec::new();
        let stages = self.job.project.stages.iter().enumerate().filter(|(_, stage)| stage.sign.other.value);
        for (index, stage) in stages {
            for at in stage_items(self.job, index).into_iter().filter(|at| self.steps(index, *at).contains(&item)) {
                let standing = stage_facts(stage).standing(&stage.id.value, archived, &self.job.name_of(at));
                let looked = standing.places.iter().flatten().find(|own| workers.contains(&&own.signed.by));
                faults.extend(looked.map(|own| {
                    format!(
                        "{} signed stage {}, on {}, and it is signed by another person than did the work",
                        own.signed.by,
                        stage.title(),
                        own.signed.worked
                    )
                }));
            }
        }
        faults
    }
}

fn did(job: &Job, archived: &Archived, item: Item, by: &String) -> bool {
    archived.counting(&job.name_of(item)).any(|(signature, _)| {
        let signed = &signature.signed;
        let worked = signed.by == *by || signed.helpers.contains(by) || signed.paid.contains(by);
        signed.capacity == Capacity::Done && worked
    })
}

/// What a stage is about: ` (Fin, inside)`; nothing where it has outcomes and releases nothing.
fn about(job: &Job, stage: &Stage) -> String {
    let spaces = stage.spaces.iter().map(|space| job.space_spec(*space).name.value.clone());
    let travelers = stage.travelers.iter().map(|traveler| job.travelers[*traveler].id.value.clone());
    let names: Vec<String> = spaces.chain(travelers).collect();
    if names.is_empty() { String::new() } else { format!(" ({})", names.join(", ")) }
}
