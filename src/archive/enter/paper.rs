//! What is said of entries and of paper: corrections, entries struck out, sheets read, marked, lost and void.
//!
//! It judges only whether what is meant exists and was not said before.

use super::{Entering, code, finding};
use crate::archive::entry::{Corrected, Lost, ReadThrough, Struck, Superseded, Voided};
use crate::archive::sign::{correct, strike};
use crate::archive::value::EntryNumber;
use crate::calendar::Day;
use crate::spec::{CorrectSpec, SheetSpec, StrikeSpec};

/// Lines that hold a day.
const DAYS: [&str; 4] = ["worked", "on", "found", "taken"];

impl Entering<'_> {
    pub(super) fn corrections(&mut self) {
        let typed = self.typed;
        typed.correct.iter().for_each(|own| self.correction(own));
        typed.strike.iter().for_each(|own| self.striking(own));
        typed.answer.iter().for_each(|own| self.answer(own));
    }

    fn correction(&mut self, typed: &CorrectSpec) {
        let Some((by, on)) = self.who_and_when(typed.span, typed.by.as_ref(), typed.on) else { return };
        let field = typed.field.value.clone();
        let now = typed.now.as_ref().filter(|_| DAYS.contains(&field.as_str()));
        let ahead = now.and_then(|now| Some((now.span, Day::parse(&now.value).filter(|day| self.is_ahead(*day))?)));
        if let Some((span, day)) = ahead {
            return self.plain_fault(span, format!("`{field}` would be {day}, which is after today"));
        }
        let (entry, because) = (EntryNumber(typed.entry.value), typed.because.value.clone());
        let now = typed.now.as_ref().map(|now| now.value.clone());
        match correct(&self.state, Corrected { entry, field, was: None, now, by, on, because }) {
            Ok(entry) => drop(self.push(typed.span, entry)),
            Err(fault) => self.plain_fault(typed.entry.span, fault),
        }
    }

    fn striking(&mut self, typed: &StrikeSpec) {
        let Some((by, on)) = self.who_and_when(typed.span, typed.by.as_ref(), typed.on) else { return };
        let (entry, because) = (EntryNumber(typed.entry.value), typed.because.value.clone());
        match strike(&self.state, Struck { entry, by, on, because }) {
            Ok(entry) => drop(self.push(typed.span, entry)),
            Err(fault) => self.plain_fault(typed.entry.span, fault),
        }
    }

    pub(super) fn sheet(&mut self, typed: &SheetSpec, what: &str) {
        let Some((by, on)) = self.who_and_when(typed.span, typed.by.as_ref(), typed.on) else { return };
        let at = typed.sheet.span;
        let sheet = match code(&typed.sheet) {
            Ok(sheet) => sheet,
            Err(fault) => return self.faults.push(*fault),
        };
        let Some(issue) = self.state.sheet(sheet).cloned() else {
            return self.plain_fault(at, format!("sheet {sheet} was never issued"));
        };
        let signed = self.state.signatures.values().any(|signature| signature.sheet() == Some(sheet));
        let because = typed.because.as_ref().map(|because| because.value.clone());
        let span = typed.span;
        match (what, issue.superseded_by, because) {
            ("read", _, _) if issue.read_through.is_some() => {
                self.plain_fault(at, format!("the change note of sheet {sheet} was read already"));
            }
            ("read", None, _) => drop(self.push(span, ReadThrough { sheet, by, on })),
            ("read", Some(new), _) => {
                let message = format!("sheet {sheet} was replaced by {new}");
                self.faults.push(finding(at, message).help("read the note of that sheet"));
            }
            ("mark", ..) if issue.marked => self.plain_fault(at, format!("sheet {sheet} is marked already")),
            ("lost", ..) if issue.lost => self.plain_fault(at, format!("sheet {sheet} is lost already")),
            ("void", ..) if issue.voided.is_some() => self.plain_fault(at, format!("sheet {sheet} is void already")),
            ("mark", Some(replaced_by), _) => {
                let pages = typed.pages.map(|pages| pages.value);
                self.push(span, Superseded { sheet, replaced_by, kept: signed, pages, by, on });
            }
            ("mark", None, _) => self.plain_fault(at, format!("no sheet has replaced {sheet}")),
            ("lost", _, Some(because)) => drop(self.push(span, Lost { sheet, by, on, because })),
            ("void", _, Some(because)) => drop(self.push(span, Voided { sheet, by, on, because })),
            _ => self.plain_fault(span, "`because` says why"),
        }
    }
}
