//! The fixed words of the documents, and the language in which they are printed.
//!
//! A sentence stands in English where it is made, [`say!`] in Rust and `say(..)` in templates, and that English, with its
//! placeholders, is the key under which a file of another language gives its own. What has no words there prints in English.
//!
//! The language is set for a run, thread by thread ([`speak`]), and is not handed through every function that plans: it
//! changes no decision, and planning stays a plain function over plain data in one language. It is spoken only while
//! something is planned for paper. Who made it data instead would pay for that in each of the several hundred sentences, and
//! again wherever two of them are joined. What is archived, compared or printed as data never passes through here: the
//! modules that make it may not import this one, and commands that print data speak English.
//!
//! It translates nothing that a builder wrote: values are put in as they are, and are not looked at again.

mod choice;
mod pattern;
mod read;

pub use read::{Fault, Weight, read};

use std::cell::Cell;
use std::collections::BTreeMap;
use std::fmt::Display;
use std::sync::LazyLock;

use choice::Choice;

/// The file with every phrase, which translators begin from.
pub const ENGLISH: &str = include_str!("../templates/words/english.toml");

/// What follows this in a key tells two uses of the same words apart, and is not printed.
pub const USE: &str = "||";

/// A language: for each phrase its words, one form or one for each number that the language tells apart.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Language {
    choices: Vec<Choice>,
    phrases: BTreeMap<String, Vec<String>>,
}

impl Language {
    /// The words of a phrase, one form for each number that the language tells apart.
    #[must_use]
    pub fn forms(&self, key: &str) -> Option<&[String]> {
        self.phrases.get(key).map(Vec::as_slice)
    }

    /// Every phrase that has words.
    pub fn phrases(&self) -> impl Iterator<Item = (&str, &[String])> {
        self.phrases.iter().map(|(key, forms)| (key.as_str(), forms.as_slice()))
    }

    fn plain(&self, key: &str) -> Option<&str> {
        self.phrases.get(key).and_then(|forms| forms.first()).map(String::as_str)
    }

    /// The form for a number: the first whose choice takes it, else the last.
    fn form(&self, key: &str, number: u64) -> Option<&str> {
        let at = self.choices.iter().position(|choice| choice.takes(number)).unwrap_or(self.choices.len());
        self.phrases.get(key)?.get(at).map(String::as_str)
    }
}

static BUILT_IN: LazyLock<Language> = LazyLock::new(|| {
    let (language, faults) = read::read_english(ENGLISH);
    assert!(faults.is_empty(), "templates/words/english.toml is broken: {faults:?}");
    language
});

/// English, as its file lists it.
///
/// # Panics
/// When the embedded file is broken, which is a bug.
#[must_use]
pub fn english() -> &'static Language {
    &BUILT_IN
}

thread_local! {
    static SPOKEN: Cell<Option<&'static Language>> = const { Cell::new(None) };
}

/// A language is spoken as long as this lives.
#[derive(Debug)]
#[must_use = "the language is spoken as long as this lives"]
pub struct Spoken(Option<&'static Language>);

impl Drop for Spoken {
    fn drop(&mut self) {
        SPOKEN.set(self.0);
    }
}

/// Speaks a language on this thread; none is English.
pub fn speak(language: Option<&'static Language>) -> Spoken {
    Spoken(SPOKEN.replace(language))
}

/// The language that is spoken on this thread; none is English.
#[must_use]
pub fn spoken() -> Option<&'static Language> {
    SPOKEN.get()
}

