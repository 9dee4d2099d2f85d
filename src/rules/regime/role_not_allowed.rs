//! # role-not-allowed
//!
//! ## What it checks
//! Nobody is asked for what his role may not do: a `hold` or `witness` and whoever signs a stage has a role that may
//! `look` or `release`; a stage that releases something, or has outcomes, is signed by somebody who may `release`
//! whoever else signs it; and at least one role may `do`, that is, sign work.
//!
//! ## Why it matters
//! Entry refuses a signature that its role does not allow: the box would stay empty, and the work behind it stops.
//!
//! ## Source
//! - `practice` shop practice of this project: `build.toml` says who may do what; no built-in role may release.
//!
//! ## Example that fires
//! ```toml
//! # build.toml without a [[role]]: the built-in inspector looks, and releases nothing
//! [[stage]]
//! id = "S2"
//! name = "Box before closing"
//! sign = { all = ["inspector"] }
//! releases = ["fin-box"]
//! ```
//!
//! ## How to put it right
//! Ask another role, or write a `[[role]]` of your own with what it may do.
//!
//! ## When to allow it
//! Never: an `[[allow]]` lets nobody sign.

use crate::job::{Job, May, Role, Signatory, Stage, StepRef, Text};
use crate::report::{Place, Severity};
use crate::rules::{Check, Looks, Sink};

pub const RULE: Check = Check { severity: Severity::Error, looks: Looks::Job(look) };

fn look(job: &Job, sink: &mut Sink<'_>) {
    if !job.project.roles.iter().any(|role| role.may(May::Do))
        && let Some(role) = job.project.spec.roles.first()
    {
        let finding = sink.error(role.id.span, "no role may sign work");
        sink.push(finding.help("add `do` to `may` of the role that works"));
    }
    for space in &job.project.spaces {
        look_at(job, space.hold.as_ref(), &format!("space {} holds for", space.id.value), &Place::default(), sink);
    }
    for (traveler, own) in job.travelers.iter().enumerate() {
        for (step, written) in own.steps.iter().enumerate() {
            let name = job.step_name(StepRef { traveler, step });
            let (traveler, step) = (Some(own.id.value.clone()), Some(written.id.value.clone()));
            let place = Place { traveler, step, ..Place::default() };
            look_at(job, written.hold.as_ref(), &format!("step {name} holds for"), &place, sink);
            look_at(job, written.witness.as_ref(), &format!("step {name} invites"), &place, sink);
        }
    }
    job.project.stages.iter().for_each(|stage| stage_signers(job, stage, sink));
}

/// A role that is asked to look must exist and be allowed to; one that does not exist is told of elsewhere.
fn look_at(job: &Job, asked: Option<&Text>, what: &str, place: &Place, sink: &mut Sink<'_>) {
    let Some((asked, role)) = asked.and_then(|asked| Some((asked, job.role(&asked.value)?))) else { return };
    if !role.may_look() {
        let message = format!("{what} the role `{}`, which may not look ({})", role.id, may(role));
        let finding = sink.error(asked.span, message);
        sink.push_about(place.clone(), finding.help(format!("name another role, or {}", wanting(job, role, "look"))));
    }
}

fn may(role: &Role) -> String {
    let words: Vec<&str> = role.may.iter().map(|may| may.word()).collect();
    format!("may = {words:?}")
}

/// What to write so that a role may do something; a built-in one is written out first.
fn wanting(job: &Job, role: &Role, word: &str) -> String {
    if job.project.spec.roles.is_empty() {
        format!("write the roles as `[[role]]`, this one with `{word}`: no built-in role may do more")
    } else {
        format!("add `{word}` to `may` of `{}`", role.id)
    }
}

fn stage_signers(job: &Job, stage: &Stage, sink: &mut Sink<'_>) {
    let id = &stage.id.value;
    for name in stage.sign.all.iter().chain(&stage.sign.any) {
        match job.signatory(&name.value) {
            Some(Signatory::Role(_)) => {
                look_at(job, Some(name), &format!("stage {id} is signed by"), &Place::default(), sink);
            }
            Some(Signatory::Person(signer)) if !job.roles_of(signer).any(Role::may_look) => {
                let message = format!("stage {id} is signed by {}, none of whose roles may look", name.value);
                let finding = sink.error(name.span, message);
                sink.push(finding.help("name somebody else, or give the person a role that may `look`"));
            }
            _ => {}
        }
    }
    let releases = |name: &Text| match job.signatory(&name.value) {
        Some(Signatory::Role(role)) => role.may(May::Release),
        Some(Signatory::Person(signer)) => job.roles_of(signer).any(|role| role.may(May::Release)),
        // A name that leads nowhere is told of elsewhere.
        None => true,
    };
    let any = &stage.sign.any;
    let surely = stage.sign.all.iter().any(releases) || (!any.is_empty() && any.iter().all(releases));
    if stage.is_release() && !surely {
        let has = if stage.spec.releases.is_empty() { "has outcomes" } else { "releases something" };
        let message = format!("stage {id} {has}, and nobody who must sign it may release");
        let finding = sink.error(stage.sign.span, message);
        sink.push(finding.help("ask a `[[role]]` of your own with `release` in `may`; no built-in role may release"));
    }
}
