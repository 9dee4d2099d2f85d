//! Zones: whether the space that a step needs is open, what was signed to close it, and which signatures fall when it
//! is opened again.
//!
//! A zone is shut when the last signed step that closes it is later than the last signed step that opens it.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use super::{Comparison, StepChange, Verdict};
use crate::archive::{Capacity, EntryNumber, Signature, State};
use crate::calendar::Day;
use crate::job::{Hand, Item, Job, Space, SpaceLife, StepKind, Visit};

/// Whether a space can be reached.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Access {
    /// Name of the space on paper.
    pub space: String,
    /// Id of the zone.
    pub zone: String,
    /// The hand, where each hand has its own.
    pub hand: Option<&'static str>,
    /// The step that closed it; absent where it is open.
    pub closed_by: Option<String>,
    /// When.
    pub closed_on: Option<String>,
}

/// What falls when a space is opened again.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Reopening {
    /// The space.
    pub access: Access,
    /// Steps for which it would be opened.
    pub wanted_by: Vec<String>,
    /// Signatures of closings and last looks: entry and step.
    pub falls: Vec<(u32, String)>,
}

/// The state of every space that some step names.
pub type Lives = BTreeMap<Space, SpaceLife>;

fn signature<'a>(job: &Job, state: &'a State, item: Item) -> Option<&'a Signature> {
    let mut counting = state.counting(&job.name_of(item));
    counting.find(|(signature, _)| signature.signed.capacity == Capacity::Done).map(|(signature, _)| signature)
}

/// The last signed step of a list, up to a day.
fn last<'a>(job: &Job, state: &'a State, visits: &[Visit], until: Option<Day>) -> Option<(&'a Signature, Item)> {
    let signed = visits.iter().filter_map(|visit| Some((signature(job, state, visit.item)?, visit.item)));
    let in_time = signed.filter(|(signature, _)| until.is_none_or(|day| signature.signed.worked <= day));
    in_time.max_by_key(|(signature, _)| (signature.signed.worked, signature.entry))
}

/// The closing that holds on a day, or now.
fn closing<'a>(job: &Job, state: &'a State, life: &SpaceLife, until: Option<Day>) -> Option<(&'a Signature, Item)> {
    let closed = last(job, state, &life.closers, until)?;
    let opened = last(job, state, &life.openers, until);
    let key = |signature: &Signature| (signature.signed.worked, signature.entry);
    opened.is_none_or(|(opened, _)| key(opened) < key(closed.0)).then_some(closed)
}

/// Whether a space can be reached now.
#[must_use]
pub fn access(job: &Job, state: &State, lives: &Lives, space: Space) -> Access {
    let closed = lives.get(&space).and_then(|life| closing(job, state, life, None));
    Access {
        space: job.space_name(space),
        zone: job.zone(space.zone).id.value.clone(),
        hand: space.hand.map(Hand::word),
        closed_by: closed.map(|(_, item)| job.step_name(item.at)),
        closed_on: closed.map(|(signature, _)| signature.signed.worked.to_string()),
    }
}

/// Whether a zone was shut on a day, before the work of that day.
pub(super) fn was_closed(with: &Comparison<'_>, zone: &str, on: Day) -> bool {
    let Some(zone) = with.job.project.zones.iter().position(|own| own.id.value == zone) else { return false };
    let lives = with.job.space_lives();
    let shut =
        |space: Space| lives.get(&space).is_some_and(|life| closing(with.job, with.state, life, on.before()).is_some());
    with.job.spaces(zone, with.hand).into_iter().any(shut)
}

/// Adds the access of the spaces that a step needs, where somebody has to go there.
pub(super) fn add_access(with: &Comparison<'_>, lives: &Lives, change: &mut StepChange) {
    let goes_there = matches!(change.verdict, Verdict::LookAgain | Verdict::Retrofit | Verdict::ReworkOrAsk);
    let Some(item) = with.item(&change.step).filter(|_| goes_there) else { return };
    let spaces: BTreeSet<Space> =
        with.job.step(item.at).zones.iter().flat_map(|zone| with.job.spaces(zone.value, item.hand)).collect();
    change.access = spaces.into_iter().map(|space| access(with.job, with.state, lives, space)).collect();
}

/// The signatures that fall when a space is opened again: every closing of it, and every last look into it.
#[must_use]
pub fn closing_signatures(job: &Job, state: &State, lives: &Lives, space: Space) -> Vec<(EntryNumber, String)> {
    let Some(life) = lives.get(&space) else { return Vec::new() };
    let looks = life.users.iter().filter(|visit| job.step(visit.item.at).kind.value == StepKind::Inspect);
    let items: BTreeSet<Item> = life.closers.iter().chain(looks).map(|visit| visit.item).collect();
    let mut falls = Vec::new();
    for item in items {
        let name = job.name_of(item);
        falls.extend(state.counting(&name).map(|(signature, _)| (signature.entry, name.to_string())));
    }
    falls
}
