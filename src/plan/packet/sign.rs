//! SIGNATURES of a step: who marks it, and what the archive says of it: a signed step is printed as signed, without boxes.
//!
//! It repeats signatures and gives none.

use std::collections::BTreeMap;

use serde::Serialize;

use super::source::{Signed, Source};
use crate::archive::{Capacity, Carried, Carry, Issue, Signature, State};
use crate::job::{Job, May, Role, Signatory, Stage, Step, StepRef};
use crate::phrase::{self, say};
use crate::plan::act::{said_by, whose_act};
use crate::plan::named::{said_role, said_signers};
use crate::work::stage_facts;

/// Signatures that count on a packet, by step, each with how it came there.
pub(super) type Marks<'a> = BTreeMap<String, Vec<(&'a Signature, Carry)>>;

/// The signatures that a packet prints.
pub(super) fn marks(source: Source<'_>) -> Marks<'_> {
    match source.signed {
        Signed::Nothing => Marks::new(),
        Signed::InForce(state, issue) => of_issue(state, issue),
        Signed::Carried(state, carried) => of_carried(state, carried),
    }
}

fn of_issue<'a>(state: &'a State, issue: &'a Issue) -> Marks<'a> {
    let issued = &issue.issued;
    let was_read = issue.read_through.is_some();
    let now = |how: Carry| if was_read && how == Carry::ReadThrough { Carry::Stands } else { how };
    let of_step = |id: &str| -> Vec<_> {
        let counting = state.counting(&issued.item(id));
        counting.map(|(signature, how)| (signature, now(how))).collect()
    };
    issued
        .steps
        .iter()
        .map(|step| (step.id.clone(), of_step(&step.id)))
        .filter(|(_, marks)| !marks.is_empty())
        .collect()
}

fn of_carried<'a>(state: &'a State, carried: &[Carried]) -> Marks<'a> {
    let mut marks = Marks::new();
    for one in carried {
        if let Some(signature) = state.signatures.get(&one.entry) {
            marks.entry(one.step.clone()).or_default().push((signature, one.how));
        }
    }
    marks
}

/// The signature of the work of a step, where there is one.
pub(super) fn done<'a>(marks: &Marks<'a>, step: &str) -> Option<&'a Signature> {
    let all = marks.get(step)?;
    all.iter().map(|(signature, _)| *signature).find(|signature| signature.signed.capacity == Capacity::Done)
}

/// Whether a signature waits for somebody to read what changed.
pub(super) fn any_waits(marks: &Marks<'_>) -> bool {
    marks.values().flatten().any(|(_, how)| *how == Carry::ReadThrough)
}

/// Who marks a step.
#[derive(Debug, Clone, Serialize, PartialEq, Eq)]
#[serde(rename_all = "kebab-case")]
pub struct Sign {
    /// `done`, `hold`, `witness` or `stage`.
    pub kind: &'static str,
    /// Id of the role; of a stage its id and the place among those who sign it.
    pub role: String,
    /// Who must or may look, in words.
    #[serde(skip)]
    pub who: String,
    /// What stands in front: `HOLD technical counselor`.
    pub title: String,
    /// What the mark says.
    pub words: String,
    /// Whether it must be another day than that of the work, which is written down.
    pub other_day: bool,
    /// What the role's signature means, in the builder's words.
    pub says: Vec<String>,
    /// Fields to fill in beside the box.
    pub fields: Vec<String>,
    /// Outcomes to tick, in the builder's words.
    pub outcomes: Vec<String>,
    /// Whose act the tick is, where there are outcomes.
    pub act: Option<String>,
    /// Whether it is given before the step is worked: the hold or the stage of a closing.
    pub first: bool,
    /// Where it was signed before; then there is no box.
    pub signed: Option<String>,
    /// Of a packet of both hands the same for each; else none.
    pub hands: Vec<Option<String>>,
}

