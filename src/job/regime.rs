//! The regime: which roles there are, what each may do, and which stages are signed where and by whom.
//!
//! Where the project file names no role, the built-in four stand in; none of them may release. It follows names and
//! judges nothing.

use super::{Job, Signer, StageSpec, Step, StepRef};
use crate::spec::RoleSpec;
use crate::words::May;

/// Who may sign what.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Role {
    /// Name in specs and records.
    pub id: String,
    /// The word on paper.
    pub word: String,
    /// What it may do.
    pub may: Vec<May>,
    /// Fields beside its box.
    pub asks: Vec<String>,
    /// What its signature means, in the builder's words.
    pub says: Option<String>,
}

/// Roles of a project that names none, with what each may do: as shops have it that build from a kit (common practice).
const BUILT_IN: [(&str, &[May]); 4] = [
    ("builder", &[May::Do, May::Look]),
    ("helper", &[May::Do, May::Look]),
    ("technical counselor", &[May::Look, May::Advise]),
    ("inspector", &[May::Look]),
];

impl Role {
    /// The roles of a project: those that it names, or the built-in ones.
    pub(super) fn all(named: &[RoleSpec]) -> Vec<Self> {
        if !named.is_empty() {
            return named.iter().map(Self::of).collect();
        }
        let built_in = |(id, may): &(&str, &[May])| Self {
            id: (*id).to_owned(),
            word: (*id).to_owned(),
            may: may.to_vec(),
            asks: Vec::new(),
            says: None,
        };
        BUILT_IN.iter().map(built_in).collect()
    }

    fn of(spec: &RoleSpec) -> Self {
        let id = spec.id.value.clone();
        Self {
            word: spec.word.as_ref().map_or_else(|| id.clone(), |word| word.value.clone()),
            id,
            may: spec.may.iter().map(|may| may.value).collect(),
            asks: spec.asks.iter().map(|field| field.value.clone()).collect(),
            says: spec.says.as_ref().map(|says| says.value.clone()),
        }
    }

    /// Whether it may do something.
    #[must_use]
    pub fn may(&self, what: May) -> bool {
        self.may.contains(&what)
    }

    /// Whether it may sign a hold, a witness point or a stage.
    #[must_use]
    pub fn may_look(&self) -> bool {
        self.may(May::Look) || self.may(May::Release)
    }
}

/// A stage, with what it releases.
#[derive(Debug, Clone)]
pub struct Stage {
    /// As written.
    pub spec: StageSpec,
    /// Indices of the spaces that it releases.
    pub spaces: Vec<usize>,
    /// Indices of the travelers that it releases.
    pub travelers: Vec<usize>,
}

impl std::ops::Deref for Stage {
    type Target = StageSpec;

    fn deref(&self) -> &StageSpec {
        &self.spec
    }
}

