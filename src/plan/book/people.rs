//! Who did what: signatures, minutes and help by person, paid help apart.
//!
//! Minutes are those on the sheets; a helper's are those of the steps at which he helped.

use std::collections::BTreeMap;

use serde::Serialize;

use super::progress::hours;
use super::unstruck;
use crate::archive::{Capacity, State};
use crate::job::Job;
use crate::phrase::say;
use crate::plan::packet::role_words;

/// One person.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Default)]
#[serde(rename_all = "kebab-case")]
pub struct Person {
    /// Initials.
    pub initials: String,
    /// The name in full, where the project file has it.
    pub name: Option<String>,
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

/// One person.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub struct PersonOnPage {
    /// Initials.
    pub initials: String,
    /// The name in full, where the project file has it.
    pub name: Option<String>,
    /// Role in the project file.
    pub role: Option<String>,
    /// Steps signed as done.
    pub done: u32,
    /// Time of those.
    pub time: Option<String>,
    /// Holds, witnesses and stages signed.
    pub looked: u32,
    /// Steps at which the person helped without pay, and time.
    pub helped: Option<String>,
    /// Steps at which the person helped for pay, and time.
    pub paid: Option<String>,
}

/// Everybody who stands on a sheet, by initials.
pub(super) fn people(job: &Job, state: &State) -> Vec<Person> {
    let mut people: BTreeMap<String, Person> = BTreeMap::new();
    for signature in unstruck(state) {
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
    let person = |(initials, own): (String, Person)| {
        let signer = job.signer(&initials);
        Person {
            name: signer.and_then(|signer| signer.name.as_ref()).map(|name| name.value.clone()),
            role: signer.map(|signer| role_words(job, signer)),
            initials,
            ..own
        }
    };
    people.into_iter().map(person).collect()
}

fn add(sum: &mut (u32, u32), minutes: u32) {
    sum.0 += 1;
    sum.1 = sum.1.saturating_add(minutes);
}

pub(super) fn person(own: &Person) -> PersonOnPage {
    let help = |(steps, minutes): (u32, u32)| {
        (steps > 0)
            .then(|| say!("{steps} steps, {time}", steps, time = hours(minutes).unwrap_or_else(|| "–".to_owned())))
    };
    PersonOnPage {
        initials: own.initials.clone(),
        name: own.name.clone(),
        role: own.role.clone(),
        done: own.done,
        time: hours(own.minutes),
        looked: own.looked,
        helped: help(own.helped),
        paid: help(own.paid),
    }
}
