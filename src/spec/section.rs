//! The file format as data: tables, keys, the forms of their values, and what a change of a key means.
//!
//! Filled by the lists of `project`, `traveler`, `joint`, `step` and the others; it reads nothing.

/// The form of a value, as the format page and the schema say it.
#[derive(Debug, Clone, Copy)]
pub enum Form {
    /// A text on one line.
    Text,
    /// Markdown.
    Markdown,
    /// A name that other places refer to.
    Id,
    /// A size.
    Size,
    /// Exactly two sizes, smaller first.
    SizePair,
    /// One size, or one per layer.
    Sizes,
    /// A list of sizes.
    SizeList,
    /// One hole size or `undrilled`, or one per layer.
    HoleSizes,
    /// One size, or the smallest and the largest.
    SizeRange,
    /// Pairs of sizes.
    SizePairs,
    /// A multiple of the diameter.
    Ratio,
    /// A torque or a range.
    Torque,
    /// A temperature.
    Temperature,
    /// A duration.
    Duration,
    /// A whole number.
    Count {
        /// The smallest that passes.
        least: u32,
    },
    /// A signed decimal.
    Decimal,
    /// `true` or `false`.
    Flag,
    /// A traveler's id, or `true`.
    Fitted,
    /// A date.
    Date,
    /// One of these words.
    Word(&'static [&'static str]),
    /// One of these words, or a list of them.
    Words(&'static [&'static str]),
    /// A list of texts.
    Texts,
    /// A name that something else has as its id, or a list of them.
    Names,
    /// A list of part ids and layers.
    Stack(&'static Section),
    /// An inline table or a table of its own.
    Table(&'static Section),
    /// Repeated tables.
    Tables(&'static Section),
    /// A table with keys of the builder's own and texts as values.
    TextMap,
    /// A table with keys of the builder's own and texts or numbers as values.
    ValueMap,
    /// A date, or a date and time.
    When,
    /// Steps: numbers, ids, ranges, or a list of them.
    Steps,
    /// A list of texts or numbers.
    Marks,
    /// A table of readings: numbers or texts by what stands beside the box.
    Readings,
}

/// What a change of a key means to work that is signed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Change {
    /// The work is another: sizes, calls, counts, cures, limits, order, and the names by which they are referred to.
    Work,
    /// Words and estimates beside the work.
    Wording,
    /// The words are the work, where a step has no joints: they are read again.
    ReadAgain,
    /// Nothing that is signed rests on it: facts that only a check needs, shelf, folders, people, progress.
    Apart,
}

/// One key.
#[derive(Debug)]
pub struct Key {
    /// As written.
    pub name: &'static str,
    /// As it was written in earlier versions, if otherwise.
    pub was: Option<&'static str>,
    /// Another name under which it is read as well.
    pub also: Option<&'static str>,
    /// Form of its value.
    pub form: Form,
    /// Whether it must be there.
    pub required: bool,
    /// What a change of it means.
    pub change: Change,
    pub(super) about: &'static [&'static str],
}

/// One table of the format.
#[derive(Debug)]
pub struct Section {
    /// As written between brackets; empty for a whole file.
    pub name: &'static str,
    /// Its keys.
    pub keys: &'static [Key],
    pub(super) about: &'static [&'static str],
}

impl Key {
    /// One or two sentences for the format page.
    #[must_use]
    pub fn sentence(&self) -> String {
        joined(self.about)
    }
}

impl Section {
    /// A sentence for the format page.
    #[must_use]
    pub fn sentence(&self) -> String {
        joined(self.about)
    }

    /// The key of a name.
    #[must_use]
    pub fn key(&self, name: &str) -> Option<&'static Key> {
        self.keys.iter().find(|key| key.name == name || key.also == Some(name))
    }
}

fn joined(lines: &[&str]) -> String {
    lines.iter().map(|line| line.trim()).collect::<Vec<_>>().join(" ")
}
