//! How facts are written as lines, for the archive and for people: the one writer. The one reader is `read`.
//!
//! From form 2 on every id stands between quotes, so that no id can be taken for anything else. Form 1 wrote ids bare; it
//! is read for ever, with the help of the order in which it was written, and never written anew.

use std::collections::BTreeSet;

use crate::archive::stage::StageFacts;

use super::fact::{About, Aspect, Fact, FactValue, LayerFacts, PartFacts, Side};
use crate::units::{Length, Size, Style};

/// The form of archived requirements.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Form {
    /// Ids bare; few facts.
    One,
    /// Ids between quotes; texts, pictures, labels, limits and more.
    Two,
    /// Pieces that a step sets or puts in for a time, also in the open holes of another traveler.
    Three,
    /// Revisions of the procedures from which a step has the words that are the work.
    Four,
}

impl Form {
    /// The form in which sheets are issued now.
    pub const NEWEST: Self = Self::Four;

    /// Every form.
    pub const ALL: [Self; 4] = [Self::One, Self::Two, Self::Three, Self::Four];

    /// First line of the archived text.
    #[must_use]
    pub const fn title(self) -> &'static str {
        match self {
            Self::One => "shophead requirements 1",
            Self::Two => "shophead requirements 2",
            Self::Three => "shophead requirements 3",
            Self::Four => "shophead requirements 4",
        }
    }

    /// Whether ids stand between quotes.
    #[must_use]
    pub const fn is_quoted(self) -> bool {
        !matches!(self, Self::One)
    }

    /// The number that a digested requirement begins with; form 1 said nothing of it.
    #[must_use]
    pub(super) const fn number(self) -> Option<u32> {
        match self {
            Self::One => None,
            Self::Two => Some(2),
            Self::Three => Some(3),
            Self::Four => Some(4),
        }
    }
}

/// Who reads it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Written<'a> {
    /// The archive.
    Archived(Form),
    /// People, in the units of their project; a name has none.
    Shown(Option<&'a Style>),
}

impl Written<'_> {
    const fn is_quoted(self) -> bool {
        matches!(self, Self::Archived(form) if form.is_quoted())
    }
}

/// One fact as a line of the archive: aspect, name and value, the name unique among its facts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Side of the work.
    pub aspect: Aspect,
    /// What it is called.
    pub name: String,
    /// The value in its one exact form.
    pub value: String,
}

/// The facts of a step as lines, in their order.
#[must_use]
pub fn lines(facts: &[Fact], form: Form) -> Vec<Line> {
    let mut names: BTreeSet<String> = BTreeSet::new();
    let mut lines = Vec::with_capacity(facts.len());
    for fact in facts {
        let plain = name(&fact.about, Written::Archived(form));
        let mut nth = 1_u32;
        let mut own = plain.clone();
        while names.contains(&own) {
            nth += 1;
            own = numbered(&plain, nth, form);
        }
        names.insert(own.clone());
        let value = written(fact, Written::Archived(form));
        lines.push(Line { aspect: fact.about.aspect(), name: own, value });
    }
    lines
}

fn numbered(name: &str, nth: u32, form: Form) -> String {
    if form.is_quoted() { format!("{name} #{nth}") } else { format!("{name}, {nth}") }
}

/// What a fact is about, in words.
#[must_use]
pub fn shown_name(about: &About) -> String {
    name(about, Written::Shown(None))
}

/// The value of a fact in words: lengths and torques in the units of the bench.
#[must_use]
pub fn shown_value(fact: &Fact, style: &Style) -> String {
    written(fact, Written::Shown(Some(style)))
}

/// The value of a fact in its exact form, as data.
#[must_use]
pub fn exact_value(fact: &Fact) -> String {
    written(fact, Written::Archived(Form::One))
}

fn id(text: &str, form: Written<'_>) -> String {
    if form.is_quoted() { format!("\"{}\"", text.replace('"', "\"\"")) } else { text.to_owned() }
}

fn name(about: &About, form: Written<'_>) -> String {
    let own = |text: &str| id(text, form);
    let name = match about {
        About::After(traveler) => format!("after {}", own(traveler)),
        About::Departure(rule, None) => format!("departure {}", own(rule)),
        About::Departure(rule, Some((scope, at))) => format!("departure {} at {} {}", own(rule), scope.word(), own(at)),
        About::Kind => "do".to_owned(),
        About::Text => "text".to_owned(),
        About::Procedure(procedure) => format!("procedure {}", own(procedure)),
        About::View(view) if form.is_quoted() => format!("view {}", own(view)),
        About::View(view) => view.clone(),
        About::Picture => "picture".to_owned(),
        About::Part(part) => format!("part {}", own(part)),
        About::Layer(joint, layer) => format!("joint {} layer {layer}", own(joint)),
        About::Preparation(joint, layer) => format!("joint {} layer {layer} is", own(joint)),
        About::Joint(joint, side) => format!("joint {} {}", own(joint), side.word()),
        About::Kit(call, side) => format!("kit {} {}", own(call), side.word()),
        About::Record(record, side) => format!("record {} {}", own(record), side.word()),
        About::Hold => "hold".to_owned(),
        About::Witness => "witness".to_owned(),
        About::Stage(stage) => format!("stage {}", own(stage)),
        About::Photo => "photo".to_owned(),
        About::Needs(traveler, step) if form.is_quoted() => {
            format!("needs {} {}", own(traveler), own(step))
        }
        About::Needs(traveler, step) => format!("needs {traveler}/{step}"),
        About::Space(space) if form == Written::Archived(Form::One) => format!("zone {space}"),
        About::Space(space) => format!("space {}", own(space)),
        About::State(state) => format!("state {}", own(state)),
        About::Cure => "cure".to_owned(),
        About::CureLatest => "cure-latest".to_owned(),
        About::Other(_, name) => name.clone(),
    };
    // Form 1 separates name and value by ` = ` and has no quotes to hide one.
    if form == Written::Archived(Form::One) { name.replace(" = ", "=") } else { name }
}