/// The builder's own mark, then whoever must or may look: the step's own points and those of the spaces it closes.
pub(super) fn signs(source: Source<'_>, at: usize, step: &Step, marks: &Marks<'_>) -> Vec<Sign> {
    let job = source.job;
    let first = !step.closes.is_empty();
    let is_last = at + 1 == source.traveler().steps.len();
    let until = match (first, is_last) {
        (true, _) => say!("nothing is closed"),
        (false, true) => say!("the packet is not finished"),
        (false, false) => say!("the next step is not begun"),
    };
    let mut signs = vec![done_by(job, step, marks)];
    for role in job.holds(step) {
        // Who works may hold his own work: the second look is worth something on another day.
        let other_day = job.role(role).is_some_and(|role| role.may(May::Do));
        let words = say!("{until} until it is signed", until);
        signs.push(Sign { other_day, first, ..look(job, Capacity::Hold, role, words, step, marks) });
    }
    if let Some(witness) = &step.witness {
        let words = say!("is invited; work may go on").to_owned();
        signs.push(look(job, Capacity::Witness, &witness.value, words, step, marks));
    }
    let own = StepRef { traveler: source.index, step: at };
    for stage in job.stages_at(own) {
        signs.extend(of_stage(job, &job.project.stages[stage], until, step, marks).map(|sign| Sign { first, ..sign }));
    }
    signs
}

fn done_by(job: &Job, step: &Step, marks: &Marks<'_>) -> Sign {
    let worker = job.project.roles.iter().find(|role| role.may(May::Do));
    let signature =
        marks.get(&step.id.value).into_iter().flatten().find(|(own, _)| own.signed.capacity == Capacity::Done);
    Sign {
        kind: Capacity::Done.word(),
        // A regime in which nobody may work has the box all the same.
        role: worker.map_or_else(|| "builder".to_owned(), |role| role.id.clone()),
        who: worker.map_or_else(|| phrase::word("builder"), |role| said_role(job, &role.id)),
        title: say!("Done by").to_owned(),
        words: say!("done by").to_owned(),
        other_day: false,
        says: Vec::new(),
        fields: Vec::new(),
        outcomes: Vec::new(),
        act: None,
        first: false,
        signed: signature.map(|(own, how)| self::words(job, own, *how)),
        hands: Vec::new(),
    }
}

/// A hold or a witness point, which its own role signs.
fn look(job: &Job, capacity: Capacity, role: &str, words: String, step: &Step, marks: &Marks<'_>) -> Sign {
    let given = |(own, _): &&(&Signature, Carry)| own.signed.capacity == capacity && own.role() == Some(role);
    let signature = marks.get(&step.id.value).into_iter().flatten().find(given);
    let known = job.role(role);
    let who = said_role(job, role);
    Sign {
        kind: capacity.word(),
        role: role.to_owned(),
        title: format!("{} {who}", phrase::word(capacity.word()).to_uppercase()),
        who,
        words,
        other_day: false,
        says: known.and_then(|role| role.says.clone()).into_iter().collect(),
        // A role that nobody wrote down asks for nothing.
        fields: known.map(|role| role.asks.clone()).unwrap_or_default(),
        outcomes: Vec::new(),
        act: None,
        first: false,
        signed: signature.map(|(own, how)| self::words(job, own, *how)),
        hands: Vec::new(),
    }
}

