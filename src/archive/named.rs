//! NAMED: the step that somebody types, its number, its id or `TRAVELER/step`, on the issued sheet that it stands on.
//!
//! It reads what was printed and never the specs of today, in which the number may be another step's. It refuses what
//! no step answers to, or more than one.

use super::state::{Issue, State};
use super::value::IssuedStep;
use crate::ident::SheetCode;

/// What may be typed for a step, as it is said to who typed something else.
const ACCEPTED: &str = "accepted are the number on the sheet, the id and TRAVELER/step";

/// Where a discrepancy was found.
pub(super) struct FoundAt {
    /// The sheet, where one is known.
    pub issue: Option<Issue>,
    /// Id of the step.
    pub step: Option<String>,
    /// What the builder should know.
    pub remark: Option<String>,
}

impl State {
    /// The step that is typed as a number, an id or `TRAVELER/step`, with its sheet: the one that is given, else the
    /// one of that traveler that is in force.
    ///
    /// # Errors
    /// What was typed, what the sheet has and what would be accepted.
    pub fn step_named(&self, sheet: Option<SheetCode>, typed: &str) -> Result<(&Issue, &IssuedStep), String> {
        let issue = match sheet {
            Some(code) => self.sheet(code).ok_or_else(|| format!("sheet {code} was never issued"))?,
            None => self.only_sheet(typed)?,
        };
        let steps = &issue.issued.steps;
        let found: Vec<&IssuedStep> = steps.iter().filter(|step| answers(issue, step, typed)).collect();
        let code = issue.issued.sheet;
        match found.as_slice() {
            [step] => Ok((issue, *step)),
            [] => Err(format!("sheet {code} has no step `{typed}`; it has {}; {ACCEPTED}", listed(steps.iter()))),
            several => Err(format!(
                "`{typed}` is the number of one step and the id of another of sheet {code}: {}; type the other name",
                listed(several.iter().copied())
            )),
        }
    }

    /// Where a discrepancy was found; what is typed is judged on the sheet that it was written on.
    ///
    /// # Errors
    /// Those of [`State::step_named`]; a step that the sheet in force no longer has, which would stop nothing.
    pub(super) fn found_at(&self, sheet: Option<SheetCode>, typed: Option<&str>) -> Result<FoundAt, String> {
        let Some(typed) = typed else {
            let issue = sheet.map(|code| self.sheet(code).ok_or_else(|| format!("sheet {code} was never issued")));
            return Ok(FoundAt { issue: issue.transpose()?.cloned(), step: None, remark: None });
        };
        let (issue, step) = self.step_named(sheet, typed)?;
        let old = issue.issued.sheet;
        let replaced = self.in_force(&issue.issued.packet()).filter(|now| now.issued.sheet != old);
        let remark = replaced.map(|now| {
            let new = now.issued.sheet;
            if !now.issued.steps.iter().any(|own| own.id == step.id) {
                let known = listed(now.issued.steps.iter());
                let was = format!("`{typed}` is step `{}` of sheet {old}", step.id);
                return Err(format!(
                    "{was}, which {new} replaced, and {new} has no such step; it has {known}; {ACCEPTED}"
                ));
            }
            Ok(format!("`{typed}` is step {:03} {} of sheet {old}, which {new} replaced", step.number, step.id))
        });
        Ok(FoundAt { issue: Some(issue.clone()), step: Some(step.id.clone()), remark: remark.transpose()? })
    }

    /// The one sheet in force to which `TRAVELER/step` belongs.
    fn only_sheet(&self, typed: &str) -> Result<&Issue, String> {
        let Some((traveler, _)) = typed.trim().split_once('/') else {
            return Err(format!("step `{typed}` stands on no sheet; give the sheet too, or type TRAVELER/step"));
        };
        let own: Vec<&Issue> = self.all_in_force().filter(|issue| issue.issued.traveler == traveler).collect();
        match own.as_slice() {
            [issue] => Ok(*issue),
            [] => Err(format!("step `{typed}`: no sheet of `{traveler}` is in force; {ACCEPTED}")),
            several => {
                let sheets = several.iter().map(|issue| format!("{} {}", issue.issued.sheet, issue.issued.packet()));
                let sheets: Vec<String> = sheets.collect();
                Err(format!("step `{typed}` stands on {}; give the sheet too", sheets.join(" and on ")))
            }
        }
    }
}

/// Whether a step of a sheet is what was typed.
fn answers(issue: &Issue, step: &IssuedStep, typed: &str) -> bool {
    let name = match typed.trim().split_once('/') {
        Some((traveler, name)) if traveler == issue.issued.traveler => name,
        Some(_) => return false,
        None => typed.trim(),
    };
    let is_number = name.bytes().all(|byte| byte.is_ascii_digit()) && name.parse() == Ok(step.number);
    is_number || name == step.id
}

fn listed<'a>(steps: impl Iterator<Item = &'a IssuedStep>) -> String {
    steps.map(|step| format!("{:03} {}", step.number, step.id)).collect::<Vec<_>>().join(", ")
}
