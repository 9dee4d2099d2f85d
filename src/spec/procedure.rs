//! Procedures as data: the built-in one of each kind of step, and what a project writes in `[[procedure]]`.
//!
//! It refuses a text of more than three lines. Which step is done by which procedure is for resolving.

use std::sync::LazyLock;

use serde::Deserialize;

use super::form::{Count, Decimal, Duration, Filled, Id, Markdown, Table, Text, Texts};
use super::list::section;
use super::read::Reading;
use crate::units;

/// Printed lines of a procedure: it is read at every step.
const MOST_LINES: usize = 3;

section! {
    /// The shop's own standard way of one kind of work. It prints at each step of its kind that has no text, and takes
    /// the place of the built-in one.
    ProcedureSpec = "procedure" checked by check {
        /// A kind of step, or a name that a step gives as `procedure`.
        id "id": need Id => work,
        /// Revision, printed on the cover.
        revision "revision": may Filled => reread,
        /// What to do: Markdown of three lines at most.
        text "text": may Markdown => reread,
        /// Tools beyond those that follow from the joints.
        tools "tools": any Texts => wording,
        /// Consumables, which stand on preparation and pick lists.
        uses "uses": any Texts => wording,
        /// Estimated time of a step.
        minutes "minutes": may Table<ProcedureMinutes> => wording,
        /// Nothing touches the parts until then, where the step does not say otherwise.
        cure "cure": may Duration => work,
        /// What it rests on.
        source "source": may Text => apart,
    }

    /// Estimated time of a step that is done by a procedure.
    ProcedureMinutes = "minutes" checked by check_minutes {
        /// For the step.
        step "step": or Count<0> = 0 => wording,
        /// For each hole of its joints.
        hole "hole": may Decimal => wording,
    }
}

fn check(own: &ProcedureSpec, reading: &mut Reading) {
    let Some(text) = &own.text else { return };
    let lines = text.value.lines().filter(|line| !line.trim().is_empty()).count();
    if lines > MOST_LINES {
        let message = format!("the text of procedure `{}` has {lines} lines, at most {MOST_LINES}", own.id.value);
        reading.invalid(text.span, message).help =
            Some("it prints at every such step: what only one of them needs goes into that step's `text`".into());
    }
}

fn check_minutes(own: &ProcedureMinutes, reading: &mut Reading) {
    if let Some(hole) = own.hole.filter(|hole| hole.value.micro() < 0) {
        reading.invalid(hole.span, format!("`hole` is {}: no hole takes less than no time", hole.value));
    }
}

/// A built-in procedure.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BuiltInProcedure {
    /// A kind of step, or the name that usual steps give.
    pub id: String,
    /// What prints.
    pub text: String,
    /// Estimated time.
    pub minutes: BuiltInMinutes,
    /// How long its parts are left alone, at usual steps.
    #[serde(default)]
    pub cure: Option<String>,
    /// What it rests on.
    pub source: String,
}

impl BuiltInProcedure {
    /// How long its parts are left alone, at usual steps.
    ///
    /// # Panics
    /// When the built-in list has no duration there, which is a bug.
    #[must_use]
    pub fn cure(&self) -> Option<units::Minutes> {
        let read = |text: &String| units::Minutes::parse(text).expect("src/spec/procedures.toml gives a duration");
        self.cure.as_ref().map(read)
    }
}

/// Estimated time of a built-in procedure.
#[derive(Debug, Clone, PartialEq, Eq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct BuiltInMinutes {
    /// For the step.
    pub step: u32,
    /// For each hole, a decimal.
    pub hole: String,
}

impl BuiltInMinutes {
    /// Minutes for each hole.
    ///
    /// # Panics
    /// When the built-in list has no number there, which is a bug.
    #[must_use]
    pub fn for_each_hole(&self) -> units::Decimal {
        units::Decimal::parse(&self.hole).expect("src/spec/procedures.toml gives minutes for each hole as a decimal")
    }
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct List {
    procedure: Vec<BuiltInProcedure>,
}

static BUILT_IN: LazyLock<Vec<BuiltInProcedure>> = LazyLock::new(|| {
    let list: List = toml::from_str(include_str!("procedures.toml")).expect("src/spec/procedures.toml is well formed");
    list.procedure
});

/// The built-in procedures, in the order of the trade.
#[must_use]
pub fn built_in_procedures() -> &'static [BuiltInProcedure] {
    &BUILT_IN
}
