//! USUAL STEPS: the steps of a traveler from its parts and joints, and what the builder changed of them.
//!
//! A made step has its place at the joint, part or traveler that asks for it, so that a finding about it points there. What
//! is asked for is in `trade`, what an entry does to it in `exceptions`; nothing is judged here.

mod exceptions;
mod lines;
mod own;
mod trade;

use self::own::Own;
pub(in crate::job) use self::own::{Done, done_elsewhere};
use super::number::IssuedSteps;
use super::{Joint, Origin, Part, Text};
use crate::hardware::Shop;
use crate::report::Finding;
use crate::spec::{ProjectSpec, StepEntry, StepSpec, TravelerSpec};
use crate::units::Style;
use crate::words::{StepKind, Steps, other_joint};

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
    /// What steps of other travelers do to its joints.
    pub elsewhere: &'a [Done],
    /// The joints of every traveler, by the traveler's id.
    pub all: &'a [(&'a str, &'a [Joint])],
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
                let own = Own::of(&self.traveler.id.value, entries.iter().filter(|entry| !is_usual(entry)));
                let own = own.with(self.elsewhere);
                let fastened = self.fastened(&entries, &all);
                let mut usual = if own.is_nothing() { all.clone() } else { self.usual(&own, issued.as_ref()) };
                self.look_at(&mut usual, &fastened);
                exceptions::changed(usual, entries, &all, self.is_short)
            }
        }
    }

    /// The joints of other travelers that its own entries fasten and none of them looks at.
    fn fastened(&self, entries: &[StepEntry], usual: &[StepSpec]) -> Vec<(Text, &Joint)> {
        let kind = |entry: &StepEntry| match &entry.kind {
            Some(kind) => kind.as_ref().ok().map(|kind| kind.value),
            None => usual.iter().find(|step| step.id.value == entry.id.value).map(|step| step.kind.value),
        };
        let such = |is_such: fn(StepKind) -> bool| {
            entries.iter().filter(move |entry| kind(entry).is_some_and(is_such)).flat_map(|entry| &entry.joints)
        };
        let mut fastened: Vec<(Text, &Joint)> = Vec::new();
        for named in such(StepKind::fastens) {
            let is_seen = such(|kind| kind == StepKind::Inspect).any(|seen| seen.value == named.value);
            let is_told = fastened.iter().any(|(told, _)| told.value == named.value);
            fastened
                .extend(self.other(&named.value).filter(|_| !is_seen && !is_told).map(|joint| (named.clone(), joint)));
        }
        fastened
    }

    /// The joint of another traveler that is named so.
    fn other(&self, written: &str) -> Option<&Joint> {
        let (traveler, _, id) = other_joint(written)?;
        let (_, joints) = self.all.iter().find(|(own, _)| *own == traveler && traveler != self.traveler.id.value)?;
        joints.iter().find(|joint| joint.id.value == id)
    }

    /// Who fastens another traveler's joint looks at it with its own.
    fn look_at(&self, steps: &mut [StepSpec], fastened: &[(Text, &Joint)]) {
        let Some(inspect) = steps.iter_mut().find(|step| step.id.value == "inspect") else { return };
        for (name, joint) in fastened {
            inspect.entry.joints.push(Text { span: inspect.id.span, ..name.clone() });
            inspect.entry.records.extend(trade::head_records(joint, &name.value, (inspect.id.span, self.style)));
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
