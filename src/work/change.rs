//! CHANGE: what a revision of plans or specs does to work that is signed, step by step, with the reason.
//!
//! It compares what the archived sheets required with what the specs require now; wording is not compared, only
//! noticed. It decides no rework: where the work itself is touched, it asks.

mod compare;
mod comparison;
mod drawings;
mod hardware;
mod order;
mod rename;
mod unread;
mod weigh;
mod words;

use std::collections::BTreeMap;

use serde::Serialize;

pub use compare::{changes, outdated_sheets};
pub use drawings::{Touched, TouchedStep, register_touches};
pub use hardware::set_here;
pub use rename::{Renamed, Thing};
pub use unread::{Unread, tell_what_to_read, unread};

use super::space::Access;
use crate::archive::{About, Carried, Carry, Fact, SheetRequirement};
use crate::ident::SheetCode;
use crate::words::{Hand, PacketName};

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
    /// What it was done on has no namesake, and more than one new thing is like it: it is asked which.
    WhichOne,
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
            Self::WhichOne => "renamed? say which",
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
    /// The fact that was.
    #[serde(skip)]
    pub was: Option<Fact>,
    /// The fact that is.
    #[serde(skip)]
    pub is: Option<Fact>,
}

impl Difference {
    /// What it is about.
    #[must_use]
    pub fn about(&self) -> Option<&About> {
        self.is.as_ref().or(self.was.as_ref()).map(|fact| &fact.about)
    }
}

/// A recorded value against its old and new limits.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Measured {
    /// Id of the record.
    pub id: String,
    /// What is measured, in words.
    pub label: String,
    /// As recorded, with its unit; absent where only a tick was given.
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
    /// The name that it had, where it was renamed.
    pub was: Option<String>,
    /// Number on paper: the new one, or the old of a step that is gone.
    pub number: String,
    /// Title of the step.
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
    /// Whether the words changed that are the work.
    #[must_use]
    pub fn is_read_again(&self) -> bool {
        self.differences.iter().any(|own| matches!(own.about(), Some(About::Text | About::Procedure(_))))
    }

    /// Whether anything about the step changed.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        self.was.is_some()
            || !self.differences.is_empty()
            || self.reworded
            || !matches!(self.verdict, Verdict::Print | Verdict::Stands)
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
    /// Title of the traveler.
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
    /// What has another name and is the same otherwise.
    pub renamed: Vec<Renamed>,
    /// Kinds of facts that were not recorded when the sheet was issued, and are therefore not compared.
    pub not_recorded: Vec<&'static str>,
    /// Whether words of the print changed that are no step's own: titles, names, cautions.
    pub reworded: bool,
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

    /// Whether anything about the sheet or its print changed.
    #[must_use]
    pub fn is_changed(&self) -> bool {
        self.is_replaced() || self.reworded || self.steps.iter().any(StepChange::is_changed)
    }
}
