//! NAMES AS THEY ARE PRINTED: hands, packets, items, spaces, roles, in the language that is spoken.
//!
//! What the builder named stays as it is written. Names that are compared or recorded come from `job` and are English.

use crate::job::{Hand, Item, Job, Space, Stage};
use crate::phrase::{self, say};

/// A hand in capitals.
pub(super) fn said_hand(hand: &str) -> String {
    phrase::word(hand).to_uppercase()
}

/// A traveler and its hand: `TANK-10 left`.
pub(super) fn said_packet(traveler: &str, hand: Option<&str>) -> String {
    hand.map_or_else(|| traveler.to_owned(), |hand| format!("{traveler} {}", phrase::word(hand)))
}

/// A step and its hand: `TANK-10/prime (left)`.
pub(super) fn said_item(job: &Job, item: Item) -> String {
    let name = job.name_of(Item { hand: None, ..item }).to_string();
    said_in_hand(&name, item.hand.map(Hand::word))
}

/// A space and its hand: `Fuel tank, inside (left)`.
pub(super) fn said_space(job: &Job, space: Space) -> String {
    said_in_hand(&job.space_spec(space.of).name.value, space.hand.map(Hand::word))
}

/// A name with the hand behind it.
pub(super) fn said_in_hand(name: &str, hand: Option<&str>) -> String {
    hand.map_or_else(|| name.to_owned(), |hand| format!("{name} ({})", phrase::word(hand)))
}

/// The name of an item as `job` gives it, told again: an id has no brackets of its own.
pub(super) fn retold_item(name: &str) -> String {
    let hand = |word: &&'static str| Some((name.strip_suffix(&format!(" ({word})"))?, *word));
    match Hand::WORDS.iter().find_map(hand) {
        Some((bare, hand)) => said_in_hand(bare, Some(hand)),
        None => name.to_owned(),
    }
}

/// The word of a role: the builder's own as it is written, one of the built-in ones in the language that is spoken.
pub(super) fn said_role(job: &Job, id: &str) -> String {
    let word = job.role_word(id);
    if job.project.spec.roles.is_empty() { phrase::word(word) } else { word.to_owned() }
}

/// Several roles: `builder and inspector`.
pub(super) fn said_all(roles: &[String]) -> String {
    roles.iter().map(|role| phrase::word(role)).collect::<Vec<_>>().join(say!(" and "))
}

/// Who signs a stage: `Inspector and one of P1, P2`.
pub(super) fn said_signers(job: &Job, stage: &Stage) -> String {
    let words = |names: &[crate::job::Text]| names.iter().map(|name| said_role(job, &name.value)).collect::<Vec<_>>();
    let any = words(&stage.sign.any);
    let any = match any.as_slice() {
        [] => None,
        [one] => Some(one.clone()),
        several => Some(say!("one of {who}", who = several.join(", "))),
    };
    words(&stage.sign.all).into_iter().chain(any).collect::<Vec<_>>().join(say!(" and "))
}
