//! ENTER: what was typed becomes entries, judged one after the other against the state that those before would make.
//!
//! Nothing is recorded unless everything can be; the caller does the recording.

use std::collections::BTreeMap;

use super::entry::{
    Answered, Corrected, DiscrepancyClosed, DiscrepancyOpened, Entry, Finding, Lost, ReadThrough, Signed, Struck,
    Superseded, Visited, Voided,
};
use super::record::Record;
use super::requirement::SheetRequirement;
use super::sign::{SAME_EVENING, SignerFacts, correct, sign, strike};
use super::state::State;
use super::typed::{Typed, TypedClosing, TypedDiscrepancy, TypedSheet, TypedSignature, TypedVisit};
use super::value::{Capacity, Cause, Class, EntryNumber, Stops};
use crate::calendar::{Day, Moment};
use crate::ident::SheetCode;

/// What the judging rests on.
pub struct EnterFacts<'a> {
    /// Everybody who may sign.
    pub signers: &'a [SignerFacts],
    /// Ids of the spaces.
    pub spaces: &'a [String],
    /// Requirements of the sheets that are named.
    pub sheets: &'a BTreeMap<SheetCode, SheetRequirement>,
    /// Now.
    pub entered: Moment,
    /// The number that the first entry will get.
    pub next: EntryNumber,
}

/// Entries, remarks and faults in the making.
struct Entering<'a> {
    facts: &'a EnterFacts<'a>,
    typed: &'a Typed,
    state: State,
    next: EntryNumber,
    entries: Vec<Entry>,
    remarks: Vec<String>,
    faults: Vec<String>,
}

/// Turns a typed file into entries with remarks.
///
/// # Errors
/// Every reason why something of it cannot be recorded.
pub fn enter(state: &State, typed: &Typed, facts: &EnterFacts<'_>) -> Result<(Vec<Entry>, Vec<String>), Vec<String>> {
    let (entries, remarks, faults) = (Vec::new(), Vec::new(), Vec::new());
    let mut entering = Entering { facts, typed, state: state.clone(), next: facts.next, entries, remarks, faults };
    typed.visit.iter().for_each(|visit| entering.visit(visit));
    typed.discrepancy.iter().for_each(|found| entering.discrepancy(found));
    // A space may close over a discrepancy that is settled in the same file; one that a reading opens is settled later.
    typed.close.iter().for_each(|closing| entering.closing(closing));
    typed.sign.iter().for_each(|signature| entering.signature(signature));
    entering.corrections();
    typed.read.iter().for_each(|sheet| entering.sheet(sheet, "read"));
    typed.mark.iter().for_each(|sheet| entering.sheet(sheet, "mark"));
    typed.lost.iter().for_each(|sheet| entering.sheet(sheet, "lost"));
    typed.void.iter().for_each(|sheet| entering.sheet(sheet, "void"));
    // What is recorded already is no fault: that was said.
    if entering.faults.is_empty() && entering.entries.is_empty() && entering.remarks.is_empty() {
        entering.faults.push("nothing is typed in it".to_owned());
    }
    if entering.faults.is_empty() { Ok((entering.entries, entering.remarks)) } else { Err(entering.faults) }
}

impl<'a> Entering<'a> {
    fn push(&mut self, entry: impl Into<Entry>) -> EntryNumber {
        let record = Record { number: self.next, entered: self.facts.entered, entry: entry.into() };
        self.state.take(&record);
        self.entries.push(record.entry);
        self.next = EntryNumber(self.next.0 + 1);
        record.number
    }

    fn fault(&mut self, where_typed: &str, fault: impl std::fmt::Display) {
        self.faults.push(format!("{where_typed}: {fault}"));
    }

    /// Initials and day of an entry: its own, else those at the top; the day at last is today.
    fn who_and_when(&mut self, where_typed: &str, by: Option<&String>, on: Option<Day>) -> Option<(String, Day)> {
        let on = on.or(self.typed.on).unwrap_or(self.facts.entered.day());
        let Some(by) = by.or(self.typed.by.as_ref()).cloned() else {
            self.fault(where_typed, "`by` says whose initials stand there");
            return None;
        };
        if self.signer(&by).is_none() {
            let known: Vec<&str> = self.facts.signers.iter().map(|signer| signer.initials.as_str()).collect();
            self.fault(
                where_typed,
                format!("nobody in build.toml has the initials `{by}`; these have: {}", known.join(", ")),
            );
            return None;
        }
        if self.is_ahead(on) {
            let today = self.facts.entered.day();
            self.fault(where_typed, format!("this is dated {on}, which is after today, {today}"));
            return None;
        }
        Some((by, on))
    }

