//! What fires a caution at a step: its kind, its joints and spaces, its tools, consumables and materials, the verb of its
//! title.
//!
//! Words of the text count only as whole phrases and only where a trigger asks for them: a line that is mentioned is not
//! worked on.

use super::source::Source;
use crate::hardware::{Fastener, bare_metal, metals_corrode};
use crate::job::{Access, CautionRule, Job, Joint, OnlyWhere, Safety, Step, StepKind, StepRef, Traveler, Trigger};
use crate::words::Holds;

/// A step with what it says, made ready to be looked through.
pub(super) struct AtStep<'a> {
    job: &'a Job,
    traveler: &'a Traveler,
    at: StepRef,
    pub(super) step: &'a Step,
    title: String,
    text: String,
    things: Vec<String>,
    everything: String,
}

/// About half an hour at the gun; common practice.
const MANY_RIVETS: u32 = 30;

/// Words that take back what follows them, and the one that takes back what stands before it.
const NOT: [&str; 5] = ["no", "not", "non", "never", "without"];
const FREE: &str = "free";

impl<'a> AtStep<'a> {
    pub(super) fn of(source: Source<'a>, at: usize) -> Self {
        let traveler = source.traveler();
        let step = &traveler.steps[at];
        let tools = step.tools.iter().chain(step.records.iter().filter_map(|record| record.tool.as_ref()));
        let materials = step.parts.iter().filter_map(|number| traveler.parts[number.value].material.as_ref());
        let joints = step.joints.iter().map(|named| source.job.joint(named.joint));
        let wet = joints.chain(filled(source.job, step)).filter_map(|joint| joint.wet.as_ref());
        let things: Vec<&str> =
            tools.chain(materials).chain(wet).chain(&step.uses).map(|text| text.value.as_str()).collect();
        let title = step.title.value.as_str();
        let text = step.text.as_ref().map_or("", |text| text.value.as_str());
        let everything = [title, text].iter().chain(&things).copied().collect::<Vec<_>>().join(" ").to_lowercase();
        Self {
            job: source.job,
            traveler,
            at: source.item(at).at,
            step,
            title: words_of(title),
            text: words_of(text),
            things: things.into_iter().map(words_of).collect(),
            everything,
        }
    }

    /// Whether the step fires a caution, without being told to.
    pub(super) fn fires(&self, rule: &CautionRule) -> bool {
        rule.when.iter().any(|trigger| self.meets(trigger))
    }

    fn meets(&self, trigger: &Trigger) -> bool {
        (trigger.kinds.is_empty() || self.kinds().any(|kind| trigger.kinds.contains(&kind)))
            && trigger.only.is_none_or(|only| self.is(only))
            && !trigger.told.iter().any(|phrase| holds_phrase(&self.text, phrase))
            && self.says(trigger)
    }

    /// Its kind of work, and what it does to its joints beside that.
    fn kinds(&self) -> impl Iterator<Item = StepKind> {
        let at = self.at;
        std::iter::once(self.step.kind.value).chain(self.named().flat_map(move |joint| joint.works_at(at)))
    }

    /// Whether one of the trigger's names, verbs or phrases is found, where it has any.
    fn says(&self, trigger: &Trigger) -> bool {
        let asks = [&trigger.verbs, &trigger.titles, &trigger.things, &trigger.phrases, &trigger.words];
        if asks.iter().all(|list| list.is_empty()) {
            return true;
        }
        let holds = |text: &str, phrases: &[String]| phrases.iter().any(|phrase| holds_phrase(text, phrase));
        trigger.verbs.iter().any(|verb| self.does(verb))
            || holds(&self.title, &trigger.titles)
            || self.things.iter().any(|thing| holds(thing, &trigger.things))
            || holds(&self.title, &trigger.phrases)
            || holds(&self.text, &trigger.phrases)
            || trigger.words.iter().any(|word| begins_a_word(&self.everything, word))
    }

    /// Whether the title begins with a verb, or goes on with it after a comma, `and` or `then`.
    fn does(&self, verb: &str) -> bool {
        let title = self.step.title.value.to_lowercase().replace(" and ", ",").replace(" then ", ",");
        title.split(',').any(|part| part.split_whitespace().next() == Some(verb))
    }

