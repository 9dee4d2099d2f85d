//! STAGES: who has signed a stage, who has not, and whether the work goes on.
//!
//! A stage is signed by several records on one step. It asks only what the sheet required and what was recorded; which
//! steps must be done before is for whoever knows their order.

use super::state::{Signature, State};
use super::value::Capacity;
use crate::words::ItemName;

/// What a stage asks for, as a sheet requires it.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Default)]
pub struct StageFacts {
    /// Roles or initials, each of which signs; one that stands twice is signed by two persons.
    pub all: Vec<String>,
    /// Roles or initials, one of which signs.
    pub any: Vec<String>,
    /// Whether nobody signs who did the work.
    pub other: bool,
    /// Spaces and travelers that it releases.
    pub releases: Vec<String>,
    /// Every outcome that may be written down, and whether the work goes on after it.
    pub outcomes: Vec<(String, bool)>,
}

/// How a stage stands on one step.
#[derive(Debug, Clone)]
pub struct StageStanding<'a> {
    /// For each place of [`StageFacts::places`], in their order, the signature that fills it.
    pub places: Vec<Option<&'a Signature>>,
    /// The last signatures of persons after whose outcome the work does not go on.
    pub stopped: Vec<&'a Signature>,
}

impl StageFacts {
    /// Who signs, a place a signature: for each the names of which one will do.
    #[must_use]
    pub fn places(&self) -> Vec<Vec<&str>> {
        let all = self.all.iter().map(|name| vec![name.as_str()]);
        let any = (!self.any.is_empty()).then(|| self.any.iter().map(String::as_str).collect());
        all.chain(any).collect()
    }

    /// Whether the work goes on after a signature; one without an outcome stops nothing.
    #[must_use]
    pub fn lets_go_on(&self, signature: &Signature) -> bool {
        let said = signature.signed.outcome.as_ref();
        said.is_none_or(|said| self.outcomes.iter().any(|(word, goes_on)| word == said && *goes_on))
    }

    /// The stage's words of outcome.
    pub fn words(&self) -> impl Iterator<Item = &str> {
        self.outcomes.iter().map(|(word, _)| word.as_str())
    }

    /// How it stands, by the signatures that count on its step.
    #[must_use]
    pub fn standing<'a>(&self, id: &str, state: &'a State, item: &ItemName) -> StageStanding<'a> {
        self.standing_among(id, state.counting(item).map(|(signature, _)| signature))
    }

    /// How it stands, by some signatures in their order.
    pub fn standing_among<'a>(&self, id: &str, signatures: impl Iterator<Item = &'a Signature>) -> StageStanding<'a> {
        let mut last: Vec<&'a Signature> = Vec::new();
        for signature in signatures {
            if signature.signed.capacity == Capacity::Stage && signature.signed.stage.as_deref() == Some(id) {
                last.retain(|earlier| earlier.signed.by != signature.signed.by);
                last.push(signature);
            }
        }
        let (signed, stopped): (Vec<&Signature>, Vec<&Signature>) =
            last.into_iter().partition(|signature| self.lets_go_on(signature));
        StageStanding { places: self.filled(&signed), stopped }
    }

    /// Each place with a signature of its own. A name of a person takes that person's, a role one that is named nowhere
    /// else where there is one.
    fn filled<'a>(&self, signed: &[&'a Signature]) -> Vec<Option<&'a Signature>> {
        let places = self.places();
        let mut left: Vec<&Signature> = signed.to_vec();
        let mut filled: Vec<Option<&Signature>> = vec![None; places.len()];
        for by_person in [true, false] {
            for (place, names) in places.iter().enumerate() {
                if filled[place].is_some() {
                    continue;
                }
                let fits = |own: &&Signature| {
                    names.iter().any(|name| if by_person { *name == own.signed.by } else { fits_role(own, name) })
                };
                let is_named = |own: &Signature| self.all.contains(&own.signed.by) || self.any.contains(&own.signed.by);
                let best = left.iter().enumerate().filter(|(_, own)| fits(own)).min_by_key(|(_, own)| is_named(own));
                if let Some((at, _)) = best {
                    filled[place] = Some(left.remove(at));
                }
            }
        }
        filled
    }
}

fn fits_role(signature: &Signature, name: &str) -> bool {
    signature.role() == Some(name)
}

impl StageStanding<'_> {
    /// Whether everybody has signed, and the work goes on.
    #[must_use]
    pub fn is_passed(&self) -> bool {
        self.stopped.is_empty() && self.places.iter().all(Option::is_some)
    }
}