    /// Whether a day lies further ahead than an evening that is typed before midnight somewhere else.
    fn is_ahead(&self, day: Day) -> bool {
        day.days_after(self.facts.entered.day()) > SAME_EVENING
    }

    fn signer(&self, by: &str) -> Option<&'a SignerFacts> {
        self.facts.signers.iter().find(|signer| signer.initials == by)
    }

    fn space(&mut self, where_typed: &str, space: Option<&String>) {
        if let Some(space) = space.filter(|space| !self.facts.spaces.contains(space)) {
            self.fault(where_typed, format!("there is no space `{space}`; there are {}", self.facts.spaces.join(", ")));
        }
    }

    fn signature(&mut self, typed: &TypedSignature) {
        let place = format!("[[sign]] {} {}", typed.sheet, typed.step);
        let Some((by, worked)) = self.who_and_when(&place, typed.by.as_ref(), typed.on) else { return };
        // Initials that nobody has are a fault already.
        let Some(signer) = self.signer(&by) else { return };
        let code = self.state.counts_on(typed.sheet, &typed.step, worked);
        if code != typed.sheet {
            self.remarks.push(format!("{place}: the page stays in the packet; recorded on {code}, which is in force"));
        }
        let is_stage = typed.stage.is_some() || typed.outcome.is_some();
        let usual = if is_stage { Capacity::Stage } else { Capacity::Done };
        // Without a role the first of the signer's that fits is taken.
        let role = typed.role.as_deref().unwrap_or_default();
        let signing = Signed {
            capacity: typed.capacity.unwrap_or(usual),
            stage: typed.stage.clone(),
            outcome: typed.outcome.clone(),
            asked: typed.asked.clone(),
            minutes: typed.minutes,
            helpers: typed.helpers.clone(),
            paid: typed.paid_helpers.clone(),
            readings: typed.readings.clone(),
            photos: typed.photos.clone(),
            discrepancies: typed.discrepancies.clone(),
            as_built: typed.as_built.clone(),
            place: typed.place.clone().or_else(|| self.typed.place.clone()),
            note: note(typed),
            reconstructed: typed.reconstructed_from.clone(),
            ..Signed::blank(code, &typed.step, &by, role, worked)
        };
        let Some(sheet) = self.facts.sheets.get(&code) else {
            return self.fault(&place, "the sheet was never issued");
        };
        match sign(&self.state, sheet, &signing, signer, self.facts.entered) {
            Ok(signings) => {
                self.remarks.extend(signings.remarks.into_iter().map(|remark| format!("{place}: {remark}")));
                for entry in signings.entries {
                    self.push(entry);
                }
            }
            Err(faults) => faults.into_iter().for_each(|fault| self.fault(&place, fault)),
        }
    }

    fn discrepancy(&mut self, typed: &TypedDiscrepancy) {
        let place = format!("[[discrepancy]] {}", typed.what);
        let Some((by, found)) = self.who_and_when(&place, typed.by.as_ref(), typed.on) else { return };
        self.space(&place, typed.space.as_ref());
        let number = typed.number.clone().unwrap_or_else(|| self.state.next_discrepancy());
        if self.state.discrepancies.contains_key(&number) {
            return self.fault(&place, format!("there is a discrepancy {number} already"));
        }
        let found_at = match self.state.found_at(typed.sheet, typed.step.as_deref()) {
            Ok(found_at) => found_at,
            Err(fault) => return self.fault(&place, fault),
        };
        let issued = found_at.issue.map(|issue| issue.issued);
        let opened = DiscrepancyOpened {
            number,
            cause: Cause::Found,
            sheet: issued.as_ref().map(|issued| issued.sheet),
            traveler: issued.as_ref().map(|issued| issued.traveler.clone()),
            hand: issued.and_then(|issued| issued.hand),
            step: found_at.step,
            also: Vec::new(),
            zone: typed.space.clone(),
            joint: typed.joint.clone(),
            what: typed.what.clone(),
            should: typed.should_be.clone(),
            is: typed.is.clone(),
            stops: typed.stops.unwrap_or(Stops::Step),
            class: typed.class.unwrap_or(Class::Major),
            photos: typed.photos.clone(),
            by,
            found,
        };
        if let Some(known) = self.known(&opened) {
            return self.remarks.push(format!("{place}: it is recorded already, as {known}"));
        }
        self.remarks.extend(found_at.remark.map(|remark| format!("{place}: {remark}")));
        self.remarks.push(format!("{place}: write {} in the left margin of the sheet", opened.number));
        self.push(opened);
    }

    /// The number under which the same was recorded before this file; two of one file are two.
    fn known(&self, opened: &DiscrepancyOpened) -> Option<String> {
        let counts = self.state.discrepancies.values().filter(|own| own.struck.is_none());
        let mut before = counts.filter(|own| own.entry < self.facts.next);
        let same =
            before.find(|own| DiscrepancyOpened { number: own.opened.number.clone(), ..opened.clone() } == own.opened);
        same.map(|own| own.opened.number.clone())
    }

    fn closing(&mut self, typed: &TypedClosing) {
        let place = format!("[[close]] {}", typed.discrepancy);
        let Some((by, on)) = self.who_and_when(&place, typed.by.as_ref(), typed.on) else { return };
        match self.state.discrepancies.get(&typed.discrepancy) {
            None => return self.fault(&place, "there is no such discrepancy"),
            Some(known) if known.closed.is_some() => return self.fault(&place, "it is closed already"),
            Some(known) if known.struck.is_some() => return self.fault(&place, "it is struck out"),
            Some(known) if known.opened.found > on => {
                return self.fault(&place, format!("it was found on {}, after {on}", known.opened.found));
            }
            Some(_) => {}
        }
        self.push(DiscrepancyClosed {
            number: typed.discrepancy.clone(),
            disposition: typed.disposition,
            authority: typed.authority.clone(),
            reference: typed.reference.clone(),
            after: typed.after.clone(),
            as_built: typed.as_built.clone(),
            by,
            on,
            looked: typed.looked_at_by.clone(),
        });
    }

    fn visit(&mut self, typed: &TypedVisit) {
        let place = "[[visit]]";
        let Some((by, on)) = self.who_and_when(place, typed.by.as_ref(), typed.on) else { return };
        typed.spaces.iter().for_each(|space| self.space(place, Some(space)));
        // Initials that nobody has are a fault already.
        let Some(signer) = self.signer(&by) else { return };
        let Some(role) = typed.role.clone().or_else(|| signer.roles.first().map(|role| role.id.clone())) else {
            return self.fault(place, format!("{by} has no role in build.toml"));
        };
        let (spaces, reference, note) = (typed.spaces.clone(), typed.reference.clone(), typed.note.clone());
        let visited = Visited { by: by.clone(), role, on, zones: spaces, reference, note };
        let mut before = self.state.visits.iter().filter(|own| own.struck.is_none() && own.entry < self.facts.next);
        if let Some(known) = before.find(|own| own.visited == visited) {
            let message = format!(
                "this visit is recorded already (entry {}); a second one of that day has a note or a reference of its own",
                known.entry
            );
            return self.fault(place, message);
        }
        let visit = self.push(visited);
        for (nth, finding) in typed.finding.iter().enumerate() {
            self.space(place, finding.space.as_ref());
            // What is not said is the safe side: the finding is dealt with before the space closes.
            let before_close = finding.before_close.unwrap_or(true);
            let discrepancy = before_close.then(|| self.state.next_discrepancy());
            if let Some(number) = &discrepancy {
                self.remarks.push(format!("{place}: finding {} opens discrepancy {number}: {}", nth + 1, finding.what));
                self.push(found_by_visitor(
                    number,
                    finding.space.as_ref(),
                    finding.traveler.as_ref(),
                    &finding.what,
                    &by,
                    on,
                ));
            }
            self.push(Finding {
                visit,
                number: finding.number.clone().unwrap_or_else(|| (nth + 1).to_string()),
                zone: finding.space.clone(),
                traveler: finding.traveler.clone(),
                what: finding.what.clone(),
                suggested: finding.suggested.clone(),
                before_close,
                discrepancy,
            });
        }
    }

    fn corrections(&mut self) {
        let typed = self.typed;
        for typed in &typed.correct {
            let place = format!("[[correct]] {}", typed.entry);
            let Some((by, on)) = self.who_and_when(&place, typed.by.as_ref(), typed.on) else { continue };
            let dated =
                typed.now.as_deref().filter(|_| ["worked", "on", "found", "taken"].contains(&typed.field.as_str()));
            if let Some(day) = dated.and_then(Day::parse).filter(|day| self.is_ahead(*day)) {
                self.fault(&place, format!("`{}` would be {day}, which is after today", typed.field));
                continue;
            }
            let (entry, field, now) = (EntryNumber(typed.entry), typed.field.clone(), typed.now.clone());
            match correct(
                &self.state,
                Corrected { entry, field, was: None, now, by, on, because: typed.because.clone() },
            ) {
                Ok(entry) => drop(self.push(entry)),
                Err(fault) => self.fault(&place, fault),
            }
        }
        for typed in &typed.strike {
            let place = format!("[[strike]] {}", typed.entry);
            let Some((by, on)) = self.who_and_when(&place, typed.by.as_ref(), typed.on) else { continue };
            match strike(
                &self.state,
                Struck { entry: EntryNumber(typed.entry), by, on, because: typed.because.clone() },
            ) {
                Ok(entry) => drop(self.push(entry)),
                Err(fault) => self.fault(&place, fault),
            }
        }
        for typed in &typed.answer {
            let place = format!("[[answer]] {}", typed.finding);
            let Some((by, on)) = self.who_and_when(&place, typed.by.as_ref(), typed.on) else { continue };
            let finding = EntryNumber(typed.finding);
            let known =
                self.state.visits.iter().flat_map(|visit| &visit.findings).any(|(entry, _, _)| *entry == finding);
            if known {
                self.push(Answered { finding, answer: typed.answer.clone(), by, on });
            } else {
                self.fault(&place, format!("entry {finding} is no visitor's finding"));
            }
        }
    }

    fn sheet(&mut self, typed: &TypedSheet, what: &str) {
        let place = format!("[[{what}]] {}", typed.sheet);
        let Some((by, on)) = self.who_and_when(&place, typed.by.as_ref(), typed.on) else { return };
        let sheet = typed.sheet;
        let Some(issue) = self.state.sheet(sheet).cloned() else {
            return self.fault(&place, "the sheet was never issued");
        };
        let signed = self.state.signatures.values().any(|signature| signature.sheet() == Some(sheet));
        let because = typed.because.clone();
        match (what, issue.superseded_by, because) {
            ("read", _, _) if issue.read_through.is_some() => self.fault(&place, "its change note was read already"),
            ("read", None, _) => drop(self.push(ReadThrough { sheet, by, on })),
            ("read", Some(new), _) => {
                self.fault(&place, format!("it was replaced by {new}; read the note of that sheet"));
            }
            ("mark", ..) if issue.marked => self.fault(&place, "it is marked already"),
            ("lost", ..) if issue.lost => self.fault(&place, "it is lost already"),
            ("void", ..) if issue.voided.is_some() => self.fault(&place, "it is void already"),
            ("mark", Some(replaced_by), _) => {
                self.push(Superseded { sheet, replaced_by, kept: signed, pages: typed.pages, by, on });
            }
            ("mark", None, _) => self.fault(&place, "no sheet has replaced it"),
            ("lost", _, Some(because)) => drop(self.push(Lost { sheet, by, on, because })),
            ("void", _, Some(because)) => drop(self.push(Voided { sheet, by, on, because })),
            _ => self.fault(&place, "`because` says why"),
        }
    }
}

