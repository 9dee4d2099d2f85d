//! Who may put a signature there: the role in which somebody signs, what the place asks of it, and that it is free.
//!
//! It asks the issued sheet who must sign, and the project of today what a role may do. Whether steps are open is not
//! known here.

use super::NOT_APPLICABLE;
use crate::archive::entry::Signed;
use crate::archive::requirement::StepRequirement;
use crate::archive::stage::StageFacts;
use crate::archive::state::{Issue, State};
use crate::archive::value::Capacity;
use crate::words::May;

/// A role of the project.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RoleFacts {
    /// Its id.
    pub id: String,
    /// What it may do.
    pub may: Vec<May>,
    /// Fields to be filled in beside its box.
    pub asks: Vec<String>,
}

/// Somebody who signs.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SignerFacts {
    /// Initials.
    pub initials: String,
    /// The roles in which the person signs, the usual one first.
    pub roles: Vec<RoleFacts>,
}

impl RoleFacts {
    fn may(&self, what: May) -> bool {
        self.may.contains(&what)
    }

    fn may_look(&self) -> bool {
        self.may(May::Look) || self.may(May::Release)
    }
}

/// The role in which a signature is given: the one that is typed, else the first of the person's that fits the place.
///
/// # Errors
/// Why there is none.
pub(super) fn role<'a>(
    signer: &'a SignerFacts,
    signing: &Signed,
    step: &StepRequirement,
) -> Result<&'a RoleFacts, String> {
    let by = &signer.initials;
    let Some(usual) = signer.roles.first() else { return Err(format!("{by} has no role in build.toml")) };
    if !signing.role.is_empty() {
        let named = signer.roles.iter().find(|role| role.id == signing.role);
        let known: Vec<&str> = signer.roles.iter().map(|role| role.id.as_str()).collect();
        return named.ok_or_else(|| format!("{by} signs as {}, not as {}", known.join(" or "), signing.role));
    }
    let fits = |role: &&RoleFacts| match signing.capacity {
        Capacity::Done => role.may(May::Do),
        Capacity::Hold | Capacity::Witness => step.roles(signing.capacity).any(|id| id == role.id),
        Capacity::Stage => {
            let mut stages = step.stages().filter(|(id, _)| signing.stage.as_deref().is_none_or(|own| own == *id));
            // A person who is named signs in the role that may do most.
            let by_role = |stage: &StageFacts| has(stage, &role.id) || (has(stage, by) && role.may(May::Release));
            stages.any(|(_, stage)| by_role(stage))
        }
    };
    Ok(signer.roles.iter().find(fits).unwrap_or(usual))
}

fn has(stage: &StageFacts, name: &str) -> bool {
    stage.all.iter().chain(&stage.any).any(|own| own == name)
}

/// What speaks against a signature in a role.
pub(super) fn check(
    state: &State,
    issue: &Issue,
    step: &StepRequirement,
    signing: &Signed,
    role: &RoleFacts,
    faults: &mut Vec<String>,
) {
    match signing.capacity {
        Capacity::Done if !role.may(May::Do) => {
            faults.push(format!("{} signs as {}, which may not sign work ({})", signing.by, role.id, may_words(role)));
        }
        Capacity::Done => {}
        Capacity::Hold | Capacity::Witness => check_look(step, signing, role, faults),
        Capacity::Stage => check_stage(state, issue, step, signing, role, faults),
    }
    if signing.capacity != Capacity::Stage && (signing.stage.is_some() || signing.outcome.is_some()) {
        let capacity = signing.capacity.word();
        faults.push(format!("this signature is for `{capacity}`; a stage and an outcome are given with `stage` alone"));
    }
    if signing.capacity != Capacity::Done {
        check_asked(signing, role, faults);
    } else if !signing.asked.is_empty() {
        faults.push("fields beside the box belong to a hold, a witness point or a stage".to_owned());
    }
}

fn may_words(role: &RoleFacts) -> String {
    let words: Vec<&str> = role.may.iter().map(|may| may.word()).collect();
    format!("build.toml: may = {words:?}")
}

fn check_look(step: &StepRequirement, signing: &Signed, role: &RoleFacts, faults: &mut Vec<String>) {
    let word = signing.capacity.word();
    let roles: Vec<&str> = step.roles(signing.capacity).collect();
    if roles.is_empty() {
        faults.push(format!("step `{}` asks for no {word}", step.id));
    } else if !roles.contains(&role.id.as_str()) {
        faults.push(format!(
            "the {word} of step `{}` is for the {}; {} signs as {}",
            step.id,
            roles.join(" and the "),
            signing.by,
            role.id
        ));
    } else if !role.may_look() {
        faults.push(format!("{} signs as {}, which may not sign a {word} ({})", signing.by, role.id, may_words(role)));
    }
}

