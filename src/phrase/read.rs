//! Reads the file of a language: tables of phrases, each English key with its words.
//!
//! It takes no word that could not be printed, and none whose values are not those of its key. What is wrong is told with its
//! place; the phrases that are right are taken all the same.

use std::collections::BTreeSet;
use std::ops::Range;

use toml::Spanned;
use toml::de::{DeTable, DeValue};

use super::choice::Choice;
use super::{Language, english, pattern, printed};
use crate::text::{MOST_LETTERS, unprintable, unprintable_words};

/// How much a fault weighs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// The file is not what it should be.
    Unreadable,
    /// A phrase cannot be printed so.
    Wrong,
    /// No document says this.
    Unknown,
    /// Phrases have no words yet.
    Missing,
}

/// What is wrong with the file of a language.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The bytes that are wrong.
    pub place: Range<usize>,
    /// How much it weighs.
    pub weight: Weight,
    /// What is wrong.
    pub message: String,
    /// What would pass.
    pub help: String,
}

/// The key that states which form a number takes.
const CHOICES: &str = "plural";

/// More forms than any language has.
const MOST_FORMS: usize = 6;

/// A language from the text of its file, and what is wrong with that.
#[must_use]
pub fn read(text: &str) -> (Language, Vec<Fault>) {
    let mut reader = Reader { known: Some(english()), language: Language::default(), faults: Vec::new() };
    reader.file(text);
    reader.count_missing();
    (reader.language, reader.faults)
}

/// English itself, against which the others are held.
pub(super) fn read_english(text: &str) -> (Language, Vec<Fault>) {
    let mut reader = Reader { known: None, language: Language::default(), faults: Vec::new() };
    reader.file(text);
    (reader.language, reader.faults)
}

struct Reader<'a> {
    /// What the documents say.
    known: Option<&'a Language>,
    language: Language,
    faults: Vec<Fault>,
}

