//! CHANGE: what a revision of plans or specs does to work that is signed, step by step, with the reason.
//!
//! It compares what the archived sheets required with what the specs require now; wording is not compared, only
//! noticed. It decides no rework: where the work itself is touched, it asks.

mod class;
mod order;
mod register;
mod tally;
pub(super) mod words;
mod zone;

use std::collections::BTreeMap;

use serde::Serialize;

pub use register::{Touched, TouchedStep, register_touches};
pub use words::{of as difference_words, shown};
pub use zone::{Access, Reopening, access, closing_signatures};

use super::requirement::sheet_requirement;
use crate::archive::{Aspect, Carried, Carry, Field, Issue, SheetRequirement, Signature, State, StepRequirement};
use crate::ident::SheetCode;
use crate::job::{Hand, Item, Job, StepRef, operation};
use crate::words::PacketName;

/// The archived requirements by sheet code.
pub type Archived = BTreeMap<SheetCode, SheetRequirement>;

/// What becomes of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Verdict {
    /// Not done: printed as it is now.
    Print,
    /// Not done and no longer there.
    Drop,
    /// The signature stands.
    Stands,
    /// It stands, because the recorded number meets the new limit.
    StandsByRecord,
    /// It stands after one read-through of the change note.
    StandsAfterReading,
    /// Somebody looks or measures again.
    LookAgain,
    /// New among steps that are done.
    Retrofit,
    /// Done and no longer there: is it to be undone?
    UndoOrKeep,
    /// The work itself is touched: rework, or ask whether it may stay.
    ReworkOrAsk,
}

impl Verdict {
    /// How the signature goes on, where it does.
    #[must_use]
    pub const fn carry(self) -> Option<Carry> {
        match self {
            Self::Stands => Some(Carry::Stands),
            Self::StandsByRecord => Some(Carry::ByRecord),
            Self::StandsAfterReading => Some(Carry::ReadThrough),
            _ => None,
        }
    }

    /// As people say it.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Print => "not done: print",
            Self::Drop => "not done: gone",
            Self::Stands => "stands",
            Self::StandsByRecord => "stands by record",
            Self::StandsAfterReading => "stands after one read-through",
            Self::LookAgain => "look again",
            Self::Retrofit => "retrofit",
            Self::UndoOrKeep => "gone from the plans: undo or keep?",
            Self::ReworkOrAsk => "rework or ask",
        }
    }
}

/// One requirement that is not what it was.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Difference {
    /// Side of the work.
    pub aspect: &'static str,
    /// What it is called.
    pub name: String,
    /// What it was; absent where it is new.
    pub old: Option<String>,
    /// What it is; absent where it is gone.
    pub new: Option<String>,
}

/// A recorded value against its old and new limits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Measured {
    /// Id of the record.
    pub id: String,
    /// As recorded; absent where only a tick was given.
    pub reading: Option<String>,
    /// Limits before.
    pub old: Option<String>,
    /// Limits now.
    pub new: Option<String>,
}

/// Who signed a step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct DoneBy {
    /// The signature's entry.
    pub entry: u32,
    /// Initials.
    pub by: String,
    /// Day of the work.
    pub worked: String,
    /// The sheet on which it stands.
    pub sheet: Option<String>,
}

/// What becomes of one step.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct StepChange {
    /// Stable name.
    pub step: String,
    /// Number on paper: the new one, or the old of a step that is gone.
    pub number: String,
    /// Title.
    pub title: String,
    /// What becomes of it.
    pub verdict: Verdict,
    /// Why, one sentence each.
    pub reasons: Vec<String>,
    /// What is not what it was.
    pub differences: Vec<Difference>,
    /// Whether words changed.
    pub reworded: bool,
    /// Who signed it.
    pub done: Option<DoneBy>,
    /// Recorded values whose limits changed.
    pub measured: Vec<Measured>,
    /// Signed steps on the same holes and parts that would have to be done again after a rework.
    pub then_again: Vec<String>,
    /// Spaces that are needed for a retrofit, a look or a rework, with their access.
    pub access: Vec<Access>,
}