/// The stage that a signature is for: the one that is named, or the only one of the step.
pub(super) fn stage_of<'a>(
    step: &'a StepRequirement,
    named: Option<&str>,
) -> Result<(&'a str, &'a StageFacts), String> {
    let all: Vec<(&str, &StageFacts)> = step.stages().collect();
    let ids = || all.iter().map(|(id, _)| *id).collect::<Vec<_>>().join(", ");
    match (named, all.as_slice()) {
        (_, []) => Err(format!("step `{}` asks for no stage", step.id)),
        (Some(named), _) => all
            .iter()
            .find(|(id, _)| *id == named)
            .copied()
            .ok_or_else(|| format!("step `{}` has no stage `{named}`; it has {}", step.id, ids())),
        (None, [only]) => Ok(*only),
        (None, _) => Err(format!("step `{}` has the stages {}; say which", step.id, ids())),
    }
}

fn check_stage(
    state: &State,
    issue: &Issue,
    step: &StepRequirement,
    signing: &Signed,
    role: &RoleFacts,
    faults: &mut Vec<String>,
) {
    let (id, facts) = match stage_of(step, signing.stage.as_deref()) {
        Ok(found) => found,
        Err(fault) => return faults.push(fault),
    };
    let by = signing.by.as_str();
    let place = format!("stage {id} at step `{}`", step.id);
    if !has(facts, by) && !has(facts, &role.id) {
        return faults.push(format!("{place} is signed by {}; {by} signs as {}", who(facts), role.id));
    }
    if !role.may_look() {
        faults.push(format!("{by} signs as {}, which may not sign a stage ({})", role.id, may_words(role)));
    }
    check_outcome(&place, facts, signing, role, faults);
    let standing = facts.standing(id, state, &issue.issued.item(&step.id));
    let own = standing.places.iter().flatten().find(|own| own.signed.by == by);
    let mut open = facts.places().into_iter().zip(&standing.places).filter(|(_, filled)| filled.is_none());
    let stops = signing.outcome.as_ref().is_some_and(|said| !facts.outcomes.contains(&(said.clone(), true)));
    if let Some(own) = own {
        faults.push(format!(
            "{place} was signed by {by} on {} (entry {}); correct that entry or strike it out",
            own.signed.worked, own.entry
        ));
    } else if !stops && !open.any(|(names, _)| names.contains(&by) || names.contains(&role.id.as_str())) {
        faults.push(format!("{place} has been signed by everybody whom {by} could stand for"));
    }
}

/// `the inspector and P1`, `one of the inspectors or P1`.
fn who(stage: &StageFacts) -> String {
    let places = stage.places().into_iter().map(|names| match names.as_slice() {
        [one] => (*one).to_owned(),
        several => format!("one of {}", several.join(", ")),
    });
    places.collect::<Vec<_>>().join(" and ")
}

/// An outcome is the act of whoever may release, in the words of the project.
fn check_outcome(place: &str, stage: &StageFacts, signing: &Signed, role: &RoleFacts, faults: &mut Vec<String>) {
    let words: Vec<&str> = stage.words().collect();
    match &signing.outcome {
        Some(_) if !role.may(May::Release) => faults.push(format!(
            "{} signs as {}, which may not release: the outcome of {place} is for whoever may",
            signing.by, role.id
        )),
        Some(said) if !words.contains(&said.as_str()) => {
            faults.push(format!("`{said}` is no outcome of {place}; they are: {}", words.join(", ")));
        }
        None if role.may(May::Release) && !words.is_empty() => {
            faults.push(format!("{place} has no outcome; write the one that is ticked: {}", words.join(", ")));
        }
        _ => {}
    }
}

fn check_asked(signing: &Signed, role: &RoleFacts, faults: &mut Vec<String>) {
    for asked in signing.asked.iter().filter(|asked| !role.asks.contains(&asked.id)) {
        let known = if role.asks.is_empty() { "nothing".to_owned() } else { role.asks.join(", ") };
        faults.push(format!("the box of the {} does not ask for `{}`; it asks for {known}", role.id, asked.id));
    }
    for field in role.asks.iter().filter(|field| !signing.asked.iter().any(|asked| asked.id == **field)) {
        faults.push(format!(
            "the box of the {} asks for `{field}`; write what stands there or {NOT_APPLICABLE}",
            role.id
        ));
    }
}
