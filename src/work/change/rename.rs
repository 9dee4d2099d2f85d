//! Renames: a name is gone, and exactly one new thing requires the same; it is the same thing.
//!
//! With more than one candidate nothing is guessed: the question is kept, and the signatures wait for an answer.

use std::collections::{BTreeMap, BTreeSet};

use serde::Serialize;

use crate::archive::{About, Fact, FactValue, Scope, SheetRequirement, StepRequirement, fact_lines};

/// What may have another name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Thing {
    /// A part.
    Part,
    /// A space.
    Space,
    /// A joint.
    Joint,
    /// A value to be measured.
    Record,
    /// A step.
    Step,
}

impl Thing {
    /// In the order in which names are taken back: joints lie in parts, steps hold all of them.
    const ALL: [Self; 5] = [Self::Part, Self::Space, Self::Joint, Self::Record, Self::Step];

    const fn word(self) -> &'static str {
        match self {
            Self::Part => "part",
            Self::Space => "space",
            Self::Joint => "joint",
            Self::Record => "record",
            Self::Step => "step",
        }
    }
}

/// Something that has another name and is the same otherwise.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Renamed {
    /// What it is.
    pub thing: Thing,
    /// Its id on the sheet in force.
    pub was: String,
    /// Its id now.
    pub now: String,
}

impl Renamed {
    /// `joint J1 is now J9`.
    #[must_use]
    pub fn words(&self) -> String {
        format!("{} {} is now {}", self.thing.word(), self.was, self.now)
    }
}

/// A name that is gone, with everything that may have taken its place.
#[derive(Debug, Clone, PartialEq, Eq)]
struct Question {
    thing: Thing,
    was: String,
    candidates: Vec<String>,
}

/// What was renamed from one sheet to the other.
#[derive(Debug, Clone, Default)]
pub(super) struct Names {
    pub renamed: Vec<Renamed>,
    questions: Vec<Question>,
}

impl Names {
    /// The new name of something.
    pub fn now(&self, thing: Thing, was: &str) -> Option<&str> {
        self.renamed.iter().find(|own| own.thing == thing && own.was == was).map(|own| own.now.as_str())
    }

    /// What is asked of a name that is gone.
    pub fn question(&self, thing: Thing, was: &str) -> Option<String> {
        let own = self.questions.iter().find(|own| own.thing == thing && own.was == was)?;
        let candidates = own.candidates.join(", ");
        Some(format!("{} {was} is gone and {candidates} require the same: which of them is it now?", thing.word()))
    }

    /// What is asked of something that a fact names, be it gone or one of the candidates.
    pub fn question_of(&self, fact: &Fact) -> Option<String> {
        let fits = |own: &&Question| {
            let named = names(fact, own.thing);
            named.contains(own.was.as_str())
                || own.candidates.iter().any(|candidate| named.contains(candidate.as_str()))
        };
        let own = self.questions.iter().find(fits)?;
        self.question(own.thing, &own.was)
    }

    /// The renames that a step, under the old names, has to do with.
    pub fn said_of(&self, step: &StepRequirement) -> Vec<String> {
        let touches = |own: &&Renamed| match own.thing {
            Thing::Step => step.id == own.was,
            thing => step.facts.iter().any(|fact| names(fact, thing).contains(own.was.as_str())),
        };
        self.renamed.iter().filter(touches).map(Renamed::words).collect()
    }
}

/// What a fact is about by name.
fn named(about: &About) -> Option<(Thing, &str)> {
    match about {
        About::Part(id) => Some((Thing::Part, id)),
        About::Space(id) => Some((Thing::Space, id)),
        About::Record(id, _) => Some((Thing::Record, id)),
        other => Some((Thing::Joint, other.joint()?)),
    }
}

/// The names of one kind that a fact uses.
fn names(fact: &Fact, thing: Thing) -> BTreeSet<&str> {
    let mut found = BTreeSet::new();
    if let Some((_, id)) = named(&fact.about).filter(|(own, _)| *own == thing) {
        found.insert(id);
    }
    match (&fact.about, &fact.value) {
        (_, FactValue::Layer(layer)) if thing == Thing::Part => found.extend(layer.part.as_deref()),
        (_, FactValue::Compared(own)) if thing == Thing::Record => found.extend([own.other.as_str()]),
        (About::Departure(_, Some((scope, id))), _) => {
            found.extend((of_scope(*scope) == thing).then_some(id.as_str()));
        }
        _ => {}
    }
    found
}

const fn of_scope(scope: Scope) -> Thing {
    match scope {
        Scope::Joint => Thing::Joint,
        Scope::Step => Thing::Step,
        Scope::Part => Thing::Part,
    }
}

