//! What was found, decided and answered: discrepancies, visits with their findings.
//!
//! What is recorded already is said and not recorded again. Another traveler's joint that the sheet does not name is refused.

use std::collections::BTreeSet;

use super::meant::at;
use super::{Entering, pairs, text, texts};
use crate::archive::entry::{Answered, DiscrepancyClosed, DiscrepancyOpened, Finding, Visited};
use crate::archive::named::FoundAt;
use crate::archive::requirement::{Form, StepRequirement};
use crate::archive::value::{Cause, EntryNumber, Stops};
use crate::calendar::Day;
use crate::report;
use crate::spec::{AnswerSpec, CloseSpec, DiscrepancySpec, FindingSpec, VisitSpec, nearest};
use crate::words::other_joint;

impl Entering<'_> {
    pub(super) fn discrepancy(&mut self, typed: &DiscrepancySpec) {
        let Some((by, found)) = self.who_and_when(typed.span, typed.by.as_ref(), typed.on) else { return };
        self.space(typed.space.as_ref());
        let number = text(typed.number.as_ref()).unwrap_or_else(|| self.state.next_discrepancy());
        if self.state.discrepancies.contains_key(&number) {
            return self.plain_fault(typed.span, format!("there is a discrepancy {number} already"));
        }
        let found_at = match self.found_at(typed) {
            Ok(found_at) => found_at,
            Err(fault) => return self.faults.push(*fault),
        };
        self.others_joint(typed, &found_at);
        let issued = found_at.issue.map(|issue| issue.issued);
        let usual = DiscrepancyOpened::blank(number, Cause::Found, typed.what.value.clone(), &by, found);
        let opened = DiscrepancyOpened {
            sheet: issued.as_ref().map(|issued| issued.sheet),
            traveler: issued.as_ref().map(|issued| issued.traveler.clone()),
            hand: issued.and_then(|issued| issued.hand),
            step: found_at.step,
            space: text(typed.space.as_ref()),
            joint: text(typed.joint.as_ref()),
            should: text(typed.should_be.as_ref()),
            is: text(typed.is.as_ref()),
            stops: typed.stops.map_or(usual.stops, |stops| stops.value),
            class: typed.class.map_or(usual.class, |class| class.value),
            photos: texts(&typed.photos),
            ..usual
        };
        let what = &typed.what.value;
        if let Some(known) = self.known(&opened) {
            return self.done.remarks.push(format!("[[discrepancy]] {what}: it is recorded already, as {known}"));
        }
        self.done.remarks.extend(found_at.remark.map(|remark| format!("[[discrepancy]] {what}: {remark}")));
        let number = &opened.number;
        self.done.remarks.push(format!("[[discrepancy]] {what}: write {number} in the left margin of the sheet"));
        self.push(typed.span, opened);
    }

    fn found_at(&mut self, typed: &DiscrepancySpec) -> Result<FoundAt, Box<report::Finding>> {
        let at = at(typed.sheet.as_ref(), typed.traveler.as_ref(), typed.hand)?;
        if let [_, second, ..] = typed.step.as_slice() {
            let message = "a discrepancy is found at one step, and several are typed";
            let said = super::finding(second.span, message).help("the words may tell of the others");
            return Err(Box::new(said));
        }
        let step = typed.step.first();
        let place = step.map_or(typed.span, |step| step.span);
        if let Some(step) = step {
            self.doubt_number(at, step);
        }
        let found = self.state.found_at(at, step.map(|step| step.value.as_str()));
        found.map_err(|fault| Box::new(super::finding(place, fault.message).help(fault.help)))
    }

    /// Another traveler's joint, `FUS-10/J2`, is one of the step's, or of the sheet where no step is typed.
    fn others_joint(&mut self, typed: &DiscrepancySpec, found_at: &FoundAt) {
        let Some(joint) = &typed.joint else { return };
        let Some((traveler, hand, id)) = other_joint(&joint.value) else { return };
        let Some(issue) = &found_at.issue else { return };
        // Earlier forms do not record whose open holes a step fills.
        let sheet = self.facts.sheets.get(&issue.issued.sheet).filter(|sheet| sheet.form >= Form::Three);
        let Some(sheet) = sheet else { return };
        let is_meant = |step: &&StepRequirement| found_at.step.as_ref().is_none_or(|id| *id == step.id);
        let steps = sheet.steps.iter().filter(is_meant);
        let known: BTreeSet<&str> = steps.flat_map(StepRequirement::joints).collect();
        let mut others = known.iter().filter_map(|name| other_joint(name));
        if others.any(|(other, own_hand, own)| {
            (other, own) == (traveler, id) && (hand.is_none() || hand == own_hand.or(sheet.hand))
        }) {
            return;
        }
        let step = found_at.step.as_ref().and_then(|id| sheet.step(id));
        let of_step = step.map_or_else(String::new, |step| format!("step {:03} {} of ", step.number, step.id));
        let names: Vec<&str> = known.iter().copied().collect();
        let has = if names.is_empty() { "none".to_owned() } else { names.join(", ") };
        let message = format!("{of_step}sheet {} has no joint `{}`; it has {has}", issue.issued.sheet, joint.value);
        let help = nearest(&joint.value, names.iter().copied()).map_or_else(
            || "another traveler's joint is named as the step names it".to_owned(),
            |near| format!("did you mean `{near}`?"),
        );
        self.fault(joint.span, message, help);
    }

    /// The number under which the same was recorded before this file; two of one file are two.
    fn known(&self, opened: &DiscrepancyOpened) -> Option<String> {
        let counts = self.state.discrepancies.values().filter(|own| own.struck.is_none());
        let mut before = counts.filter(|own| own.entry < self.facts.next);
        let same =
            before.find(|own| DiscrepancyOpened { number: own.opened.number.clone(), ..opened.clone() } == own.opened);
        same.map(|own| own.opened.number.clone())
    }

    pub(super) fn closing(&mut self, typed: &CloseSpec) {
        let Some((by, on)) = self.who_and_when(typed.span, typed.by.as_ref(), typed.on) else { return };
        let number = &typed.discrepancy.value;
        let at = typed.discrepancy.span;
        match self.state.discrepancies.get(number) {
            None => {
                let open: Vec<&str> = self.state.open_discrepancies().map(|own| own.opened.number.as_str()).collect();
                let known =
                    if open.is_empty() { "none is open".to_owned() } else { format!("open: {}", open.join(", ")) };
                return self.fault(at, format!("there is no discrepancy {number}"), known);
            }
            Some(known) if known.closed.is_some() => {
                return self.plain_fault(at, format!("discrepancy {number} is closed already"));
            }
            Some(known) if known.struck.is_some() => {
                return self.plain_fault(at, format!("discrepancy {number} is struck out"));
            }
            Some(known) if known.opened.found > on => {
                let found = known.opened.found;
                return self.plain_fault(at, format!("discrepancy {number} was found on {found}, after {on}"));
            }
            Some(_) => {}
        }
        let closed = DiscrepancyClosed {
            number: number.clone(),
            disposition: typed.disposition.value,
            authority: typed.authority.value.clone(),
            reference: text(typed.reference.as_ref()),
            after: pairs(&typed.after),
            as_built: texts(&typed.as_built),
            by,
            on,
            looked: text(typed.looked_at_by.as_ref()),
        };
        self.push(typed.span, closed);
    }

    pub(super) fn visit(&mut self, typed: &VisitSpec) {
        let at = typed.span;
        let Some((by, on)) = self.who_and_when(at, typed.by.as_ref(), typed.on) else { return };
        typed.spaces.iter().for_each(|space| self.space(Some(space)));
        // Initials that nobody has are a fault already.
        let Some(signer) = self.signer(&by) else { return };
        let first = || signer.roles.first().map(|role| role.id.clone());
        let Some(role) = text(typed.role.as_ref()).or_else(first) else {
            return self.plain_fault(at, format!("{by} has no role in build.toml"));
        };
        let (reference, note) = (text(typed.reference.as_ref()), text(typed.note.as_ref()));
        let visited = Visited { by: by.clone(), role, on, spaces: texts(&typed.spaces), reference, note };
        let mut before = self.state.visits.iter().filter(|own| own.struck.is_none() && own.entry < self.facts.next);
        if let Some(known) = before.find(|own| own.visited == visited) {
            let message = format!("this visit is recorded already (entry {})", known.entry);
            return self.fault(at, message, "a second one of that day has a note or a reference of its own");
        }
        let visit = self.push(at, visited);
        for (nth, finding) in typed.finding.iter().enumerate() {
            self.finding(visit, nth, finding, &by, on);
        }
    }

    fn finding(&mut self, visit: EntryNumber, nth: usize, typed: &FindingSpec, by: &str, on: Day) {
        self.space(typed.space.as_ref());
        // What is not said is the safe side: the finding is dealt with before the space closes.
        let before_close = typed.before_close.is_none_or(|own| own.value);
        let discrepancy = before_close.then(|| self.state.next_discrepancy());
        if let Some(number) = &discrepancy {
            let what = &typed.what.value;
            self.done.remarks.push(format!("[[visit]]: finding {} opens discrepancy {number}: {what}", nth + 1));
            self.push(typed.span, found_by_visitor(number, typed, by, on));
        }
        let number = typed.number.first().map_or_else(|| (nth + 1).to_string(), |own| own.value.clone());
        let finding = Finding {
            visit,
            number,
            space: text(typed.space.as_ref()),
            traveler: text(typed.traveler.as_ref()),
            what: typed.what.value.clone(),
            suggested: text(typed.suggested.as_ref()),
            before_close,
            discrepancy,
        };
        self.push(typed.span, finding);
    }

    pub(super) fn answer(&mut self, typed: &AnswerSpec) {
        let Some((by, on)) = self.who_and_when(typed.span, typed.by.as_ref(), typed.on) else { return };
        let finding = EntryNumber(typed.finding.value);
        let known = self.state.visits.iter().flat_map(|visit| &visit.findings).any(|(entry, _, _)| *entry == finding);
        if known {
            self.push(typed.span, Answered { finding, answer: typed.answer.value.clone(), by, on });
        } else {
            self.plain_fault(typed.finding.span, format!("entry {finding} is no visitor's finding"));
        }
    }
}

fn found_by_visitor(number: &str, typed: &FindingSpec, by: &str, found: Day) -> DiscrepancyOpened {
    DiscrepancyOpened {
        traveler: text(typed.traveler.as_ref()),
        space: text(typed.space.as_ref()),
        stops: Stops::Space,
        ..DiscrepancyOpened::blank(number.to_owned(), Cause::Visit, typed.what.value.clone(), by, found)
    }
}
