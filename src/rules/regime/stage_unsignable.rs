//! # stage-unsignable
//!
//! ## What it checks
//! A stage can be signed: some step says it, or some step closes a space that asks for it; and there are as many persons
//! among the signers as it wants, each with a role that is asked for, or named by initials.
//!
//! ## Why it matters
//! What a stage stops stays stopped until it is signed. A stage without a box, or without a person, is found out on the day
//! when the inspector stands in the shop.
//!
//! ## Source
//! - `practice` shop practice of this project: no person signs a stage twice.
//!
//! ## Example that fires
//! ```toml
//! [[stage]]
//! id = "S2"
//! name = "Box before closing"
//! sign = { all = ["inspector", "inspector"] }     # two of them, and only P1 is one
//! [[signer]]
//! initials = "P1"
//! role = "inspector"
//! ```
//!
//! ## How to put it right
//! Add the missing `[[signer]]`, or `stage = ".."` to the step at which it is signed.
//!
//! ## When to allow it
//! Never needed: it is a warning, and stays one until the person is known.

use crate::job::{Job, Signer, Stage};
use crate::report::Severity;
use crate::rules::{Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Warning, looks: Looks::Job(look) };

fn look(job: &Job, sink: &mut Sink<'_>) {
    for (index, stage) in job.project.stages.iter().enumerate() {
        let id = &stage.id.value;
        if !job.travelers.is_empty() && job.stage_points(index).is_empty() {
            let message = format!("stage {id} is signed nowhere: no step says it, and none closes a space that does");
            let help = format!("add `stage = \"{id}\"` to the step at which it is signed");
            sink.push(sink.warning(stage.id.span, message).help(help));
        }
        let wanted = wanted(job, stage);
        if assigned(&wanted, &mut Vec::new()) {
            continue;
        }
        let message = match wanted.iter().position(Vec::is_empty) {
            Some(_) => {
                format!("stage {id} is signed by {}, and among the signers is no such person", job.who_signs(stage))
            }
            None => format!("stage {id} is signed by {}, and the signers are too few", job.who_signs(stage)),
        };
        let finding = sink.warning(stage.sign.span, message);
        sink.push(finding.help("add a `[[signer]]` with the role; no person signs a stage twice"));
    }
}

/// For each signature that a stage wants, the signers who may give it; names that lead nowhere are told of elsewhere.
fn wanted(job: &Job, stage: &Stage) -> Vec<Vec<usize>> {
    let fits = |signer: &Signer, name: &str| {
        signer.initials.value == name || signer.roles.iter().any(|role| role.value == name)
    };
    let known = |name: &&crate::job::Text| job.signatory(&name.value).is_some();
    let of = |names: &[&crate::job::Text]| -> Vec<usize> {
        let signers = job.project.signers.iter().enumerate();
        let such = signers.filter(|(_, signer)| names.iter().any(|name| fits(signer, &name.value)));
        such.map(|(index, _)| index).collect()
    };
    let mut wanted: Vec<Vec<usize>> = stage.sign.all.iter().filter(known).map(|name| of(&[name])).collect();
    let any: Vec<&crate::job::Text> = stage.sign.any.iter().filter(known).collect();
    if !any.is_empty() {
        wanted.push(of(&any));
    }
    wanted
}

/// Whether every signature finds a person of its own.
fn assigned(wanted: &[Vec<usize>], taken: &mut Vec<usize>) -> bool {
    let Some((first, rest)) = wanted.split_first() else { return true };
    first.iter().any(|person| {
        if taken.contains(person) {
            return false;
        }
        taken.push(*person);
        let fits = assigned(rest, taken);
        taken.pop();
        fits
    })
}
