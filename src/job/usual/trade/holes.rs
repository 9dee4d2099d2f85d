//! The usual steps that make holes: pilot, final size, reamer; of a small job in one step.
//!
//! The final size stands with the joint alone; which drills come before it is the shop's.

use super::{Trade, by_name, is_reamed_here, needs_work, reaching, with_joints};
use crate::job::{Joint, Text};
use crate::spec::StepSpec;
use crate::text::{Span, Spanned};
use crate::units::{Length, Size};
use crate::words::StepKind;

impl Trade<'_> {
    /// A pilot through undrilled stacks, then the final size; bolt holes by drill and reamer.
    pub(super) fn make_holes(&self) -> Vec<StepSpec> {
        let pilot = self.shop.pilot();
        let piloted = self.such(|joint| {
            joint.delivered_most().is_none() && joint.last.is_some_and(|last| last.size.length > pilot.length)
        });
        let piloted = self.own.left(StepKind::Drill, false, piloted);
        if self.together {
            return self.make_holes_together(pilot, piloted.iter().any(|joint| !is_reamed_here(joint)));
        }
        let mut steps = Vec::new();
        if !piloted.is_empty() {
            let step = self.step("pilot", "Drill pilot holes through all layers", StepKind::Drill);
            steps.push(reaching(with_joints(step, &piloted), pilot, self.span));
        }
        let is_left = |kind: StepKind, is_last: bool, joint| !self.own.left(kind, is_last, vec![joint]).is_empty();
        for joint in self.such(needs_work) {
            if is_reamed_here(joint) {
                if let Some(under) = self.under(joint).filter(|_| is_left(StepKind::Drill, false, joint)) {
                    let step = self.of_joint("drill", "Open to reaming size", joint, StepKind::Drill);
                    steps.push(reaching(step, under, joint.id.span));
                }
                if is_left(StepKind::Ream, true, joint) {
                    steps.push(self.of_joint("ream", "Ream to final size", joint, StepKind::Ream));
                }
            } else if is_left(StepKind::Drill, true, joint) {
                steps.push(self.of_joint("drill", "Drill to final size", joint, StepKind::Drill));
            } else {
                // A step of the builder's own makes the hole.
            }
        }
        steps
    }

    fn make_holes_together(&self, pilot: Size, with_pilot: bool) -> Vec<StepSpec> {
        let drilled = self.such(|joint| needs_work(joint) && !is_reamed_here(joint));
        let drilled = self.own.left(StepKind::Drill, true, drilled);
        let reamed = by_name(self.such(|joint| needs_work(joint) && is_reamed_here(joint)));
        let reamed = self.own.left(StepKind::Ream, true, reamed);
        if self.are_one("holes", ["drill", "ream"], !drilled.is_empty() && !reamed.is_empty()) {
            return self.holes(with_pilot.then_some(pilot), &drilled, &reamed).into_iter().collect();
        }
        let mut steps = Vec::new();
        if !drilled.is_empty() {
            let mut step = with_joints(self.step("drill", "Drill to final size", StepKind::Drill), &drilled);
            if with_pilot {
                step = self.by(step, &["pilot", "drill"]);
                step.entry.tools.push(self.drill(pilot, self.span));
            }
            steps.push(step);
        }
        if !reamed.is_empty() {
            let step = self.step("ream", "Drill and ream to final size", StepKind::Ream);
            let mut step = self.by(with_joints(step, &reamed), &["drill-under", "ream"]);
            self.add_drills(&mut step, None, &reamed);
            steps.push(step);
        }
        steps
    }

    /// All holes in one step: those of bolts are reamed, the others drilled.
    fn holes(&self, pilot: Option<Size>, drilled: &[&Joint], reamed: &[&Joint]) -> Option<StepSpec> {
        let all: Vec<&Joint> = drilled.iter().chain(reamed).copied().collect();
        if all.is_empty() {
            return None;
        }
        let step = with_joints(self.step("holes", "Drill and ream to final size", StepKind::Ream), &all);
        let procedures = pilot.map(|_| "pilot").into_iter().chain(["drill", "ream"]);
        let mut step = self.by(step, &procedures.collect::<Vec<_>>());
        self.add_drills(&mut step, pilot, reamed);
        Some(step)
    }

    /// The drills that a step needs before the final size: the pilot, and those before the reamer.
    fn add_drills(&self, step: &mut StepSpec, pilot: Option<Size>, reamed: &[&Joint]) {
        let under = reamed.iter().filter_map(|joint| Some(self.drill(self.under(joint)?, joint.id.span)));
        let pilot = pilot.map(|pilot| self.drill(pilot, self.span));
        for drill in pilot.into_iter().chain(under.collect::<Vec<_>>()) {
            if !step.entry.tools.iter().any(|tool| tool.value == drill.value) {
                step.entry.tools.push(drill);
            }
        }
    }

    fn drill(&self, size: Size, span: Span) -> Text {
        let name = self.style.drill(size).unwrap_or_else(|| self.style.length(size.length));
        Spanned { value: format!("drill {name}"), span }
    }

    /// The drill before the reamer, where it is larger than what is there before.
    fn under(&self, joint: &Joint) -> Option<Size> {
        let under = self.shop.under(joint.last?.size.length)?;
        let pilot = if self.together { Length::ZERO } else { self.shop.pilot().length };
        let before = joint.delivered_most().map_or(pilot, |start| start.size.length);
        (under.length > before).then_some(under)
    }
}
