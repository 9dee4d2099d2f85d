//! USUAL STEPS: the steps of a traveler from its parts and joints, and what the builder changed of them.
//!
//! A made step has its place at the joint, part or traveler that asks for it, so that a finding about it points there. What
//! is asked for is in `trade`, what an entry does to it in `exceptions`; nothing is judged here.

mod exceptions;
mod lines;
mod own;
mod trade;

use self::own::Own;
use super::number::IssuedSteps;
use super::{Joint, Origin, Part, Text};
use crate::hardware::Shop;
use crate::report::Finding;
use crate::spec::{ProjectSpec, StepEntry, StepSpec, TravelerSpec};
use crate::units::Style;
use crate::words::Steps;

pub(in crate::job) use lines::lines_for;

/// A usual step that is left out.
#[derive(Debug, Clone)]
pub struct Omitted {
    /// Its id, where it was written.
    pub id: Text,
    /// Its title.
    pub title: String,
    /// The builder's reason.
    pub because: Text,
}

/// The steps of one traveler in working order.
#[derive(Debug, Default)]
pub(in crate::job) struct Made {
    pub steps: Vec<(StepSpec, Origin)>,
    pub omitted: Vec<Omitted>,
    pub findings: Vec<Finding>,
    /// Entries that are no step.
    pub left_out: Vec<Text>,
}

/// Up to so many joints, usual steps that fall together are one.
const TOGETHER: usize = 3;

/// Steps that a traveler only has where they do not fall together.
const APART: [&str; 5] = ["lay-out", "pin", "pilot", "clean", "photograph"];

/// What the steps of a traveler are made from.
pub(in crate::job) struct Making<'a> {
    pub traveler: &'a TravelerSpec,
    pub parts: &'a [Part],
    pub joints: &'a [Joint],
    pub project: &'a ProjectSpec,
    pub shop: &'a Shop,
    pub style: &'a Style,
    pub issued: Option<&'a IssuedSteps>,
    /// Whether a part or a joint of the file could not be read.
    pub is_short: bool,
}

impl Making<'_> {
    /// The steps, where `entries` are the `[[step]]` of the file.
    pub fn steps(&self, entries: Vec<StepEntry>) -> Made {
        let absent = if entries.is_empty() { Steps::Usual } else { Steps::Written };
        match self.traveler.steps.map_or(absent, |steps| steps.value) {
            Steps::Written => exceptions::written(entries),
            Steps::Usual => {
                // A step of the builder's own that has a usual name says nothing of how the usual steps were issued.
                let in_full = entries.iter().filter(|entry| entry.missing().is_empty());
                let ids: Vec<&str> = in_full.map(|entry| entry.id.value.as_str()).collect();
                let issued = self.issued.map(|issued| issued.without(&ids));
                let all = self.usual(&Own::default(), issued.as_ref());
                let is_usual = |entry: &&StepEntry| all.iter().any(|step| step.id.value == entry.id.value);
                let own = Own::of(entries.iter().filter(|entry| !is_usual(entry)));
                exceptions::changed(self.usual(&own, issued.as_ref()), entries, &all, self.is_short)
            }
        }
    }

    fn usual(&self, own: &Own, issued: Option<&IssuedSteps>) -> Vec<StepSpec> {
        if self.parts.is_empty() && self.joints.is_empty() {
            return Vec::new();
        }
        let trade = trade::Trade {
            parts: self.parts,
            joints: self.joints,
            closes: &self.traveler.closes,
            project: self.project,
            style: self.style,
            shop: self.shop,
            span: self.traveler.id.span,
            together: self.are_together(issued),
            issued,
            own,
        };
        let mut steps = trade.steps();
        if let Some(issued) = issued {
            keep_order(&mut steps, issued);
        }
        steps
    }

    /// Signed paper keeps its form: a joint more neither splits a step that was issued nor joins two.
    fn are_together(&self, issued: Option<&IssuedSteps>) -> bool {
        let few = self.joints.len() <= TOGETHER;
        let Some(issued) = issued else { return few };
        if APART.iter().any(|id| issued.number(id).is_some()) {
            return false;
        }
        let is_made = ["verify", "prime", "inspect"].iter().any(|id| issued.number(id).is_some());
        is_made || few
    }
}

/// Steps of joints that were issued stand in the order of their numbers, whatever order the joints have in the file now.
fn keep_order(steps: &mut [StepSpec], issued: &IssuedSteps) {
    let mut from = 0;
    while from < steps.len() {
        let group = group_of(&steps[from]);
        let many = steps[from..].iter().take_while(|step| group.is_some() && group_of(step) == group).count().max(1);
        let of_joints = &mut steps[from..from + many];
        let at: Vec<usize> = (0..many).filter(|index| issued.number(&of_joints[*index].id.value).is_some()).collect();
        let mut known: Vec<StepSpec> = at.iter().map(|index| of_joints[*index].clone()).collect();
        known.sort_by_key(|step| issued.number(&step.id.value));
        for (index, step) in at.into_iter().zip(known) {
            of_joints[index] = step;
        }
        from += many;
    }
}

/// Steps that stand side by side, one or two a joint.
fn group_of(step: &StepSpec) -> Option<&'static str> {
    let (verb, _) = step.id.value.split_once('-')?;
    match verb {
        "drill" | "ream" => Some("holes"),
        "fit" => step.id.value.starts_with("fit-up-").then_some("fit-up"),
        "rivet" | "bolt" | "torque" => Some("fasten"),
        "close" => Some("close"),
        _ => None,
    }
}
