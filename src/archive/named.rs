//! NAMED: the steps that somebody types, by number, id or `TRAVELER/step`, on the issued sheet that they stand on.
//!
//! It reads what was printed and never the specs of today, in which the number may be another step's. It refuses what
//! no step answers to, or more than one, and what stands on two sheets.

use super::state::{Issue, State};
use super::value::IssuedStep;
use crate::ident::SheetCode;
use crate::spec::{StepFault, StepName, named_steps};
use crate::words::Hand;

/// Where typed steps stand: on a sheet, or on the one of a traveler that is in force.
#[derive(Debug, Clone, Copy, Default)]
pub struct At<'a> {
    /// Code of the sheet.
    pub sheet: Option<SheetCode>,
    /// Id of the traveler.
    pub traveler: Option<&'a str>,
    /// The hand.
    pub hand: Option<Hand>,
}

/// Where a discrepancy was found.
pub(super) struct FoundAt {
    /// The sheet, where one is known.
    pub issue: Option<Issue>,
    /// Id of the step.
    pub step: Option<String>,
    /// What the builder should know.
    pub remark: Option<String>,
}

impl Issue {
    fn names(&self) -> Vec<StepName<'_>> {
        self.issued.steps.iter().map(|step| StepName { number: step.number, id: &step.id }).collect()
    }

    /// Whether a hand is signed on it; any is, where none is asked for.
    fn is_for(&self, hand: Option<Hand>) -> bool {
        hand.is_none() || self.issued.hand == hand
    }

    /// The sheet as messages name it: code, traveler and hand.
    fn title(&self) -> String {
        format!("{} {}", self.issued.sheet, self.issued.packet())
    }
}

impl State {
    /// The step that is typed as a number, an id or `TRAVELER/step`, with its sheet: the one that is given, else the
    /// one of that traveler that is in force.
    ///
    /// # Errors
    /// What was typed, what the sheet has and what would be accepted.
    pub fn step_named(&self, sheet: Option<SheetCode>, typed: &str) -> Result<(&Issue, &IssuedStep), String> {
        let said = |fault: StepFault| format!("{}; {}", fault.message, fault.help);
        let issue = self.sheet_meant(At { sheet, ..At::default() }, typed).map_err(said)?;
        let steps = self.steps_meant(issue, typed).map_err(said)?;
        match steps.as_slice() {
            [step] => Ok((issue, *step)),
            several => Err(format!("`{typed}` names {} steps, and one is needed", several.len())),
        }
    }

    /// The sheet on which typed steps stand; `typed` is the first of them.
    ///
    /// # Errors
    /// That there is none, or more than one, and what would say which.
    pub fn sheet_meant(&self, at: At<'_>, typed: &str) -> Result<&Issue, StepFault> {
        if let Some(code) = at.sheet {
            let issue = self.sheet(code).ok_or_else(|| {
                fault(format!("sheet {code} was never issued"), "the code stands at the top of every page".to_owned())
            })?;
            let own = &issue.issued;
            if at.traveler.is_some_and(|traveler| traveler != own.traveler) || !issue.is_for(at.hand) {
                let message = format!("sheet {} is not what `traveler` and `hand` say", issue.title());
                return Err(fault(message, "leave them out, or leave out `sheet`".to_owned()));
            }
            return Ok(issue);
        }
        let prefix = typed.trim().split_once('/').map(|(traveler, _)| traveler);
        let Some(traveler) = at.traveler.or(prefix) else {
            let message = format!("step `{typed}` stands on no sheet");
            return Err(fault(message, "give `traveler` or `sheet` too, or type TRAVELER/step".to_owned()));
        };
        let own: Vec<&Issue> = self.all_in_force().filter(|issue| issue.issued.traveler == traveler).collect();
        let fits: Vec<&Issue> = own.iter().copied().filter(|issue| issue.is_for(at.hand)).collect();
        match fits.as_slice() {
            [issue] => Ok(*issue),
            [] => Err(self.none_in_force(traveler, at.hand, &own)),
            several => {
                let sheets: Vec<String> = several.iter().map(|issue| issue.title()).collect();
                let message = format!("step `{typed}` stands on {}", sheets.join(" and on "));
                Err(fault(message, "say which with `hand`; or give the sheet too".to_owned()))
            }
        }
    }

