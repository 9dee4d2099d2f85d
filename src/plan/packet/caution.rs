//! Cautions on paper: those that the printed steps fire by what they do, and those that they name.
//!
//! They warn in general words and point to the data sheet; they never claim to replace one. What the project left out of
//! the built-in list is said on the cover.

use serde::Serialize;

use super::source::Source;
use super::trigger::AtStep;
use crate::job::{CautionRule, Cautions, SignalWord, Weakened};
use crate::phrase::{self, say};

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
pub(super) fn of_step(source: Source<'_>, at: usize) -> Vec<Caution> {
    let cautions = &source.job.project.cautions;
    let here = AtStep::of(source, at);
    let fired = cautions.rules.iter().filter(|rule| !rule.general && here.fires(rule));
    let mut printed: Vec<(SignalWord, Caution)> = fired.map(|rule| (rule.word, print(rule))).collect();
    for named in &here.step.cautions {
        let caution =
            cautions.find(&named.value).map_or_else(|| own_words(&named.value), |rule| (rule.word, print(rule)));
        if !printed.contains(&caution) {
            printed.push(caution);
        }
    }
    printed.sort_by_key(|(word, _)| *word);
    printed.into_iter().map(|(_, caution)| caution).collect()
}

/// The general set: fired by any step that is printed.
pub(super) fn general(source: Source<'_>) -> Vec<Caution> {
    let cautions: &Cautions = &source.job.project.cautions;
    let steps: Vec<AtStep<'_>> = source.steps().map(|(at, _)| AtStep::of(source, at)).collect();
    let fired = cautions.rules.iter().filter(|rule| rule.general && steps.iter().any(|here| here.fires(rule)));
    fired.map(print).collect()
}

/// What the project left out or made weaker and a printed step would have fired.
pub(super) fn weakened(source: Source<'_>) -> Vec<WeakenedLine> {
    let steps: Vec<AtStep<'_>> = source.steps().map(|(at, _)| AtStep::of(source, at)).collect();
    let weakened = source.job.project.cautions.weakened.iter();
    let fired = weakened.filter(|weakened| steps.iter().any(|here| here.fires(&weakened.built_in)));
    let line = |weakened: &Weakened| WeakenedLine {
        id: weakened.built_in.id.clone(),
        word: weakened.built_in.word.word(),
        what: match weakened.now {
            None => say!("left out").to_owned(),
            Some(now) if now != weakened.built_in.word => say!("printed as {now}", now = phrase::word(now.word())),
            Some(_) => say!("printed on the cover only").to_owned(),
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
        text: phrase::word(rule.text.trim()),
        signs: rule.signs.clone(),
    }
}
