//! The keys of `[[caution]]` in the project file.
//!
//! What fires a caution, and what leaving one out asks for, is not said here.

use super::Form::{Flag, Id, Text, Texts, Word, Words};
use super::{Section, may, need};
use crate::spec::caution::SIGN_NUMBERS;
use crate::words::{SignalWord, StepKind};

/// `[[caution]]`.
pub static CAUTION: Section = Section {
    name: "caution",
    doc: "A caution of your own, or a change to a built-in one. An id of the built-in list changes that one: its `text` and `word` are \
          replaced, `kinds` and `words` are added to what fires it. Any other id adds a caution; with neither `kinds` nor `words` nor \
          `closes` it is printed where a step's `cautions` names it or, with `general`, on every cover.",
    keys: &[
        need("id", Id, "Name, one word, as a step's `cautions` writes it."),
        may(
            "word",
            Word(SignalWord::WORDS),
            "Signal word. A new caution needs one; a built-in one is lowered only with `because`.",
        ),
        may("text", Text, "What harms, what follows, what to do: three printed lines at most. A new caution needs it."),
        may("kinds", Words(StepKind::WORDS), "Kinds of steps that fire it."),
        may(
            "words",
            Texts,
            "Words that fire it where they begin a word of the step, of its parts' materials or of what its joints are set wet with; with `kinds`, only at such steps.",
        ),
        may("closes", Flag, "Whether a new caution fires only where the step closes a zone."),
        may(
            "general",
            Flag,
            "Whether it stands once on the cover, not at each step. A built-in one is moved to the cover only with `because`.",
        ),
        may("signs", Words(SIGN_NUMBERS), "Numbers of ISO 7010 signs, printed beside it with a drawing of our own."),
        may(
            "omit",
            Flag,
            "Leaves the built-in caution out. A DANGER is left out only with `because`, and the cover says so.",
        ),
        may(
            "because",
            Text,
            "Why it is left out or weakened, printed on the cover of every packet in which it would have stood.",
        ),
    ],
};
