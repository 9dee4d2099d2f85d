//! What a typed signature means: the issued sheet, and the steps on it, each with the word that named it.
//!
//! Numbers are those of the sheet. Where today's specs have the number on another step, that is told and not decided.

use std::collections::BTreeSet;

use super::{Entering, code, finding};
use crate::archive::named::At;
use crate::archive::state::{Issue, State};
use crate::archive::value::IssuedStep;
use crate::ident::SheetCode;
use crate::report::Finding;
use crate::spec::{EveningSpec, SignSpec, Text};
use crate::text::{Span, Spanned};
use crate::words::Hand;

/// A typed signature with what it means.
pub(super) struct Meant<'a> {
    pub typed: &'a SignSpec,
    /// The sheet that is named.
    pub sheet: SheetCode,
    /// Its steps, each once, in the order of the sheet.
    pub steps: Vec<MeantStep>,
}

/// A step and the word that named it.
pub(super) struct MeantStep {
    pub step: IssuedStep,
    pub at: Span,
}

/// The sheet and the steps of a signature.
pub(super) fn meant<'a>(state: &State, typed: &'a SignSpec) -> Result<Meant<'a>, Vec<Finding>> {
    let issue = sheet_of(state, typed).map_err(|fault| vec![*fault])?;
    let mut faults = Vec::new();
    let mut all = |words: &[Text]| {
        let mut found: Vec<MeantStep> = Vec::new();
        for word in words {
            match state.steps_meant(issue, &word.value) {
                Ok(steps) => found.extend(steps.into_iter().cloned().map(|step| MeantStep { step, at: word.span })),
                Err(fault) => faults.push(finding(word.span, fault.message).help(fault.help)),
            }
        }
        found
    };
    let mut steps = all(&typed.steps);
    let except = all(&typed.except);
    if let Some(stray) = except.iter().find(|own| !steps.iter().any(|step| step.step == own.step)) {
        let message = format!("step {:03} {} is not among the steps of this entry", stray.step.number, stray.step.id);
        faults.push(finding(stray.at, message).help("`except` takes away from `steps`"));
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    steps.retain(|step| !except.iter().any(|own| own.step == step.step));
    if steps.is_empty() {
        return Err(vec![finding(typed.span, "nothing is left of its steps").help("`except` takes all of them away")]);
    }
    let place = |own: &MeantStep| issue.issued.steps.iter().position(|step| *step == own.step);
    steps.sort_by_key(place);
    steps.dedup_by(|a, b| a.step == b.step);
    Ok(Meant { typed, sheet: issue.issued.sheet, steps })
}

/// Where an entry says that its steps stand.
pub(super) fn at<'a>(
    sheet: Option<&Text>,
    traveler: Option<&'a Text>,
    hand: Option<Spanned<Hand>>,
) -> Result<At<'a>, Box<Finding>> {
    let sheet = sheet.map(code).transpose()?;
    Ok(At { sheet, traveler: traveler.map(|own| own.value.as_str()), hand: hand.map(|hand| hand.value) })
}

fn at_of(typed: &SignSpec) -> Result<At<'_>, Box<Finding>> {
    at(typed.sheet.as_ref(), typed.traveler.as_ref(), typed.hand)
}

/// The sheet of a signature.
fn sheet_of<'a>(state: &'a State, typed: &SignSpec) -> Result<&'a Issue, Box<Finding>> {
    let at = at_of(typed)?;
    let places = [typed.sheet.as_ref(), typed.traveler.as_ref(), typed.steps.first()];
    let place = places.into_iter().flatten().next().map_or(typed.span, |own| own.span);
    let first = typed.steps.first().map_or("", |own| own.value.as_str());
    state.sheet_meant(at, first).map_err(|fault| Box::new(finding(place, fault.message).help(fault.help)))
}

/// The sheets that an evening speaks of, with those in force for the same packets.
#[must_use]
pub fn sheets_meant(state: &State, evening: &EveningSpec) -> BTreeSet<SheetCode> {
    let signed = evening.sign.iter().filter_map(|typed| sheet_of(state, typed).ok());
    let found = evening.discrepancy.iter().filter_map(|typed| {
        let at = at(typed.sheet.as_ref(), typed.traveler.as_ref(), typed.hand).ok()?;
        state.sheet_meant(at, typed.step.first().map_or("", |own| own.value.as_str())).ok()
    });
    let named: Vec<&Issue> = signed.chain(found).collect();
    let in_force = named.iter().filter_map(|issue| state.in_force(&issue.issued.packet()));
    in_force.chain(named.iter().copied()).map(|issue| issue.issued.sheet).collect()
}

impl Entering<'_> {
    /// Asks about the numbers in a word that are those of other steps in the specs of today.
    pub(super) fn doubt_number(&mut self, at: At<'_>, word: &Text) {
        for part in word.value.split("..").map(str::trim) {
            self.done.doubts.extend(self.doubt(at, part, word.span));
        }
    }

    /// The same for a whole entry.
    pub(super) fn doubt_numbers(&mut self, typed: &SignSpec) {
        let Ok(at) = at_of(typed) else { return };
        typed.steps.iter().chain(&typed.except).for_each(|word| self.doubt_number(at, word));
    }

    fn doubt(&self, at: At<'_>, word: &str, span: Span) -> Option<Finding> {
        let typed: u32 = word.rsplit_once('/').map_or(word, |(_, name)| name).parse().ok()?;
        let issue = self.state.sheet_meant(at, word).ok()?;
        let sheet = issue.issued.sheet;
        self.state.in_force(&issue.issued.packet()).filter(|now| now.issued.sheet == sheet)?;
        let own = issue.issued.steps.iter().find(|step| step.number == typed)?;
        let title = &self.facts.sheets.get(&sheet)?.step(&own.id)?.title;
        let mut today = self.facts.today.get(&issue.issued.traveler)?.iter();
        let now = today.find(|step| step.number == typed && step.id != own.id && step.title != *title)?;
        let message =
            format!("{typed:03} is \"{title}\" on sheet {sheet}, and \"{}\" in the specs of today", now.title);
        let help = format!("what counts is what was printed: type `{}` if that was done", own.id);
        Some(finding(span, message).help(help))
    }
}
