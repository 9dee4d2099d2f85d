//! Accepted departures from rules: where, what was found, and the builder's reason.
//!
//! It repeats the spec and the findings and accepts nothing.

use serde::Serialize;

use super::at_step::joint_id;
use super::source::Source;
use crate::job::{Step, Text};
use crate::phrase::say;

/// An accepted departure from a rule.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Departure {
    /// The joint, step or part.
    pub at: String,
    /// The rule.
    pub rule: String,
    /// What was found.
    pub found: Option<String>,
    /// The builder's reason.
    pub because: String,
}

/// Where a departure lies, by ids.
#[derive(Debug, Default, Clone)]
struct Place {
    joint: Option<String>,
    step: Option<String>,
    part: Option<String>,
}

impl Place {
    fn words(&self) -> String {
        let named = [(say!("joint"), &self.joint), (say!("step"), &self.step), (say!("part"), &self.part)];
        let known: Vec<String> =
            named.into_iter().filter_map(|(what, id)| Some(format!("{what} {}", id.as_ref()?))).collect();
        if known.is_empty() { say!("whole traveler").to_owned() } else { known.join(", ") }
    }
}

/// Every accepted departure: those that the check met, with what it found, and the rest of the `[[allow]]` entries.
pub(super) fn all(source: Source<'_>) -> Vec<Departure> {
    placed(source, source.index).into_iter().map(|(_, departure)| departure).collect()
}

/// The departures that concern a step: its own, and those of the joints that it makes or fastens.
pub(super) fn of_step(source: Source<'_>, step: &Step) -> Vec<Departure> {
    let works = step.kind.value.makes_holes() || step.kind.value.fastens();
    let own = step.joints.iter().filter(|named| named.joint.traveler == source.index);
    let joints: Vec<&String> = own.map(|named| &source.job.joint(named.joint).id.value).collect();
    let works_on = |id: &String| works && joints.contains(&id);
    let concerns =
        |place: &Place| place.step.as_ref() == Some(&step.id.value) || place.joint.as_ref().is_some_and(works_on);
    let own = placed(source, source.index).into_iter().filter(|(place, _)| concerns(place));
    own.map(|(_, departure)| departure).chain(of_others(source, step).into_iter().filter(|_| works)).collect()
}

/// The departures of another traveler's joints that a step names, under the names that it has for them.
fn of_others(source: Source<'_>, step: &Step) -> Vec<Departure> {
    let mut all: Vec<Departure> = Vec::new();
    for named in step.joints.iter().filter(|named| named.joint.traveler != source.index) {
        let id = &source.job.joint(named.joint).id.value;
        let placed = placed(source, named.joint.traveler).into_iter();
        let here = placed.filter(|(place, _)| place.joint.as_ref() == Some(id));
        let at = format!("{} {}", say!("joint"), joint_id(source, named.joint, named.hand));
        all.extend(here.map(|(_, departure)| Departure { at: at.clone(), ..departure }));
    }
    all
}

fn placed(source: Source<'_>, traveler: usize) -> Vec<(Place, Departure)> {
    let traveler = &source.job.travelers[traveler];
    let found = source.report.findings.iter();
    let own = found.filter(|finding| finding.place.traveler.as_ref() == Some(&traveler.id.value));
    let met = own.filter_map(|finding| {
        let at = &finding.place;
        let place = Place { joint: at.joint.clone(), step: at.step.clone(), part: at.part.clone() };
        Some(departure(place, finding.rule, Some(finding.message.clone()), finding.allowed.clone()?))
    });
    let mut all: Vec<(Place, Departure)> = met.collect();
    for allow in &traveler.allows {
        let because = &allow.because.value;
        if !all.iter().any(|(_, known)| known.rule == allow.rule.value && known.because == *because) {
            let id = |text: &Option<Text>| text.as_ref().map(|text| text.value.clone());
            let place = Place { joint: id(&allow.joint), step: id(&allow.step), part: id(&allow.part) };
            all.push(departure(place, &allow.rule.value, None, because.clone()));
        }
    }
    all
}

fn departure(place: Place, rule: &str, found: Option<String>, because: String) -> (Place, Departure) {
    let departure = Departure { at: place.words(), rule: rule.to_owned(), found, because };
    (place, departure)
}