/// A phrase without values.
#[must_use]
pub fn fixed(key: &'static str) -> &'static str {
    spoken().and_then(|language| language.plain(key)).unwrap_or_else(|| printed(key))
}

/// The words for a text that is chosen as the program runs, from a list whose entries are phrases.
#[must_use]
pub fn word(key: &str) -> String {
    spoken().and_then(|language| language.plain(key)).unwrap_or_else(|| printed(key)).to_owned()
}

/// What the spoken language has for a phrase, with its values; nothing where English is to be printed.
#[must_use]
pub fn translated(key: &str, values: &[(&str, &dyn Display)]) -> Option<String> {
    Some(pattern::fill(spoken()?.plain(key)?, values))
}

/// A phrase that depends on a number, whose forms for one and for many are given in English.
#[must_use]
pub fn counted(english: [&str; 2], number: impl TryInto<u64>, values: &[(&str, &dyn Display)]) -> String {
    let [one, many] = english;
    // A number that is none of these is surely not one of a few.
    let number = number.try_into().unwrap_or(u64::MAX);
    let own = spoken().and_then(|language| language.form(one, number));
    pattern::fill(own.unwrap_or_else(|| printed(if number == 1 { one } else { many })), values)
}

/// A phrase and its words as a line of a file.
#[must_use]
pub fn line(key: &str, forms: &[String]) -> String {
    let quoted = |text: &str| toml::Value::String(text.to_owned()).to_string();
    let words = match forms {
        [form] => quoted(form),
        forms => format!("[{}]", forms.iter().map(|form| quoted(form)).collect::<Vec<_>>().join(", ")),
    };
    // A basic string is a key as it stands, a literal one too.
    format!("{} = {words}\n", quoted(key))
}

/// A text that was made in English below planning, said again: as a whole, or by the pattern that made it, each value by
/// `value`. What was made by none stays as it is.
pub fn retold(text: &str, patterns: &[&'static str], value: impl Fn(&str) -> String) -> String {
    let Some(language) = spoken() else { return text.to_owned() };
    if let Some(words) = language.plain(text) {
        return words.to_owned();
    }
    let made = patterns.iter().find_map(|key| Some((language.plain(key)?, pattern::values(key, text)?)));
    let Some((words, values)) = made else { return text.to_owned() };
    let told: Vec<(&str, String)> = values.into_iter().map(|(name, own)| (name, value(own))).collect();
    let values: Vec<(&str, &dyn Display)> = told.iter().map(|(name, own)| (*name, own as &dyn Display)).collect();
    pattern::fill(words, &values)
}

/// A key without what tells its use.
#[must_use]
pub fn printed(key: &str) -> &str {
    key.split_once(USE).map_or(key, |(words, _)| words)
}

/// English that was filled in, without what tells its use.
#[must_use]
pub fn without_use(mut words: String, key: &str) -> String {
    words.truncate(words.len() - (key.len() - printed(key).len()));
    words
}

/// A fixed phrase of a document, in the language that is spoken: `say!("Helper needed")` is a `&'static str`,
/// `say!("{name} after {first}", name, first = list)` a `String`.
///
/// Placeholders are plain names; `"open||of holes"` says what tells two uses of the same words apart.
macro_rules! say {
    ($key:literal) => { $crate::phrase::fixed($key) };
    ($key:literal, $($name:ident $(= $value:expr)?),+ $(,)?) => {
        match ($(&$crate::phrase::value!($name $(= $value)?),)+) {
            ($($name,)+) => match $crate::phrase::translated($key, &[$((stringify!($name), $name)),+]) {
                Some(own) => own,
                None => $crate::phrase::without_use(format!($key, $($name = $name),+), $key),
            },
        }
    };
}

/// A phrase that depends on a number, which it is given as `{n}`: `say_count!(steps, "{n} step", "{n} steps")`. The form
/// for one is the key, and either may leave the number out.
macro_rules! say_count {
    ($n:expr, $one:literal, $many:literal $(, $name:ident $(= $value:expr)?)* $(,)?) => {
        match ($n, $(&$crate::phrase::value!($name $(= $value)?),)*) {
            (n, $($name,)*) => $crate::phrase::counted([$one, $many], n, &[("n", &n), $((stringify!($name), $name)),*]),
        }
    };
}

/// Patterns that something below planning is made by: phrases, for [`retold`].
macro_rules! patterns {
    ($($key:literal),+ $(,)?) => { [$($key),+] };
}

macro_rules! value {
    ($name:ident) => {
        $name
    };
    ($name:ident = $value:expr) => {
        $value
    };
}

pub(crate) use {patterns, say, say_count, value};