const fn is_a_hole(about: &About) -> bool {
    matches!(about, About::Joint(_, Side::HoleStart | Side::HoleAfter | Side::Hole))
}

fn length(length: Length, form: Written<'_>) -> String {
    match form {
        Written::Shown(Some(style)) => style.length(length),
        Written::Shown(None) | Written::Archived(_) => format!("{} nm", length.nm()),
    }
}

fn written(fact: &Fact, form: Written<'_>) -> String {
    match &fact.value {
        FactValue::Kind(kind) => kind.word().to_owned(),
        FactValue::Text(text) => text.clone(),
        FactValue::Length(own) => match form {
            // Only a hole has the name of a drill.
            Written::Shown(Some(style)) if is_a_hole(&fact.about) => style.size(Size::plain(*own)),
            _ => length(*own, form),
        },
        FactValue::Count(count) => count.to_string(),
        FactValue::Torque(range) if let Written::Shown(Some(style)) = form => style.torques(*range),
        FactValue::Torque(range) => format!("{} to {} micro in-lb", range.low.micro(), range.high.micro()),
        FactValue::Ratio(ratio) if matches!(form, Written::Shown(_)) => format!("{ratio} D"),
        FactValue::Ratio(ratio) => format!("{} thousandths of D", ratio.0),
        FactValue::Minutes(minutes) => format!("{} min", minutes.0),
        FactValue::Limit(limit) => limit.to_string(),
        FactValue::Compared(own) if matches!(form, Written::Shown(_)) => own.limits.words(None, &own.other),
        FactValue::Compared(own) => format!("{}, {} to {}", id(&own.other, form), own.limits.low, own.limits.high),
        FactValue::Point(along, across) => format!("{}, {}", length(*along, form), length(*across, form)),
        FactValue::Range(least, most) => format!("{} to {}", length(*least, form), length(*most, form)),
        FactValue::Layer(layer) => layer_text(layer, form),
        FactValue::Part(part) => part_text(part, form),
        FactValue::LeftOpen(count, until) => format!("{count} until {}", id(until, form)),
        FactValue::Temporary(fastener, nut) => {
            let nut = nut.as_ref().map(|nut| format!(" with {}", id(nut, form))).unwrap_or_default();
            format!("{}{nut}", id(fastener, form))
        }
        FactValue::File(digest) if matches!(form, Written::Shown(_)) => format!("file {}", &digest.hex()[..8]),
        FactValue::File(digest) => digest.hex(),
        FactValue::Space(used) => used.word().to_owned(),
        FactValue::Stage(stage) => stage_text(stage, form),
        FactValue::Stated => stated(&fact.about).to_owned(),
    }
}

/// The word for what is stated and has no value of its own.
pub(super) const fn stated(about: &About) -> &'static str {
    match about {
        About::After(_) => "finished",
        About::Departure(..) => "allowed",
        About::View(_) => "cited",
        About::Photo => "asked for",
        About::Needs(..) => "done",
        _ => "stated",
    }
}

fn layer_text(layer: &LayerFacts, form: Written<'_>) -> String {
    let quoted = form.is_quoted();
    let word = |word: &str, text: &String| if quoted { format!("{word} {}", id(text, form)) } else { text.clone() };
    let part = layer.part.as_ref().map(|part| word("part", part));
    let material = layer.material.as_ref().map(|material| word("of", material));
    let thickness = layer.thickness.map(|thickness| format!("{} thick", length(thickness, form)));
    [part, material, thickness].into_iter().flatten().collect::<Vec<_>>().join(", ")
}

fn stage_text(stage: &StageFacts, form: Written<'_>) -> String {
    let list = |names: &[String]| names.iter().map(|name| id(name, form)).collect::<Vec<_>>().join(" and ");
    let said = |lead: &str, names: &[String]| (!names.is_empty()).then(|| format!("{lead} {}", list(names)));
    let other = stage.other.then(|| "none who did the work".to_owned());
    let outcomes = stage
        .outcomes
        .iter()
        .map(|(word, goes_on)| format!("outcome {} {}", id(word, form), if *goes_on { "goes on" } else { "stops" }));
    let who = [said("all of", &stage.all), said("one of", &stage.any), other, said("releases", &stage.releases)];
    who.into_iter().flatten().chain(outcomes).collect::<Vec<_>>().join(", ")
}

fn part_text(part: &PartFacts, form: Written<'_>) -> String {
    let material = part.material.as_ref().map(|material| format!(" of {}", id(material, form)));
    let thickness = part.thickness.map(|thickness| format!(", {} thick", length(thickness, form)));
    let bend = part.bend.map(|(angle, radius)| format!(", bent {angle} degrees at {}", length(radius, form)));
    [Some(part.quantity.to_string()), material, thickness, bend].into_iter().flatten().collect()
}
