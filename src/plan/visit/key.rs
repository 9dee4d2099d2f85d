//! What the names on a packet's pages mean, with an example of each from the packet itself.
//!
//! It explains names; it tells nothing about the work.

use super::left::drawings;
use super::scene::Scene;
use crate::job::operation;
use crate::phrase::{self, say};
use crate::plan::packet::role_words;

/// An example of each kind of name, and its meaning.
pub(super) fn key(scene: &Scene<'_>) -> Vec<(String, String)> {
    [step(scene), joint(scene), drawing(scene), initials(scene)].into_iter().flatten().collect()
}

fn step(scene: &Scene<'_>) -> Option<(String, String)> {
    let chosen = scene.chosen.first()?;
    let item = chosen.closing.as_ref().map(|(by, _)| by).or_else(|| chosen.users.first())?;
    let (traveler, number) = (&scene.job.travelers[item.at.traveler], operation(scene.job.step(item.at).number));
    let side = item.hand.map_or(String::new(), |hand| say!(", {hand} side", hand = phrase::word(hand.word())));
    let means = say!(
        "step {number} of {traveler} “{title}”{side}, one of the builder's sets of work sheets",
        number,
        traveler = traveler.id.value,
        title = traveler.title.value,
        side
    );
    Some((format!("{} {number}", scene.place(item.at.traveler, item.hand)), means))
}

fn joint(scene: &Scene<'_>) -> Option<(String, String)> {
    let placed = scene.chosen.iter().flat_map(|chosen| scene.joints_in(chosen)).next()?;
    let traveler = &scene.job.travelers[placed.joint.traveler].id.value;
    Some((
        scene.joint(placed).id.value.clone(),
        say!("a set of fasteners of {traveler}; every set of work sheets names its own", traveler),
    ))
}

fn drawing(scene: &Scene<'_>) -> Option<(String, String)> {
    let first = drawings(scene).into_iter().next()?;
    Some((first.sheet, say!("a sheet of the drawings").to_owned()))
}

/// Those whose signatures the pages name; without any signature, those who may sign.
fn initials(scene: &Scene<'_>) -> Option<(String, String)> {
    let signers = &scene.job.project.signers;
    let signed = |initials: &str| {
        scene.items.iter().any(|item| scene.state.done.get(item).is_some_and(|done| done.by == initials))
    };
    let named = signers.iter().find(|signer| signed(&signer.initials.value)).or(signers.first())?;
    Some((named.initials.value.clone(), say!("initials of who signed ({named})", named = role_words(scene.job, named))))
}
