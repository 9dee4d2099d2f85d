//! The one walker: shows every rule what it looks at, and gathers what it says.
//!
//! It knows no rule by name and judges nothing.

use super::{Looks, RULES, Rule, allow, quiet};
use crate::hardware::{Basis, Shop, source};
use crate::job::{Job, JointRef, Order, Project, StepRef, Traveler};
use crate::report::{Finding, Place, Report, Severity, Unjudged};
use crate::text::Span;
use crate::units::Style;

/// Where in the job a rule stands.
#[derive(Debug, Clone, Copy)]
pub struct At<'a> {
    /// The job.
    pub job: &'a Job,
    /// The traveler.
    pub traveler: &'a Traveler,
    /// The traveler's index in the job.
    pub traveler_index: usize,
    /// The index of the joint or step in the traveler; zero for a rule that looks at the whole traveler.
    pub index: usize,
}

impl At<'_> {
    /// A step as this traveler calls it: its id, behind the traveler's where it is another's.
    #[must_use]
    pub fn step_name(&self, step: StepRef) -> String {
        let own = step.traveler == self.traveler_index;
        if own { self.job.step(step).id.value.clone() } else { self.job.step_name(step) }
    }

    /// The joint that the rule is shown.
    #[must_use]
    pub const fn joint(&self) -> JointRef {
        JointRef { traveler: self.traveler_index, joint: self.index }
    }
}

/// Where a rule puts its findings.
#[derive(Debug)]
pub struct Sink<'a> {
    /// How the project prints sizes.
    pub style: &'a Style,
    /// What the builder owns.
    pub shop: &'a Shop,
    rule: &'static Rule,
    place: Place,
    outcome: &'a mut Outcome,
}

/// What all rules said of a job.
#[derive(Debug, Default)]
pub(super) struct Outcome {
    pub(super) findings: Vec<Finding>,
    unjudged: Vec<Unjudged>,
}

impl Sink<'_> {
    /// A finding of this rule, citing the rule's first source.
    #[must_use]
    pub fn finding(&self, severity: Severity, span: Span, message: impl Into<String>) -> Finding {
        let finding = Finding::new(self.rule.name, severity, span, message);
        match self.rule.sources().next() {
            Some(key) => finding.source(source(key).cite()),
            None => finding,
        }
    }

    /// An error of this rule.
    #[must_use]
    pub fn error(&self, span: Span, message: impl Into<String>) -> Finding {
        self.finding(Severity::Error, span, message)
    }

    /// A warning of this rule.
    #[must_use]
    pub fn warning(&self, span: Span, message: impl Into<String>) -> Finding {
        self.finding(Severity::Warning, span, message)
    }

    /// A note of this rule.
    #[must_use]
    pub fn note(&self, span: Span, message: impl Into<String>) -> Finding {
        self.finding(Severity::Note, span, message)
    }

    /// A finding on a value of a table: an error only where the value does not rest on memory alone, nor on a page that
    /// speaks of something else.
    #[must_use]
    pub fn at_most_error(&self, basis: &Basis, span: Span, message: impl Into<String>) -> Finding {
        let severity = if basis.backs_an_error() { Severity::Error } else { Severity::Warning };
        self.finding(severity, span, message).source(basis.cite())
    }

    /// Adds a finding about what the rule was shown.
    pub fn push(&mut self, finding: Finding) {
        let place = self.place.clone();
        self.outcome.findings.push(Finding { place, ..finding });
    }

    /// Adds a finding about something inside what the rule was shown.
    pub fn push_about(&mut self, inner: Place, finding: Finding) {
        let outer = self.place.clone();
        let place = Place {
            traveler: inner.traveler.or(outer.traveler),
            joint: inner.joint.or(outer.joint),
            step: inner.step.or(outer.step),
            part: inner.part.or(outer.part),
        };
        self.outcome.findings.push(Finding { place, ..finding });
    }

    /// Says that a fact is missing without which the rule cannot judge; said once a place, whatever rules need it.
    pub fn cannot(&mut self, why: &str) {
        let same = self.outcome.unjudged.iter_mut().rev().find(|said| said.place == self.place && said.why == why);
        match same {
            Some(said) if said.rules.contains(&self.rule.name) => {}
            Some(said) => said.rules.push(self.rule.name),
            None => {
                let place = self.place.clone();
                self.outcome.unjudged.push(Unjudged { place, why: why.to_owned(), rules: vec![self.rule.name] });
            }
        }
    }
}

/// Judges a job by every rule and adds the findings, accepted ones marked with their reason.
pub fn check(job: &Job, report: &mut Report) {
    let mut outcome = walk(job);
    allow::apply(job, &mut outcome.findings);
    quiet::quiet(job, report, &mut outcome.findings);
    report.extend(outcome.findings);
}

/// What could not be judged for want of a fact that the specs do not give.
#[must_use]
pub fn unjudged(job: &Job) -> Vec<Unjudged> {
    walk(job).unjudged
}

fn walk(job: &Job) -> Outcome {
    let mut outcome = Outcome::default();
    for (traveler_index, traveler) in job.travelers.iter().enumerate() {
        // By place, not by rule: what is said of one joint stays together, and a missing fact is found again quickly.
        let at = |index| At { job, traveler, traveler_index, index };
        let whole = Place { traveler: Some(traveler.id.value.clone()), ..Place::default() };
        for (index, joint) in traveler.joints.iter().enumerate() {
            let place = Place { joint: Some(joint.id.value.clone()), ..whole.clone() };
            run(&mut outcome, &job.project, &place, |looks, sink| {
                if let Looks::Joint(look) = looks {
                    look(joint, &at(index), sink);
                }
            });
        }
        for (index, step) in traveler.steps.iter().enumerate() {
            let place = Place { step: Some(step.id.value.clone()), ..whole.clone() };
            run(&mut outcome, &job.project, &place, |looks, sink| {
                if let Looks::Step(look) = looks {
                    look(step, &at(index), sink);
                }
            });
        }
        run(&mut outcome, &job.project, &whole, |looks, sink| {
            if let Looks::Traveler(look) = looks {
                look(traveler, &at(0), sink);
            }
        });
    }
    let order = Order::of(job);
    run(&mut outcome, &job.project, &Place::default(), |looks, sink| match looks {
        Looks::Job(look) => look(job, sink),
        Looks::Order(look) => look(job, &order, sink),
        _ => {}
    });
    outcome
}

fn run(outcome: &mut Outcome, project: &Project, place: &Place, mut show: impl FnMut(Looks, &mut Sink<'_>)) {
    for rule in RULES {
        let mut sink = Sink { style: &project.style, shop: &project.shop, rule, place: place.clone(), outcome };
        show(rule.looks, &mut sink);
    }
}
