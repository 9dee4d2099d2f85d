//! A tool as a step names it: whether it is one of those that follow from the joints, and the sizes that it names.
//!
//! It reads the words of the trade in plain English; a name that it does not know stays as it is.

use crate::hardware::SheetHolder;
use crate::units::{Length, Size, Unit};

/// Tools that follow from the joints.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Sort {
    Drill,
    Reamer,
    Countersink,
    Dies,
    CuppedSet,
    FlushSet,
    Bar,
    Puller,
    Holder,
    /// What holds layers where no sheet holder fits; no step names it so.
    Other,
}

/// A tool that a step names.
#[derive(Debug)]
pub(super) struct Typed {
    pub(super) text: String,
    /// What it may be; nothing for a tool that does not follow from joints.
    pub(super) sorts: Vec<Sort>,
    /// The sizes in its name.
    pub(super) lengths: Vec<Length>,
    /// The name without its size, where it has one size; a sheet holder keeps it, for its size is its name.
    pub(super) label: String,
}

impl Typed {
    pub(super) fn read(text: &str, unit: Unit) -> Self {
        let sorts = sorts_of(text, unit);
        // A countersink names its pilot, a bar and a puller themselves.
        let is_sized = |sort: &Sort| !matches!(sort, Sort::Countersink | Sort::Bar | Sort::Puller);
        let sizes = if sorts.iter().any(is_sized) { sizes(text, unit) } else { Vec::new() };
        let is_holder = sorts.contains(&Sort::Holder);
        let label = match sizes.as_slice() {
            [(word, _)] if !is_holder => without(text, word),
            _ => text.to_owned(),
        };
        let own = |length: Length| {
            if is_holder { SheetHolder::named(length).map_or(length, SheetHolder::rivet) } else { length }
        };
        Self {
            text: text.to_owned(),
            lengths: sizes.into_iter().map(|(_, length)| own(length)).collect(),
            sorts,
            label,
        }
    }

    /// Whether its name gives this size.
    pub(super) fn is_sized(&self, length: Option<Length>) -> bool {
        length.is_some_and(|length| self.lengths.contains(&length))
    }

    /// Whether it may be the tool of this size: it names that one, or none.
    pub(super) fn fits(&self, length: Option<Length>) -> bool {
        self.lengths.is_empty() || length.is_none() || self.is_sized(length)
    }
}

/// Whether what stands in place of a reading's tool says that it is reckoned: `from the two readings`.
pub(super) fn is_reckoned(text: &str) -> bool {
    let words = text.to_lowercase();
    words
        .split(|c: char| !c.is_alphanumeric())
        .any(|word| matches!(word, "readings" | "reckoned" | "calculated" | "computed"))
}

fn sorts_of(text: &str, unit: Unit) -> Vec<Sort> {
    let small = text.to_lowercase();
    let words: Vec<&str> = small.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let has = |wanted: &[&str]| wanted.iter().any(|wanted| words.contains(wanted));
    if has(&["holder", "holders"]) && has(&["sheet"]) {
        vec![Sort::Holder]
    } else if has(&["reamer", "reamers"]) {
        vec![Sort::Reamer]
    } else if has(&["countersink", "microstop"]) {
        vec![Sort::Countersink]
    } else if has(&["dimple", "dimpling"]) && has(&["die", "dies"]) {
        vec![Sort::Dies]
    } else if has(&["puller"]) {
        vec![Sort::Puller]
    } else if has(&["set", "sets"]) {
        match (has(&["cupped", "universal"]), has(&["flush", "flat", "swivel"])) {
            (true, false) => vec![Sort::CuppedSet],
            (false, true) => vec![Sort::FlushSet],
            // One that does not say serves either.
            (true, true) | (false, false) => vec![Sort::CuppedSet, Sort::FlushSet],
        }
    } else if has(&["bar", "bars"]) && !has(&MEASURES) {
        vec![Sort::Bar]
    } else if words.first() == Some(&"drill") && sizes(text, unit).len() == 1 && words.len() <= 3 {
        // "drill press" and "drill guide block" are no drills.
        vec![Sort::Drill]
    } else {
        Vec::new()
    }
}

/// Words of bars that are laid against work or clamp it, not held against rivets.
const MEASURES: [&str; 5] = ["straight", "ground", "centre", "boring", "clamps"];

/// The sizes in a name, with the word of each: fractions, drills, decimals in the project's `unit` where they name none; a whole number is a count or an angle.
fn sizes(text: &str, unit: Unit) -> Vec<(&str, Length)> {
    let words = text.split([' ', ',']).filter(|word| !word.is_empty());
    let sized = words.filter(|word| word.contains(['/', '#', '.']) && word.contains(|c: char| c.is_ascii_digit()));
    let of = |word: &str| {
        if text.contains(&format!("{word} mm")) {
            Unit::Mm
        } else if word.contains('/') || text.contains(&format!("{word} in")) {
            Unit::Inch
        } else {
            unit
        }
    };
    sized.filter_map(|word| Size::parse(word, of(word)).ok().map(|size| (word, size.length))).collect()
}

/// A name without the word of its size and what belongs to it.
fn without(text: &str, word: &str) -> String {
    let cut = [format!(" {word} mm"), format!(" {word} in"), format!(" {word}")];
    let cut = cut.iter().find(|cut| text.contains(cut.as_str()));
    cut.map_or_else(|| text.to_owned(), |cut| text.replacen(cut.as_str(), "", 1))
}