impl Reader<'_> {
    fn tell(&mut self, weight: Weight, place: Range<usize>, message: impl Into<String>, help: impl Into<String>) {
        self.faults.push(Fault { place, weight, message: message.into(), help: help.into() });
    }

    fn file(&mut self, text: &str) {
        let (tree, faults) = DeTable::parse_recoverable(text);
        for fault in faults {
            // One without a place is told at the beginning.
            let place = fault.span().unwrap_or(0..0);
            let help = "a phrase is a line `\"English words\" = \"your words\"`; a quote inside is written \\\"";
            self.tell(Weight::Unreadable, place, fault.message(), help);
        }
        let tree = tree.into_inner();
        // The number of forms must be known before the first phrase.
        if let Some(choices) = tree.get(CHOICES) {
            self.choices(choices);
        } else if self.known.is_some() {
            let help = format!(
                "write `{CHOICES} = [\"1\"]` on top where one and many differ as in English, or [] where they do not"
            );
            self.tell(Weight::Wrong, 0..0, format!("`{CHOICES}` is missing"), help);
        }
        for (name, value) in tree.iter().filter(|(name, _)| name.get_ref() != CHOICES) {
            match value.get_ref() {
                DeValue::Table(table) => {
                    for (key, words) in table {
                        self.phrase(key, words);
                    }
                }
                _ => self.phrase(name, value),
            }
        }
    }

    fn choices(&mut self, node: &Spanned<DeValue<'_>>) {
        let help = "write a list of choices, as [\"1\"] or [\"*1 not *11\", \"*2-4 not *12-14\"]: the first that takes a \
                    number gives the form, and the last form is for all others";
        let DeValue::Array(entries) = node.get_ref() else {
            return self.tell(Weight::Wrong, node.span(), format!("`{CHOICES}` is no list"), help);
        };
        if entries.len() >= MOST_FORMS {
            let message = format!("`{CHOICES}` has {} choices; the most is {}", entries.len(), MOST_FORMS - 1);
            return self.tell(Weight::Wrong, node.span(), message, help);
        }
        for entry in entries {
            let choice = entry.get_ref().as_str().and_then(Choice::parse);
            match choice {
                Some(choice) => self.language.choices.push(choice),
                None => self.tell(Weight::Wrong, entry.span(), "this is no choice of numbers", help),
            }
        }
    }

    fn phrase(&mut self, key: &Spanned<impl AsRef<str>>, words: &Spanned<DeValue<'_>>) {
        let name = key.get_ref().as_ref();
        let known = self.known.map(|known| known.forms(name));
        let Some(forms) = self.forms(words, known.flatten()) else { return };
        if known == Some(None) {
            let help = "see `shophead words` for every phrase; one that a document no longer says may go";
            return self.tell(Weight::Unknown, key.span(), "no document says this", help);
        }
        let own: Vec<String> = forms.iter().map(|(form, _)| form.clone()).collect();
        let english = known.flatten().unwrap_or(&own);
        for (form, place) in &forms {
            if !self.form(english, form, place.clone()) {
                return;
            }
        }
        if self.language.phrases.insert(name.to_owned(), own).is_some() {
            self.tell(Weight::Wrong, key.span(), "this phrase stands here a second time", "leave one of the two");
        }
    }

    /// The forms of a phrase as they are written, as many as there must be.
    fn forms(&mut self, words: &Spanned<DeValue<'_>>, known: Option<&[String]>) -> Option<Vec<(String, Range<usize>)>> {
        let texts: Option<Vec<(String, Range<usize>)>> = match words.get_ref() {
            DeValue::String(text) => Some(vec![(text.clone().into_owned(), words.span())]),
            DeValue::Array(list) => {
                list.iter().map(|one| Some((one.get_ref().as_str()?.to_owned(), one.span()))).collect()
            }
            _ => None,
        };
        let Some(texts) = texts else {
            let help = "write it in quotes, or a list of forms in quotes";
            self.tell(Weight::Wrong, words.span(), "the words of a phrase are a text", help);
            return None;
        };
        let counts = known.is_some_and(|forms| forms.len() > 1);
        let wanted = if counts { self.language.choices.len() + 1 } else { 1 };
        if known.is_some() && texts.len() != wanted {
            let message = format!("{} forms stand here, and there must be {wanted}", texts.len());
            let help = if counts {
                "one form for each choice of `plural`, and one for all other numbers"
            } else {
                "this phrase depends on no number"
            };
            self.tell(Weight::Wrong, words.span(), message, help);
            return None;
        }
        Some(texts)
    }

    /// Whether a form can be printed in the place of its key.
    fn form(&mut self, english: &[String], form: &str, place: Range<usize>) -> bool {
        let bad = unprintable(form).map(|(_, c)| c).or_else(|| form.chars().find(|c| c.is_control()));
        let letters = form.chars().count();
        let wrong = if let Some(c) = bad {
            Some((format!("the words have {}", unprintable_words(c)), "use letters that the fonts have".to_owned()))
        } else if form.trim().is_empty() {
            Some(("a phrase without words".to_owned(), "take the line out to print it in English".to_owned()))
        } else if letters > MOST_LETTERS {
            Some((format!("{letters} letters; the most is {MOST_LETTERS}"), "say it shorter".to_owned()))
        } else {
            wrong_places(english, form)
        };
        let Some((message, help)) = wrong else { return true };
        self.tell(Weight::Wrong, place, message, help);
        false
    }

    fn count_missing(&mut self) {
        let Some(known) = self.known else { return };
        let missing = known.phrases.keys().filter(|key| !self.language.phrases.contains_key(*key)).count();
        if missing > 0 {
            let message =
                format!("{missing} of {} phrases have no words here; they print in English", known.phrases.len());
            self.tell(Weight::Missing, 0..0, message, "`shophead words --missing` prints them, ready to be filled in");
        }
    }
}

/// What is wrong with the values of a form, and what would pass. Where the form depends on a number, it need not say it.
fn wrong_places(english: &[String], form: &str) -> Option<(String, String)> {
    let wanted: BTreeSet<&str> = english.iter().flat_map(|form| pattern::places(printed(form))).collect();
    let counts = english.len() > 1;
    let listed = |names: &[&str]| names.iter().map(|name| format!("{{{name}}}")).collect::<Vec<_>>().join(", ");
    let help = if wanted.is_empty() {
        "this phrase has no values, and no brace is printed".to_owned()
    } else {
        format!("the values are {}, in any order", listed(&wanted.iter().copied().collect::<Vec<_>>()))
    };
    if pattern::pieces(form).is_err() {
        return Some(("a brace that begins or ends no value".to_owned(), help));
    }
    let given = pattern::places(form);
    let missing: Vec<&str> =
        wanted.iter().filter(|name| !(given.contains(*name) || counts && **name == "n")).copied().collect();
    let unknown: Vec<&str> = given.iter().filter(|name| !wanted.contains(*name)).copied().collect();
    if !missing.is_empty() {
        return Some((format!("the value {} is left out", listed(&missing)), help));
    }
    (!unknown.is_empty()).then(|| (format!("the phrase has no value {}", listed(&unknown)), help))
}
