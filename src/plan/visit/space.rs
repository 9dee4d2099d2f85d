//! The spaces of a visit: what closes each, who must have looked, what comes before.
//!
//! It repeats the order and the state of the work.

use serde::Serialize;

use super::scene::{Chosen, Scene};
use crate::job::{Item, operation};
use crate::phrase::say;
use crate::plan::named::said_all;
use crate::plan::told;

/// One space that is to be closed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SpaceLine {
    /// Its name on paper.
    pub space: String,
    /// Id of the space, which both hands share.
    pub id: String,
    /// Whether it is a space, and not a stage that is about none.
    pub is_space: bool,
    /// The step that closes it: traveler, hand, number, title.
    pub closes: Option<String>,
    /// Who must have looked before; two roles as `technical counselor and inspector`.
    pub hold: Option<String>,
    /// The day on which it was closed, where it is.
    pub closed: Option<String>,
    /// Steps that are not done and come before the closing.
    pub before: usize,
    /// Their time, where it is given.
    pub time: Option<String>,
    /// Steps in the space that are done, and all of them; the step that closes it is not counted.
    pub done: (usize, usize),
    /// Whether a later step opens it again.
    pub reopened: bool,
}

pub(super) fn space(scene: &Scene<'_>, chosen: &Chosen) -> SpaceLine {
    let closing = chosen.closing.as_ref();
    let chance = closing.map(|(_, chance)| chance);
    let closes = closing.map(|(by, _)| {
        let number = operation(scene.job.step(by.at).number);
        say!(
            "{hand} step {number}, {title}",
            hand = scene.place(by.at.traveler, by.hand),
            number,
            title = told::title(scene.job, by.at)
        )
    });
    let shut = closing.and_then(|(by, _)| scene.state.done.get(by)).map(|done| done.on.earliest.day().to_string());
    let is_signed_at = |item: &Item| chosen.stages.iter().any(|(_, at)| at == item);
    let steps = || {
        let others = chosen.users.iter().filter(|item| closing.is_none_or(|(by, _)| by != *item));
        others.filter(|item| !is_signed_at(item))
    };
    SpaceLine {
        space: chosen.name(scene.job),
        id: chosen.id(scene.job).to_owned(),
        is_space: chosen.space.is_some(),
        closes,
        hold: chance.filter(|chance| !chance.holds.is_empty()).map(|chance| said_all(&chance.holds)),
        closed: shut,
        // Where nothing closes the space, nothing comes before that.
        before: chance.map_or(0, |chance| chance.before),
        time: chance.and_then(|chance| chance.time.clone()),
        done: (steps().filter(|item| scene.state.is_done(**item)).count(), steps().count()),
        reopened: chance.is_some_and(|chance| chance.reopened),
    }
}