/// What stands before the reason for closing a space in which something is left.
const DESPITE: &str = "closed despite what is left: ";
/// What stands before the reason for signing what the order, a cure or a discrepancy speaks against.
const ALL_THE_SAME: &str = "signed all the same: ";

/// The note of a signature, with the reasons for signing and for closing all the same in front.
fn note(typed: &TypedSignature) -> Option<String> {
    let because = typed.because.as_ref().map(|reason| format!("{ALL_THE_SAME}{reason}"));
    let despite = typed.despite.as_ref().map(|reason| format!("{DESPITE}{reason}"));
    let notes: Vec<String> = because.into_iter().chain(despite).chain(typed.note.clone()).collect();
    (!notes.is_empty()).then(|| notes.join("; "))
}

impl Signed {
    /// Whether it gives a reason for what speaks against it, or for closing a space in which something is left: either
    /// answers both.
    #[must_use]
    pub fn gives_reason(&self) -> bool {
        self.note.as_deref().is_some_and(|note| note.starts_with(DESPITE) || note.starts_with(ALL_THE_SAME))
    }

    /// Puts a reason for what speaks against it in front of its note.
    pub fn give_reason(&mut self, reason: &str) {
        let notes = std::iter::once(format!("{ALL_THE_SAME}{reason}")).chain(self.note.take());
        self.note = Some(notes.collect::<Vec<_>>().join("; "));
    }
}

fn found_by_visitor(
    number: &str,
    space: Option<&String>,
    traveler: Option<&String>,
    what: &str,
    by: &str,
    found: Day,
) -> DiscrepancyOpened {
    DiscrepancyOpened {
        number: number.to_owned(),
        cause: Cause::Visit,
        sheet: None,
        traveler: traveler.cloned(),
        hand: None,
        step: None,
        also: Vec::new(),
        zone: space.cloned(),
        joint: None,
        what: what.to_owned(),
        should: None,
        is: None,
        stops: Stops::Space,
        class: Class::Major,
        photos: Vec::new(),
        by: by.to_owned(),
        found,
    }
}