/// Who is meant by a name in `sign`.
#[derive(Debug, Clone, Copy)]
pub enum Signatory<'a> {
    /// Whoever has a role.
    Role(&'a Role),
    /// One person.
    Person(&'a Signer),
}

impl Stage {
    /// Whether it is more than a look: it releases something, or an outcome is written down.
    #[must_use]
    pub fn is_release(&self) -> bool {
        !self.spec.releases.is_empty() || !self.outcomes.is_empty()
    }

    /// `S2, Box before closing`.
    #[must_use]
    pub fn title(&self) -> String {
        format!("{}, {}", self.id.value, self.name.value)
    }
}

impl Job {
    /// The role of an id.
    #[must_use]
    pub fn role(&self, id: &str) -> Option<&Role> {
        self.project.roles.iter().find(|role| role.id == id)
    }

    /// The word of a role on paper; the id itself where no role has it (any longer).
    #[must_use]
    pub fn role_word<'a>(&'a self, id: &'a str) -> &'a str {
        self.role(id).map_or(id, |role| &role.word)
    }

    /// The roles that a person signs in.
    pub fn roles_of<'a>(&'a self, signer: &'a Signer) -> impl Iterator<Item = &'a Role> {
        signer.roles.iter().filter_map(|role| self.role(&role.value))
    }

    /// The person of some initials.
    #[must_use]
    pub fn signer(&self, initials: &str) -> Option<&Signer> {
        self.project.signers.iter().find(|signer| signer.initials.value == initials)
    }

    /// Who is meant by a name in `sign`: a role before a person.
    #[must_use]
    pub fn signatory(&self, name: &str) -> Option<Signatory<'_>> {
        let role = self.role(name).map(Signatory::Role);
        role.or_else(|| self.signer(name).map(Signatory::Person))
    }

    /// A name in `sign` as paper says it: the word of a role, or initials.
    #[must_use]
    pub fn signatory_word<'a>(&'a self, name: &'a str) -> &'a str {
        self.role_word(name)
    }

    /// Who signs a stage, in words: `Inspector and one of P1, P2`.
    #[must_use]
    pub fn who_signs(&self, stage: &Stage) -> String {
        let word = |name: &super::Text| self.signatory_word(&name.value).to_owned();
        let all = stage.sign.all.iter().map(word);
        let any: Vec<String> = stage.sign.any.iter().map(word).collect();
        let any = match any.as_slice() {
            [] => None,
            [one] => Some(one.clone()),
            several => Some(format!("one of {}", several.join(", "))),
        };
        all.chain(any).collect::<Vec<_>>().join(" and ")
    }

    /// Ids of the roles whose hold a step has: its own, then those of the spaces that it closes.
    #[must_use]
    pub fn holds<'a>(&'a self, step: &'a Step) -> Vec<&'a str> {
        let of_spaces = step.closes.iter().filter_map(|space| self.space_spec(space.value).hold.as_ref());
        let mut holds: Vec<&str> = Vec::new();
        for role in step.hold.iter().chain(of_spaces) {
            if !holds.contains(&role.value.as_str()) {
                holds.push(&role.value);
            }
        }
        holds
    }

    /// Indices of the stages that must be signed before a space closes: its own, and those that release it.
    #[must_use]
    pub fn stages_of_space(&self, space: usize) -> Vec<usize> {
        let named = self.space_spec(space).stage.as_ref();
        let is_meant =
            |stage: &Stage| named.is_some_and(|named| named.value == stage.id.value) || stage.spaces.contains(&space);
        let stages = self.project.stages.iter().enumerate();
        stages.filter(|(_, stage)| is_meant(stage)).map(|(index, _)| index).collect()
    }

    /// Indices of the stages that are signed at a step: its own, then those of the spaces that it closes, where no step
    /// in the space and no earlier one of its traveler says them.
    #[must_use]
    pub fn stages_at(&self, at: StepRef) -> Vec<usize> {
        let step = self.step(at);
        let mut stages: Vec<usize> = step.stage.iter().map(|stage| stage.value).collect();
        for space in &step.closes {
            for stage in self.stages_of_space(space.value) {
                if !stages.contains(&stage) && !self.is_said_before(stage, space.value, at) {
                    stages.push(stage);
                }
            }
        }
        stages
    }

    /// Whether a stage is signed at another step than the one that closes the space.
    fn is_said_before(&self, stage: usize, space: usize, closing: StepRef) -> bool {
        let says = |step: &Step| step.stage.is_some_and(|own| own.value == stage);
        self.travelers.iter().enumerate().any(|(traveler, own)| {
            own.steps.iter().enumerate().filter(|(_, step)| says(step)).any(|(index, step)| {
                let is_earlier = traveler == closing.traveler && index < closing.step;
                let is_other = (StepRef { traveler, step: index }) != closing;
                is_earlier || (is_other && step.spaces.iter().any(|used| used.value == space))
            })
        })
    }

    /// Every step at which a stage is signed, in the order of the travelers.
    #[must_use]
    pub fn stage_points(&self, stage: usize) -> Vec<StepRef> {
        let steps = self
            .travelers
            .iter()
            .enumerate()
            .flat_map(|(traveler, own)| (0..own.steps.len()).map(move |step| StepRef { traveler, step }));
        steps.filter(|at| self.stages_at(*at).contains(&stage)).collect()
    }
}
