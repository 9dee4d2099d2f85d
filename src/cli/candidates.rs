//! What a word of the command line may be, asked by the shell while it is typed: travelers, spaces, steps, rules.
//!
//! It judges nothing and says nothing: where a project cannot be read, it has no proposals.

use std::ffi::{OsStr, OsString};
use std::path::PathBuf;

use clap_complete::engine::CompletionCandidate;

use super::project::resolved_project;
use crate::job::{Hand, Job, Signer, operation};
use crate::rules::RULES;

/// Travelers of the project, each with its title.
pub(super) fn travelers(typed: &OsStr) -> Vec<CompletionCandidate> {
    of_project(typed, |job| {
        let travelers = job.travelers.iter();
        travelers.map(|own| (own.id.value.clone(), own.title.value.clone())).collect()
    })
}

/// Spaces of the project, each with its name.
pub(super) fn spaces(typed: &OsStr) -> Vec<CompletionCandidate> {
    of_project(typed, |job| {
        let spaces = job.project.spaces.iter();
        spaces.map(|own| (own.id.value.clone(), own.name.value.clone())).collect()
    })
}

/// Hole sets of the travelers, as `WNG-210/J1`.
pub(super) fn hole_sets(typed: &OsStr) -> Vec<CompletionCandidate> {
    of_project(typed, |job| {
        let joints = job.travelers.iter().flat_map(|own| own.joints.iter().map(move |joint| (own, joint)));
        joints.map(|(own, joint)| (format!("{}/{}", own.id.value, joint.id.value), joint.title())).collect()
    })
}

/// Initials of those who sign, each with what the person signs as.
pub(super) fn initials(typed: &OsStr) -> Vec<CompletionCandidate> {
    of_project(typed, |job| {
        let role = |own: &Signer| job.roles_of(own).map(|role| role.word.clone()).collect::<Vec<_>>().join(", ");
        job.project.signers.iter().map(|own| (own.initials.value.clone(), role(own))).collect()
    })
}

/// Stages of the project, each with its name.
pub(super) fn stages(typed: &OsStr) -> Vec<CompletionCandidate> {
    of_project(typed, |job| {
        let stages = job.project.stages.iter();
        stages.map(|own| (own.id.value.clone(), own.name.value.clone())).collect()
    })
}

/// Operation numbers of the travelers that stand on the command line already, each with the step's title.
pub(super) fn steps(typed: &OsStr) -> Vec<CompletionCandidate> {
    let words: Vec<OsString> = std::env::args_os().collect();
    of_project(typed, |job| {
        let named = job.travelers.iter().filter(|own| words.iter().any(|word| *word == *own.id.value.as_str()));
        let steps = named.flat_map(|own| &own.steps);
        steps.map(|step| (operation(step.number), step.title.value.clone())).collect()
    })
}

/// What `archive sign` takes: travelers, and behind one of them its hands and steps.
pub(super) fn what_is_signed(typed: &OsStr) -> Vec<CompletionCandidate> {
    let named = steps(typed);
    // Without a traveler on the line there are no steps.
    if named.is_empty() {
        return travelers(typed);
    }
    let hands = Hand::ALL.iter().map(|hand| (hand.word().to_owned(), "the hand that was built".to_owned()));
    fitting(typed, hands).into_iter().chain(named).collect()
}

/// Names of rules, each with its summary.
pub(super) fn rules(typed: &OsStr) -> Vec<CompletionCandidate> {
    fitting(typed, RULES.iter().map(|rule| (rule.name.to_owned(), rule.summary())))
}

/// What the project offers, as far as it begins with what was typed.
fn of_project(typed: &OsStr, offers: impl Fn(&Job) -> Vec<(String, String)>) -> Vec<CompletionCandidate> {
    let Ok(job) = resolved_project(&project_named()) else { return Vec::new() };
    fitting(typed, offers(&job).into_iter())
}

/// The project that the words of the command line name.
fn project_named() -> PathBuf {
    let words: Vec<OsString> = std::env::args_os().collect();
    let behind = words.iter().position(|word| word == "--project").and_then(|at| words.get(at + 1)).cloned();
    let joined = || words.iter().find_map(|word| word.to_str()?.strip_prefix("--project=").map(OsString::from));
    behind.or_else(joined).map_or_else(|| PathBuf::from(super::USUAL_PROJECT), PathBuf::from)
}

/// The words that begin with what was typed, each with its explanation.
fn fitting(typed: &OsStr, words: impl Iterator<Item = (String, String)>) -> Vec<CompletionCandidate> {
    let typed = typed.to_string_lossy().to_lowercase();
    let fitting = words.filter(|(word, _)| word.to_lowercase().starts_with(typed.as_str()));
    fitting.map(|(word, said)| CompletionCandidate::new(word).help(Some(said.into()))).collect()
}