impl StepChange {
    /// Whether anything about the step changed.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        !self.differences.is_empty() || self.reworded || !matches!(self.verdict, Verdict::Print | Verdict::Stands)
    }
}

/// What becomes of one sheet in force.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct SheetChange {
    /// Id of the traveler.
    pub traveler: String,
    /// The hand.
    pub hand: Option<Hand>,
    /// Title.
    pub title: String,
    /// Code of the sheet in force.
    pub old: String,
    /// Code of the sheet in its place; absent where the traveler is gone.
    pub new: Option<String>,
    /// Revision before and now.
    pub revisions: (String, String),
    /// Drawing sheets whose revision changed: sheet, before, now.
    pub drawings: Vec<(String, String, String)>,
    /// What changed for the sheet as a whole.
    pub whole: Vec<Difference>,
    /// Its steps in the new order, then those that are gone.
    pub steps: Vec<StepChange>,
    /// Hardware and parts: call, and by how many more or fewer.
    pub hardware: Vec<(String, i64)>,
    /// Signatures that go on.
    #[serde(skip)]
    pub carried: Vec<Carried>,
}

impl SheetChange {
    /// The packet that changes.
    #[must_use]
    pub fn packet(&self) -> PacketName {
        PacketName::new(self.traveler.as_str(), self.hand)
    }

    /// Whether the sheet on the bench must be replaced.
    #[must_use]
    pub fn is_replaced(&self) -> bool {
        self.new.as_ref() != Some(&self.old)
    }
}

/// What one comparison rests on.
struct Comparison<'a> {
    job: &'a Job,
    state: &'a State,
    issue: &'a Issue,
    old: &'a SheetRequirement,
    new: &'a SheetRequirement,
    index: usize,
    hand: Option<Hand>,
}

/// What has changed since the sheets in force were issued, sheet by sheet; sheets without any change are left out.
#[must_use]
pub fn changes(job: &Job, state: &State, archived: &Archived) -> Vec<SheetChange> {
    let lives = job.space_lives();
    let sheets = state.all_in_force().filter_map(|issue| Some((issue, archived.get(&issue.issued.sheet)?)));
    let mut changes: Vec<SheetChange> = sheets
        .filter_map(|(issue, old)| {
            let Some((index, hand)) = find(job, issue) else { return Some(gone(state, issue, old)) };
            let new = sheet_requirement(job, index, hand);
            let comparison = Comparison { job, state, issue, old, new: &new, index, hand };
            Some(compare(&comparison, &lives))
                .filter(|change| change.is_replaced() || change.steps.iter().any(StepChange::is_changed))
        })
        .collect();
    changes.sort_by(|a, b| (&a.traveler, &a.hand).cmp(&(&b.traveler, &b.hand)));
    changes
}

/// The traveler and hand of a sheet in the specs as they are now.
fn find(job: &Job, issue: &Issue) -> Option<(usize, Option<Hand>)> {
    let index = job.travelers.iter().position(|traveler| traveler.id.value == issue.issued.traveler)?;
    let hand = job.hands_of(index).into_iter().find(|hand| *hand == issue.issued.hand)?;
    Some((index, hand))
}

/// The sheets in force whose requirements are no longer those of the specs: traveler, hand and code.
#[must_use]
pub fn outdated_sheets(job: &Job, state: &State) -> Vec<String> {
    let outdated = |issue: &&Issue| match find(job, issue) {
        Some((index, hand)) => sheet_requirement(job, index, hand).code() != issue.issued.sheet,
        // A traveler whose file cannot be read is no revision.
        None => job.unread == 0,
    };
    let name = |issue: &Issue| format!("{} {}", issue.issued.packet(), issue.issued.sheet);
    state.all_in_force().filter(outdated).map(name).collect()
}

/// The signature that says that a step is done, with how it came to the sheet in force.
fn done<'a>(state: &'a State, issue: &Issue, step: &str) -> Option<(&'a Signature, Carry)> {
    let issued = &issue.issued;
    let mut counting = state.counting(&issued.item(step));
    counting.find(|(signature, _)| signature.signed.capacity == crate::archive::Capacity::Done)
}