    /// The joints that it names.
    fn named(&self) -> impl Iterator<Item = &'a Joint> {
        let job = self.job;
        self.step.joints.iter().map(|named| job.joint(named.joint))
    }

    /// The joints that it names, and those whose open holes it fills with their own fasteners.
    fn joints(&self) -> impl Iterator<Item = &'a Joint> {
        self.named().chain(filled(self.job, self.step))
    }

    fn sets(&self, such: impl Fn(&Fastener) -> bool) -> bool {
        self.joints().any(|joint| joint.fastener.as_ref().is_ok_and(&such))
    }

    fn is(&self, only: OnlyWhere) -> bool {
        match only {
            // A step that names no joint is warned as if it set the usual rivet.
            OnlyWhere::SolidRivets => {
                self.joints().next().is_none() || self.sets(|own| matches!(own, Fastener::SolidRivet(_)))
            }
            OnlyWhere::ManySolidRivets => {
                let solid = self.joints().filter(|own| matches!(own.fastener, Ok(Fastener::SolidRivet(_))));
                let all = solid.map(|own| own.count.value).fold(0, u32::saturating_add);
                self.joints().next().is_none() || all >= MANY_RIVETS
            }
            OnlyWhere::BlindRivets => self.sets(|own| matches!(own, Fastener::BlindRivet(_))),
            OnlyWhere::KeptCold => self.sets(|own| matches!(own, Fastener::SolidRivet(rivet) if rivet.is_kept_cold())),
            OnlyWhere::Pinned => self.joints().any(|joint| matches!(joint.safety(), Safety::Pin | Safety::Wire)),
            OnlyWhere::FluidFittings => {
                self.sets(|own| matches!(own, Fastener::OtherPart(part) if part.kind == FLUID_FITTING))
            }
            OnlyWhere::UnlikeMetals => self.joints().any(joins_unlike_metals),
            OnlyWhere::OneSide => {
                self.joints().any(|joint| joint.access.is_some_and(|access| access.value == Access::OneSide))
            }
            OnlyWhere::Painted => self.works_on_paint(),
            OnlyWhere::Closes => !self.step.closes.is_empty(),
            OnlyWhere::OpensFuel => {
                self.step.opens.iter().any(|number| {
                    self.job.space_spec(number.value).holds.is_some_and(|holds| holds.value == Holds::Fuel)
                })
            }
        }
    }

    /// Whether an earlier step painted a part that this one names, or through which its joints go.
    fn works_on_paint(&self) -> bool {
        let own_joints = self.step.joints.iter().map(|named| named.joint).filter(|at| at.traveler == self.at.traveler);
        let layers = own_joints.flat_map(|joint| &self.job.joint(joint).layers);
        let stacked = layers.filter_map(|layer| layer.part);
        let own: Vec<usize> = self.step.parts.iter().map(|number| number.value).chain(stacked).collect();
        let painted = self.traveler.steps[..self.at.step].iter().filter(|step| step.kind.value == StepKind::Paint);
        painted.flat_map(|step| &step.parts).any(|number| own.contains(&number.value))
    }
}

/// What the table of other parts calls the fittings of lines.
const FLUID_FITTING: &str = "fluid fitting";

/// Small letters and digits, everything else as one blank, with a blank at either end.
fn words_of(text: &str) -> String {
    let plain: String = text.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    format!(" {} ", plain.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// Whether a text holds a phrase in whole words, also in the plural, and does not take it back.
fn holds_phrase(text: &str, phrase: &str) -> bool {
    [format!(" {phrase} "), format!(" {phrase}s ")].iter().any(|wanted| {
        text.match_indices(wanted.as_str()).any(|(at, _)| {
            // At either end of the text there is no word that could take it back.
            let before = text[..at].rsplit(' ').next().unwrap_or_default();
            // As above.
            let after = text[at + wanted.len()..].split(' ').next().unwrap_or_default();
            !NOT.contains(&before) && after != FREE
        })
    })
}

/// Whether a word of a project begins a word of a text.
fn begins_a_word(text: &str, word: &str) -> bool {
    text.match_indices(word).any(|(at, _)| !text[..at].ends_with(|c: char| c.is_alphanumeric()))
}

/// The joints whose open holes a step fills with their own fasteners.
fn filled<'a>(job: &'a Job, step: &'a Step) -> impl Iterator<Item = &'a Joint> {
    step.fills.iter().map(|joint| job.joint(*joint)).filter(|joint| joint.shares_with.is_none())
}

/// Whether a joint lays metals on each other that corrode where they touch bare.
fn joins_unlike_metals(joint: &Joint) -> bool {
    let metals: Vec<_> = joint.layers.iter().map(|layer| layer.material.as_deref().and_then(bare_metal)).collect();
    metals.windows(2).any(|pair| matches!(pair, [Some(one), Some(other)] if metals_corrode(*one, *other).value))
}
