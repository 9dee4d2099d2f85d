//! Differences as people read them: the one place where typed facts become words.
//!
//! The exact values stay in the data; this is for paper and messages only.

use super::Difference;
use crate::archive::{About, Aspect, Fact, FactValue, KitSide, RecordSide, Side, exact_value, shown_name, shown_value};
use crate::units::{Style, counted};

/// A difference of two facts of one name, of which one may be missing; `about` is that of either.
pub(super) fn difference(line: &str, about: &About, was: Option<&Fact>, is: Option<&Fact>) -> Difference {
    let plain = shown_name(about);
    // A second washer says that it is the second.
    let nth = line.rsplit_once(" #").or_else(|| line.rsplit_once(", ")).map(|(_, nth)| nth);
    let nth = nth.filter(|nth| !nth.is_empty() && nth.bytes().all(|b| b.is_ascii_digit()) && !plain.ends_with(nth));
    Difference {
        aspect: about.aspect().word(),
        name: nth.map_or_else(|| plain.clone(), |nth| format!("{plain}, {nth}")),
        old: was.map(exact_value),
        new: is.map(exact_value),
        was: was.cloned(),
        is: is.cloned(),
    }
}

/// A difference as one clause.
#[must_use]
pub(super) fn of(difference: &Difference, style: &Style) -> String {
    let name = &difference.name;
    if let (Some(About::Joint(joint, Side::Count)), Some((was, is))) = (difference.about(), counts(difference)) {
        return format!("joint {joint} has {} now, {was} before", fasteners(is));
    }
    let shown = |fact: &Fact| {
        let value = shown_value(fact, style);
        match fact.about {
            // A text of several lines stands in one.
            About::Text => format!("\"{}\"", value.split_whitespace().collect::<Vec<_>>().join(" ")),
            About::Procedure(_) => format!("revision {value}"),
            _ => value,
        }
    };
    match (&difference.was, &difference.is) {
        (Some(was), Some(is)) => format!("{name} is now {}, was {}", shown(is), shown(was)),
        (None, Some(is)) => format!("{name} is new: {}", shown(is)),
        (Some(was), None) => format!("{name} is gone, was {}", shown(was)),
        (None, None) => name.clone(),
    }
}

fn fasteners(count: u32) -> String {
    counted(count, "fastener", "fasteners")
}

/// The numbers before and now, where both are counts.
pub(super) fn counts(difference: &Difference) -> Option<(u32, u32)> {
    let count = |fact: &Option<Fact>| match fact.as_ref().map(|fact| &fact.value) {
        Some(FactValue::Count(count)) => Some(*count),
        _ => None,
    };
    Some((count(&difference.was)?, count(&difference.is)?))
}

/// What a signed step still lacks, or has too many of: `2 more; 18 are done`.
pub(super) fn more((done, now): (u32, u32)) -> String {
    if now > done {
        format!("{} more; {done} are done", now - done)
    } else {
        format!("{} of {done} are too many", done - now)
    }
}

impl Difference {
    /// By how many fasteners a joint has more now than before, and how many that was; nothing where it has none more.
    #[must_use]
    pub fn more_fasteners(&self, of: &str) -> Option<(u32, u32)> {
        let Some(About::Joint(joint, Side::Count)) = self.about() else { return None };
        let (was, is) = counts(self)?;
        (joint == of && is > was).then(|| (is - was, was))
    }

    /// What it was, as one clause; nothing where it is new.
    #[must_use]
    pub fn was_words(&self, style: &Style) -> Option<String> {
        self.was.as_ref().map(|fact| self.side_words(fact, style))
    }

    /// What it is, as one clause; nothing where it is gone.
    #[must_use]
    pub fn is_words(&self, style: &Style) -> Option<String> {
        self.is.as_ref().map(|fact| self.side_words(fact, style))
    }

    fn side_words(&self, fact: &Fact, style: &Style) -> String {
        match (&fact.about, &fact.value) {
            (About::Joint(joint, Side::Count), FactValue::Count(count)) => {
                format!("joint {joint}: {}", fasteners(*count))
            }
            _ => format!("{} {}", self.name, shown_value(fact, style)),
        }
    }
}

/// The kind of a fact, for telling which kinds an older sheet did not record.
pub(super) const fn kind(about: &About) -> &'static str {
    match about {
        About::Text => "texts of steps without joints",
        About::Procedure(_) => "revisions of procedures",
        About::Stage(_) => "stages",
        About::Picture => "pictures",
        About::Kit(_, KitSide::Source) => "sources of kit hardware",
        About::Kit(..) => "numbers of kit hardware",
        About::Record(_, RecordSide::Label) => "labels of readings",
        About::Record(_, RecordSide::Tool) => "instruments",
        About::Record(_, RecordSide::Less) => "comparisons of readings",
        About::Joint(_, Side::HeadForm) => "form of heads",
        About::Joint(_, Side::HoleStart) => "holes as delivered",
        About::Joint(_, Side::Temporary | Side::PutIn) => "fit-up hardware",
        About::Joint(_, Side::SetHere) => "pieces that each step sets",
        About::Joint(_, Side::RunDown) => "run-down torques",
        About::Joint(_, Side::Edge | Side::Pitch | Side::Rows | Side::RowGap) => "edges and spacing",
        About::Joint(_, side) if matches!(side.aspect(), Aspect::Judged) => "structure, limits and conditions of use",
        _ => "what else a step requires",
    }
}