/// The boxes of a stage: one for each who signs it.
fn of_stage<'a>(
    job: &'a Job,
    stage: &'a Stage,
    until: &'a str,
    step: &Step,
    marks: &Marks<'_>,
) -> impl Iterator<Item = Sign> + use<'a> {
    let facts = stage_facts(stage);
    // A step without marks has none of a stage.
    let given: Vec<(&Signature, Carry)> = marks.get(&step.id.value).cloned().unwrap_or_default();
    let standing = facts.standing_among(&stage.id.value, given.iter().map(|(own, _)| *own));
    let how = |own: &Signature| {
        given.iter().find(|(other, _)| other.entry == own.entry).map_or(Carry::Stands, |(_, how)| *how)
    };
    let signed: Vec<Option<String>> =
        standing.places.iter().map(|own| own.map(|own| words(job, own, how(own)))).collect();
    let places: Vec<Vec<String>> =
        facts.places().iter().map(|names| names.iter().map(|name| (*name).to_owned()).collect()).collect();
    let other = if facts.other { say!(", not by whoever did the work") } else { "" };
    // An outcome that stops the work is printed too; its box stays open.
    let stopped = standing.stopped.iter().map(|own| format!("; {}", words(job, own, how(own))));
    let stopped: String = stopped.collect::<Vec<_>>().concat();
    let all = said_signers(job, stage);
    places.into_iter().zip(signed).enumerate().map(move |(nth, (names, signed))| {
        let roles = signing_roles(job, &names);
        let who: Vec<String> = names.iter().map(|name| said_role(job, name)).collect();
        let who = if who.len() > 1 { say!("one of {who}", who = who.join(", ")) } else { who.concat() };
        let releases = roles.iter().any(|role| role.may(May::Release));
        // What is signed says its own outcome; words beside it could be taken for others.
        let ticked = releases && signed.is_none();
        let outcomes: Vec<String> = stage.outcomes.iter().filter(|_| ticked).map(|word| word.value.clone()).collect();
        Sign {
            kind: Capacity::Stage.word(),
            role: format!("{} {}", stage.id.value, nth + 1),
            title: say!("STAGE {stage} {who}", stage = stage.id.value, who),
            words: say!(
                "{name}: {until} until it is signed by {all}{other}{stopped}",
                name = stage.name.value,
                until,
                all,
                other,
                stopped
            ),
            other_day: false,
            says: unique(roles.iter().filter_map(|role| role.says.clone())),
            fields: unique(roles.iter().flat_map(|role| role.asks.clone())),
            act: (!outcomes.is_empty()).then(|| whose_act(&who)),
            outcomes,
            who,
            first: false,
            signed,
            hands: Vec::new(),
        }
    })
}

/// The roles in which the people of a place sign: one that may release before others.
fn signing_roles<'a>(job: &'a Job, names: &[String]) -> Vec<&'a Role> {
    let of_name = |name: &String| match job.signatory(name)? {
        Signatory::Role(role) => Some(role),
        Signatory::Person(signer) => {
            let mut roles = job.roles_of(signer);
            job.roles_of(signer).find(|role| role.may(May::Release)).or_else(|| roles.next())
        }
    };
    names.iter().filter_map(of_name).collect()
}

fn unique(texts: impl Iterator<Item = String>) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    for text in texts {
        if !all.contains(&text) {
            all.push(text);
        }
    }
    all
}

fn words(job: &Job, signature: &Signature, how: Carry) -> String {
    let sheet = signature
        .sheet()
        .map_or_else(|| say!("before the archive was begun").to_owned(), |code| say!("on {code}", code));
    let by = if signature.signed.by.is_empty() { String::new() } else { say!(" by {by}", by = signature.signed.by) };
    let stands = match how {
        Carry::Stands => "",
        Carry::ReadThrough => say!("; stands when the change note is read"),
        Carry::ByRecord => say!("; stands by record"),
    };
    let asked: Vec<String> =
        signature.signed.asked.iter().map(|asked| format!(", {} {}", asked.id, asked.value)).collect();
    let asked = asked.concat();
    let signed = &signature.signed;
    let outcome = signed.outcome.as_ref();
    let outcome = outcome.map(|said| format!(": {}", said_by(said, &signed.by, &said_role(job, &signed.role))));
    // Work and holds have no outcome.
    let outcome = outcome.unwrap_or_default();
    say!(
        "signed{by} {sheet}, {worked}{asked}{outcome}{stands}",
        sheet,
        by,
        worked = signature.signed.worked,
        asked,
        outcome,
        stands
    )
}
