//! The signatures of an evening: each entry becomes one on each of its steps, as if every step had been typed for itself.
//!
//! What is shared among steps is told in the note of each. It refuses what can be of one step alone on several.

use std::collections::BTreeMap;

use super::meant::{Meant, MeantStep, meant};
use super::readings::readings_of;
use super::{ALL_THE_SAME, DESPITE, Entering, finding, pairs, text, texts};
use crate::archive::entry::Signed;
use crate::archive::sign::{SignerFacts, sign};
use crate::archive::value::{Capacity, Reading};
use crate::calendar::Day;
use crate::ident::SheetCode;
use crate::report::Finding;
use crate::spec::{SignSpec, shared};

/// Minutes that were given for several steps together.
#[derive(Clone, Copy)]
struct Together {
    minutes: u32,
    steps: usize,
}

/// What an entry gives to each of its steps.
struct Given<'a> {
    by: String,
    worked: Day,
    signer: &'a SignerFacts,
    capacity: Capacity,
    readings: BTreeMap<String, Vec<Reading>>,
    together: Option<Together>,
}

impl<'a> Entering<'a> {
    pub(super) fn signatures(&mut self) {
        let typed = self.typed;
        let mut all = Vec::new();
        for own in &typed.sign {
            self.doubt_numbers(own);
            match meant(&self.state, own) {
                Ok(meant) => all.push(meant),
                Err(faults) => self.faults.extend(faults),
            }
        }
        // Minutes at the top are those of all steps of which the entries give none.
        let sharing = |own: &&Meant<'_>| own.typed.minutes.is_none() && capacity_of(own.typed) == Capacity::Done;
        let steps = all.iter().filter(sharing).map(|own| own.steps.len()).sum();
        let top = typed.minutes.map(|minutes| Together { minutes: minutes.value, steps });
        let mut of_top = top.into_iter().flat_map(|top| shared(top.minutes, top.steps)).collect::<Vec<_>>().into_iter();
        for own in &all {
            let count = own.steps.len();
            let (together, minutes): (_, Vec<u32>) = match own.typed.minutes {
                Some(minutes) => {
                    let together = Together { minutes: minutes.value, steps: count };
                    (Some(together), shared(minutes.value, count).collect())
                }
                None if sharing(&own) => (top, of_top.by_ref().take(count).collect()),
                None => (None, Vec::new()),
            };
            self.entry(own, together, &minutes);
        }
    }

    fn entry(&mut self, meant: &Meant<'_>, together: Option<Together>, minutes: &[u32]) {
        let typed = meant.typed;
        let Some((by, worked)) = self.who_and_when(typed.span, typed.by.as_ref(), typed.on) else { return };
        // Initials that nobody has are a fault already.
        let Some(signer) = self.signer(&by) else { return };
        let capacity = capacity_of(typed);
        if meant.steps.len() > 1 {
            self.refuse_of_one(typed);
        }
        let facts = self.facts;
        let Some(sheet) = facts.sheets.get(&meant.sheet) else {
            return self.plain_fault(typed.span, format!("what sheet {} requires is not archived", meant.sheet));
        };
        let readings = match readings_of(meant, sheet, capacity) {
            Ok(readings) => readings,
            Err(faults) => return self.faults.extend(faults),
        };
        let given = Given { by, worked, signer, capacity, readings, together };
        let mut faults: Vec<(String, Vec<&MeantStep>)> = Vec::new();
        for (nth, own) in meant.steps.iter().enumerate() {
            let minutes = minutes.get(nth).copied().filter(|minutes| *minutes > 0);
            for fault in self.signature(meant, own, &given, minutes) {
                // What is true of several steps is said once.
                match faults.iter_mut().find(|(said, steps)| *said == fault && steps[0].at == own.at) {
                    Some((_, steps)) => steps.push(own),
                    None => faults.push((fault, vec![own])),
                }
            }
        }
        self.faults.extend(faults.into_iter().map(|(fault, steps)| placed(fault, &steps, meant)));
    }

    /// A photo shows one step, and so does what was fitted.
    fn refuse_of_one(&mut self, typed: &SignSpec) {
        let of_one = [("photos", typed.photos.first()), ("as-built", typed.as_built.first())];
        for (key, written) in of_one {
            if let Some(written) = written {
                let message = format!("`{key}` is of one step, and this entry signs several");
                self.fault(
                    written.span,
                    message,
                    "give that step an entry of its own, and leave it out here by `except`",
                );
            }
        }
    }

