//! Cautions: a built-in list, fired by what a step does, what it is done to and the words it uses.
//!
//! The list warns in general words and points to the data sheet; it never claims to replace one.

use std::sync::LazyLock;

use serde::{Deserialize, Serialize};

use crate::job::{Step, StepKind, Traveler};

/// A caution as printed.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
pub struct Caution {
    /// Name in the list; empty for a builder's own words.
    pub id: String,
    /// DANGER, WARNING, CAUTION or NOTICE, as ANSI Z535 uses them.
    pub word: String,
    /// At most three lines.
    pub text: String,
}

/// An entry of the list.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
pub struct CautionRule {
    /// Name, as a step's `cautions` writes it.
    pub id: String,
    /// Signal word.
    pub word: String,
    /// Kinds of steps that fire it; none: any kind.
    #[serde(default)]
    pub kinds: Vec<String>,
    /// Words in the step, its parts' materials or its joints' wet materials that fire it; none: needs no word.
    #[serde(default)]
    pub words: Vec<String>,
    /// Fires only where the step closes a space.
    #[serde(default)]
    pub closes: bool,
    /// Printed on the cover once, not at each step.
    #[serde(default)]
    pub general: bool,
    /// What it says.
    pub text: String,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct List {
    caution: Vec<CautionRule>,
}

static BUILT_IN: LazyLock<Vec<CautionRule>> = LazyLock::new(|| {
    let list: List = toml::from_str(include_str!("cautions.toml")).expect("src/plan/cautions.toml is well formed");
    list.caution
});

/// The built-in list, heaviest signal word first.
#[must_use]
pub fn built_in() -> &'static [CautionRule] {
    &BUILT_IN
}

/// The cautions printed at a step: what it fires beyond the general set, then what its spec names.
pub(super) fn of_step(traveler: &Traveler, step: &Step) -> Vec<Caution> {
    let mut fired: Vec<Caution> =
        built_in().iter().filter(|rule| !rule.general && rule.fires(traveler, step)).map(CautionRule::printed).collect();
    for named in &step.cautions {
        let known = built_in().iter().find(|rule| rule.id == named.value);
        let caution = known.map_or_else(|| own_words(&named.value), CautionRule::printed);
        if !fired.contains(&caution) {
            fired.push(caution);
        }
    }
    fired.sort_by_key(|caution| weight(&caution.word));
    fired
}

/// The general set: fired by any step of the traveler.
pub(super) fn general(traveler: &Traveler) -> Vec<Caution> {
    let fired = |rule: &&CautionRule| rule.general && traveler.steps.iter().any(|step| rule.fires(traveler, step));
    built_in().iter().filter(fired).map(CautionRule::printed).collect()
}

/// Words of a builder that are no entry of the list: printed as a notice, or under the signal word they start with.
fn own_words(text: &str) -> Caution {
    let heavier = ["DANGER", "WARNING", "CAUTION", "NOTICE"].into_iter().find(|word| text.starts_with(&format!("{word}:")));
    let word = heavier.unwrap_or("NOTICE");
    let said = heavier.map_or(text, |word| text[word.len() + 1..].trim_start());
    Caution { id: String::new(), word: word.to_owned(), text: said.to_owned() }
}

fn weight(word: &str) -> usize {
    ["DANGER", "WARNING", "CAUTION", "NOTICE"].iter().position(|known| *known == word).unwrap_or(usize::MAX)
}

impl CautionRule {
    fn printed(&self) -> Caution {
        Caution { id: self.id.clone(), word: self.word.clone(), text: self.text.trim().to_owned() }
    }

    fn fires(&self, traveler: &Traveler, step: &Step) -> bool {
        (self.kinds.is_empty() || self.kinds.iter().any(|kind| StepKind::parse(kind) == Some(step.kind.value)))
            && (!self.closes || !step.closes.is_empty())
            && (self.words.is_empty() || says(traveler, step, &self.words))
    }
}

/// Whether any of the words starts a word of the step, of its materials, or of what its joints are set wet with.
fn says(traveler: &Traveler, step: &Step, words: &[String]) -> bool {
    let mut said = step.title.value.to_lowercase();
    let materials = step.parts.iter().filter_map(|number| traveler.parts[number.value].material.as_ref());
    let wet = step.joints.iter().filter_map(|number| traveler.joints[number.value].wet.as_ref());
    for text in step.text.iter().chain(&step.tools).chain(materials).chain(wet) {
        said.push(' ');
        said.push_str(&text.value.to_lowercase());
    }
    let starts = |word: &String| said.match_indices(word.as_str()).any(|(at, _)| !said[..at].ends_with(|c: char| c.is_alphanumeric()));
    words.iter().any(starts)
}