fn done_by(signature: &Signature) -> DoneBy {
    DoneBy {
        entry: signature.entry.0,
        by: signature.signed.by.clone(),
        worked: signature.signed.worked.to_string(),
        sheet: signature.sheet().map(|code| code.to_string()),
    }
}

fn compare(with: &Comparison<'_>, lives: &BTreeMap<crate::job::Space, crate::job::SpaceLife>) -> SheetChange {
    let reads_again = reads_again(with);
    let kept = with.new.steps.iter().map(|step| match with.old.step(&step.id) {
        Some(old) => kept_step(with, old, step, &reads_again),
        None => order::inserted_step(with, step),
    });
    let mut steps: Vec<StepChange> = kept.collect();
    steps.extend(
        with.old
            .steps
            .iter()
            .filter(|old| with.new.step(&old.id).is_none())
            .map(|old| gone_step(with.state, with.issue, old)),
    );
    for step in &mut steps {
        zone::add_access(with, lives, step);
    }
    let carried = steps.iter().flat_map(|step| carried(with, step)).collect();
    let issued = &with.issue.issued;
    SheetChange {
        traveler: issued.traveler.clone(),
        hand: issued.hand,
        title: with.job.travelers[with.index].title.value.clone(),
        old: issued.sheet.to_string(),
        new: Some(with.new.code().to_string()),
        revisions: (with.old.revision.clone(), with.new.revision.clone()),
        drawings: drawings(with.old, with.new),
        whole: differences(&with.old.fields, &with.new.fields),
        steps,
        hardware: tally::difference(Some(with.old), Some(with.new)),
        carried,
    }
}

/// Why every signature of a sheet waits for one read-through, where it does: the drawings or the whole sheet changed.
fn reads_again(with: &Comparison<'_>) -> Vec<String> {
    let drawings = drawings(with.old, with.new).into_iter();
    let mut reasons: Vec<String> = drawings
        .map(|(sheet, old, new)| {
            format!("drawing {sheet} is now at revision {new}, was {old}; nothing in this step changed")
        })
        .collect();
    for difference in differences(&with.old.fields, &with.new.fields) {
        reasons.push(format!("for the whole sheet: {}", words::of(&difference)));
    }
    reasons
}

fn kept_step(
    with: &Comparison<'_>,
    old: &StepRequirement,
    new: &StepRequirement,
    reads_again: &[String],
) -> StepChange {
    let differences = differences(&old.fields, &new.fields);
    let done = done(with.state, with.issue, &old.id);
    let (mut verdict, mut reasons, mut measured) = (Verdict::Print, Vec::new(), Vec::new());
    if let Some((signature, how)) = done {
        let facts = class::Facts { with, signature, old, new };
        let weighed = class::weigh(&facts, &differences);
        (verdict, reasons, measured) = (weighed.verdict, weighed.reasons, weighed.measured);
        let order = order::moved(with, &new.id, signature);
        reasons.extend(order.1);
        verdict = verdict.max(order.0);
        if !reads_again.is_empty() && verdict < Verdict::StandsAfterReading {
            verdict = Verdict::StandsAfterReading;
            reasons.extend(reads_again.iter().cloned());
        }
        if how == Carry::ReadThrough && with.issue.read_through.is_none() && verdict < Verdict::StandsAfterReading {
            verdict = Verdict::StandsAfterReading;
            reasons.push("the change note of the sheet before has not been read".to_owned());
        }
    }
    let reworded = old.wording != new.wording;
    if done.is_some() && reasons.is_empty() {
        let revisions = (&with.old.revision, &with.new.revision);
        reasons.push(if reworded {
            "only words changed".to_owned()
        } else {
            format!("reviewed against revision {}: no change", revisions.1)
        });
    }
    StepChange {
        step: new.id.clone(),
        number: operation(new.number),
        title: new.title.clone(),
        verdict,
        reasons,
        then_again: if verdict == Verdict::ReworkOrAsk {
            order::then_again(with, &new.id, &differences)
        } else {
            Vec::new()
        },
        differences,
        reworded,
        done: done.map(|(signature, _)| done_by(signature)),
        measured,
        access: Vec::new(),
    }
}

