//! STAGES: what a stage asks for, where it is signed, and who has not signed yet.
//!
//! It repeats the specs and the archive's signatures; whether one may be given now is judged in `against`.

use std::collections::BTreeSet;

use crate::archive::{StageFacts, StageStanding, State as Archived};
use crate::job::{Item, Job, Order, Stage};

/// What a stage asks for, as sheets record it.
#[must_use]
pub fn stage_facts(stage: &Stage) -> StageFacts {
    let names = |texts: &[crate::job::Text]| texts.iter().map(|text| text.value.clone()).collect();
    let outcomes = stage.outcomes.iter().map(|word| (word.value.clone(), stage.lets_go_on(&word.value)));
    StageFacts {
        all: names(&stage.sign.all),
        any: names(&stage.sign.any),
        other: stage.sign.other.value,
        releases: names(&stage.spec.releases),
        outcomes: outcomes.collect(),
    }
}

/// How a stage stands at an item, and what is missing in words; nothing where it is passed.
#[must_use]
pub fn stage_missing(job: &Job, archived: &Archived, stage: usize, at: Item) -> Vec<String> {
    let own = &job.project.stages[stage];
    let facts = stage_facts(own);
    let standing = facts.standing(&own.id.value, archived, &job.name_of(at));
    missing(job, &facts, &standing)
}

fn missing(job: &Job, facts: &StageFacts, standing: &StageStanding<'_>) -> Vec<String> {
    let stopped = standing.stopped.iter().map(|signature| {
        let signed = &signature.signed;
        // What stops a stage is an outcome, so there is one.
        let said = signed.outcome.as_deref().unwrap_or_default();
        format!("{} ({}) wrote `{said}` on {}", signed.by, job.role_word(&signed.role), signed.worked)
    });
    let open = facts.places().into_iter().zip(&standing.places).filter(|(_, filled)| filled.is_none());
    let open = open.map(|(names, _)| {
        let words: Vec<&str> = names.into_iter().map(|name| job.signatory_word(name)).collect();
        match words.as_slice() {
            [one] => format!("{one} has not signed"),
            several => format!("none of {} has signed", several.join(", ")),
        }
    });
    let stopped: Vec<String> = stopped.collect();
    if stopped.is_empty() { open.collect() } else { stopped }
}

/// The items at which a stage is signed, once a hand.
#[must_use]
pub fn stage_items(job: &Job, stage: usize) -> Vec<Item> {
    let points = job.stage_points(stage).into_iter();
    points.flat_map(|at| job.hands_of(at.traveler).into_iter().map(move |hand| Item { at, hand })).collect()
}

/// Stages that must be signed before an item closes its spaces and are not, in words.
#[must_use]
pub fn unsigned_stages(job: &Job, order: &Order, archived: &Archived, item: Item) -> Vec<String> {
    let mut left = Vec::new();
    let mut stages: BTreeSet<usize> = job.stages_at(item.at).into_iter().collect();
    for space in &job.step(item.at).closes {
        stages.extend(job.stages_of_space(space.value));
    }
    for stage in stages {
        let same_hand = |at: &Item| at.hand.is_none() || item.hand.is_none() || at.hand == item.hand;
        let before = |at: &Item| *at == item || order.precedes(*at, item);
        let points: Vec<Item> = stage_items(job, stage).into_iter().filter(|at| same_hand(at) && before(at)).collect();
        let title = job.project.stages[stage].title();
        if points.is_empty() {
            left.push(format!("stage {title}, is signed at no step before this one"));
        }
        for at in points {
            let missing = stage_missing(job, archived, stage, at);
            if !missing.is_empty() {
                left.push(format!("stage {title}, at {}: {}", job.item_name(at), missing.join("; ")));
            }
        }
    }
    left
}
