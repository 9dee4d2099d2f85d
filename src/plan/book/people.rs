//! Who did what: signatures, minutes and help by person, paid help apart.
//!
//! Minutes are those on the sheets; a helper's are those of the steps at which he helped.

use std::collections::BTreeMap;

use serde::Serialize;

use super::counted;
use crate::archive::{Capacity, State};
use crate::job::Job;
use crate::plan::packet::role_words;

/// One person.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Default)]
#[serde(rename_all = "kebab-case")]
pub struct Person {
    /// Initials.
    pub initials: String,
    /// Role in the project file; absent for helpers who sign nothing.
    pub role: Option<String>,
    /// Steps signed as done.
    pub done: u32,
    /// Minutes of those.
    pub minutes: u32,
    /// Holds, witnesses and stages signed.
    pub looked: u32,
    /// Steps at which the person helped without pay, and minutes.
    pub helped: (u32, u32),
    /// Steps at which the person helped for pay, and minutes.
    pub paid: (u32, u32),
}

/// Everybody who stands on a sheet, by initials.
pub(super) fn people(job: &Job, state: &State) -> Vec<Person> {
    let mut people: BTreeMap<String, Person> = BTreeMap::new();
    for signature in counted(state) {
        // A signature without minutes adds none.
        let minutes = signature.signed.minutes.unwrap_or(0);
        let own = people.entry(signature.signed.by.clone()).or_default();
        if signature.signed.capacity == Capacity::Done {
            own.done += 1;
            own.minutes = own.minutes.saturating_add(minutes);
        } else {
            own.looked += 1;
        }
        for helper in &signature.signed.helpers {
            add(&mut people.entry(helper.clone()).or_default().helped, minutes);
        }
        for helper in &signature.signed.paid {
            add(&mut people.entry(helper.clone()).or_default().paid, minutes);
        }
    }
    let role = |initials: &str| job.signer(initials).map(|signer| role_words(job, signer));
    people.into_iter().map(|(initials, own)| Person { role: role(&initials), initials, ..own }).collect()
}

fn add(sum: &mut (u32, u32), minutes: u32) {
    sum.0 += 1;
    sum.1 = sum.1.saturating_add(minutes);
}
