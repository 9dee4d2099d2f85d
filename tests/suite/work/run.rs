//! Builds carried out step by step: nothing is ready too early, and what passes the rules always gets finished.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};

use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use shophead::calendar::{Moment, When};
use shophead::job::{Done, Hand, Item, Job, Order, Standing, State};
use shophead::units::Minutes;
use shophead::work::{Condition, Readiness, Wait};

use crate::build::random::{Build, builds, facing};
use crate::build::{job_of, order_findings};

/// Adds what the rules ask for until they have nothing more to ask: closings need what they close over, and what is
/// shut out no longer needs the space.
fn mend(build: &mut Build) {
    for _ in 0..12 {
        let (job, ..) = job_of(&build.project(), &build.specs());
        let order = Order::of(&job);
        let mut changed = false;
        for closing in job.closings(&order) {
            let by = closing.by.item.at;
            for (user, standing) in &closing.users {
                let step = &mut build.travelers[user.item.at.traveler].steps[user.item.at.step];
                match standing {
                    Standing::ShutOut => {
                        changed = true;
                        step.spaces.retain(|space| *space != closing.space.of);
                        step.closes.retain(|space| *space != closing.space.of);
                    }
                    Standing::Unordered if step.closes.contains(&closing.space.of) => {
                        changed = true;
                        step.closes.retain(|space| *space != closing.space.of);
                    }
                    Standing::Unordered => {
                        changed = true;
                        let need = (user.item.at.traveler, user.item.at.step);
                        let closing_step = &mut build.travelers[by.traveler].steps[by.step];
                        if closing_step.needs.contains(&need) {
                            // Hand by hand it cannot be said: left and right share the space.
                            build.handed[closing.space.of] = true;
                        } else {
                            closing_step.needs.push(need);
                        }
                    }
                    Standing::Before | Standing::Reopened => {}
                }
            }
            for opener in &closing.stray_openers {
                changed = true;
                build.travelers[opener.item.at.traveler].steps[opener.item.at.step].opens.clear();
            }
        }
        for (number, _) in build.travelers.clone().iter().enumerate() {
            changed |= order_cures(build, number);
        }
        if !changed {
            return;
        }
    }
}

/// Orders every step of later travelers after the curing steps of one traveler that it shares a part with.
fn order_cures(build: &mut Build, traveler: usize) -> bool {
    let (items, before) = build.closure();
    for (first, one) in items.iter().enumerate().filter(|(_, item)| item.at.traveler == traveler) {
        if build.step(*one).cure_hours.is_none() {
            continue;
        }
        for (second, other) in items.iter().enumerate().filter(|(_, item)| item.at.traveler != traveler) {
            let shares = facing(one.hand, other.hand) && meets(build, *one, *other);
            let need = (one.at.traveler, one.at.step);
            let step = &build.travelers[other.at.traveler].steps[other.at.step];
            if shares && !before[first][second] && !before[second][first] && !step.needs.contains(&need) {
                build.travelers[other.at.traveler].steps[other.at.step].needs.push(need);
                return true;
            }
        }
    }
    false
}

fn meets(build: &Build, one: Item, other: Item) -> bool {
    let parts = |item: Item| build.parts_of(item.at.traveler, item.at.step);
    parts(one).iter().any(|part| parts(other).contains(part))
}

/// What the test itself knows of a build that is being carried out.
struct Bench<'a> {
    build: &'a Build,
    items: Vec<Item>,
    before: Vec<Vec<bool>>,
    done: BTreeMap<Item, i64>,
    shut: BTreeSet<(usize, Option<Hand>)>,
}

impl Bench<'_> {
    /// Nothing that comes before is undone, nothing it touches cures, no space it needs is closed.
    fn may_start(&self, item: Item, now: i64) -> Result<(), String> {
        let own = self.items.iter().position(|other| *other == item).unwrap();
        for (index, other) in self.items.iter().enumerate() {
            if self.before[index][own] && !self.done.contains_key(other) {
                return Err(format!("{item:?} is ready before {other:?}"));
            }
        }
        for (other, on) in &self.done {
            let until = on + i64::from(self.build.step(*other).cure_hours.unwrap_or(0)) * 60;
            if until > now && facing(other.hand, item.hand) && meets(self.build, *other, item) {
                return Err(format!("{item:?} is ready while {other:?} cures"));
            }
        }
        let step = self.build.step(item);
        let opened = self.build.spaces(&step.opens, item);
        let mut needed = self.build.spaces(&step.spaces, item);
        needed.extend(self.build.spaces(&step.closes, item));
        match needed.into_iter().find(|space| self.shut.contains(space) && !opened.contains(space)) {
            Some(space) => Err(format!("{item:?} is ready though {space:?} is closed")),
            None => Ok(()),
        }
    }

    /// No unfinished step that needs a space is shut in, unless a step that opens the space must come first.
    fn closes_over_nothing(&self, item: Item) -> Result<(), String> {
        let closed = self.build.spaces(&self.build.step(item).closes, item);
        for (index, other) in
            self.items.iter().enumerate().filter(|(_, other)| **other != item && !self.done.contains_key(other))
        {
            let step = self.build.step(*other);
            let caught = self.build.spaces(&step.spaces, *other).into_iter().find(|space| closed.contains(space));
            let Some(space) = caught else { continue };
            let opens = |at: usize| {
                let opener = self.items[at];
                let undone = !self.done.contains_key(&opener) && opener != item;
                undone
                    && self.build.spaces(&self.build.step(opener).opens, opener).contains(&space)
                    && (at == index || self.before[at][index])
            };
            if !(0..self.items.len()).any(opens) {
                return Err(format!("{item:?} closes {space:?} over {other:?}"));
            }
        }
        Ok(())
    }

    fn finish(&mut self, item: Item, now: i64) {
        let step = self.build.step(item);
        for space in self.build.spaces(&step.opens, item) {
            self.shut.remove(&space);
        }
        self.shut.extend(self.build.spaces(&step.closes, item));
        self.done.insert(item, now);
    }
}