/// The fact with one name in the place of another.
fn with_name(fact: &Fact, thing: Thing, from: &str, to: &str) -> Fact {
    let mut fact = fact.clone();
    let put = |id: &mut String| {
        if id == from {
            to.clone_into(id);
        }
    };
    match (&mut fact.about, thing) {
        (About::Part(id), Thing::Part)
        | (About::Space(id), Thing::Space)
        | (About::Record(id, _), Thing::Record)
        | (About::Joint(id, _) | About::Layer(id, _) | About::Preparation(id, _), Thing::Joint) => put(id),
        (About::Departure(_, Some((scope, id))), thing) if of_scope(*scope) == thing => put(id),
        _ => {}
    }
    if let (FactValue::Compared(own), Thing::Record) = (&mut fact.value, thing) {
        put(&mut own.other);
    }
    if let (FactValue::Layer(layer), Thing::Part) = (&mut fact.value, thing)
        && let Some(part) = &mut layer.part
    {
        put(part);
    }
    fact
}

/// All facts of a sheet, each with its step; the sheet's own have none.
fn all_facts(sheet: &SheetRequirement) -> impl Iterator<Item = (&str, &Fact)> {
    let own = sheet.facts.iter().map(|fact| ("", fact));
    own.chain(sheet.steps.iter().flat_map(|step| step.facts.iter().map(|fact| (step.id.as_str(), fact))))
}

/// The step that a name belongs to, empty where it belongs to the whole sheet, and the name.
type Name = (String, String);

/// Every name of one kind with all that the sheet requires of it, the name itself left out.
fn profiles(sheet: &SheetRequirement, thing: Thing) -> BTreeMap<Name, Vec<Name>> {
    let mut profiles: BTreeMap<Name, Vec<Name>> = BTreeMap::new();
    if thing == Thing::Step {
        for step in &sheet.steps {
            let lines = fact_lines(&step.facts, sheet.form).into_iter().map(|line| (line.name, line.value));
            profiles.insert((String::new(), step.id.clone()), lines.collect());
        }
        return profiles;
    }
    for (step, fact) in all_facts(sheet) {
        for id in names(fact, thing) {
            let anonymous = with_name(fact, thing, id, "");
            let line = fact_lines(std::slice::from_ref(&anonymous), sheet.form).swap_remove(0);
            let owner = if thing == Thing::Record { step } else { "" };
            let lines = profiles.entry((owner.to_owned(), id.to_owned())).or_default();
            lines.push((format!("{step}: {}", line.name), line.value));
        }
    }
    profiles
}

/// Finds what was renamed and puts the old names into the new requirement.
pub(super) fn take_back(old: &SheetRequirement, new: &mut SheetRequirement) -> Names {
    let mut all = Names::default();
    for thing in Thing::ALL {
        let before = profiles(old, thing);
        let after = profiles(new, thing);
        let gone = || before.iter().filter(|(name, _)| !after.contains_key(*name));
        for ((owner, was), facts) in gone() {
            let fits =
                |(name, own): &(&Name, &Vec<Name>)| name.0 == *owner && !before.contains_key(*name) && *own == facts;
            let candidates: Vec<&String> = after.iter().filter(fits).map(|((_, id), _)| id).collect();
            let twins = gone().filter(|((other, _), own)| other == owner && *own == facts).count();
            match candidates.as_slice() {
                [] => {}
                [now] if twins == 1 => {
                    put_back(new, thing, owner, now, was);
                    all.renamed.push(Renamed { thing, was: was.clone(), now: (*now).clone() });
                }
                several => {
                    let candidates = several.iter().map(|id| (*id).clone()).collect();
                    all.questions.push(Question { thing, was: was.clone(), candidates });
                }
            }
        }
    }
    all
}

/// Puts an old name into the place of a new one.
fn put_back(sheet: &mut SheetRequirement, thing: Thing, owner: &str, now: &str, was: &str) {
    for fact in &mut sheet.facts {
        *fact = with_name(fact, thing, now, was);
    }
    for step in sheet.steps.iter_mut().filter(|step| owner.is_empty() || step.id == owner) {
        if thing == Thing::Step && step.id == now {
            was.clone_into(&mut step.id);
        }
        for fact in &mut step.facts {
            *fact = with_name(fact, thing, now, was);
        }
    }
}

/// Puts the old names of renamed steps, of whatever traveler, into what steps need.
pub(super) fn needed_steps(sheet: &mut SheetRequirement, renamed: &BTreeMap<(String, String), String>) {
    for fact in sheet.steps.iter_mut().flat_map(|step| &mut step.facts) {
        if let About::Needs(traveler, step) = &mut fact.about
            && let Some(was) = renamed.get(&(traveler.clone(), step.clone()))
        {
            step.clone_from(was);
        }
    }
}