    fn none_in_force(&self, traveler: &str, hand: Option<Hand>, own: &[&Issue]) -> StepFault {
        let Some(hand) = hand.filter(|_| !own.is_empty()) else {
            let mut known: Vec<&str> = self.all_in_force().map(|issue| issue.issued.traveler.as_str()).collect();
            known.dedup();
            let near = crate::spec::nearest(traveler, known.iter().copied());
            let print = format!("`shophead packet {traveler} --issue` prints one for signing");
            let help = near.map_or(print, |near| format!("did you mean `{near}`?"));
            return fault(format!("no sheet of `{traveler}` is in force"), help);
        };
        let sheets: Vec<String> = own.iter().map(|issue| issue.title()).collect();
        let message =
            format!("no sheet of `{traveler}` is in force for the hand `{hand}`; in force: {}", sheets.join(", "));
        let one_off = own.iter().all(|issue| issue.issued.hand.is_none());
        let help = if one_off { "it is a one-off: leave `hand` out" } else { "give the hand that stands on the sheet" };
        fault(message, help.to_owned())
    }

    /// The steps of a sheet that are typed as one word: a number, an id, `TRAVELER/step` or a range.
    ///
    /// # Errors
    /// What was typed, what the sheet has and what would be accepted.
    pub fn steps_meant<'a>(&self, issue: &'a Issue, typed: &str) -> Result<Vec<&'a IssuedStep>, StepFault> {
        let owner = format!("sheet {}", issue.issued.sheet);
        let found = named_steps(typed, &issue.issued.traveler, &issue.names(), &owner);
        let steps = &issue.issued.steps;
        match found {
            Ok(found) => Ok(found.into_iter().map(|at| &steps[at]).collect()),
            Err(mut fault) => {
                let before = fault.unknown.as_deref().and_then(|word| self.step_before(issue, word));
                if let Some((old, step)) = before {
                    let name = format!("{:03} {}", step.number, step.id);
                    let of = format!("it was {name} of sheet {}, which this one replaced", old.issued.sheet);
                    fault.message = format!("{}; {of}", fault.message);
                }
                Err(fault)
            }
        }
    }

    /// The step of a sheet that was replaced, where the one in force has none of that name.
    fn step_before(&self, issue: &Issue, typed: &str) -> Option<(&Issue, &IssuedStep)> {
        let packet = issue.issued.packet();
        let mut earlier =
            self.issues.iter().rev().filter(|own| own.issued.packet() == packet && own.entry < issue.entry);
        earlier.find_map(|own| {
            let found = named_steps(typed, &own.issued.traveler, &own.names(), "").ok()?;
            Some((own, &own.issued.steps[*found.first()?]))
        })
    }

    /// Where a discrepancy was found; what is typed is judged on the sheet that it was written on.
    ///
    /// # Errors
    /// Those of [`State::sheet_meant`] and [`State::steps_meant`]; several steps; a step that the sheet in force no longer has,
    /// which would stop nothing.
    pub(super) fn found_at(&self, at: At<'_>, typed: Option<&str>) -> Result<FoundAt, StepFault> {
        let Some(typed) = typed else {
            let is_given = at.sheet.is_some() || at.traveler.is_some();
            let issue = is_given.then(|| self.sheet_meant(at, "")).transpose()?;
            return Ok(FoundAt { issue: issue.cloned(), step: None, remark: None });
        };
        let issue = self.sheet_meant(at, typed)?;
        let steps = self.steps_meant(issue, typed)?;
        let [step] = steps.as_slice() else {
            let message = format!("`{typed}` names {} steps", steps.len());
            return Err(fault(
                message,
                "a discrepancy is found at one step: the words may tell of the others".to_owned(),
            ));
        };
        let old = issue.issued.sheet;
        let replaced = self.in_force(&issue.issued.packet()).filter(|now| now.issued.sheet != old);
        let remark = replaced.map(|now| {
            let new = now.issued.sheet;
            if !now.issued.steps.iter().any(|own| own.id == step.id) {
                let known: Vec<String> = now.names().iter().map(ToString::to_string).collect();
                let was = format!("`{typed}` is step `{}` of sheet {old}", step.id);
                let message =
                    format!("{was}, which {new} replaced, and {new} has no such step; it has {}", known.join(", "));
                return Err(fault(message, "give the sheet in force and one of its steps".to_owned()));
            }
            Ok(format!("`{typed}` is step {:03} {} of sheet {old}, which {new} replaced", step.number, step.id))
        });
        Ok(FoundAt { issue: Some(issue.clone()), step: Some(step.id.clone()), remark: remark.transpose()? })
    }
}

fn fault(message: String, help: String) -> StepFault {
    StepFault { message, help, unknown: None }
}
