//! SIGNATURES of a step: who marks it, and what the archive says of it: a signed step is printed as signed, without boxes.
//!
//! It repeats signatures and gives none.

use std::collections::BTreeMap;

use serde::Serialize;

use super::source::{Signed, Source};
use crate::archive::{Capacity, Carried, Carry, Issue, Signature, State};
use crate::job::{Role, Step};

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
    /// `done`, `hold` or `witness`.
    pub kind: &'static str,
    /// Role in words.
    pub role: &'static str,
    /// What the mark says.
    pub words: String,
    /// Whether it is given before the step is worked: the hold of a closing.
    pub first: bool,
    /// Where it was signed before; then there is no box.
    pub signed: Option<String>,
}

/// The builder's own mark, then whoever must or may look: the step's own points and those of the spaces it closes.
pub(super) fn signs(source: Source<'_>, step: &Step, marks: &Marks<'_>) -> Vec<Sign> {
    let given = |capacity, role| signed(marks, &step.id.value, capacity, role);
    let builder = Role::Builder.word();
    let mut signs = vec![Sign {
        kind: Capacity::Done.word(),
        role: builder,
        words: "done by".to_owned(),
        first: false,
        signed: given(Capacity::Done, builder),
    }];
    for role in source.job.holds(step) {
        let first = !step.closes.is_empty();
        let until = if first { "nothing is closed" } else { "the next step is not begun" };
        signs.push(Sign {
            kind: Capacity::Hold.word(),
            role: role.word(),
            words: format!("{until} until the {} has looked and signed", role.word()),
            first,
            signed: given(Capacity::Hold, role.word()),
        });
    }
    if let Some(witness) = &step.witness {
        let role = witness.value.word();
        signs.push(Sign {
            kind: Capacity::Witness.word(),
            role,
            words: format!("the {role} is invited; work may go on"),
            first: false,
            signed: given(Capacity::Witness, role),
        });
    }
    signs
}

/// What stands in place of a box: whoever did the work signs for it in any role, a hold or a witness in its own.
fn signed(marks: &Marks<'_>, step: &str, capacity: Capacity, role: &str) -> Option<String> {
    let mut all = marks.get(step)?.iter();
    let found = all.find(|(signature, _)| {
        signature.signed.capacity == capacity
            && (capacity == Capacity::Done || signature.role().map(Role::word) == Some(role))
    });
    found.map(|(signature, how)| words(signature, *how))
}

fn words(signature: &Signature, how: Carry) -> String {
    let sheet = signature.sheet().map_or_else(|| "before the archive".to_owned(), |code| format!("on {code}"));
    let by = if signature.signed.by.is_empty() { String::new() } else { format!(" by {}", signature.signed.by) };
    let stands = match how {
        Carry::Stands => "",
        Carry::ReadThrough => "; stands when the change note is read",
        Carry::ByRecord => "; stands by record",
    };
    format!("signed {sheet}{by}, {}{stands}", signature.signed.worked)
}
