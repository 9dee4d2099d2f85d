//! In which words a visit packet speaks: of advice, of a look, or of a stage that is its visitor's own act.
//!
//! What a visit means is said by the visitor's role, in the builder's own file. No word here releases anything.

use std::collections::BTreeSet;

use serde::Serialize;

use super::scene::Scene;
use crate::job::{Job, May, Role, Signatory};
use crate::phrase::say;
use crate::plan::named::said_role;
use crate::plan::packet::role_words;

/// What somebody comes for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Tone {
    /// To advise, which binds nobody.
    Advice,
    /// To look, under a rule of the visitor's own.
    Look,
    /// To sign a stage.
    Stage,
}

/// For whom a packet is made.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Visitor {
    /// Initials, where a person was named.
    pub initials: Option<String>,
    /// Words of the visitor's roles, or of those that the spaces ask for; empty where nobody is asked for.
    pub roles: Vec<String>,
    /// What the visitor comes for.
    pub tone: Tone,
    /// What a signature of these roles means, in the builder's words.
    pub says: Vec<String>,
}

/// The sentences of the pages.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct Sentences {
    /// In the foot of every page.
    pub foot: String,
    /// Under the title of the first part.
    pub lead: String,
    /// Beside the box for a visit without a finding.
    pub clean: String,
    /// What the page is, in strong words.
    pub what: String,
    /// And what it is not.
    pub not: String,
}

impl Visitor {
    /// The person or role that was named, else the roles that the chosen spaces and stages ask for.
    pub(super) fn of(scene: &Scene<'_>, named: Option<&str>) -> Self {
        let job = scene.job;
        match named.and_then(|name| job.signatory(name)) {
            Some(Signatory::Person(signer)) => {
                let roles: Vec<&Role> = job.roles_of(signer).collect();
                let words = vec![role_words(job, signer)];
                Self::new(Some(signer.initials.value.clone()), words, &roles, comes_to_sign(scene))
            }
            Some(Signatory::Role(role)) => {
                Self::new(None, vec![said_role(job, &role.id)], &[role], comes_to_sign(scene))
            }
            None => {
                let roles = asked(scene);
                let words = roles.iter().map(|role| said_role(job, &role.id)).collect();
                Self::new(None, words, &roles, comes_to_sign(scene))
            }
        }
    }

    fn new(initials: Option<String>, words: Vec<String>, roles: &[&Role], signs: bool) -> Self {
        let any = |what: May| roles.iter().any(|role| role.may(what));
        let tone = if any(May::Release) && signs {
            Tone::Stage
        } else if any(May::Advise) || roles.is_empty() {
            Tone::Advice
        } else {
            Tone::Look
        };
        let mut says: Vec<String> = Vec::new();
        for text in roles.iter().filter_map(|role| role.says.as_ref()) {
            if !says.contains(text) {
                says.push(text.clone());
            }
        }
        Self { initials, roles: words, tone, says }
    }

    /// The visitor in a sentence: the roles, or just that.
    pub(super) fn word(&self) -> String {
        if self.roles.is_empty() { say!("visitor").to_owned() } else { self.roles.join(say!(" and ")) }
    }

    /// The sentences of its tone.
    pub(super) fn sentences(&self) -> Sentences {
        let who = self.word();
        let of = |foot, lead, clean: &str, what, not: &str| Sentences {
            foot,
            lead,
            clean: clean.to_owned(),
            what,
            not: not.to_owned(),
        };
        match self.tone {
            Tone::Advice => of(
                say!(
                    "Advice is asked for; the responsibility stays with the builder. A tick permits nothing. Plans and regulations govern."
                ).to_owned(),
                say!("somebody else's eyes before it cannot be seen any more; advice is asked for, and nothing else").to_owned(),
                say!("no finding in what could be seen (this permits nothing)"),
                say!("Advice only; the responsibility stays with the builder.").to_owned(),
                say!("This page permits nothing and replaces no inspection that the law asks for."),
            ),
            Tone::Look => of(
                say!("The {who} looks; a tick says what was looked at, and permits nothing. Plans and regulations govern.", who),
                say!("what the {who} looks at before it cannot be seen any more", who),
                say!("no finding in what could be seen (this permits nothing)"),
                say!("The {who} looks; what that means is said by the rule under which the {who} comes.", who),
                say!("This page permits nothing by itself and replaces no inspection that the law asks for."),
            ),
            Tone::Stage => of(
                say!("A tick says what was looked at. What is written about a stage is the act of the {who} alone. Plans and regulations govern.", who),
                say!("what the {who} looks at before the stage is signed", who),
                say!("no finding in what could be seen (the stage is signed in a box of its own)"),
                say!("What is written about a stage is the act of the {who} alone.", who),
                say!("Nothing that is printed here says it, and it replaces nothing else that the law asks for."),
            ),
        }
    }
}

/// Whether the packet tells of a stage.
fn comes_to_sign(scene: &Scene<'_>) -> bool {
    scene.chosen.iter().any(|chosen| !chosen.stages.is_empty())
}

/// The roles that the holds and stages of what was chosen ask for.
fn asked<'a>(scene: &Scene<'a>) -> Vec<&'a Role> {
    let job: &'a Job = scene.job;
    let mut ids: BTreeSet<&str> = BTreeSet::new();
    for chosen in &scene.chosen {
        if let Some((by, _)) = &chosen.closing {
            ids.extend(job.holds(job.step(by.at)));
        }
        for (stage, _) in &chosen.stages {
            let sign = &job.project.stages[*stage].sign;
            for name in sign.all.iter().chain(&sign.any) {
                match job.signatory(&name.value) {
                    Some(Signatory::Role(role)) => drop(ids.insert(role.id.as_str())),
                    Some(Signatory::Person(signer)) => {
                        ids.extend(job.roles_of(signer).map(|role| role.id.as_str()));
                    }
                    None => {}
                }
            }
        }
    }
    // The builder's own look is no visit.
    job.project.roles.iter().filter(|role| ids.contains(role.id.as_str()) && !role.may(May::Do)).collect()
}