    /// Signs one step, or gives what speaks against it.
    fn signature(
        &mut self,
        meant: &Meant<'_>,
        own: &MeantStep,
        given: &Given<'a>,
        minutes: Option<u32>,
    ) -> Vec<String> {
        let step = &own.step.id;
        let code = self.state.counts_on(meant.sheet, step, given.worked);
        let place = format!("{:03} {step}", own.step.number);
        if code != meant.sheet {
            let said = format!("{place}: the page stays in the packet; recorded on {code}, which is in force");
            self.done.remarks.push(said);
        }
        let Some(sheet) = self.facts.sheets.get(&code) else {
            return vec![format!("sheet {code} was never issued")];
        };
        let signing = self.signing(meant.typed, code, own, given, minutes);
        match sign(&self.state, sheet, &signing, given.signer, self.facts.entered) {
            Ok(signings) => {
                let said = signings.remarks.into_iter().map(|remark| format!("{place}: {remark}"));
                self.done.remarks.extend(said);
                for entry in signings.entries {
                    self.push(own.at, entry);
                }
                Vec::new()
            }
            Err(faults) => faults,
        }
    }

    fn signing(
        &self,
        typed: &SignSpec,
        code: SheetCode,
        own: &MeantStep,
        given: &Given<'_>,
        minutes: Option<u32>,
    ) -> Signed {
        // Without a role the first of the signer's that fits is taken.
        let role = typed.role.as_ref().map_or("", |role| role.value.as_str());
        let everybody = (given.capacity == Capacity::Done).then_some(self.typed.helpers.as_ref()).flatten();
        let helpers = typed.helpers.as_ref().or(everybody);
        let place = typed.place.as_ref().or(self.typed.place.as_ref());
        Signed {
            capacity: given.capacity,
            stage: text(typed.stage.as_ref()),
            outcome: text(typed.outcome.as_ref()),
            asked: pairs(&typed.asked),
            minutes,
            // Nobody helped where nobody is named.
            helpers: helpers.map(|all| texts(all)).unwrap_or_default(),
            paid: texts(&typed.paid_helpers),
            // A step without boxes has no readings.
            readings: given.readings.get(&own.step.id).cloned().unwrap_or_default(),
            photos: texts(&typed.photos),
            discrepancies: texts(&typed.discrepancies),
            as_built: texts(&typed.as_built),
            place: text(place),
            note: note(typed, given.together.filter(|_| minutes.is_some())),
            reconstructed: text(typed.reconstructed_from.as_ref()),
            ..Signed::blank(code, &own.step.id, &given.by, role, given.worked)
        }
    }
}

/// A fault of signatures at the word that named their steps; where it is not of all that are signed, these can be left out.
fn placed(fault: String, steps: &[&MeantStep], meant: &Meant<'_>) -> Finding {
    let made = finding(steps[0].at, fault);
    if steps.len() == meant.steps.len() {
        return made;
    }
    let numbers: Vec<String> = steps.iter().map(|own| format!("{:03}", own.step.number)).collect();
    let them = if steps.len() == 1 { "it" } else { "them" };
    made.help(format!("leave {} out with `except`, or give {them} an entry apart", numbers.join(", ")))
}

/// What a signature is for: as typed, else a stage where one or an outcome is given, else the work.
fn capacity_of(typed: &SignSpec) -> Capacity {
    let is_stage = typed.stage.is_some() || typed.outcome.is_some();
    let usual = if is_stage { Capacity::Stage } else { Capacity::Done };
    typed.capacity.map_or(usual, |own| own.value)
}

/// The note of a signature: the reasons for signing and for closing all the same in front, what its minutes are part of behind.
fn note(typed: &SignSpec, together: Option<Together>) -> Option<String> {
    let because = typed.because.as_ref().map(|reason| format!("{ALL_THE_SAME}{}", reason.value));
    let despite = typed.despite.as_ref().map(|reason| format!("{DESPITE}{}", reason.value));
    let together = together.filter(|own| own.steps > 1);
    let part = together.map(|own| format!("{} min for {} steps together, shared evenly", own.minutes, own.steps));
    let notes: Vec<String> = because.into_iter().chain(despite).chain(text(typed.note.as_ref())).chain(part).collect();
    (!notes.is_empty()).then(|| notes.join("; "))
}