fn gone_step(state: &State, issue: &Issue, old: &StepRequirement) -> StepChange {
    let done = done(state, issue, &old.id).map(|(signature, _)| done_by(signature));
    let (verdict, reason) = match done {
        Some(_) => (Verdict::UndoOrKeep, "the step is done and no longer in the plans; its record is kept"),
        None => (Verdict::Drop, "the step is no longer in the plans"),
    };
    StepChange {
        step: old.id.clone(),
        number: operation(old.number),
        title: old.title.clone(),
        verdict,
        reasons: vec![reason.to_owned()],
        differences: Vec::new(),
        reworded: false,
        done,
        measured: Vec::new(),
        then_again: Vec::new(),
        access: Vec::new(),
    }
}

/// A sheet whose traveler or hand is no longer in the specs.
fn gone(state: &State, issue: &Issue, old: &SheetRequirement) -> SheetChange {
    SheetChange {
        traveler: issue.issued.traveler.clone(),
        hand: issue.issued.hand,
        title: issue.issued.title.clone(),
        old: issue.issued.sheet.to_string(),
        new: None,
        revisions: (old.revision.clone(), String::new()),
        drawings: Vec::new(),
        whole: Vec::new(),
        steps: old.steps.iter().map(|step| gone_step(state, issue, step)).collect(),
        hardware: tally::difference(Some(old), None),
        carried: Vec::new(),
    }
}

/// The signatures of a step that go on under the new sheet.
fn carried(with: &Comparison<'_>, step: &StepChange) -> Vec<Carried> {
    let issued = &with.issue.issued;
    let Some(how) = step.verdict.carry() else { return Vec::new() };
    let counting = with.state.counting(&issued.item(&step.step));
    counting.map(|(signature, _)| Carried { entry: signature.entry, how, step: step.step.clone() }).collect()
}

/// Fields that are not what they were, by name; the new order first.
fn differences(old: &[Field], new: &[Field]) -> Vec<Difference> {
    let value = |list: &[Field], field: &Field| {
        list.iter().find(|other| other.name == field.name).map(|other| other.value.clone())
    };
    let difference = |field: &Field, old: Option<String>, new: Option<String>| Difference {
        aspect: field.aspect.word(),
        name: field.name.clone(),
        old,
        new,
    };
    let changed = new.iter().filter_map(|field| {
        let before = value(old, field);
        (before.as_ref() != Some(&field.value)).then(|| difference(field, before, Some(field.value.clone())))
    });
    let gone = old
        .iter()
        .filter(|field| value(new, field).is_none())
        .map(|field| difference(field, Some(field.value.clone()), None));
    changed.chain(gone).collect()
}

fn drawings(old: &SheetRequirement, new: &SheetRequirement) -> Vec<(String, String, String)> {
    let split = |list: &[String]| -> BTreeMap<String, String> {
        let pairs = list
            .iter()
            .map(|cited| cited.split_once(':').map_or((cited.as_str(), "none"), |(sheet, revision)| (sheet, revision)));
        pairs.map(|(sheet, revision)| (sheet.to_owned(), revision.to_owned())).collect()
    };
    let (old, new) = (split(&old.drawings), split(&new.drawings));
    let sheets: std::collections::BTreeSet<&String> = old.keys().chain(new.keys()).collect();
    let revision = |list: &BTreeMap<String, String>, sheet: &String| {
        list.get(sheet).cloned().unwrap_or_else(|| "not cited".to_owned())
    };
    let pairs = sheets.into_iter().map(|sheet| (sheet.clone(), revision(&old, sheet), revision(&new, sheet)));
    pairs.filter(|(_, old, new)| old != new).collect()
}

impl Comparison<'_> {
    /// The item of a step by name, in the specs as they are now.
    fn item(&self, step: &str) -> Option<Item> {
        let at = self.job.travelers[self.index].steps.iter().position(|own| own.id.value == step)?;
        Some(Item { at: StepRef { traveler: self.index, step: at }, hand: self.hand })
    }
}

/// The aspect of a word, for differences.
fn aspect(difference: &Difference) -> Aspect {
    Aspect::ALL.iter().copied().find(|aspect| aspect.word() == difference.aspect).unwrap_or(Aspect::Work)
}
