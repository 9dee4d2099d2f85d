//! NUMBERS: what each step is called on paper, 010, 020 and so on.
//!
//! A number that stood on an issued sheet stays with its step and is never given to another: a step that comes between
//! two gets a number between theirs. It reads no archive: whoever has one says what was issued.

use std::collections::{BTreeMap, BTreeSet};

/// What the issued sheets of each traveler say, by its id.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Issued {
    travelers: BTreeMap<String, IssuedSteps>,
}

/// The steps of all issued sheets of one traveler.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct IssuedSteps {
    numbers: BTreeMap<String, u32>,
    used: BTreeSet<u32>,
}

impl Issued {
    /// Adds a step of an issued sheet; sheets come in the order in which they were issued.
    pub fn add(&mut self, traveler: &str, step: &str, number: u32) {
        let own = self.travelers.entry(traveler.to_owned()).or_default();
        // Where an older program moved a number, the first one is what signed paper shows.
        own.numbers.entry(step.to_owned()).or_insert(number);
        own.used.insert(number);
    }

    /// What was issued of a traveler.
    #[must_use]
    pub fn of(&self, traveler: &str) -> Option<&IssuedSteps> {
        self.travelers.get(traveler)
    }
}

impl IssuedSteps {
    /// What was issued of other steps than these.
    pub(in crate::job) fn without(&self, ids: &[&str]) -> Self {
        let numbers = self.numbers.iter().filter(|(id, _)| !ids.contains(&id.as_str()));
        Self { numbers: numbers.map(|(id, number)| (id.clone(), *number)).collect(), used: self.used.clone() }
    }

    /// The number under which a step was issued.
    #[must_use]
    pub fn number(&self, step: &str) -> Option<u32> {
        self.numbers.get(step).copied()
    }
}

/// From one number to the next.
const STEP: u32 = 10;

/// The numbers of steps in working order.
pub(in crate::job) fn numbers(ids: &[&str], issued: Option<&IssuedSteps>) -> Vec<u32> {
    let nothing = IssuedSteps::default();
    let issued = issued.unwrap_or(&nothing);
    let mut used = issued.used.clone();
    let known: Vec<Option<u32>> = ids.iter().map(|id| issued.number(id)).collect();
    let mut numbers = Vec::with_capacity(ids.len());
    let mut last = 0;
    let mut at = 0;
    while at < ids.len() {
        if let Some(number) = known[at] {
            numbers.push(number);
            last = number;
            at += 1;
            continue;
        }
        let run = known[at..].iter().take_while(|number| number.is_none()).count();
        let next = known.get(at + run).copied().flatten();
        let new = between(last, next, run, &used);
        used.extend(&new);
        last = new.last().copied().unwrap_or(last);
        numbers.extend(new);
        at += run;
    }
    numbers
}

/// Numbers for `run` steps behind `last` and before `next`, of which none is used.
fn between(last: u32, next: Option<u32>, run: usize, used: &BTreeSet<u32>) -> Vec<u32> {
    if let Some(next) = next {
        let free: Vec<u32> = (last.saturating_add(1)..next).filter(|number| !used.contains(number)).collect();
        if free.len() >= run {
            return spread(&free, run);
        }
    }
    // At the end; or there is no room, and a number out of order is better than one that moves.
    let most = used.last().copied().unwrap_or(0).max(last);
    let first = (most / STEP + 1).saturating_mul(STEP);
    // No file holds so many steps that their count does not fit.
    (0..run).map(|nth| first.saturating_add(u32::try_from(nth).unwrap_or(u32::MAX).saturating_mul(STEP))).collect()
}

/// Some of the free numbers, evenly, those in tens and fives first.
fn spread(free: &[u32], run: usize) -> Vec<u32> {
    for step in [STEP, STEP / 2] {
        let round: Vec<u32> = free.iter().copied().filter(|number| number % step == 0).collect();
        if round.len() >= run {
            return evenly(&round, run);
        }
    }
    evenly(free, run)
}

fn evenly(free: &[u32], run: usize) -> Vec<u32> {
    (1..=run).map(|nth| free[nth * (free.len() + 1) / (run + 1) - 1]).collect()
}
