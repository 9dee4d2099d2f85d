//! Cautions as data: the built-in list, the signs that go with it, and what a project writes in `[[caution]]`.
//!
//! Only the data: which step fires a caution, and how it is printed, is planned with the paper.

use std::sync::LazyLock;

use serde::Deserialize;

use super::form::{Filled, Flag, Id, Texts, Word, Words};
use super::list::section;
use crate::words::{SignalWord, StepKind};

/// A caution and what fires it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CautionRule {
    /// Name, as a step's `cautions` writes it.
    pub id: String,
    /// Signal word.
    pub word: SignalWord,
    /// Kinds of steps that fire it; none: any kind.
    pub kinds: Vec<StepKind>,
    /// Words that fire it, in small letters; none: needs no word.
    pub words: Vec<String>,
    /// Words that fire it whatever the step's kind, in small letters.
    pub or_words: Vec<String>,
    /// What else must be so for it to fire.
    pub only: Option<OnlyWhere>,
    /// Printed on the cover once, not at each step.
    pub general: bool,
    /// Numbers of ISO 7010 signs.
    pub signs: Vec<&'static str>,
    /// What it says.
    pub text: String,
}

/// A condition of a caution beyond kinds and words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OnlyWhere {
    /// The step closes a space.
    Closes,
    /// The step fastens bare unlike metals.
    UnlikeMetals,
    /// The step sets solid rivets, or names no joint.
    SolidRivets,
    /// The step sets blind rivets.
    BlindRivets,
    /// A step names it.
    Named,
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
#[serde(deny_unknown_fields, rename_all = "kebab-case")]
struct Entry {
    id: String,
    word: String,
    #[serde(default)]
    kinds: Vec<String>,
    #[serde(default)]
    words: Vec<String>,
    #[serde(default)]
    or_words: Vec<String>,
    #[serde(default)]
    closes: bool,
    #[serde(default)]
    unlike_metals: bool,
    #[serde(default)]
    fastens: Option<String>,
    #[serde(default)]
    general: bool,
    #[serde(default)]
    signs: Vec<String>,
    text: String,
}

impl Entry {
    fn read(self) -> CautionRule {
        let kind = |word: &String| StepKind::parse(word).expect("src/spec/cautions.toml names kinds of steps");
        CautionRule {
            word: SignalWord::parse(&self.word).expect("src/spec/cautions.toml uses the four signal words"),
            kinds: self.kinds.iter().map(kind).collect(),
            words: self.words,
            or_words: self.or_words,
            only: match (self.closes, self.unlike_metals, self.fastens.as_deref()) {
                (true, false, None) => Some(OnlyWhere::Closes),
                (false, true, None) => Some(OnlyWhere::UnlikeMetals),
                (false, false, Some("solid rivets")) => Some(OnlyWhere::SolidRivets),
                (false, false, Some("blind rivets")) => Some(OnlyWhere::BlindRivets),
                (false, false, None) => None,
                _ => panic!("src/spec/cautions.toml gives `{}` conditions that do not go together", self.id),
            },
            general: self.general,
            signs: self
                .signs
                .iter()
                .map(|sign| sign_number(sign).expect("src/spec/cautions.toml lists its signs"))
                .collect(),
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
