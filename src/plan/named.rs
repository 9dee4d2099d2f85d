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
    in_hand(name, item.hand)
}

/// A space and its hand: `Fuel tank, inside (left)`.
pub(super) fn said_space(job: &Job, space: Space) -> String {
    in_hand(job.space_spec(space.of).name.value.clone(), space.hand)
}

fn in_hand(name: String, hand: Option<Hand>) -> String {
    match hand {
        Some(hand) => format!("{name} ({})", phrase::word(hand.word())),
        None => name,
    }
}

/// The word of a role: the builder's own as it is written, one of the built-in ones in the language that is spoken.
pub(super) fn said_role(job: &Job, id: &str) -> String {
    let word = job.role_word(id);
    if job.project.spec.roles.is_empty() { phrase::word(word) } else { word.to_owned() }
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
