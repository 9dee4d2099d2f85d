//! Follows the names of roles, persons and stages: in `[[signer]]`, `[[space]]`, `[[stage]]`, and at each step.

use super::names::dangling;
use super::{Resolving, Whole};
use crate::job::{Index, Project, Stage, Text};
use crate::report::{Finding, Place, Report};
use crate::spec::{StageSpec, StepSpec};
use crate::text::Spanned;

/// The stages with what they release; every name of the project file that leads nowhere is a finding.
pub(super) fn resolve_regime(project: &mut Project, whole: &Whole, report: &mut Report) {
    let signers = project.spec.signers.iter().flat_map(|signer| &signer.roles);
    let holds = project.spec.spaces.iter().filter_map(|space| space.hold.as_ref());
    report.extend(signers.chain(holds).filter_map(|role| dangling_role(project, role)));
    let stages = project.spec.spaces.iter().filter_map(|space| space.stage.as_ref());
    report.extend(stages.filter_map(|stage| dangling_stage(project, stage)));
    for stage in &project.spec.stages {
        let named = stage.sign.all.iter().chain(&stage.sign.any);
        report.extend(named.filter_map(|name| dangling_signatory(project, name)));
    }
    project.stages = project.spec.stages.iter().map(|stage| resolve_stage(project, stage, whole, report)).collect();
}

fn resolve_stage(project: &Project, spec: &StageSpec, whole: &Whole, report: &mut Report) -> Stage {
    let mut stage = Stage { spec: spec.clone(), spaces: Vec::new(), travelers: Vec::new() };
    for name in &spec.releases {
        let space = project.spec.spaces.iter().position(|space| space.id.value == name.value);
        match (space, whole.travelers.get(&name.value)) {
            (Some(space), _) => stage.spaces.push(space),
            (None, Some(traveler)) => stage.travelers.push(*traveler),
            (None, None) => {
                let spaces = project.spec.spaces.iter().map(|space| space.id.value.as_str());
                let known = spaces.chain(whole.travelers.keys().map(String::as_str));
                report.push(dangling(name, "space or traveler", known));
            }
        }
    }
    stage
}

/// A finding for a role that does not exist. What asks for a role is easily answered with a person.
fn dangling_role(project: &Project, role: &Text) -> Option<Finding> {
    let ids = || project.roles.iter().map(|role| role.id.as_str());
    if ids().any(|id| id == role.value) {
        return None;
    }
    let finding = dangling(role, "role", ids());
    let is_person = project.spec.signers.iter().any(|signer| signer.initials.value == role.value);
    let is_initials = role.value.len() <= 4 && role.value.chars().all(|c| c.is_ascii_uppercase());
    if !is_person && !is_initials {
        return Some(finding);
    }
    let known: Vec<&str> = ids().collect();
    let signer = project.spec.signers.iter().find(|signer| signer.initials.value == role.value);
    let own = signer.map(|signer| signer.roles.iter().map(|own| own.value.as_str()).collect::<Vec<_>>().join(", "));
    let help = match own {
        Some(own) => {
            format!("{} is a person, and here a role is wanted: `{own}` is what {} signs as", role.value, role.value)
        }
        None => format!("initials are of a person, and here a role is wanted: one of {}", known.join(", ")),
    };
    Some(finding.help(help))
}

fn dangling_stage(project: &Project, stage: &Text) -> Option<Finding> {
    let ids = || project.spec.stages.iter().map(|own| own.id.value.as_str());
    (!ids().any(|id| id == stage.value)).then(|| dangling(stage, "stage", ids()))
}

fn dangling_signatory(project: &Project, name: &Text) -> Option<Finding> {
    let roles = project.roles.iter().map(|role| role.id.as_str());
    let known: Vec<&str> =
        roles.chain(project.spec.signers.iter().map(|signer| signer.initials.value.as_str())).collect();
    (!known.contains(&name.value.as_str())).then(|| dangling(name, "role or signer", known.into_iter()))
}

impl Resolving<'_> {
    /// The roles that a step names must exist, and so must its stage, whose index is given.
    pub(super) fn follow_regime(&mut self, spec: &StepSpec, place: &Place) -> Option<Index> {
        let project = self.project;
        let roles = spec.hold.iter().chain(&spec.witness);
        let lost: Vec<Finding> = roles.filter_map(|role| dangling_role(project, role)).collect();
        for finding in lost {
            self.push(finding, place.clone());
        }
        let named = spec.stage.as_ref()?;
        let found = project.spec.stages.iter().position(|stage| stage.id.value == named.value);
        if found.is_none() {
            let finding = dangling_stage(project, named)?;
            self.push(finding, place.clone());
        }
        found.map(|value| Spanned { value, span: named.span })
    }
}