/// So many minutes after the build began.
fn minute(count: i64) -> Moment {
    When::parse("2026-03-02").unwrap().earliest + Minutes(count)
}

/// Carries a build out, choosing among what is ready by `choices`; whether it was finished.
fn carry_out(build: &Build, job: &Job, choices: &[usize], passes: bool) -> Result<bool, TestCaseError> {
    let (order, clocks) = (Order::of(job), job.clocks());
    let (items, before) = build.closure();
    let mut bench = Bench { build, items, before, done: BTreeMap::new(), shut: BTreeSet::new() };
    let (mut state, mut now, mut turn) = (State::default(), 0, 0);
    while bench.done.len() < bench.items.len() {
        let readiness = Readiness::of(job, &order, &clocks, &state, minute(now));
        let conditions: Vec<(Item, Condition)> = order.items().map(|item| (item, readiness.condition(item))).collect();
        let ready: Vec<Item> =
            conditions.iter().filter(|(_, condition)| *condition == Condition::Ready).map(|(item, _)| *item).collect();
        for item in &ready {
            bench.may_start(*item, now).map_err(TestCaseError::fail)?;
        }
        if ready.is_empty() {
            let cures = conditions.iter().filter_map(|(_, condition)| match condition {
                Condition::Waiting(waits) => match waits[..] {
                    [Wait::Cure { until, .. }] => Some((until - minute(0)).0),
                    _ => None,
                },
                _ => None,
            });
            match cures.min() {
                Some(until) => now = until,
                None => return Ok(false),
            }
            continue;
        }
        let item = ready[choices[turn % choices.len()] % ready.len()];
        turn += 1;
        if passes {
            bench.closes_over_nothing(item).map_err(TestCaseError::fail)?;
        }
        now += 10;
        bench.finish(item, now);
        let on = When::at(minute(now));
        state.done.insert(item, Done { on, by: "B1".into(), minutes: None, values: BTreeMap::new() });
    }
    Ok(true)
}

#[test]
fn ready_steps_in_any_order_finish_what_passes_and_what_gets_stuck_was_reported() {
    let (passed, closed, cured, stuck) = (Cell::new(0), Cell::new(0), Cell::new(0), Cell::new(0));
    let mut runner = TestRunner::new(Config { cases: 600, failure_persistence: None, ..Config::default() });
    let input = (builds(), prop::bool::weighted(0.7), prop::collection::vec(0..64_usize, 40));
    let result = runner.run(&input, |(mut build, mended, choices)| {
        if mended {
            mend(&mut build);
        }
        let (job, ..) = job_of(&build.project(), &build.specs());
        let findings = order_findings(&job);
        let clean = findings.is_empty();
        let finished = carry_out(&build, &job, &choices, clean)?;
        if clean {
            prop_assert!(finished, "a build that passes got stuck");
            passed.set(passed.get() + 1);
            closed.set(
                closed.get()
                    + usize::from(build.travelers.iter().any(|t| t.steps.iter().any(|s| !s.closes.is_empty()))),
            );
            cured.set(cured.get() + usize::from(!job.clocks().all.is_empty()));
        }
        stuck.set(stuck.get() + usize::from(!finished));
        Ok(())
    });
    result.unwrap_or_else(|failure| panic!("{failure}"));
    // A property over builds that never close, cure or get stuck would say nothing.
    let counts = [passed.get(), closed.get(), cured.get(), stuck.get()];
    assert!(counts.iter().all(|count| *count >= 40), "passed, with closings, with cures, stuck: {counts:?}");
}

#[test]
fn the_chains_know_the_same_order_as_trying_every_way() {
    let mut runner = TestRunner::new(Config { cases: 200, failure_persistence: None, ..Config::default() });
    let result = runner.run(&builds(), |build| {
        let (job, ..) = job_of(&build.project(), &build.specs());
        let order = Order::of(&job);
        let (items, before) = build.closure();
        prop_assert_eq!(order.items().collect::<Vec<_>>(), items.clone());
        for (index, item) in items.iter().enumerate() {
            let (after, earlier) = (order.all_after(*item), order.all_before(*item));
            for (number, other) in items.iter().enumerate() {
                prop_assert_eq!(after.contains(*other), before[index][number], "{:?} before {:?}", item, other);
                prop_assert_eq!(earlier.contains(*other), before[number][index], "{:?} after {:?}", item, other);
            }
            prop_assert_eq!(after.count(), before[index].iter().filter(|known| **known).count());
        }
        let circular = (0..items.len()).any(|index| before[index][index]);
        prop_assert_eq!(order.circles().is_empty(), !circular);
        for circle in order.circles() {
            prop_assert!(circle.windows(2).all(|pair| pair[0].to == pair[1].from));
            prop_assert_eq!(circle.first().unwrap().from, circle.last().unwrap().to);
        }
        Ok(())
    });
    result.unwrap_or_else(|failure| panic!("{failure}"));
}
