//! Where a value comes from, and how sure it is.
//!
//! Every value of the tables carries a source key and a sureness. This file turns both into words; it
//! does not decide what a value from memory may be used for.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt;
use std::sync::LazyLock;

use serde::Deserialize;

/// One place in one published document, or a practice without one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The key that tables and rules use.
    pub key: String,
    /// The document with its revision.
    pub document: String,
    /// Paragraph, table or page; empty where the document as a whole is meant.
    pub place: String,
    /// What the document is for.
    pub about: String,
    /// Whether it speaks of something else than the repair of aircraft in peacetime.
    pub elsewhere: bool,
}

impl Source {
    /// The source as printed: `AC 43.13-1B, par. 4-57c`; one that speaks of something else than the repair of aircraft
    /// in peacetime with what it is about.
    #[must_use]
    pub fn cite(&self) -> String {
        let Self { document, place, about, .. } = self;
        let name = if place.is_empty() { document.clone() } else { format!("{document}, {place}") };
        if self.elsewhere { format!("{name} ({about})") } else { name }
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Entry {
    document: String,
    place: String,
    about: String,
    #[serde(default)]
    elsewhere: bool,
}

pub(super) const TEXT: &str = include_str!("sources.toml");

static SOURCES: LazyLock<BTreeMap<String, Source>> = LazyLock::new(|| {
    let entries: BTreeMap<String, Entry> =
        toml::from_str(TEXT).unwrap_or_else(|fault| panic!("embedded file hardware/sources.toml is broken: {fault}"));
    let named = |(key, entry): (String, Entry)| {
        let Entry { document, place, about, elsewhere } = entry;
        (key.clone(), Source { key, document, place, about, elsewhere })
    };
    entries.into_iter().map(named).collect()
});

/// The source of a key, or nothing where there is no such key.
#[must_use]
pub fn find_source(key: &str) -> Option<&'static Source> {
    SOURCES.get(key)
}

/// The source of a key that is written in the program or its tables.
///
/// # Panics
/// When the key is missing from `sources.toml`: a fault of the program, not of the builder's data.
#[must_use]
pub fn source(key: &str) -> &'static Source {
    find_source(key).unwrap_or_else(|| panic!("hardware/sources.toml has no source `{key}`"))
}

/// All sources in the order of their keys.
pub fn all_sources() -> impl Iterator<Item = &'static Source> {
    SOURCES.values()
}

/// How sure a value is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
pub enum Sureness {
    /// Read in the place named.
    A,
    /// Computed from values that were read, and in agreement with them.
    #[serde(rename = "A-calc")]
    ACalc,
    /// Read where the document is quoted, or read in part.
    B,
    /// Read, in a page that speaks of something else than the repair of aircraft in peacetime.
    #[serde(rename = "A-else")]
    Elsewhere,
    /// From memory, confident.
    C,
    /// From memory, not confident.
    D,
    /// Given by the builder for a fastener that no table covers.
    #[serde(skip)]
    Given,
}

impl Sureness {
    /// Whether the value rests on memory.
    #[must_use]
    pub const fn from_memory(self) -> bool {
        matches!(self, Self::C | Self::D)
    }

    /// Whether the value may back an error on its own: memory may not, nor a page about something else.
    #[must_use]
    pub const fn backs_an_error(self) -> bool {
        !self.from_memory() && !matches!(self, Self::Elsewhere)
    }
}

/// What a value rests on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Basis {
    /// A key of `sources.toml`, or the builder's own words for kit-supplied hardware.
    pub source: Cow<'static, str>,
    /// How sure the value is.
    pub sureness: Sureness,
}

impl Basis {
    /// A basis in a published source.
    #[must_use]
    pub const fn published(key: &'static str, sureness: Sureness) -> Self {
        Self { source: Cow::Borrowed(key), sureness }
    }

    /// A basis in what the builder gave for kit-supplied hardware.
    #[must_use]
    pub fn given(words: &str) -> Self {
        Self { source: Cow::Owned(words.to_owned()), sureness: Sureness::Given }
    }

    /// Whether the value rests on memory.
    #[must_use]
    pub const fn from_memory(&self) -> bool {
        self.sureness.from_memory()
    }

    /// Whether the value may back an error on its own.
    #[must_use]
    pub const fn backs_an_error(&self) -> bool {
        self.sureness.backs_an_error()
    }

    /// The source as printed, with `(from memory)` where that is what it is.
    #[must_use]
    pub fn cite(&self) -> String {
        let name = match (self.sureness, find_source(&self.source)) {
            (Sureness::Given, _) | (_, None) => self.source.to_string(),
            (_, Some(source)) => source.cite(),
        };
        if self.from_memory() && !name.contains("from memory") { format!("{name} (from memory)") } else { name }
    }
}

impl fmt::Display for Basis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.cite())
    }
}

/// A value together with what it rests on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Graded<T> {
    /// The value.
    pub value: T,
    /// What it rests on.
    pub basis: Basis,
}

impl<T> Graded<T> {
    /// A value with its basis in a published source.
    pub const fn published(value: T, key: &'static str, sureness: Sureness) -> Self {
        Self { value, basis: Basis::published(key, sureness) }
    }

    /// Whether the value rests on memory.
    #[must_use]
    pub const fn from_memory(&self) -> bool {
        self.basis.from_memory()
    }
}
