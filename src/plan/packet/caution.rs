//! Cautions on paper: which the steps of a traveler fire, by what a step does, what it is done to and the words it uses.
//!
//! They warn in general words and point to the data sheet; they never claim to replace one. What the project left out of
//! the built-in list is said on the cover.

use serde::Serialize;

use crate::hardware::{Fastener, metal_of, metals_corrode};
use crate::job::{CautionRule, Cautions, Joint, OnlyWhere, SignalWord, Step, Traveler};

/// A caution as printed.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Caution {
    /// Name in the list; empty for a builder's own words.
    pub id: String,
    /// DANGER, WARNING, CAUTION or NOTICE, as ANSI Z535 uses them.
    pub word: &'static str,
    /// At most three lines.
    pub text: String,
    /// Numbers of ISO 7010 signs.
    pub signs: Vec<&'static str>,
}

/// A built-in caution that the project left out or made weaker, where it would have stood in this packet.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct WeakenedLine {
    /// Name in the built-in list.
    pub id: String,
    /// Its built-in signal word.
    pub word: &'static str,
    /// What became of it.
    pub what: String,
    /// The builder's reason.
    pub because: Option<String>,
}

/// The cautions printed at a step: what it fires beyond the general set, then what its spec names.
pub(super) fn of_step(cautions: &Cautions, traveler: &Traveler, step: &Step) -> Vec<Caution> {
    let fired = cautions.rules.iter().filter(|rule| !rule.general && fires(rule, traveler, step));
    let mut printed: Vec<(SignalWord, Caution)> = fired.map(|rule| (rule.word, print(rule))).collect();
    for named in &step.cautions {
        let caution =
            cautions.find(&named.value).map_or_else(|| own_words(&named.value), |rule| (rule.word, print(rule)));
        if !printed.contains(&caution) {
            printed.push(caution);
        }
    }
    printed.sort_by_key(|(word, _)| *word);
    printed.into_iter().map(|(_, caution)| caution).collect()
}

/// The general set: fired by any step of the traveler.
pub(super) fn general(cautions: &Cautions, traveler: &Traveler) -> Vec<Caution> {
    let fired = cautions.rules.iter().filter(|rule| rule.general && fires_anywhere(rule, traveler));
    fired.map(print).collect()
}

/// What the project left out or made weaker and this traveler would have fired.
pub(super) fn weakened(cautions: &Cautions, traveler: &Traveler) -> Vec<WeakenedLine> {
    let fired = cautions.weakened.iter().filter(|weakened| fires_anywhere(&weakened.built_in, traveler));
    let line = |weakened: &crate::job::Weakened| WeakenedLine {
        id: weakened.built_in.id.clone(),
        word: weakened.built_in.word.word(),
        what: match weakened.now {
            None => "left out".to_owned(),
            Some(now) if now != weakened.built_in.word => format!("printed as {}", now.word()),
            Some(_) => "printed on the cover only".to_owned(),
        },
        because: weakened.because.as_ref().map(|because| because.value.clone()),
    };
    fired.map(line).collect()
}

/// Words of a builder that are no entry of the list: printed as a notice, or under the signal word they start with.
fn own_words(text: &str) -> (SignalWord, Caution) {
    let heavier = SignalWord::ALL.iter().copied().find(|word| text.starts_with(&format!("{}:", word.word())));
    let word = heavier.unwrap_or(SignalWord::Notice);
    let said = heavier.map_or(text, |word| text[word.word().len() + 1..].trim_start());
    (word, Caution { id: String::new(), word: word.word(), text: said.to_owned(), signs: Vec::new() })
}

fn print(rule: &CautionRule) -> Caution {
    Caution {
        id: rule.id.clone(),
        word: rule.word.word(),
        text: rule.text.trim().to_owned(),
        signs: rule.signs.clone(),
    }
}

/// Whether a step fires a caution, without being told to.
fn fires(rule: &CautionRule, traveler: &Traveler, step: &Step) -> bool {
    let there = match rule.only {
        None => true,
        Some(OnlyWhere::Closes) => !step.closes.is_empty(),
        Some(OnlyWhere::UnlikeMetals) => joins_unlike_metals(traveler, step),
        // A step that names no joint is warned as if it set the usual rivet.
        Some(OnlyWhere::SolidRivets) => {
            step.joints.is_empty() || sets(traveler, step, |own| matches!(own, Fastener::SolidRivet(_)))
        }
        Some(OnlyWhere::BlindRivets) => sets(traveler, step, |own| matches!(own, Fastener::BlindRivet(_))),
        Some(OnlyWhere::Named) => false,
    };
    let by_kind = there
        && (rule.kinds.is_empty() || rule.kinds.contains(&step.kind.value))
        && (rule.words.is_empty() || says(traveler, step, &rule.words));
    by_kind || says(traveler, step, &rule.or_words)
}

fn sets(traveler: &Traveler, step: &Step, such: impl Fn(&Fastener) -> bool) -> bool {
    step.joints.iter().any(|number| traveler.joints[number.value].fastener.as_ref().is_ok_and(&such))
}

fn fires_anywhere(rule: &CautionRule, traveler: &Traveler) -> bool {
    traveler.steps.iter().any(|step| fires(rule, traveler, step))
}

/// Whether any of the words starts a word of the step, of its materials, or of what its joints are set wet with.
fn says(traveler: &Traveler, step: &Step, words: &[String]) -> bool {
    if words.is_empty() {
        return false;
    }
    let mut said = step.title.value.to_lowercase();
    let materials = step.parts.iter().filter_map(|number| traveler.parts[number.value].material.as_ref());
    let wet = step.joints.iter().filter_map(|number| traveler.joints[number.value].wet.as_ref());
    for text in step.text.iter().chain(&step.tools).chain(materials).chain(wet) {
        said.push(' ');
        said.push_str(&text.value.to_lowercase());
    }
    let starts = |word: &String| {
        said.match_indices(word.as_str()).any(|(at, _)| !said[..at].ends_with(|c: char| c.is_alphanumeric()))
    };
    words.iter().any(starts)
}

/// Whether a joint of the step lays metals on each other that corrode where they touch bare.
fn joins_unlike_metals(traveler: &Traveler, step: &Step) -> bool {
    let unlike = |joint: &Joint| {
        let metals: Vec<_> = joint.layers.iter().map(|layer| layer.material.as_deref().and_then(metal_of)).collect();
        metals.windows(2).any(|pair| matches!(pair, [Some(one), Some(other)] if metals_corrode(*one, *other).value))
    };
    step.joints.iter().any(|number| unlike(&traveler.joints[number.value]))
}
