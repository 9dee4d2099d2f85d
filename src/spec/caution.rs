//! Cautions as data: the built-in list, the signs that go with it, and what a project writes in `[[caution]]`.
//!
//! Only the data: which step fires a caution, and how it is printed, is planned with the paper.

use std::sync::LazyLock;

use serde::Deserialize;

use super::form::{Filled, Flag, Id, Texts, Word, Words};
use super::list::section;
use crate::words::{SignalWord, StepKind, words};

/// A caution and what fires it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CautionRule {
    /// Name, as a step's `cautions` writes it.
    pub id: String,
    /// Signal word.
    pub word: SignalWord,
    /// What fires it: one is enough; none: only a step that names it.
    pub when: Vec<Trigger>,
    /// Printed on the cover once, not at each step.
    pub general: bool,
    /// Numbers of ISO 7010 signs.
    pub signs: Vec<&'static str>,
    /// What it says.
    pub text: String,
}

/// What fires a caution: kind and condition must both be so, and where any list of names or words has entries, one of
/// them must be found. Without any of it every step fires it.
#[derive(Debug, Clone, Default, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Trigger {
    /// Kinds of steps; none: any kind.
    pub kinds: Vec<StepKind>,
    /// What its joints and spaces are.
    pub only: Option<OnlyWhere>,
    /// Phrases by which the step's text says it already: not where one of them stands.
    pub told: Vec<String>,
    /// Words with which the title begins or goes on.
    pub verbs: Vec<String>,
    /// Whole phrases of the title.
    pub titles: Vec<String>,
    /// Whole names among tools, materials and what joints are set wet with.
    pub things: Vec<String>,
    /// Whole phrases of title and text.
    pub phrases: Vec<String>,
    /// A project's own words: where they begin a word of title, text, tools, materials or what joints are set wet with.
    pub words: Vec<String>,
}

words! {
    /// A condition of a trigger: what the joints and spaces of the step are.
    OnlyWhere {
        /// The step sets solid rivets, or names no joint.
        SolidRivets = "solid rivets",
        /// The step sets so many solid rivets that hands grow numb, or names no joint.
        ManySolidRivets = "many solid rivets",
        /// The step sets blind rivets.
        BlindRivets = "blind rivets",
        /// A rivet of the step is kept cold until it is driven.
        KeptCold = "kept cold",
        /// A nut of the step has a cotter pin, or a bolt's head is drilled for wire.
        Pinned = "pinned",
        /// A joint of the step is a fluid fitting.
        FluidFittings = "fluid fittings",
        /// A joint of the step lays bare unlike metals on each other.
        UnlikeMetals = "unlike metals",
        /// A joint of the step is reached from one side alone.
        OneSide = "one side",
        /// A part of the step, or of its joints, was painted by an earlier one.
        Painted = "painted",
        /// The step closes a space.
        Closes = "closes",
        /// The step opens a space that holds fuel.
        OpensFuel = "opens fuel",
    }
}

/// A sign of ISO 7010.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct CautionSign {
    /// Number in the standard.
    pub number: String,
    /// What it stands for.
    pub means: String,
    /// `B` read in a page that lists the standard's signs, `C` from memory.
    pub sureness: String,
}

/// Numbers of the signs, in the order of the list.
pub const SIGN_NUMBERS: &[&str] = &["M003", "M004", "M009", "M013", "M017", "W010", "W021"];

section! {
    /// A caution of your own, or a change to a built-in one. An id of the built-in list changes that one: its `text`
    /// and `word` are replaced, `kinds` and `words` are added to what fires it. Any other id adds a caution; with
    /// neither `kinds` nor `words` nor `closes` it is printed where a step's `cautions` names it or, with `general`, on
    /// every cover.
    CautionSpec = "caution" {
        /// Name, one word, as a step's `cautions` writes it.
        id "id": need Id => wording,
        /// Signal word. A new caution needs one; a built-in one is lowered only with `because`.
        word "word": may Word<SignalWord> => wording,
        /// What harms, what follows, what to do: three printed lines at most. A new caution needs it.
        text "text": may Filled => wording,
        /// Kinds of steps that fire it.
        kinds "kinds": any Words<StepKind> => wording,
        /// Words that fire it where they begin a word of the step, of its parts' materials or of what its joints are
        /// set wet with; with `kinds`, only at such steps.
        words "words": any Texts => wording,
        /// Whether a new caution fires only where the step closes a space.
        closes "closes": may Flag => wording,
        /// Whether it stands once on the cover, not at each step. A built-in one is moved to the cover only with
        /// `because`.
        general "general": may Flag => wording,
        /// Numbers of ISO 7010 signs, printed beside it with a drawing of our own.
        signs "signs": any Words<SignNumber> => wording,
        /// Leaves the built-in caution out. A DANGER is left out only with `because`, and the cover says so.
        omit "omit": may Flag => wording,
        /// Why it is left out or weakened, printed on the cover of every packet in which it would have stood.
        because "because": may Filled => wording,
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct List {
    sign: Vec<CautionSign>,
    caution: Vec<Entry>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Entry {
    id: String,
    word: SignalWord,
    #[serde(default)]
    general: bool,
    #[serde(default)]
    signs: Vec<String>,
    text: String,
    when: Vec<Trigger>,
}

impl Entry {
    fn read(self) -> CautionRule {
        let sign = |sign: &String| sign_number(sign).expect("src/spec/cautions.toml lists its signs");
        CautionRule {
            word: self.word,
            when: self.when,
            general: self.general,
            signs: self.signs.iter().map(sign).collect(),
            text: self.text,
            id: self.id,
        }
    }
}

static BUILT_IN: LazyLock<(Vec<CautionSign>, Vec<CautionRule>)> = LazyLock::new(|| {
    let list: List = toml::from_str(include_str!("cautions.toml")).expect("src/spec/cautions.toml is well formed");
    (list.sign, list.caution.into_iter().map(Entry::read).collect())
});

/// The built-in list, heaviest signal word first.
#[must_use]
pub fn built_in_cautions() -> &'static [CautionRule] {
    &BUILT_IN.1
}

/// The signs that cautions may carry.
#[must_use]
pub fn caution_signs() -> &'static [CautionSign] {
    &BUILT_IN.0
}

fn sign_number(written: &str) -> Option<&'static str> {
    SIGN_NUMBERS.iter().copied().find(|number| *number == written)
}

/// The number of a sign that is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SignNumber(pub &'static str);

impl crate::words::Word for SignNumber {
    const WORDS: &'static [&'static str] = SIGN_NUMBERS;

    fn parse(word: &str) -> Option<Self> {
        sign_number(word).map(Self)
    }

    fn word(self) -> &'static str {
        self.0
    }
}
