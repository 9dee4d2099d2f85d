//! The keys of `[[role]]` and `[[stage]]`: who may sign what, and where somebody looks at the work in stages.
//!
//! It refuses a stage that nobody signs, an outcome that lets work go on and is none, and a field that no record can
//! keep. Whether roles and people exist is not said here.

use super::form::{Filled, Flag, Id, Table, Text, Texts, Words};
use super::list::section;
use super::read::Reading;
use crate::text::Spanned;
use crate::words::May;

section! {
    /// A role: what those may sign who have it. Where the file has any, the built-in four do not exist.
    RoleSpec = "role" checked by check_role {
        /// Name in specs and records.
        id "id": need Id => apart,
        /// The word on paper, in any language. Default: the id.
        word "word": may Filled => wording,
        /// `do`: signs work. `look`: signs holds, witness points and stages. `advise`: its visit packet asks for advice.
        /// `release`: signs a stage that releases something or has outcomes; it may look as well.
        may "may": any Words<May> => apart,
        /// Fields to fill in beside the box of a hold, a witness point or a stage, as `authorisation no.`; they are
        /// entered with the signature.
        asks "asks": any Texts => wording,
        /// What a signature of this role means, in a sentence: printed at its box and in the visit packet.
        says "says": may Text => wording,
    }

    /// A stage: a point at which somebody looks and signs. It is signed on each step that says it, once a hand, and
    /// on the step that closes a space that says it, where no step in the space does.
    StageSpec = "stage" checked by check_stage {
        /// Name in specs and records.
        id "id": need Id => work,
        /// Name on paper.
        name "name": need Filled => wording,
        /// Who signs it.
        sign "sign": need Table<StageSign> => work,
        /// Spaces and travelers that it releases. It cannot be signed before their steps are, nor before any step that
        /// comes before it; a space that it releases closes after it.
        releases "releases": any Texts => work,
        /// What a releasing signer writes down about it, in the builder's own words. They are printed beside the name of
        /// whose act they are.
        outcomes "outcomes": any Texts => work,
        /// Outcomes after which the work goes on. Default: the first. Any other leaves the stage open, and what follows
        /// waits, until the same person signs again with one of these.
        go_on "go-on": any Texts => work,
    }

    /// Who signs a stage: ids of roles, or initials of persons. No person signs a stage twice.
    StageSign = "sign" checked by check_sign {
        /// Each of these; a role that stands twice is signed by two persons.
        all "all": any Texts => work,
        /// One of these.
        any "any": any Texts => work,
        /// Nobody who signed work of the stage, or helped at it, signs the stage.
        other "other": or Flag = false => work,
    }
}

fn check_role(role: &RoleSpec, reading: &mut Reading) {
    // A record keeps a field as `name = value` on one line.
    let unkeepable = |field: &&Spanned<String>| field.value.trim().is_empty() || field.value.contains('=');
    for field in role.asks.iter().filter(unkeepable) {
        let message = format!("`asks` names `{}`, which no record can keep", field.value);
        reading.invalid(field.span, message).help = Some("name the field in words without `=`".into());
    }
}

fn check_sign(sign: &StageSign, reading: &mut Reading) {
    if sign.all.is_empty() && sign.any.is_empty() {
        reading.invalid(sign.span, "`sign` names nobody").help =
            Some("name roles or initials, as `sign = { all = [\"inspector\"] }`".into());
    }
}

fn check_stage(stage: &StageSpec, reading: &mut Reading) {
    let known = |word: &Spanned<String>| stage.outcomes.iter().any(|outcome| outcome.value == word.value);
    for word in stage.go_on.iter().filter(|word| !known(word)) {
        let message = format!("`go-on` names `{}`, which is none of the outcomes", word.value);
        let words: Vec<&str> = stage.outcomes.iter().map(|outcome| outcome.value.as_str()).collect();
        reading.invalid(word.span, message).help = Some(format!("the outcomes are: {}", words.join(", ")));
    }
    for (nth, word) in stage.outcomes.iter().enumerate() {
        if stage.outcomes[..nth].iter().any(|earlier| earlier.value == word.value) {
            reading.invalid(word.span, format!("the outcome `{}` stands twice", word.value));
        }
    }
}

impl StageSpec {
    /// Whether the work goes on after an outcome.
    #[must_use]
    pub fn lets_go_on(&self, outcome: &str) -> bool {
        let named = if self.go_on.is_empty() { self.outcomes.get(..1) } else { Some(&self.go_on[..]) };
        // A stage without outcomes has none after which it could stay open.
        named.is_none_or(|named| named.iter().any(|word| word.value == outcome))
    }
}
